// A plinth board as it is cut, seen from the room: stock dashed, what is left in ink, waste
// hatched. Along fills the box's width to scale; heights are enlarged by a whole number, as
// written.
#pragma once

#include "app/drawing/drawing.h"
#include "checks/results.h"

namespace levelrun {

// stock_height: of the board before it is cut, mm.
Drawing board_drawing(const PlinthResult&, double stock_height, char decimal, Box,
                      float text_scale = 1);

}  // namespace levelrun
