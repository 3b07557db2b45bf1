// Heights that a survey states from the floor below or from a set-up's plane, as heights above
// the room's benchmark.
#pragma once

#include <optional>

#include "checks/room_facts.h"

namespace levelrun {

// sd: of the floor or the plane that it was measured from; the measurement's own is not in it.
// Empty: the floor was not read there, the plane is tied to nothing, or the place has no position.
std::optional<Estimate> height_above_benchmark(const RoomFacts&, const MeasuredHeight&,
                                               const Place&);

}  // namespace levelrun
