// A room from above: faces, openings, dimensions with their bands, floor, units, points.
//
// We know only the faces of walls, so there is hatch behind them and never a thickness. A length
// that was not measured is dotted with a blue "?"; one that is assumed or derived stands in
// brackets. One that does not close is drawn past its corner, to scale, in crayon, and under it,
// blue, what the others say.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/drawing/drawing.h"
#include "app/drawing/room_to_draw.h"
#include "checks/results.h"

namespace levelrun {

struct PlanOptions {
  bool dimensions = true, diagonals = false, contours = false, points = false;
  bool units = true, units_fixed = false;  // fixed: outlines with their names
  // Points by the bare floor that the contours are of, in brackets where it was not read itself.
  bool bare_heights = false;
  double vague = 2;                   // mm: where the floor's sd is more it dissolves into dots
  std::string chosen;                 // JSON Pointer of the fact in crayon
  std::optional<Index> point_in_use;  // a large ring with its number
  struct PastCorner {                 // the length being typed or booked that does not close
    Index wall = 0;
    double length = 0;
    std::optional<Estimate> expected;
  };
  std::optional<PastCorner> past;
  char decimal = '.';
};

Drawing plan_drawing(const Survey&, const RoomToDraw&, const RoomResult*, const DrawingView&,
                     const PlanOptions&, float text_scale = 1);

// The view that fits the room into the box, with room for its dimensions.
DrawingView plan_view(const RoomToDraw&, Box, bool dimensions = true, float text_scale = 1);

}  // namespace levelrun
