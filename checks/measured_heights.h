// Heights that a survey states from the floor below or from a set-up's plane, as heights above
// the room's benchmark.
#pragma once

#include <optional>

#include "checks/group_bounds.h"

namespace levelrun {

// The floor as it was surveyed: the bare floor with the layers still on it.
std::optional<double> surveyed_floor(const RoomFacts&, PlanPoint);
std::optional<double> height_above_benchmark(const RoomFacts&, const MeasuredHeight&, const Place&);

}  // namespace levelrun
