// Shows a drawing on the sheet, and lets fingers move about in it: drag, pinch, wheel, double tap
// to fit; a tap chooses the fact nearest within 9 mm.
#pragma once

#include <string>

#include "app/drawing/drawing.h"
#include "app/touch/sheet.h"

namespace levelrun {

void show_drawing(Sheet&, const Drawing&);

// What a person did to a view of a drawing: kept by the screen.
struct ViewMoves {
  float zoom = 1;
  Spot moved;  // dp
};
// Applies drags and pinches over the box (target `label`) and gives the view moved accordingly.
DrawingView moved_view(Sheet&, const char* label, const DrawingView& fitted, ViewMoves&);

// The fact that the last tap on `label` chose: empty if none this frame.
std::string tapped_fact(Sheet&, const char* label, const Drawing&);

// 0 to 1 m, in the box's lower left corner.
void scale_bar(Sheet&, Box, double dp_a_mm);

}  // namespace levelrun
