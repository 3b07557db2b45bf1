#include "app/screens/run_list.h"

#include <algorithm>

#include "app/screens/finding_parts.h"
#include "app/touch/marks.h"

namespace levelrun {
namespace {

constexpr float vial_wide = 48, vial_high = 20;

bool in_columns(const Sheet& s, float width) { return width > s.grown(520); }

Ink ink_of(bool needs_a_person) { return needs_a_person ? Ink::crayon : Ink::ink; }

void row_vial(Sheet& s, Box at, const std::optional<Judged>& judged) {
  if (!judged) return;
  vial(s, {at.right() - vial_wide, at.y + (at.h - vial_high) / 2, vial_wide, vial_high},
       vial_of(*judged));
}

void draw_columns(Sheet& s, Box row, const UnitRow& r, bool head) {
  const TextSize size = head ? TextSize::caption : TextSize::body;
  const Ink plain = head ? soft_ink(s) : Ink::ink;
  const auto right = [&](bool needs_a_person) {
    return Pen{size, needs_a_person ? Ink::crayon : plain, needs_a_person, Align::right};
  };
  Box in = row.inset(6, 0);
  row_vial(s, in.take_right(vial_wide), r.judged);
  in.take_right(12);
  const float w = in.w;
  s.text(in.take_left(w * 0.1f), r.id, {size, plain, !head});
  s.text(in.take_left(w * 0.12f), r.width, right(false));
  in.take_left(14);
  s.text(in.take_right(w * 0.29f), r.legs, right(r.legs_need_a_person));
  s.text(in.take_right(w * 0.17f), r.void_here, right(r.void_needs_a_person));
  in.take_right(8);
  s.text(in, r.what, {size, soft_ink(s)});
}

void draw_two_lines(Sheet& s, Box row, const UnitRow& r) {
  Box in = row.inset(6, 3);
  row_vial(s, in.take_right(vial_wide), r.judged);
  in.take_right(8);
  Box below = in.take_bottom(s.row(TextSize::caption));
  const float w = in.w;
  s.text(in.take_left(w * 0.2f), r.id, {TextSize::body, Ink::ink, true});
  s.text(in.take_left(w * 0.2f), r.width, {TextSize::body, Ink::ink, false, Align::right});
  in.take_left(8);
  s.text(in, r.legs,
         {TextSize::body, ink_of(r.legs_need_a_person), r.legs_need_a_person, Align::right});
  if (!r.void_here.empty()) {
    const std::string words = "void " + r.void_here;
    const bool bold = r.void_needs_a_person;
    const float wide = std::min(below.w * 0.5f, s.width(words, TextSize::caption, bold) + 2);
    s.text(below.take_right(wide), words, {TextSize::caption, ink_of(bold), bold, Align::right});
    below.take_right(8);
  }
  s.text(below, r.what, {TextSize::caption, soft_ink(s)});
}

// Name and number in one line, or below each other where they are too long for it.
bool on_one_line(const Sheet& s, float width, const RunRow& line) {
  return s.width(line.name, TextSize::caption) + s.width(line.value, TextSize::body, true) + 6 <=
         width;
}

// Beside a phone's plan: name and number, and below them the vial of what is judged.
float short_height(const Sheet& s, float width, const RunRow& line) {
  return s.row() + 2 + (on_one_line(s, width, line) ? 0 : s.row(TextSize::caption)) +
         (line.judged ? vial_high + 2 : 0);
}

void draw_short(Sheet& s, Box b, const RunRow& line) {
  const bool one = on_one_line(s, b.w, line);
  if (!one)
    s.text(b.take_top(s.row(TextSize::caption)), line.name, {TextSize::caption, soft_ink(s)});
  const Box first = b.take_top(s.row() + 2);
  s.text(first, line.value, {TextSize::body, ink_of(line.needs_a_person), true, Align::right});
  if (one) s.text(first, line.name, {TextSize::caption, soft_ink(s)});
  row_vial(s, {b.x, b.y, b.w, vial_high}, line.judged);
}

}  // namespace

void draw_run_line(Sheet& s, Box b, const RunRow& line) {
  const Box at = b.take_right(vial_wide);
  row_vial(s, at, line.judged);
  b.take_right(8);
  const float value = s.width(line.value, TextSize::body, true) + 2;
  // Without a vial a long number may have its place.
  if (!line.judged && value > b.w - s.width(line.name, TextSize::body) - 8) b.w = at.right() - b.x;
  s.text(b.take_right(std::min(value, b.w * 0.7f)), line.value,
         {TextSize::body, ink_of(line.needs_a_person), true, Align::right});
  b.take_right(8);
  s.text(b, line.name, {TextSize::body, soft_ink(s)});
}

void draw_run_lines(Sheet& s, Box box, const std::vector<RunRow>& lines) {
  const bool short_ones = s.narrow();
  const float wide = box.w - 8;
  const auto height = [&](const RunRow& line) {
    if (short_ones) return short_height(s, wide, line);
    const float words =
        line.words.empty() ? 0 : s.paragraph_height(wide, line.words, {TextSize::caption});
    return s.row() + 4 + words + 6;
  };
  float content = 0;
  for (const RunRow& line : lines) content += height(line);
  const float offset = s.touch.scroll("run numbers", box, content);
  s.push_clip(box);
  float y = box.y - offset;
  for (const RunRow& line : lines) {
    Box b{box.x, y, wide, height(line)};
    y += b.h;
    if (b.bottom() < box.y || b.y > box.bottom()) continue;
    if (short_ones) {
      draw_short(s, b, line);
      continue;
    }
    draw_run_line(s, b.take_top(s.row() + 4), line);
    s.paragraph(b, line.words, {TextSize::caption, soft_ink(s)});
  }
  s.pop_clip();
  s.scroll_mark(box, offset, content);
}

float unit_row_height(const Sheet& s, float width) {
  const float words = in_columns(s, width) ? 20 : s.row(TextSize::caption) + 8;
  return std::max(least_target, s.row() + words);
}

float unit_head_height(const Sheet& s, float width) {
  return in_columns(s, width) ? s.row(TextSize::caption) + 8 : 0;
}

std::optional<Index> draw_unit_rows(Sheet& s, Box box, const std::vector<UnitRow>& rows,
                                    const std::string& scroll, std::optional<Index> chosen,
                                    std::optional<Index> reveal) {
  const bool columns = in_columns(s, box.w);
  if (columns) {
    const Box head = box.take_top(unit_head_height(s, box.w));
    s.rule_under(head);
    draw_columns(s, head, {"Unit", "", "Width", "Legs", "Void", {}, false, false}, true);
  }
  const float high = unit_row_height(s, box.w), content = high * float(rows.size());
  if (reveal)
    s.touch.scroll_to(scroll, std::clamp(high * (float(*reveal) + 0.5f) - box.h / 2, 0.f,
                                         std::max(0.f, content - box.h)));
  const float offset = s.touch.scroll(scroll, box, content);
  std::optional<Index> tapped;
  s.push_clip(box);
  for (Index u = 0; u < rows.size(); ++u) {
    const Box row{box.x, box.y - offset + high * float(u), box.w, high};
    if (row.bottom() < box.y || row.y > box.bottom()) continue;
    if (s.row_target(row, rows[u].id, chosen == u)) tapped = u;
    s.rule_under(row);
    if (columns)
      draw_columns(s, row, rows[u], false);
    else
      draw_two_lines(s, row, rows[u]);
  }
  s.pop_clip();
  s.scroll_mark(box, offset, content);
  return tapped;
}

}  // namespace levelrun
