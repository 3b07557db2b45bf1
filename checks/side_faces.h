// Where does the side wall's face stand that a run meets at one of its ends?
//
// The wall's line in the adjusted plan (900 high), moved into the run by
//   - its offsets there, along and up: lean and bow (run_line.h);
//   - its lean, where its offsets do not tell it: what the lengths of the run's own wall gain or
//     lose with height, less the other side wall's lean if that is known, else half of it;
//   - finishes still to come and a skirting that stays, at their heights;
//   - window boards and architraves on it, and services that stay or are new where asked for: a
//     unit is not pushed through them, but an infill may hide a pipe.
// mm; u and v as in placing.h, heights above the floor. What is set out from a plane is not
// counted where the floor below was not read.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/room_facts.h"
#include "checks/run_line.h"

namespace levelrun {

// What a thing takes up beside the wall, or sweeps.
struct BesideWall {
  double back = 0, front = 0;  // v
  double bottom = 0, top = 0;
};

class SideFace {
 public:
  // Empty: no wall stands roughly square to the run at that end. The facts must outlive this.
  static std::optional<SideFace> of(const RoomFacts&, Index run, bool right);

  struct Narrowest {
    double u = 0, sd = 0;
    double intrudes = 0;  // of that, before the line of the plan
    std::string what;     // the board, architrave or service that stands out there; else empty
  };
  // Where least is left for the run.
  Narrowest narrowest(const BesideWall&, bool with_services) const;

  double plan_u(double v) const { return at_line_ + v * slope_; }

 private:
  struct Thing {
    double from, to;  // along
    double bottom, top;
    double out;  // from the wall
    bool service;
    std::string name;
  };

  SideFace(const RoomFacts&, Index run, bool right, Index side);
  void add_openings();
  void add_services();
  void add_lean(Index run);
  double along(double v) const;
  double v_of(double along) const;
  Estimate face(double along, double height) const;  // proud of the plan's line
  const Thing* thing(double along, double height, bool with_services) const;

  const RoomFacts* f_;
  const Wall* side_;
  const WallLine* line_;
  RunFrame frame_;
  bool right_;
  Index index_;
  RunLine offsets_;
  double at_line_ = 0, slope_ = 0;  // u where the wall's line crosses v = 0; its change with v
  Estimate lean_;                   // mm/m that the face comes further into the run with height
  double place_sd_ = 0;
  std::vector<Thing> things_;
};

}  // namespace levelrun
