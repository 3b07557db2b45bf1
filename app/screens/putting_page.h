// Something being put on a wall: what it is, where by a tap on the elevation, then its numbers
// exactly by the pad.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>

#include "app/drawing/drawing.h"
#include "app/screens/screens.h"

namespace levelrun {

// Kinds of services as the file names them, and as people do.
struct KindWord {
  const char *name, *words;
};
std::span<const KindWord> service_kind_words();

// Draws the wall in a box with the place tapped; the view it is drawn in.
using DrawWall = std::function<DrawingView(Box, std::optional<Spot>)>;

// A key's box beside the wall, taken off the box: below it, or in its corner where that is low.
// words: the widest that it says.
Box key_beside_wall(Sheet&, Box&, const std::string& words);

// Stands instead of the walls page while screen.putting is open.
void draw_putting_page(ScreenContext&, Box, Session&, WallsScreen&, const DrawWall&);

}  // namespace levelrun
