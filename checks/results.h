// What follows from a survey: the results file (format "levelrun-results", version 1) as plain
// structs, names and meanings as in DEVELOPERS.md, "The results".
//
// Lengths mm, heights positive upwards from the room's benchmark, slopes mm/m, angles degrees.
// A number that is not known is empty here and null in the file, never 0. `sum` is the line a
// fitter would write on a wall. `at` is the JSON Pointer of a fact in the survey.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/install_results.h"
#include "checks/verdict.h"
#include "survey/estimate.h"

namespace levelrun {

struct CornerResult {
  std::string id;
  Unknown x, y, sd_x, sd_y, angle, sd_angle;
  bool assumed = false;              // rests on its nominal angle
  Unknown out_of_square, sd, limit;  // mm at worktop depth, + = the corner opens
  std::optional<Verdict> verdict;
  Unknown out_of_square_units;  // the same at unit depth
  Unknown joint_angle, mitre;   // that worktops meet at, degrees; its half
};

struct ObservationResult {
  std::string at;
  double measured = 0;
  Unknown adjusted, residual, redundancy, standardised, detectable;
  Agreement verdict = Agreement::agrees;
};

enum class GlobalTest { pass, fail, cured };

struct Suspect {
  std::string at, kind;
  double value = 0, probability = 0;
};
struct OneOf {
  std::vector<std::string> set;
  std::string ask;
};
struct MeasureNext {
  std::string what, why;
  Unknown before = {}, after = {};  // mm: the slip that shows now, and with it; empty: none does
};

struct PlanResult {
  Unknown area;  // m2
  int dof = 0;
  Unknown sigma0;  // empty when nothing is checked (dof 0)
  bool scaled = false;
  std::optional<GlobalTest> global_test;
  std::vector<Suspect> suspects;
  std::optional<OneOf> one_of;
  std::vector<MeasureNext> measure_next;
};

struct LevelResult {
  std::string point;
  Unknown height, sd;
  bool left_out = false;  // its set-ups are tied to nothing, or it was rejected
  Agreement verdict = Agreement::agrees;
};

// How the readings of the level set-ups agree with each other, all set-ups of a room together.
struct LevelNetResult {
  int dof = 0;
  Unknown sigma0;
  std::optional<GlobalTest> global_test;
};

struct FloorModel {
  std::string kernel = "matern52";
  double sd = 0, range = 0, noise = 0;  // mm; the likeliest node of the parameter grid
  double noise_slope = 0;               // mm/m: what a place error is multiplied by
  struct Node {
    double sd = 0, range = 0, weight = 0;
  };
  std::vector<Node> grid;  // what the surface averages over; one node = not averaged
  std::string how;         // joint, local (neighbourhoods)
};

struct FloorResult {
  std::string area;
  Unknown lowest, highest;  // bare floor at the points read
  std::optional<FloorModel> model;
};

enum class BoundKind {
  leg_min,
  leg_max,
  niche,
  slide_in,
  sill,
  ceiling,
  set,
  asked_height,
  board_reaches,
  board_whole
};

struct Bound {
  BoundKind kind = BoundKind::leg_min;
  std::string at;
  bool lower = true;  // side
  bool hard = true;
  double value = 0, sd = 0;  // of U
  double applied = 0;        // value, tightened by 1.96 sd if hard
  double flooring = 0;       // how value moves with a thicker top layer: 0 or 1
  std::string sum;
};

struct Conflict {
  std::string lower, upper;
  double by = 0, sd = 0;
};
// Where things are tightest once a way out is taken: a leg's height or a board's top gap.
struct Tightest {
  std::string of;  // "S1 back left", "top gap of run S"
  double value = 0, sd = 0, least = 0, most = 0;
  Verdict verdict = Verdict::within;
};
struct WayOut {
  std::string kind, what, sum;
  std::optional<Tightest> tightest;
};

struct Spare {
  Unknown flooring_up, flooring_down;  // mm of the top layer; empty = nothing limits it
  std::string runs_out;
};

struct WorktopAboveFloor {
  Unknown at, least, greatest;
};

// How far U lies below a set-up's level plane: what a fitter measures down from a laser line.
struct LevelLine {
  std::string setup;
  double down = 0, sd = 0;
};

struct GroupResult {
  std::string id;
  double underside = 0;
  bool set = false, feasible = true;
  Unknown lowest, highest;  // what the hard bounds leave
  WorktopAboveFloor worktop_above_floor;
  std::vector<LevelLine> level_lines;
  std::vector<Bound> bounds;
  std::optional<Conflict> conflict;
  std::vector<WayOut> ways_out;
  Spare spare;
  std::string sum;
};

struct LegResult {
  std::string unit, position, type;
  double x = 0, y = 0;
  Unknown bearing_floor, sd, height, turns;
  std::optional<Verdict> verdict;
  Unknown foot_clear;
  int order = 0;  // of setting, 1 = first
  std::string sum;
};

enum class TopCut { none, parallel, taper };
enum class BottomCut { none, scribe };

struct PlinthOrdinate {
  double along = 0, height = 0;
};

struct PlinthResult {
  std::string run, face;
  int piece = 1;
  double length = 0;
  TopCut top = TopCut::none;
  BottomCut bottom = BottomCut::none;
  double height_left = 0, height_right = 0;
  std::vector<PlinthOrdinate> ordinates;
  double top_gap_least = 0, top_gap_greatest = 0;
  double floor_gap = 0;
  bool sealed_edge_down = true;
  double sd = 0;
  Verdict verdict = Verdict::within;
  std::string sum;
};

struct Board {
  double stock_length = 0, height = 0;
  struct Piece {
    std::string face;
    double length = 0;
  };
  std::vector<Piece> pieces;
  double offcut = 0;
};

struct EndPanelResult {
  std::string run, unit;
  Unknown front, back, sd;  // heights, floor to worktop underside
  std::string sum;
};

enum class FlatnessMethod { resting_bar, equal_offsets };

struct WorstFlatness {
  FlatnessMethod method = FlatnessMethod::resting_bar;
  double span = 0;       // between the two contacts
  double deviation = 0;  // + = hollow, - = proud
  double sd = 0;
  double limit = 0;
  double from = 0, to = 0;  // where the contacts are on the line measured
  std::string line;         // "at 900 high" or "at 1200 along"
};

// One straight, stiff thing at a wall: what it touches and what is left to scribe.
struct RestResult {
  std::string of;               // worktop, rail, end_panel, infill
  std::string line;             // of readings: "at 900 high", "at 1200 along"
  double from = 0, to = 0;      // the part that was measured, along or heights
  std::vector<double> resting;  // where it touches
  Unknown gap, scribe;
  bool rocks = false;
};

struct WallResult {
  std::string wall;
  Unknown lean;        // mm over the storey, + = the top leans away from the room
  Unknown lean_over;   // the height that lean is stated over
  Unknown lean_units;  // the same over the units' height
  Unknown bow;         // greatest departure from its chord, + = hollow
  Unknown twist;       // lean at the right end less lean at the left, per storey
  Unknown sd;          // of lean
  std::optional<WorstFlatness> worst;
  std::optional<Verdict> verdict;
  std::vector<double> resting;  // where a rigid worktop's back edge touches, along
  Unknown gap, scribe;
  bool rocks = false;
  std::vector<RestResult> rests;
};

struct FitResult {
  std::string run;
  Unknown clear, sd;  // narrowest width between two side walls
  double units = 0;   // their widths together
  Unknown left_over, infill_left, infill_right, taper;
  std::optional<Verdict> verdict;
  std::string sum;  // of what is left over, or of the gap at its one side wall
};

struct FallResult {
  double available = 0;  // mm/m
  Unknown least, most;   // mm/m, published
  double length = 0;     // mm along its route
  Unknown longest;
  std::optional<Verdict> verdict;
};

// What is cut out of a unit so that it passes a service: unit_notches.h.
struct NotchResult {
  std::string unit, part;                 // back, cross_rail, left_side, right_side, end_panel
  double from = 0, to = 0;                // from the unit's left; of a side: from its back edge
  double height_from = 0, height_to = 0;  // above the unit's underside
  double depth = 0;                       // into the part from behind
};

struct ServiceResult {
  std::string service;
  std::string height_zone;
  std::vector<std::string> units;
  Unknown void_here, void_sd, void_needed;
  std::vector<std::string> clashes;
  std::optional<Verdict> verdict;
  std::optional<FallResult> fall;
  std::vector<NotchResult> notches;
  std::string sum;
};

// The void_depth that a run needs for every service behind it to pass.
struct RunVoidResult {
  std::string run;
  Unknown needed;       // empty: no service behind it
  double here = 0;      // void_depth as ordered
  Unknown sd;           // of needed
  std::string service;  // that asks for it
  std::optional<Verdict> verdict;
  std::string sum;
};

struct WorktopJoint {
  std::string kind;   // corner, stock
  double along = 0;   // from the top's left end, at its back
  std::string with;   // a corner's: the other run
  Unknown angle, sd;  // a corner's: between the backs of the two tops, degrees
  Unknown mitre;      // its half
};

// A worktop; what by_template leaves open is empty.
struct WorktopResult {
  std::string run;
  int piece = 1;            // of its run, from the left
  double from = 0, to = 0;  // u of the units below
  std::string material;
  bool by_template = false;   // measured once the units are fixed
  Unknown length, length_sd;  // at the back edge
  double depth = 0;           // as ordered
  Unknown depth_left, depth_sd, needed;
  Unknown overhang;           // over the fronts, of depth_left
  Unknown scribe;             // the most to cut off the back
  bool covered = false;       // something hides the gap behind it, so that nothing is scribed
  std::optional<int> pieces;  // of stock
  std::vector<WorktopJoint> joints;
  std::optional<Verdict> verdict;  // of the depth
  std::string sum;
};

// A space that something needs: an aisle, a door's swing, a socket's distance from the sink.
struct ClearanceResult {
  std::string what, at;
  Unknown clear, sd;  // mm as it is
  double needed = 0;  // mm
  bool most = false;  // needed is the most that clear may be, not the least
  std::optional<Verdict> verdict;
  std::string source, sum;  // of needed; of clear
};

// What the survey has still to find out before the house is left.
struct MissingResult {
  std::string what, at, why;
};

// The measurements that help most, in the order to take them, each with those before it taken.
struct NextMinute {
  struct Step {
    std::string what, at;
    Unknown x, y;  // where, if it is a reading of the floor
    // floor: rms sd of the legs; plan: the slip that shows (empty: no slip shows)
    Unknown before, after, gain;
    std::string unit = "mm", why;
  };
  std::vector<Step> measure;
  bool stop = false;
  std::string says;
};

struct RoomResult {
  std::string id;
  std::vector<CornerResult> corners;
  std::vector<ObservationResult> observations;
  PlanResult plan;
  std::vector<LevelResult> levels;
  LevelNetResult level_net;
  std::vector<ObservationResult> level_readings;
  std::vector<FloorResult> floor;
  std::vector<GroupResult> groups;
  std::vector<LegResult> legs;
  std::vector<PlinthResult> plinths;
  std::vector<Board> boards;
  int boards_bound = 0;
  std::vector<EndPanelResult> end_panels;
  std::vector<WallResult> walls;
  std::vector<FitResult> fits;
  std::vector<WorktopResult> worktops;
  std::vector<ClearanceResult> clearances;
  std::vector<ServiceResult> services;
  std::vector<RunVoidResult> run_voids;
  std::vector<MissingResult> missing;
  NextMinute next_minute;
};

enum class Severity { hold, query, note };

struct Finding {
  std::string id;    // code and id path
  std::string code;  // a few words, lower case
  Severity severity = Severity::note;
  std::string room, at;
  Unknown measured, limit;
  std::string unit;    // of measured and limit: mm, degrees, mm/m
  std::string source;  // of the limit
  std::string says, remedy;
  bool safety = false;    // cannot be released by an answer
  bool answered = false;  // by a name; a fit hold only if the answer releases it
};

struct Manufacture {
  bool open = false;  // nothing bars it
  int holds = 0, queries_open = 0;
  std::vector<std::string> may_cut;  // units and plinth faces, whatever is open: partial_release.h
};

struct Results {
  std::string reference;
  int revision = 1;
  std::vector<RoomResult> rooms;
  std::vector<Finding> findings;
  Manufacture manufacture;
  std::optional<InstallResult> install;  // empty: nothing was read on the day
};

}  // namespace levelrun
