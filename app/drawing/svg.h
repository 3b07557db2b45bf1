// A drawing as SVG 1.1, to be printed at scale or taken into another drawing.
//
// One user unit is a mm of paper; a dp of the drawing is 1/160 inch. Line widths are 0.7, 0.35 and
// 0.18 mm (ISO 128, from memory). Everything is black on white, as in print: marks and dashes tell
// things apart. Text stays text, held to its width in DejaVu Sans Condensed, so that nothing
// overlaps where that face is missing. No scripts, no links, nothing loaded from elsewhere.
//
// The text is well-formed XML and UTF-8 whatever the lettering holds: what XML does not allow, and
// bytes that are no UTF-8, become U+FFFD. A coordinate that is not finite leaves its primitive out.
#pragma once

#include <string>
#include <string_view>

#include "app/drawing/drawing.h"

namespace levelrun {

struct SvgSheet {
  Box box;                         // dp: what of the drawing's sheet is on the page
  std::string title, description;  // for who cannot see it, and for lists of files
};

std::string svg_text(const Drawing&, const SvgSheet&);

// Text as XML may hold it, in an element or in a quoted attribute.
std::string xml_text(std::string_view);

}  // namespace levelrun
