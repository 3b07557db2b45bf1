// Where each unit and each leg stands in the plan, and how a unit hangs on its level.
//
// Run coordinates: u from the run's left end to the right, v from the run's line into the room.
// The run's line lies along its wall, at the wall's proudest point (finishes still to come
// counted). A recessed carcass backs onto the line; a standing-off one stands void_depth in
// front of it. Heights are relative: offset is what a unit's underside lies above the level
// group's U (the underside of a base carcass of the job's own furniture).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/room_plan.h"
#include "survey/survey.h"

namespace levelrun {

struct RunFrame {
  PlanPoint origin, along, out;  // origin: u = 0, v = 0; unit vectors
  std::optional<Index> wall;
  double line = 0;    // how far the run's line lies in front of the wall's line
  double offset = 0;  // of the run's base underside above U

  PlanPoint at(double u, double v) const {
    return {origin.x + u * along.x + v * out.x, origin.y + u * along.y + v * out.y};
  }
};

struct PlacedLeg {
  std::string position;  // front_left, back_right, front_middle, front_2, foot_1 …
  double u = 0, v = 0;
  PlanPoint place;
};

struct PlacedUnit {
  Index run = 0, unit = 0;        // in room.runs and run.units
  double left = 0, right = 0;     // u
  double back = 0, front = 0;     // v
  double offset = 0;              // of its own underside above U
  double top_offset = 0;          // of its top above U
  std::vector<PlacedLeg> legs;    // base and tall units with a leg type
  std::optional<Index> leg_type;  // into its run's furniture.legs
};

struct PlacedRun {
  RunFrame frame;
  double length = 0;  // of all its units
  std::vector<PlacedUnit> units;
};

// One entry a run, as room.runs; empty where the run's wall has no position.
std::vector<std::optional<PlacedRun>> placed_runs(const Survey&, Index room, const RoomPlan&);

// Up to where the wall behind a run matters to its units, above the floor.
double height_in_use(const Run&);

// Base and tall units stand on legs; others do not.
bool stands_on_legs(const Unit&);

}  // namespace levelrun
