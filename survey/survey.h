// What was measured in a house: the survey as typed facts, as the file states them.
//
// Lengths are mm, angles degrees, slopes mm/m. Heights are positive upwards.
// Plan: first corner at 0,0; first wall along +x; corners clockwise seen from above, so the
// room lies at y < 0. Along: from a wall's left end as seen facing it. Out: from the wall
// into the room. A staff reading grows downwards: a larger reading is a lower floor.
//
// References between things are indices into the lists below; the reader has resolved and
// checked them, so an index here is always good. Order is the file's order, so the index is
// also the JSON Pointer's. "Not given" is std::optional, never 0. Defaults are the file
// format's (DEVELOPERS.md, "The survey file").
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace levelrun {

using Index = std::size_t;

struct Place {
  std::optional<Index> wall;  // given: along and out hold; else x and y
  double along = 0, out = 0;
  double x = 0, y = 0;
  double sd = 20;  // of where it is, each way
};

// A height from the surveyed floor below it, or from a set-up's level plane (signed, up).
struct MeasuredHeight {
  double value = 0;
  std::optional<Index> setup;
};

struct Job {
  std::string reference, client, site, surveyor, surveyed_on, notes;
  int revision = 1;
  bool new_build = false;
  std::string tolerance_table = "din18202";
  struct TableOverride {  // a limit of the tolerance table set aside for this job
    std::string row;
    double span = 0;  // the row's span or length that the limit stands at
    double limit = 0;
    std::string reason;
  };
  std::vector<TableOverride> table_overrides;
  bool show_inch = false;
  char decimal = '.';
};

enum class InstrumentKind {
  tape,
  distance_meter,
  laser_level,
  optical_level,
  square,
  gauge,
  unknown
};

struct Instrument {
  std::string id;
  InstrumentKind kind = InstrumentKind::tape;
  double sd = 2;                 // of one booked reading
  std::optional<double> sd_deg;  // square: of one booked angle
  double sd_per_m = 0;           // mm/m: sd of one unknown scale error shared by all its readings
};

struct LegType {
  std::string id;
  double min = 0, max = 0;         // the leg's own range of height
  std::optional<double> supplied;  // height as delivered
  std::optional<double> pitch;     // mm a turn
  double foot_radius = 30;
  double front_inset = 100, back_inset = 60, side_inset = 50;
  double span = 900;  // widest unit that stands on four
};

enum class BackKind { recessed, standing_off, unknown };
enum class SealedEdges { long_edges, all, none, unknown };

struct Plinth {
  double height = 150;
  std::vector<double> other_heights;
  double thickness = 16, setback = 50;
  double top_gap_min = 3, top_gap_max = 15, floor_gap_max = 3;
  double stock_length = 3000, kerf = 4;
  SealedEdges sealed_edges = SealedEdges::long_edges;
};

struct Furniture {
  double base_height = 720, base_depth = 560;
  double front_thickness = 18, handle = 35;
  BackKind back = BackKind::recessed;
  double back_thickness = 18, void_depth = 42;
  std::optional<double> tall_height;
  struct WallUnit {
    double height = 720, depth = 300, above_worktop = 450;
    std::optional<double> rail_drop;
    std::optional<double> back_thickness, void_depth, inside_depth;  // parts of depth, as stated
  } wall_unit;
  double cornice = 0;
  struct Worktop {
    double thickness = 38, depth = 600, overhang = 20;
    std::string material;
    struct Upstand {
      double height = 0, thickness = 0;
    };
    std::optional<Upstand> upstand;
    std::optional<double> stock_length;
  } worktop;
  Plinth plinth;
  struct Infill {
    double min = 20, max = 100;
  } infill;
  std::vector<LegType> legs;
};

struct Corner {
  std::string id;
  double angle = 90;  // nominal, interior; 270 = re-entrant
};

enum class WallBuild { masonry, stud, metal_stud, lath_and_plaster, dot_and_dab, unknown };
enum class OffsetsFrom { plumb_plane, line, unknown };

struct Finish {  // still to come
  std::string name;
  double thickness = 0;
  std::optional<double> sd, from_height, to_height;
};

struct WallLength {
  double height = 900, out = 0, length = 0;
  std::optional<Index> instrument;
};

struct WallOffset {  // from the reference to the face, larger = hollow
  double along = 0, height = 0, offset = 0;
  std::optional<Index> instrument;
};

struct Wall {
  std::string id;
  Index from = 0, to = 0;  // corners
  WallBuild build = WallBuild::masonry;
  bool furnished = true;
  std::optional<double> rough;  // mm, as paced: for the sketch, no measurement
  std::vector<Finish> finish;
  struct Skirting {
    double height = 0, thickness = 0;
    bool stays = false;
  };
  std::optional<Skirting> skirting;
  std::optional<double> coving_drop;
  std::vector<WallLength> lengths;
  std::vector<WallOffset> offsets;
  OffsetsFrom offsets_from = OffsetsFrom::plumb_plane;
};

struct Diagonal {
  Index from = 0, to = 0;  // corners
  double length = 0, height = 900;
  std::optional<Index> instrument;
};

struct CornerAngle {
  Index corner = 0;
  std::optional<double> degrees;  // else the triangle
  struct Triangle {
    double a = 0, b = 0, across = 0;
  } triangle;
  double height = 900;
  std::optional<Index> instrument;
};

enum class OpeningKind { door, window, archway, unknown };
enum class Opens { in_left, in_right, out, slide, fixed, unknown };

struct Opening {
  std::string id;
  Index wall = 0;
  OpeningKind kind = OpeningKind::door;
  double left = 0, width = 0;
  MeasuredHeight sill;
  double height = 0;
  std::optional<double> above;  // head to ceiling
  double architrave = 0;
  struct Board {
    double projection = 0, thickness = 0;
  };
  std::optional<Board> board;
  std::optional<Opens> opens;
  std::optional<double> undercut;
};

struct CeilingReading {
  Place place;
  MeasuredHeight height;  // clear above the surveyed floor, or from a set-up's plane
  std::optional<Index> instrument;
};

struct FloorArea {
  std::string id;
  std::vector<Place> outline;
};

struct LevelPoint {
  std::string id;
  std::optional<Place> place;  // needed unless off_floor
  std::optional<Index> area;
  std::optional<Index> on;  // index into flooring.existing: what the staff stood on
  bool off_floor = false;
};

struct StaffReading {
  Index point = 0;
  double staff = 0;
  std::optional<double> distance_m;
  Index room = 0;  // install's set-ups only: the room that has the point
};

struct SetUp {
  std::string id;
  std::optional<Index> instrument;
  double collimation = 0;  // mm/m, rising positive
  std::vector<StaffReading> readings;
};

struct KnownHeight {
  Index point = 0;
  double height = 0, sd = 1;
};

struct Levels {
  struct Benchmark {
    Index point = 0;
    double height = 0;
  };
  std::optional<Benchmark> benchmark;
  std::vector<KnownHeight> known;
  std::vector<LevelPoint> points;
  std::vector<SetUp> setups;
};

struct ExistingLayer {  // listed from the top down
  std::string name;
  double thickness = 0, sd = 0.5;
  bool strip = true;
  std::optional<Index> area;
};

enum class LaidTo { wall, front_legs, plinth_face, unknown };

struct LaidLayer {  // listed from the bottom up
  std::string name;
  double thickness = 0, sd = 0.5;
  LaidTo to = LaidTo::wall;
  bool into_niches = true;
  bool floating = false;
  std::optional<Index> area;
  // Not in the file: of a top layer whose thickness follows from the measured total
  // (checks/laid_floor.h), the sd of that total.
  std::optional<double> total_sd;
};

struct NoDrill {
  std::vector<Place> outline;  // else a rectangle on a wall
  std::optional<Index> wall;
  double along = 0, height = 0, width = 0, height_of = 0;
  std::string why;
};

enum class ServiceKind {
  cold_water,
  hot_water,
  waste,
  soil_stack,
  gas,
  socket,
  fused_spur,
  cooker_outlet,
  switch_,
  data,
  duct,
  boiler,
  radiator,
  meter,
  stopcock,
  consumer_unit,
  underfloor_heating,
  other,
  unknown
};
enum class ServiceAction { stay, move, cap, new_, unknown };

struct RoutePoint {
  Place place;
  MeasuredHeight height;
};

struct Service {
  std::string id;
  ServiceKind kind = ServiceKind::other;
  Place place;
  std::optional<MeasuredHeight> height;
  ServiceAction action = ServiceAction::stay;
  double projection = 0;  // wall to its far face
  std::optional<double> diameter, width, height_of;
  std::vector<RoutePoint> route;
  std::optional<RoutePoint> connects_at;
  std::string notes;
};

enum class RunEnd { wall, corner, open, end_panel, unknown };
enum class UnitKind { base, tall, wall, appliance, infill, corner_post, end_panel, space, unknown };
enum class Hinge { left, right, none, unknown };

struct Foot {
  double from_left = 0, from_front = 0;
};

struct Niche {
  double min_height = 0, max_height = 0, slide_in = 3;
};

struct Unit {
  std::string id;
  UnitKind kind = UnitKind::base;
  double width = 0;
  std::optional<double> height, depth, bottom;
  std::optional<Index> leg;  // into its run's furniture.legs
  std::vector<Foot> feet;    // instead of the leg type's insets
  bool drawers = false;
  std::optional<Hinge> hinge;
  std::string houses;
  std::optional<Niche> niche;
};

struct Run {
  std::string id;
  std::optional<Index> wall;  // with from_along; else origin and bearing
  double from_along = 0;
  double origin_x = 0, origin_y = 0;
  double bearing = 0;  // degrees anticlockwise from +x to the run's left-to-right
  RunEnd starts_at = RunEnd::wall, ends_at = RunEnd::wall;
  std::string level_group = "A";
  Furniture furniture;      // the job's, with this run's own fields over it
  std::vector<Unit> units;  // left to right
};

struct LevelGroup {
  std::string id;
  std::optional<double> asked_height;  // worktop top above finished floor
  double tolerance = 10;
  std::optional<Place> height_at;
  std::vector<std::string> order;  // soft bounds; empty = the default order
  struct SetUnderside {
    double value = 0;
    std::string by, at;
    std::optional<double> released = {};  // where it was released, if the fitter has moved it
  };
  std::optional<SetUnderside> underside_set;
};

struct Skipped {
  std::string what, why;
};
struct Photo {
  std::string file, at, note;
};

struct Room {
  std::string id, name;
  std::vector<Corner> corners;
  std::vector<Wall> walls;  // each from one corner to the next; any list order
  std::vector<Diagonal> diagonals;
  std::vector<CornerAngle> angles;
  std::vector<Opening> openings;
  std::vector<CeilingReading> ceilings;
  std::vector<FloorArea> floor_areas;
  Levels levels;
  struct Flooring {
    std::vector<ExistingLayer> existing;
    std::vector<LaidLayer> laid;
  } flooring;
  std::vector<NoDrill> no_drill;
  std::vector<Service> services;
  std::vector<Run> runs;
  std::vector<LevelGroup> level_groups;
  std::vector<Skipped> skipped;
  std::vector<Photo> photos;
};

// Install: what the fitter records on the day. Its references are ids, for one install spans
// all rooms; the reader has checked that each exists.
struct LaidFloorReading {
  std::string room;  // "" when the survey has one room
  Place place;
  std::optional<double> thickness;  // total over the bare floor; else staff and setup
  double staff = 0;
  std::string setup;
};
struct SetLeg {
  std::string unit, position, at, by;
  double height = 0;
  std::string room = {};  // id of the room that the unit is in
};
struct UnitLevel {
  std::string unit, corner, setup;
  double staff = 0;
  std::string room = {};    // id of the room that the unit is in
  std::string turned = {};  // when the unit's legs were turned: the reading is old since; "": not
};
struct Task {
  std::string id, state, at, by, note;
};
struct Snag {
  std::string id, text, at, by, closed;
  std::optional<Place> place;
};
struct Answer {
  std::string finding, says, by, at;
  bool releases = false;
};
struct SignOff {
  std::string by, role, at, note;
};

// A sign-off that was lifted again, which is kept.
struct Reopened {
  std::string by, at, why;
  std::optional<SignOff> sign_off;
};

struct Install {
  std::vector<LaidFloorReading> finished_floor;
  std::vector<SetUp> setups;
  std::vector<SetLeg> set_legs;
  std::vector<UnitLevel> unit_levels;
  std::vector<Task> tasks;
  std::vector<Snag> snags;
  std::vector<Answer> answers;
  std::optional<SignOff> sign_off;
  std::vector<Reopened> reopened;
};

// A word in the file that this version does not know; kept on saving, and asked about.
struct UnknownWord {
  std::string at, word, expected;
};

struct Survey {
  Job job;
  std::vector<Instrument> instruments;
  Furniture furniture;
  std::vector<Room> rooms;
  Install install;
  std::vector<UnknownWord> unknown_words;
};

}  // namespace levelrun
