// Do an opening's parts add up to the wall that it is in?
//
// Upwards: sill + height + head to ceiling = ceiling there, from the nearest ceiling reading within
// 1,500 mm; both as heights above the benchmark where the floor was read, for floor and ceiling
// may fall between the two. Along: 0 <= left, left + width <= wall, and no two openings of one
// wall in each other. A difference is a query when it is over 5 mm and over 3 sd of what it was
// made from; openings name no instrument, so their numbers are a tape's (sd 2).
// Needs the plan for lengths; without it, only overlaps are looked for.
#pragma once

#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

std::vector<Finding> opening_sums(const RoomFacts&);

}  // namespace levelrun
