// A wall as one stands before it: openings, units, services by height, the level line, the
// underside, floors.
//
// Along runs to the right from the wall's left end, heights upwards from the surveyed floor at its
// middle, mm. Units are thin, so that services and level lines in front of them read. Lettering
// that would overlap moves aside, or is left out.
#pragma once

#include <optional>
#include <string>

#include "app/drawing/drawing.h"
#include "app/drawing/elevation_view.h"
#include "app/drawing/room_to_draw.h"
#include "checks/results.h"

namespace levelrun {

struct ElevationOptions {
  std::string chosen;           // JSON Pointer of the fact in crayon
  std::optional<Spot> placing;  // mm along and high: where something is being put or read
  char decimal = '.';
};

// Empty while the room's outline is not known.
Drawing elevation_drawing(const Survey&, const RoomToDraw&, const RoomResult*, Index wall,
                          const DrawingView&, const ElevationOptions&, float text_scale = 1);

}  // namespace levelrun
