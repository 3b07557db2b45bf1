#include "app/touch/sheet.h"

#include <algorithm>
#include <cmath>

namespace levelrun {
namespace {

constexpr float key_corner = 4;
constexpr float mark_width = 4;
constexpr float least_em = 15;  // dp: nothing is ever smaller

ImVec2 vec(Spot s) { return {s.x, s.y}; }

}  // namespace

Sheet::Sheet(const Look& l, const Fonts& f, Touch& t, ImDrawList& d, Box s)
    : look(l), fonts(f), touch(t), list(d), screen(s) {}

ImU32 Sheet::colour(Ink ink) const {
  const Rgb c = rgb(look.inks, ink);
  return IM_COL32(c.r, c.g, c.b, 255);
}

void Sheet::fill(Box b, Ink ink, float rounding) {
  list.AddRectFilled({b.x, b.y}, {b.right(), b.bottom()}, colour(ink), rounding);
}

void Sheet::frame(Box b, Ink ink, float width, float rounding) {
  const float w = width * line_scale();
  list.AddRect({b.x + w / 2, b.y + w / 2}, {b.right() - w / 2, b.bottom() - w / 2}, colour(ink),
               rounding, 0, w);
}

void Sheet::line(Spot a, Spot b, Ink ink, float width) {
  list.AddLine(vec(a), vec(b), colour(ink), width * line_scale());
}

void Sheet::dotted(Spot a, Spot b, Ink ink, float width, float on, float off) {
  const float length = std::hypot(b.x - a.x, b.y - a.y);
  if (length <= 0) return;
  const float dx = (b.x - a.x) / length, dy = (b.y - a.y) / length;
  for (float at = 0; at < length; at += on + off) {
    const float end = std::min(at + on, length);
    line({a.x + dx * at, a.y + dy * at}, {a.x + dx * end, a.y + dy * end}, ink, width);
  }
}

void Sheet::rule_under(Box b, Ink ink, float width) {
  const float w = width * line_scale();
  list.AddRectFilled({b.x, b.bottom() - w}, {b.right(), b.bottom()}, colour(ink));
}

float Sheet::width(std::string_view s, TextSize size, bool bold) const {
  return fonts.font(size, bold)
      ->CalcTextSizeA(fonts.size(size), 1e6f, 0, s.data(), s.data() + s.size())
      .x;
}

void Sheet::text(Box b, std::string_view s, Pen pen) {
  ImFont* font = fonts.font(pen.size, pen.bold);
  const float whole = fonts.size(pen.size);
  float size = whole;
  const auto wide = [&](std::string_view t) { return width(t, pen.size, pen.bold) * size / whole; };
  const auto draw = [&](std::string_view t, float y, float high) {
    const float x = pen.align == Align::left     ? b.x
                    : pen.align == Align::centre ? b.x + (b.w - wide(t)) / 2
                                                 : b.right() - wide(t);
    list.AddText(font, size, {std::round(x), std::round(y + (high - size) / 2)}, colour(pen.ink),
                 t.data(), t.data() + t.size());
  };
  if (wide(s) <= b.w + 0.5f) return draw(s, b.y, b.h);
  // Smaller first, down to a caption at 100 %; then over several lines, the largest that the box
  // holds; then fewer letters.
  const float least = std::min(whole, least_em * imgui_em);
  size = std::max(least, whole * b.w / wide(s));
  if (wide(s) <= b.w + 0.5f) return draw(s, b.y, b.h);
  for (size = whole;; size = std::max(least, size * 0.9f)) {
    const auto lines = broken(b.w * whole / size, s, pen.size, pen.bold);
    const float high = size / imgui_em * line_height;
    const bool fit = high * float(lines.size()) <= b.h + 0.5f &&
                     std::all_of(lines.begin(), lines.end(),
                                 [&](const std::string& t) { return wide(t) <= b.w + 0.5f; });
    if (fit) {
      float y = b.y + (b.h - high * float(lines.size())) / 2;
      for (const std::string& line : lines) {
        draw(line, y, high);
        y += high;
      }
      return;
    }
    if (size <= least) break;
  }
  touch.note_cut(s);
  std::string shortened(s);
  const float dots = wide("…");
  while (!shortened.empty() && wide(shortened) + dots > b.w) {
    // A UTF-8 character whole: its tail, then its head.
    while (!shortened.empty() && (static_cast<unsigned char>(shortened.back()) & 0xC0) == 0x80)
      shortened.pop_back();
    if (!shortened.empty()) shortened.pop_back();
  }
  draw(shortened + "…", b.y, b.h);
}

std::vector<std::string> Sheet::broken(float wide, std::string_view s, TextSize size,
                                       bool bold) const {
  std::vector<std::string> lines;
  std::string line;
  std::size_t at = 0;
  while (at <= s.size()) {
    const std::size_t newline = s.find('\n', at), space = s.find(' ', at);
    const std::size_t end = std::min({newline, space, s.size()});
    const std::string word(s.substr(at, end - at));
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && width(longer, size, bold) > wide) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
    if (end == newline && newline != s.npos) {
      lines.push_back(line);
      line.clear();
    }
    at = end + 1;
  }
  lines.push_back(line);
  return lines;
}

float Sheet::paragraph_height(float wide, std::string_view s, Pen pen) const {
  return float(broken(wide, s, pen.size, pen.bold).size()) * row(pen.size);
}

float Sheet::paragraph(Box b, std::string_view s, Pen pen) {
  const float high = row(pen.size);
  float y = b.y;
  for (const std::string& one : broken(b.w, s, pen.size, pen.bold)) {
    text({b.x, y, b.w, high}, one, pen);
    y += high;
  }
  return y - b.y;
}

bool Sheet::key(Box b, std::string_view label, KeyLook key_look, std::string_view second_line,
                std::string_view id) {
  const std::string_view name = id.empty() ? label : id;
  const bool tapped = key_look == KeyLook::not_yet ? false : touch.tap(name, b);
  const bool down = touch.pressed(name) && key_look != KeyLook::not_yet;
  const bool solid = key_look == KeyLook::solid;
  fill(b, solid ? Ink::ink : down ? Ink::wash : Ink::sheet, key_corner);
  if (key_look == KeyLook::not_yet) {
    dotted({b.x, b.y}, {b.right(), b.y}, Ink::rule);
    dotted({b.right(), b.y}, {b.right(), b.bottom()}, Ink::rule);
    dotted({b.right(), b.bottom()}, {b.x, b.bottom()}, Ink::rule);
    dotted({b.x, b.bottom()}, {b.x, b.y}, Ink::rule);
  } else if (!solid) {
    frame(b,
          key_look == KeyLook::in_use ? Ink::blue
          : down                      ? Ink::ink
                                      : Ink::rule,
          key_look == KeyLook::in_use        ? 2.f
          : down && look.inks == InkSet::sun ? 2.f
                                             : 1.f,
          key_corner);
  } else if (down) {
    frame(b.inset(3), Ink::sheet, 1, key_corner);
  }
  const bool digit = label.size() == 1 || label == "±";
  Pen pen{digit   ? TextSize::key
          : solid ? TextSize::title
                  : TextSize::body,
          solid                          ? Ink::sheet
          : key_look == KeyLook::in_use  ? Ink::blue
          : key_look == KeyLook::not_yet ? Ink::soft
                                         : Ink::ink,
          digit || solid || key_look == KeyLook::in_use, Align::centre};
  Box inner = b.inset(6, 0);
  if (second_line.empty()) {
    const float high = paragraph_height(inner.w, label, pen);
    if (width(label, pen.size, pen.bold) > 1.3f * inner.w && label.find(' ') != label.npos &&
        high <= b.h) {
      paragraph({inner.x, b.y + (b.h - high) / 2, inner.w, high}, label, pen);
    } else {
      text(inner, label, pen);
    }
    return tapped;
  }
  Pen small = pen;
  small.size = TextSize::caption;
  small.bold = false;
  const float first = row(pen.size), second = row(small.size);
  inner = {inner.x, b.y + (b.h - first - second) / 2, inner.w, first};
  text(inner, label, pen);
  text({inner.x, inner.bottom(), inner.w, second}, second_line, small);
  return tapped;
}

bool Sheet::row_target(Box b, std::string_view label, bool chosen) {
  const bool tapped = touch.tap(label, b);
  if (chosen || touch.pressed(label)) {
    if (look.inks == InkSet::sun)
      frame(b, Ink::ink, 2);
    else
      fill(b, Ink::wash);
  }
  return tapped;
}

void Sheet::push_clip(Box b) {
  list.PushClipRect({b.x, b.y}, {b.right(), b.bottom()}, true);
  touch.push_clip(b);
}

void Sheet::pop_clip() {
  list.PopClipRect();
  touch.pop_clip();
}

void Sheet::scroll_mark(Box b, float offset, float content_height) {
  if (content_height <= b.h + 1) return;
  const float high = std::max(24.f, b.h * b.h / content_height);
  const float y = b.y + (b.h - high) * offset / (content_height - b.h);
  fill({b.right() - mark_width, y, mark_width, high}, Ink::rule);
}

}  // namespace levelrun
