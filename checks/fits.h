// Does each run fit between what stands at its ends, how does its last unit get in, and what is
// left for infills?
//
// For a run on a wall whose end is a wall: the gap from the end's units to the side wall's face
// (side_faces.h) at its narrowest over their depths and heights, from the floor up (wall units:
// from their underside). Heights are nominal here: plinth height + base height and so on. So
// `clear` is the narrowest width of the standing volume.
//   left_over = clear - units
//   infill_left, infill_right: from the side wall to the first unit that is not itself an infill,
//   a corner post or a space
//   taper = how much wider the gap is in front than at the wall (what an infill is scribed to)
// An infill must be at least infill.min, at least the handle where a door hinged on that side
// would strike the wall, and at most infill.max. A unit of the run that is an infill is one. An
// end that is open needs none; a corner: corner_ends.h.
//
// Clearances:
//   "last unit's way in", a run between two side walls: the last unit is pushed in square from
//   one unit depth in front, so past boards, architraves, skirtings and services on the side
//   walls, all other units set, infills not. Single unit: between both walls. Two: between the
//   other one and the wall at the better end. More: a middle one may be last, and only the width
//   inside counts; where the ends would not pass, a note says so. Needed: its width + 2 mm play
//   (common practice, no source). Outside: hold; doubtful: query.
//   "opening beside the wall", an end's drawers (a unit depth in front) or a door hinged there
//   (its width in front): the narrowest in front; needed: 3 mm for drawers (common practice, no
//   source), the handle for a door. Outside: hold; doubtful: query; none of both where the infill
//   has its own finding.
#pragma once

#include "checks/clearances.h"
#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct Fits {
  std::vector<FitResult> fits;  // runs on walls, in room order
  std::vector<ClearanceResult> clearances;
  std::vector<Finding> findings;
};

Fits run_fits(const RoomFacts&);

}  // namespace levelrun
