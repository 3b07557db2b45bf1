#include "app/drawing/pen.h"

#include <cmath>

namespace levelrun {
namespace {

constexpr float hatch_depth = 8, hatch_apart = 8;
constexpr float dimension_step = 20;  // dp further out at each try
constexpr int dimension_tries = 4;
constexpr float tick = 5;

bool overlap(const Box& a, const Box& b) {
  return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

float length_of(Spot a, Spot b) { return std::hypot(b.x - a.x, b.y - a.y); }

}  // namespace

void DrawingPen::stroke(std::vector<Spot> points, Ink ink, LineWidth width, Dash dash,
                        bool closed) {
  if (points.size() > 1)
    drawing_.primitives.push_back(Stroke{std::move(points), ink, width, dash, closed});
}

void DrawingPen::area(std::vector<Spot> outline, Ink ink) {
  drawing_.primitives.push_back(Area{std::move(outline), ink});
}

void DrawingPen::disc(Spot at, float radius, Ink ink, bool filled) {
  drawing_.primitives.push_back(Disc{at, radius, ink, filled});
}

void DrawingPen::hatch(Spot from, Spot to, Spot behind, Hatch hatch) {
  const float length = length_of(from, to);
  if (hatch == Hatch::none || length < 1) return;
  const Spot along{(to.x - from.x) / length, (to.y - from.y) / length};
  const float slant = hatch == Hatch::diagonal ? hatch_depth : 0;
  for (float t = 0; t <= length; t += hatch_apart) {
    const float end = std::min(t + slant, length);
    const Spot a{from.x + along.x * t, from.y + along.y * t};
    const float depth = slant > 0 ? hatch_depth * (end - t) / slant : hatch_depth;
    const Spot b{from.x + along.x * end + behind.x * depth,
                 from.y + along.y * end + behind.y * depth};
    drawing_.primitives.push_back(
        Stroke{{a, b}, Ink::rule, LineWidth::thin, Dash::solid, false, true});
  }
}

Box DrawingPen::box_of(const Lettering& l) const {
  const float w = lettering_width(l, text_scale_),
              h = lettering_height(l.height, text_scale_) * 1.1f;
  return l.turned == 0 ? Box{l.at.x - w / 2, l.at.y - h / 2, w, h}
                       : Box{l.at.x - h / 2, l.at.y - w / 2, h, w};
}

bool DrawingPen::is_free(Box box) const {
  for (const Box& other : taken_)
    if (overlap(box, other)) return false;
  return true;
}

bool DrawingPen::on_sheet(Box box) const {
  const Box& sheet = view_.box;
  return box.x >= sheet.x && box.right() <= sheet.right() && box.y >= sheet.y &&
         box.bottom() <= sheet.bottom();
}

bool DrawingPen::letter(const Lettering& l, bool always) {
  const Box box = box_of(l);
  if (!always && (!on_sheet(box) || !is_free(box.inset(-2, 0)))) return false;
  taken_.push_back(box);
  drawing_.primitives.push_back(l);
  return true;
}

bool DrawingPen::dimension(Spot from, Spot to, Spot side, float away, const std::string& text,
                           Ink ink, bool bold) {
  const float length = length_of(from, to);
  if (length < 1) return false;
  const Spot along{(to.x - from.x) / length, (to.y - from.y) / length};
  // Read from below or from the right.
  const bool upright = std::abs(along.y) > std::abs(along.x);
  Lettering l;
  l.text = text;
  l.ink = ink;
  l.bold = bold;
  l.turned = upright ? 90.f : 0.f;
  l.on_blank = false;
  const float wide = lettering_width(l, text_scale_);
  const float half = lettering_height(l.height, text_scale_) * 0.62f;
  for (int n = 0; n < dimension_tries; ++n) {
    const float d = away + dimension_step * text_scale_ * float(n);
    const Spot a{from.x + side.x * d, from.y + side.y * d}, b{to.x + side.x * d, to.y + side.y * d};
    l.at = {(a.x + b.x) / 2 + (upright ? -half : 0), (a.y + b.y) / 2 - (upright ? 0 : half)};
    if (wide + 4 > length) {
      // Too short for its number: beside the line's end.
      l.at.x += upright ? 0 : (length + wide) / 2 + 6;
      l.at.y -= upright ? (length + wide) / 2 + 6 : 0;
    }
    const Box box = box_of(l);
    if (!on_sheet(box) || !is_free(box.inset(-3, 0))) continue;
    reserve(box);
    for (const auto& [p, q] : {std::pair{from, a}, std::pair{to, b}}) {
      const float reach = length_of(p, q);
      const float start = std::min(8.f, reach);
      stroke({{p.x + side.x * start, p.y + side.y * start}, {q.x + side.x * 6, q.y + side.y * 6}},
             ink);
      stroke({{q.x - tick, q.y + tick}, {q.x + tick, q.y - tick}}, ink, LineWidth::outline);
    }
    stroke({a, b}, ink);
    drawing_.primitives.push_back(l);
    return true;
  }
  return false;
}

}  // namespace levelrun
