// Does the largest carcass of a room pass its best doorway?
//
// Carcasses of base, tall and wall units, without fronts and legs, as they are delivered:
// width x height x depth. A carcass goes through endwise, so the two smaller of the three must fit
// into the opening's width x height, upright, on its side or tilted. Assumed: width and height are
// clear between the linings, and the leaf is off its hinges (hanging, it takes its thickness).
// Turns in halls and stairs are not known.
//
// clear: the play of the carcass that has least, through the opening that leaves it most, of all
// doors and archways (not `fixed`); needed 0. Each carcass that does not pass is a hold, a doubtful
// one a query. A room without a doorway in the survey, or a tall unit without a height, gives
// nothing. mm.
#pragma once

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

// How much play a box a x b (ends on) has in an opening, the tighter way of the two; negative: how
// much it is too large. Tilted: W. Carver's condition for a rectangle in a rectangle (1957).
double play_in_opening(double a, double b, double width, double height);

Clearances way_in(const RoomFacts&);

}  // namespace levelrun
