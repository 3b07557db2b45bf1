// Does each run fit between what stands at its ends, and what is left for infills?
//
// For a run on a wall whose end is a wall: the side wall's face stands where the plan puts it at
// 900 high, less how far it comes proud of its own chord over the units' depth and height (its
// offsets: lean and bow), less finishes still to come and a skirting that stays. The corner's
// angle counts over the whole depth. So `clear` is the narrowest width of the standing volume.
//   left_over = clear - units          infill_left, infill_right: from the side walls to the units
//   taper     = how much wider the gap is in front than at the wall (what an infill is scribed to)
// An infill must be at least infill.min, at least the handle where a door hinged on that side
// would strike the wall, and at most infill.max. An end that is open or a corner needs none.
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct Fits {
  std::vector<FitResult> fits;  // runs on walls, in room order
  std::vector<Finding> findings;
};

Fits run_fits(const RoomFacts&);

}  // namespace levelrun
