// The bare floor in a plan: contours with every fifth bold and lettered, steps between floor areas,
// and dots where it is not known well enough.
#pragma once

#include <string>

#include "app/drawing/pen.h"
#include "app/drawing/room_to_draw.h"

namespace levelrun {

// vague: mm; where the floor's sd is more, the map dissolves into dots. Where contours would run
// into one band, on a steep slope, the finer ones are left out, then the bold ones.
void floor_drawing(DrawingPen&, const RoomToDraw&, double vague, char decimal);

// What a map with bare heights needs explained under it: brackets and steps; empty: nothing.
std::string floor_map_notes(const RoomToDraw&);

}  // namespace levelrun
