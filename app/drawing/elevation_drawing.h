// A wall as one stands before it: openings, units, services by height, the level line, the
// underside, floors; and its face from above with the line that a worktop rests on.
//
// Along runs to the right from the wall's left end, heights upwards from the surveyed floor at its
// middle. Units are thin, so that services and level lines in front of them read.
#pragma once

#include <optional>
#include <string>

#include "app/drawing/drawing.h"
#include "app/drawing/room_to_draw.h"
#include "checks/results.h"

namespace levelrun {

struct ElevationOptions {
  std::string chosen;           // JSON Pointer of the fact in crayon
  std::optional<Spot> placing;  // mm along and high: where something is being put
  char decimal = '.';
};

struct WallExtent {
  double length = 0, height = 0;  // mm; height: of the ceiling read nearest, else 2,400
  bool ceiling_read = false;
};
WallExtent wall_extent(const Survey&, const RoomToDraw&, Index wall);

// Fits the wall into the box with room for its dimensions.
DrawingView elevation_view(const WallExtent&, Box, float text_scale = 1);

Drawing elevation_drawing(const Survey&, const RoomToDraw&, const RoomResult*, Index wall,
                          const DrawingView&, const ElevationOptions&, float text_scale = 1);

// The face near 900 high seen from above, out enlarged; where the worktop rests, in blue. Empty
// where it was not read.
Drawing face_drawing(const Survey&, const RoomToDraw&, const RoomResult*, Index wall, Box,
                     const DrawingView& elevation, char decimal, float text_scale = 1);

// "CW", "SSO": the letters that stand beside a service's symbol.
std::string service_letters(ServiceKind);

}  // namespace levelrun
