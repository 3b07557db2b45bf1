// Do the drawers and doors at an inside corner clear the other run's fronts and handles?
//
// A run that ends at a corner, and another about square to it whose fronts face that end: the
// clear distance from the other run's fronts (carcass front + front_thickness) to the first unit
// that is no infill, corner post or space. Needed: the larger of the two runs' handles, at least
// 3 mm (common practice, no source); a corner post gives it. A run that passes behind the other's
// fronts (a blind corner unit) is not asked: its door stands further out.
//
// "clear of the other run's fronts": overlapping fronts are a hold, anything else too close a
// query, for the survey does not say where handles are. mm. Runs of wall units are compared with
// each other, floor-standing ones likewise.
#pragma once

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

Clearances corner_ends(const RoomFacts&);

}  // namespace levelrun
