// The ways that pipes and ducts take on a wall, for its elevation: whatever wall their service
// stands on.
#pragma once

#include <vector>

#include "app/drawing/room_to_draw.h"

namespace levelrun {

// Bends as seen facing the wall, mm: x along from its left end, y above the floor.
using WallRoute = std::vector<PlanPoint>;

// From a service through its route to where it connects, the stretches on this wall, each of two
// bends or more. To and from a neighbouring wall a way goes by the corner between them; a point by
// x and y is on the wall if it lies close before it. floor: as above_floor (elevation_view.h).
std::vector<WallRoute> routes_on_wall(const Room&, const RoomToDraw&, Index wall, double floor);

}  // namespace levelrun
