#include "app/drawing/level_notes.h"

#include <algorithm>

namespace levelrun {
namespace {

constexpr float leader = 46;  // dp from the wall's end to the letters
constexpr float head = 4;     // of an arrow
constexpr float reach = 14;   // of a surface's arrow

struct Row {
  LevelNote note;
  float top = 0, high = 0;
};

float width_of(const std::string& text, float text_scale, bool bold) {
  Lettering l;
  l.text = text;
  l.bold = bold;
  return lettering_width(l, text_scale);
}

void letter(DrawingPen& pen, const std::string& text, float left, float middle, Ink ink,
            bool bold) {
  Lettering l;
  l.text = text;
  l.ink = ink;
  l.bold = bold;
  l.at = {left + lettering_width(l, pen.text_scale()) / 2, middle};
  pen.letter(l, true);
}

void arrow_of(DrawingPen& pen, const LevelNote& note, float to_y, float x) {
  const Spot p = note.at;
  if (note.kind == LevelNote::Kind::datum) {
    const float tip = p.x + leader * 0.4f;
    pen.stroke({{tip + 6, p.y - head}, {tip, p.y}, {tip + 6, p.y + head}}, note.ink);
    pen.stroke({{tip, p.y}, {tip + 14, p.y}, {x - 4, to_y}}, note.ink);
    return;
  }
  const float sign = note.kind == LevelNote::Kind::surface_from_above ? -1.f : 1.f;
  const float shaft = p.x + leader * 0.6f;
  pen.stroke({{p.x + 6, p.y}, {x - 6, p.y}}, note.ink);
  pen.stroke({{shaft, p.y + sign * reach}, {shaft, p.y}}, note.ink);
  pen.stroke({{shaft - head, p.y + sign * 6}, {shaft, p.y}, {shaft + head, p.y + sign * 6}},
             note.ink);
}

}  // namespace

float level_notes_width(float text_scale) {
  return leader + width_of("SSL", text_scale, true) + 10 + width_of("+1000.0", text_scale, false) +
         8;
}

void draw_level_notes(DrawingPen& pen, std::vector<LevelNote> notes) {
  const Box sheet = pen.view().box;
  const float step = lettering_height(TextHeight::caption, pen.text_scale()) * 1.25f;
  std::vector<Row> rows;
  float letters = 0, values = 0;
  for (LevelNote& note : notes) {
    if (note.at.y < sheet.y || note.at.y > sheet.bottom()) continue;
    if (!note.two_lines)
      letters = std::max(letters, width_of(note.letters, pen.text_scale(), true));
    values = std::max(values, width_of(note.value, pen.text_scale(), false));
    rows.push_back({std::move(note), 0, 0});
  }
  if (rows.empty()) return;
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Row& a, const Row& b) { return a.note.at.y < b.note.at.y; });
  // Each as near its line as those above it let it, then up again from the sheet's foot.
  float free = sheet.y + 2;
  for (Row& row : rows) {
    row.high = step * (row.note.two_lines ? 2.f : 1.f);
    row.top = std::max(free, row.note.at.y - step * 0.5f);
    free = row.top + row.high;
  }
  float foot = sheet.bottom() - 2;
  for (auto row = rows.rbegin(); row != rows.rend(); ++row) {
    row->top = std::min(row->top, foot - row->high);
    foot = row->top;
  }
  const float column = letters + 10 + values;
  for (const Row& row : rows) {
    const float x = std::min(row.note.at.x + leader, sheet.right() - column - 8);
    const float middle = row.top + step / 2;
    arrow_of(pen, row.note, middle, x);
    letter(pen, row.note.letters, x, middle, row.note.ink, true);
    if (row.note.two_lines)
      letter(pen, row.note.value, x, middle + step, row.note.ink, false);
    else
      letter(pen, row.note.value, x + column - width_of(row.note.value, pen.text_scale(), false),
             middle, row.note.ink, false);
  }
}

}  // namespace levelrun
