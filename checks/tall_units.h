// Does each tall unit stand under the ceiling, and can it be tilted up where it goes?
//
// Room: ceiling (ceilings.h) less the finished floor in front of the unit. mm.
//   "standing height"             needs its top with cornice above that floor, U as chosen
//   "clear of the coving"         where its wall has one: from its top to the coving; needs 0
//   "tilting up with legs on"     needs √((carcass + leg)² + depth²)
//   "tilting up with legs off"    needs √(carcass² + depth²)
//   "lifting onto its legs"       needs carcass + leg + 10 (common practice, no source)
// leg: as supplied, else the plinth's height. The carcass alone, its doors off.
//
// Standing height has no finding here: the ceiling bounds U (group_bounds.h). It does not go up:
// hold; doubtful: query. Only with its legs off: note. Into the coving: query. No ceiling
// measured: `clear` is null, and a note asks for it. A tall unit without a height is left out.
#pragma once

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

Clearances tall_units(const RoomFacts&, const std::vector<GroupResult>&);

}  // namespace levelrun
