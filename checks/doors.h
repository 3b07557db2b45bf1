// Do the room's doors still swing, past the units and over the new floor?
//
// Swing, of doors that open in: the leaf turns about the jamb at the wall's face, as wide as the
// opening, through 90 degrees; its own thickness and handle are not counted. What it may strike:
// units with all that sticks out of them (footprints.h), wall units if the door is as high as they
// hang, and what stands 50 or more off a wall (radiators and the like, by their width).
// "door swing": clear = from the hinge to the nearest of these less the leaf's width, needed 0;
// no entry where nothing stands in that quarter of the room at all. A strike is a hold that
// says how far the door opens; doubtful is a query.
//
// Undercut, of doors that open in or slide and have their `undercut` given:
// "door over the finished floor": clear = undercut - (highest finished floor that the leaf passes -
// surveyed floor at the middle of the opening). Surveyed = bare + all that will be stripped there;
// where no floor was read, layers alone are compared. Needed 3 (common practice, no source); if
// not within a query that says by how much to shorten the leaf. Doors that open out swing over a
// floor that was not surveyed. Lengths mm, angles degrees.
#pragma once

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

Clearances doors(const RoomFacts&);

}  // namespace levelrun
