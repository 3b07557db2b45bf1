// What is listed beside a wall: services, openings, zones without drilling, what is still to read,
// photos. A row that is tapped chooses its fact on the elevation.
#pragma once

#include <string>

#include "app/screens/screens.h"

namespace levelrun {

struct WallListEvent {
  bool photo = false;  // one is to be added
};

// Lays the lists out from the box's top; drawn and tapped only where `event` is not null. How high
// they came. face: what heads them; may be empty.
float wall_lists(ScreenContext&, Box, Session&, WallsScreen&, const std::string& face,
                 WallListEvent*);

// JSON Pointer of the thing chosen on the wall, else of the wall; and what it is called.
std::string chosen_on_wall(const Session&, const WallsScreen&);
std::string name_on_wall(const Session&, const WallsScreen&);

}  // namespace levelrun
