// The room's plan from its walk round: corner coordinates by least squares, and which
// measurement does not agree with the others.
//
// Unknowns: the corners' x and y at 900 high (first corner 0,0; wall from it along +x), one lean
// term per measured pair of corners in mm/m (length at height h = plan distance +
// (h - 900)/1000 * lean, observed as 0 +- 4 mm/m), one scale error per instrument that states
// sd_per_m. Observations: lengths (out in front of the wall too), diagonals, angles, set-out
// triangles. Nominal corner angles (0.6 degrees) enter at all unmeasured corners, and only where
// the rest leaves rank missing; then corners say `assumed`.
// Test: DEVELOPERS.md, "Room plan". Sd are a priori, scaled by sigma-nought (never down) only
// when nothing cures a failed test.
//
// Accuracy: corners to 1e-9 mm of the least-squares minimum.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct PlanPoint {
  double x = 0, y = 0;
};

// A straight face in plan. Facing it from the room, `from` is at the left.
struct WallLine {
  PlanPoint from, to;
  PlanPoint along, out;  // unit vectors; out points into the room
  double length = 0, length_sd = 0;
};

struct RoomPlan {
  // False: there are no corners, or too little was measured to place them; then `missing` says
  // what to measure and places on walls have no position.
  bool known = false;
  std::vector<PlanPoint> corners;    // as room.corners
  std::vector<WallLine> walls;       // as room.walls; empty when not known
  std::vector<std::string> missing;  // "length of W3"

  std::vector<CornerResult> corner_results;
  std::vector<ObservationResult> observations;
  PlanResult summary;
  std::vector<Finding> findings;  // room and id filled in

  // Where a place is in the plan; empty for a place on a wall of an unknown plan.
  std::optional<PlanPoint> at(const Place&) const;
};

RoomPlan adjust_room(const Survey&, Index room);

}  // namespace levelrun
