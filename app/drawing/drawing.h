// A drawing as a plain list of what is drawn, for the screen, for print and for SVG alike.
//
// Coordinates are dp on the sheet, x to the right, y downwards: a drawing is made for the box it is
// shown in, so that hatch, text and marks keep their size whatever the scale. Things are drawn in
// the order of the list. Widths go 4 : 2 : 1 (ISO 128, from memory): room face, unit outline, the
// rest.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "app/touch/box.h"
#include "app/touch/inks.h"

namespace levelrun {

enum class LineWidth { thin = 1, outline = 2, face = 4 };
enum class Dash {
  solid,
  dashed,      // hidden
  dotted,      // not measured
  chain,       // datum
  double_dot,  // in front of the cut
};

struct Stroke {
  std::vector<Spot> points;
  Ink ink = Ink::ink;
  LineWidth width = LineWidth::thin;
  Dash dash = Dash::solid;
  bool closed = false;
  bool texture = false;  // hatch: left out in the sun, where it would only blur
};

// Convex; in one ink.
struct Area {
  std::vector<Spot> outline;
  Ink ink = Ink::wash;
};

struct Disc {
  Spot at;
  float radius = 0;
  Ink ink = Ink::ink;
  bool filled = true;
  bool texture = false;  // stipple: left out in the sun
};

enum class TextHeight { caption, body, title };

struct Lettering {
  std::string text;
  Spot at;  // the middle of the text
  TextHeight height = TextHeight::caption;
  Ink ink = Ink::ink;
  bool bold = false;
  float turned = 0;      // degrees anticlockwise: 0, or 90 to be read from the right
  bool on_blank = true;  // on a strip of bare sheet, so that lines under it break
};

using Primitive = std::variant<Area, Stroke, Disc, Lettering>;

// What can be chosen by a tap: the JSON Pointer of the fact, its box (grown to 9 mm by whoever
// taps).
struct DrawnFact {
  std::string at;
  Box box;
};

struct Drawing {
  std::vector<Primitive> primitives;
  std::vector<DrawnFact> facts;  // the later lies on top
  float scale = 0;               // dp a mm
};

// Plan or elevation coordinates (mm, y upwards) to the sheet.
struct DrawingView {
  Box box;              // where it is shown
  double scale = 0.1;   // dp a mm
  double x = 0, y = 0;  // mm at the box's middle

  Spot at(double mm_x, double mm_y) const {
    const Spot m = box.middle();
    return {m.x + float((mm_x - x) * scale), m.y - float((mm_y - y) * scale)};
  }
};

// How wide lettering comes out, dp, so that text never overlaps: DejaVu Sans Condensed's own
// widths.
float lettering_width(const Lettering&, float text_scale = 1);
float lettering_height(TextHeight, float text_scale = 1);  // em

}  // namespace levelrun
