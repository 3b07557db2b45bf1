// The form of a wall, or of the opening or service chosen on it, which stands instead of the page
// Walls: what of it is said in words, by choices and in single numbers.
#pragma once

#include "app/screens/screens.h"

namespace levelrun {

void draw_wall_about(ScreenContext&, Box, Session&, WallsScreen&);

}  // namespace levelrun
