// Where do the rails of wall units, and islands, get screwed to what must not be drilled?
//
//   rail height = top of its wall unit - rail_drop, along the units' width
// Hidden cables may run (BS 7671, 522.6.202) within 150 of the wall's top or of a corner of two
// walls, and straight up, down and sideways of a visible point: strips of its own width on the
// whole wall (86 where its plate is not given), also where a point was moved or capped, for its
// cable may still be there. All crossings of a rail are one note, a safety one: find cables before
// drilling. Ranges are widened by the 95 % band of where the point is.
//
// A rail through a no-drill rectangle of its wall is a hold, a query where its band is in doubt or
// rail_drop is not given; base and tall units in front of one are a note. A rectangle's along and
// height are its left and lower edges, height above the surveyed floor. An island (a run on no
// wall) over a no-drill outline or underfloor heating is a query.
//
// Not looked at: fixings of base and tall units, whose height no survey states, and what no survey
// shows (points on the other face of a thin wall); the note says so.
#pragma once

#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

std::vector<Finding> fixing_zones(const RoomFacts&, const std::vector<GroupResult>&);

}  // namespace levelrun
