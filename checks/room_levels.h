// The levels of a room: heights of the points read, from every set-up together.
//
// Unknowns: a height per point, a collimation height per set-up;
// staff = collimation height - height + collimation * distance. The benchmark is exact, other
// known heights have their sd. Weighted least squares (level_net.h), sd a priori. A set-up that
// is tied to the benchmark by no shared point is named and left out, with its points.
// Test: chi-square at 0.1 %, and the largest standardised residual against the Šidák limit for
// 0.5 % false alarms a room. A reading is rejected only when it can be told from the next
// candidate (2 in w squared); else the readings concerned say one_of and stay in.
#pragma once

#include <optional>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct LevelReading {
  Index setup = 0, reading = 0;  // in the survey's lists
  Index point = 0;
  double drop = 0;  // from the set-up's level plane down to the point, collimation taken off
  double sd = 0;
  bool used = true;  // false: rejected, or its set-up is tied to nothing
};

struct RoomLevels {
  std::vector<LevelReading> readings;
  std::vector<std::optional<Estimate>> points;  // height of each point, as room.levels.points
  std::vector<std::optional<Estimate>> planes;  // collimation height of each set-up
  std::vector<LevelResult> results;
  std::vector<ObservationResult> reading_results;
  LevelNetResult net;
  std::vector<Finding> findings;
};

RoomLevels adjust_room_levels(const Survey&, Index room);

}  // namespace levelrun
