// The wall's face near 900 high seen from above, under its elevation and at the same scale along;
// out is enlarged 2 to 20 times, as written. The line that a worktop rests on is blue, with the
// places where it rests and the gaps left.
#pragma once

#include <optional>

#include "app/drawing/drawing.h"
#include "app/drawing/room_to_draw.h"
#include "checks/results.h"

namespace levelrun {

// Empty where the face was not read near 900.
Drawing face_strip(const Survey&, const RoomToDraw&, const RoomResult*, Index wall, Box,
                   const DrawingView& elevation, float text_scale = 1);

// How high a strip is that shows it well.
float face_strip_height(float text_scale);

}  // namespace levelrun
