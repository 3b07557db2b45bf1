// Heights written beside an elevation: arrows to their lines with FFL, SSL, U or a level line's
// name, in a column at the wall's right end that never overlaps.
#pragma once

#include <string>
#include <vector>

#include "app/drawing/pen.h"

namespace levelrun {

struct LevelNote {
  Spot at;  // on the sheet: where the line ends
  std::string letters, value;
  Ink ink = Ink::ink;
  // A datum has its own line and a leader to its name. A surface has an arrow from above or below:
  // FFL and SSL lie a few dp apart, so that one comes from either side.
  enum class Kind { datum, surface_from_above, surface_from_below } kind = Kind::datum;
  bool two_lines = false;  // value below the letters
};

// In the free column; notes whose line is off the sheet are left out.
void draw_level_notes(DrawingPen&, std::vector<LevelNote>);

// How wide that column is with its arrows, dp.
float level_notes_width(float text_scale);

}  // namespace levelrun
