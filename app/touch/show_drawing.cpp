#include "app/touch/show_drawing.h"

#include <cmath>

#include "app/drawing/code_points.h"

namespace levelrun {
namespace {

constexpr float finger = 57;  // dp: 9 mm
constexpr float least_zoom = 0.5f, most_zoom = 20;

struct Pattern {
  float on[4];
  int count;
};

Pattern pattern_of(Dash dash) {
  switch (dash) {
    case Dash::dashed:
      return {{6, 4}, 2};
    case Dash::dotted:
      return {{1.5f, 4}, 2};
    case Dash::chain:
      return {{14, 4, 3, 4}, 4};
    case Dash::double_dot:
      return {{14, 3, 2, 3}, 4};
    default:
      return {{1}, 0};
  }
}

void show(Sheet& s, const Stroke& stroke) {
  if (stroke.texture && s.look.inks == InkSet::sun) return;
  const float width = float(stroke.width) * s.line_scale();
  std::vector<ImVec2> points;
  for (const Spot p : stroke.points) points.push_back({p.x, p.y});
  const Pattern pattern = pattern_of(stroke.dash);
  if (pattern.count == 0) {
    s.list.AddPolyline(points.data(), int(points.size()), s.colour(stroke.ink),
                       stroke.closed ? ImDrawFlags_Closed : 0, width);
    return;
  }
  if (stroke.closed) points.push_back(points.front());
  int part = 0;
  float left = pattern.on[0];
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const ImVec2 a = points[i], b = points[i + 1];
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    // A line far longer than any screen has come from a wild zoom: dashes would never end.
    if (length > 20000) continue;
    for (float at = 0; at < length;) {
      const float step = std::min(left, length - at);
      if (part % 2 == 0) {
        const float t0 = at / length, t1 = (at + step) / length;
        s.list.AddLine({a.x + (b.x - a.x) * t0, a.y + (b.y - a.y) * t0},
                       {a.x + (b.x - a.x) * t1, a.y + (b.y - a.y) * t1}, s.colour(stroke.ink),
                       width);
      }
      at += step;
      left -= step;
      if (left <= 0) {
        part = (part + 1) % pattern.count;
        left = pattern.on[part];
      }
    }
  }
}

void show(Sheet& s, const Area& area) {
  std::vector<ImVec2> points;
  for (const Spot p : area.outline) points.push_back({p.x, p.y});
  s.list.AddConvexPolyFilled(points.data(), int(points.size()), s.colour(area.ink));
}

void show(Sheet& s, const Disc& disc) {
  if (disc.texture && s.look.inks == InkSet::sun) return;
  const ImVec2 at{disc.at.x, disc.at.y};
  if (disc.filled && disc.radius <= 1.5f)  // a dot: cheaper as a square, and no different
    s.list.AddRectFilled({at.x - disc.radius, at.y - disc.radius},
                         {at.x + disc.radius, at.y + disc.radius}, s.colour(disc.ink));
  else if (disc.filled)
    s.list.AddCircleFilled(at, disc.radius, s.colour(disc.ink));
  else
    s.list.AddCircle(at, disc.radius, s.colour(disc.ink), 0, 1.5f * s.line_scale());
}

TextSize size_of(TextHeight h) {
  return h == TextHeight::title  ? TextSize::title
         : h == TextHeight::body ? TextSize::body
                                 : TextSize::caption;
}

void show(Sheet& s, const Lettering& l) {
  ImFont* font = s.fonts.font(size_of(l.height), l.bold);
  const float size = s.fonts.size(size_of(l.height));
  const float wide = s.width(l.text, size_of(l.height), l.bold);
  const ImVec2 corner{std::round(l.at.x - wide / 2), std::round(l.at.y - size / 2)};
  if (l.turned == 0) {
    if (l.on_blank)
      s.list.AddRectFilled({corner.x - 2, corner.y + size * 0.08f},
                           {corner.x + wide + 2, corner.y + size * 0.92f}, s.colour(Ink::sheet));
    s.list.AddText(font, size, corner, s.colour(l.ink), l.text.c_str());
    return;
  }
  if (l.on_blank)
    s.list.AddRectFilled({l.at.x - size * 0.42f, l.at.y - wide / 2 - 2},
                         {l.at.x + size * 0.42f, l.at.y + wide / 2 + 2}, s.colour(Ink::sheet));
  // ImGui writes along x only: each letter is turned about the text's middle after it was set.
  const int first = s.list.VtxBuffer.Size;
  float x = corner.x;
  for (std::string_view rest = l.text; !rest.empty();) {
    const unsigned code = next_code_point(rest);
    font->RenderChar(&s.list, size, {x, corner.y}, s.colour(l.ink), ImWchar(code));
    if (const ImFontGlyph* glyph = font->FindGlyph(ImWchar(code)))
      x += glyph->AdvanceX * size / font->FontSize;
  }
  for (int i = first; i < s.list.VtxBuffer.Size; ++i) {
    ImVec2& p = s.list.VtxBuffer[i].pos;
    p = {l.at.x + (p.y - l.at.y), l.at.y - (p.x - l.at.x)};
  }
}

}  // namespace

void show_drawing(Sheet& s, const Drawing& drawing) {
  for (const Primitive& primitive : drawing.primitives)
    std::visit([&](const auto& p) { show(s, p); }, primitive);
}

DrawingView moved_view(Sheet& s, const char* label, const DrawingView& fitted, ViewMoves& moves) {
  s.touch.tap(label, fitted.box);
  if (s.touch.double_tap(label)) moves = {};
  const Spot drag = s.touch.drag(label, fitted.box);
  moves.moved.x += drag.x;
  moves.moved.y += drag.y;
  const Touch::Zoom zoom = s.touch.zoom(fitted.box);
  if (zoom.factor != 1) {
    const float wanted = std::clamp(moves.zoom * zoom.factor, least_zoom, most_zoom);
    const float k = wanted / moves.zoom;
    const Spot m = fitted.box.middle();
    // The spot between the fingers stays where it is.
    moves.moved = {(moves.moved.x + m.x - zoom.about.x) * k - m.x + zoom.about.x,
                   (moves.moved.y + m.y - zoom.about.y) * k - m.y + zoom.about.y};
    moves.zoom = wanted;
  }
  DrawingView view = fitted;
  view.scale *= moves.zoom;
  view.x -= moves.moved.x / view.scale;
  view.y += moves.moved.y / view.scale;
  return view;
}

std::string tapped_fact(Sheet& s, const char* label, const Drawing& drawing) {
  if (!s.touch.tapped(label)) return {};
  const Spot at = s.touch.tap_spot();
  const DrawnFact* best = nullptr;
  float nearest = finger / 2;
  for (const DrawnFact& fact : drawing.facts) {
    const float dx = std::max({fact.box.x - at.x, at.x - fact.box.right(), 0.f});
    const float dy = std::max({fact.box.y - at.y, at.y - fact.box.bottom(), 0.f});
    const float d = std::hypot(dx, dy);
    // Of equals the later, which lies on top; of nested ones the smaller.
    if (d < nearest ||
        (d == nearest && best && fact.box.w * fact.box.h <= best->box.w * best->box.h) ||
        (d == 0 && !best)) {
      best = &fact;
      nearest = d;
    }
  }
  return best ? best->at : std::string();
}

void scale_bar(Sheet& s, Box box, double dp_a_mm) {
  double length = 1000;
  const char* name = "1 m";
  if (dp_a_mm * length > box.w / 3) length = 100, name = "100 mm";
  const float wide = float(length * dp_a_mm);
  if (wide < 20 || wide > box.w / 2) return;
  const Box bar{box.x + margin + 14, box.bottom() - 16, wide, 5};
  s.fill({bar.x, bar.y, wide / 2, bar.h}, Ink::ink);
  s.frame(bar, Ink::ink, 1);
  const float line = s.row(TextSize::caption);
  s.text({bar.x - 14, bar.y + bar.h / 2 - line / 2, 12, line}, "0", {TextSize::caption});
  s.text({bar.right() + 6, bar.y + bar.h / 2 - line / 2, 80, line}, name, {TextSize::caption});
}

}  // namespace levelrun
