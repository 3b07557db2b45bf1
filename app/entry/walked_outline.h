// A room's outline as it is booked on the way round, like in a field book: walls with rough
// lengths, and a turn at the end of each but the last, which comes back to the first corner.
//
// One walks with the wall on the left hand, clockwise seen from above. A turn is in degrees, to the
// right positive, more than -180 and less than 180: 90 is a usual corner, -90 the outer corner of a
// chimney breast. A simple outline turns by 360 in all, so the last turn follows from the others.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/room_plan.h"

namespace levelrun {

struct WalkedWall {
  std::optional<double> rough;  // mm; empty: not even roughly known
  std::optional<double> turn;   // at its end; empty: the wall walked along now, or the last
};

// Degrees that are left to turn at the end of the last wall; 180 or more either way: too many.
double last_turn(const std::vector<WalkedWall>&);

// Why the outline cannot end here, at its first corner; empty: it can.
std::string cannot_end(const std::vector<WalkedWall>&);

// Interior angles of its corners, the first wall's left end first. It can end.
std::vector<double> corner_angles(const std::vector<WalkedWall>&);

// The corners walked past, the first at 0,0 and the first wall along +x; one more than walls. A
// wall of no known length goes `unknown` mm.
std::vector<PlanPoint> walked_corners(const std::vector<WalkedWall>&, double unknown);

// How far its end lies from its first corner, mm, where that is so far that a length or a turn is
// likely wrong; empty: it is not, or a length is not known.
std::optional<double> missed_by(const std::vector<WalkedWall>&);

}  // namespace levelrun
