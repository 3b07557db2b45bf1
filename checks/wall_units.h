// Where do wall units hang: rail, ceiling, coving, and the tops of tall units beside them?
//
// mm; U as chosen for the level group. A wall unit hangs above_worktop over the worktop; one with
// a `bottom` of its own hangs that far above the finished floor in front of it.
//   "rail height"           top less rail_drop above the finished floor, for each run's first wall
//                           unit with a rail_drop; nothing needed, no verdict; `sum` also says how
//                           far it lies from each level line (up: +)
//   "under the ceiling"     ceiling (ceilings.h) less top with cornice; needs 0
//   "clear of the coving"   the same less coving_drop, where its wall has one; needs 0
//   "tops in line"          tall and wall units of a level group whose tops (with cornice) are less
//                           than 50 apart (common practice, no source): by how much; at most 0
//
// The ceiling bounds U (group_bounds.h), so "under the ceiling" has a finding only for a unit with
// its own bottom: hold, doubtful query. Into the coving: query. "tops not in line": query.
#pragma once

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

Clearances wall_units(const RoomFacts&, const std::vector<GroupResult>&);

}  // namespace levelrun
