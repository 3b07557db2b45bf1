// How high does the ceiling hang over a place?
//
// The lowest reading within 1,500 of it, else the lowest of the room, above the room's benchmark.
// Sd: the floor or plane it was measured from, its instrument (none named: a tape, 2 mm) and 3 mm
// of unevenness between readings. 1,500 and 3: common practice, no source. Empty: no ceiling was
// measured from anything known.
#pragma once

#include <optional>

#include "checks/room_facts.h"

namespace levelrun {

std::optional<Estimate> ceiling_over(const RoomFacts&, PlanPoint);

// The highest finished floor along the front of a unit and one of its depths before it.
std::optional<Estimate> finished_floor_at(const RoomFacts&, const PlacedRun&, const PlacedUnit&);

}  // namespace levelrun
