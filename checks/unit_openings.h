// Do units keep clear of the doors and windows on their own wall?
//
//   a base, tall or wall unit before a door or archway, a tall or wall unit before a window,
//   their heights overlapping: "unit over an opening", a hold (doubtful: query). What stands below
//   a window's sill is the sill's bound on U (group_bounds.h).
//   "clear of the architrave": from the nearest unit at each side to the architrave's outer edge;
//   needs 0; listed within 300 mm (common practice, no source). Overlapping it: query.
// mm; openings as booked ± 2 (a tape; common practice, no source), heights with U as chosen, the
// sill's from the floor below or its plane. A space is no unit, and an opening whose sill cannot be
// placed is left out.
#pragma once

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

Clearances unit_openings(const RoomFacts&, const std::vector<GroupResult>&);

}  // namespace levelrun
