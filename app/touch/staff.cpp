#include "app/touch/staff.h"

#include <cmath>

namespace levelrun {
namespace {

constexpr float upright_width = 104, flat_height = 72;
constexpr float flat_marks_width = 66, flat_marks_height = 15;

// The marks as boxes in a unit frame: 66 long, 15 across, lying flat, bars upwards.
constexpr Box e_spine{0, 10, 36, 5};
constexpr Box bars[] = {{0, 0, 8, 15}, {14, 0, 8, 15}, {28, 0, 8, 15}};
constexpr Box blocks[] = {{43, 0, 8, 8}, {58, 0, 8, 8}};

// From the flat frame into the box: flat as it is, upright with the first mark lowest and bars
// to the right.
Box placed(Box m, Box into, bool upright) {
  const float k = (upright ? into.h : into.w) / flat_marks_width;
  if (!upright) return {into.x + m.x * k, into.y + m.y * k, m.w * k, m.h * k};
  return {into.right() - (m.y + m.h) * k, into.bottom() - (m.x + m.w) * k, m.h * k, m.w * k};
}

void draw_marks(Sheet& s, Box into, bool upright, int done, int all, Ink ink) {
  // Five marks: three bars of the E and two blocks; the part that is booked is filled.
  const float share = all > 0 ? 5 * float(std::min(done, all)) / float(all) : 0;
  const auto at = [&](Box m) { return placed(m, into, upright); };
  const auto filled = [&](Box m, float part) {
    if (part <= 0) return;
    Box b = m;
    b.w *= std::min(part, 1.f);
    s.fill(at(b), ink);
  };
  // The E's outline in one stroke.
  const Spot path[] = {{0, 0},   {8, 0},   {8, 10}, {14, 10}, {14, 0},  {22, 0},
                       {22, 10}, {28, 10}, {28, 0}, {36, 0},  {36, 15}, {0, 15}};
  const Ink line = all > 0 && done >= all ? ink : ink == Ink::blue ? Ink::blue : Ink::rule;
  for (std::size_t i = 0; i < std::size(path); ++i) {
    const Spot a = path[i], b = path[(i + 1) % std::size(path)];
    const Box pa = at({a.x, a.y, 0, 0}), pb = at({b.x, b.y, 0, 0});
    s.line({pa.x, pa.y}, {pb.x, pb.y}, line, 1);
  }
  for (int i = 0; i < 3; ++i) filled(bars[i], share - float(i));
  const float spine = std::clamp(share, 0.f, 3.f) / 3;
  filled(e_spine,
         share >= 3 ? 1 : (spine > 0 ? (std::floor(std::min(share, 2.999f)) * 14 + 8) / 36 : 0));
  for (int i = 0; i < 2; ++i) {
    s.frame(at(blocks[i]), line, 1);
    filled(blocks[i], share - 3 - float(i));
  }
}

}  // namespace

bool staff_upright(const Sheet& s) { return !s.portrait() && s.screen.h >= 500; }

float staff_thickness(const Sheet& s) {
  return staff_upright(s) ? std::max(upright_width, s.grown(upright_width) * 0.9f)
                          : std::max(flat_height, s.grown(flat_height) * 0.85f);
}

int staff(Sheet& s, Box box, std::span<const StaffPage> pages, int in_use) {
  int tapped = -1;
  const bool upright = staff_upright(s);
  s.fill(box, Ink::sheet);
  const float n = float(pages.size());
  std::vector<float> widths;
  float total = 0;
  const bool words_short = s.narrow();
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const StaffPage& page = pages[i];
    const std::string& name = words_short ? page.short_name : page.name;
    const float w = std::max({40.f, s.width(name, TextSize::caption, int(i) == in_use) + 6,
                              s.width(page.left, TextSize::caption) + 6});
    widths.push_back(w);
    total += w;
  }
  const float spare = (box.w - total) / n;
  s.push_clip(box);
  float x = box.x;
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const StaffPage& page = pages[i];
    const bool on = int(i) == in_use;
    Box cell = upright ? Box{box.x, box.y + box.h * float(i) / n, box.w, box.h / n}
               : words_short
                   ? Box{x, box.y, spare > 0 ? widths[i] + spare : box.w * widths[i] / total, box.h}
                   : Box{box.x + box.w * float(i) / n, box.y, box.w / n, box.h};
    x += cell.w;
    if (s.touch.tap(page.name, cell)) tapped = int(i);
    if (on || s.touch.pressed(page.name)) {
      if (s.look.inks == InkSet::sun)
        s.frame(cell.inset(2), Ink::ink, 2);
      else
        s.fill(cell, Ink::wash);
    }
    const Ink ink = on ? Ink::blue : Ink::ink;
    const Pen word{TextSize::caption, ink, on, upright ? Align::left : Align::centre};
    const Pen count{TextSize::caption, s.look.inks == InkSet::sun ? Ink::ink : Ink::soft, false,
                    upright ? Align::left : Align::centre};
    const float line = s.row(TextSize::caption);
    if (upright) {
      const float wide = cell.w - 8 - 31;
      const Box words{cell.x + 8, 0, wide, 0};
      std::string name = page.name;
      // A word that is too wide breaks after its hyphen.
      if (const auto hyphen = name.find('-');
          hyphen != name.npos && s.width(name, word.size, word.bold) > wide)
        name.insert(hyphen + 1, "\n");
      float high = s.paragraph_height(wide, name, word) + (page.left.empty() ? 0 : line);
      const float y = cell.y + (cell.h - high) / 2;
      const float used = s.paragraph({words.x, y, wide, high}, name, word);
      if (!page.left.empty()) s.text({words.x, y + used, wide + 4, line}, page.left, count);
      const float marks = std::min(82.f, cell.h - 16);
      draw_marks(s, {cell.right() - 28, cell.y + (cell.h - marks) / 2, 20, marks}, true, page.done,
                 page.all, ink);
      if (i > 0) s.line({cell.x, cell.y}, {cell.right(), cell.y}, Ink::rule);
    } else {
      const std::string& name = words_short ? page.short_name : page.name;
      s.text({cell.x + 1, cell.y + 6, cell.w - 2, line}, name, word);
      if (!page.left.empty())
        s.text({cell.x + 1, cell.y + 6 + line, cell.w - 2, line}, page.left, count);
      // Below the name and what is left.
      const float room = std::max(6.f, cell.h - 6 - 2 * line - 10);
      const float wide = std::min(
          {words_short ? 35.f : 101.f, cell.w - 12, room * flat_marks_width / flat_marks_height});
      const float high = wide * flat_marks_height / flat_marks_width;
      const float left = words_short ? cell.x + (cell.w - wide) / 2 : cell.x + 10;
      draw_marks(s, {left, cell.bottom() - 7 - high, wide, high}, false, page.done, page.all, ink);
      if (i > 0) s.line({cell.x, cell.y}, {cell.x, cell.bottom()}, Ink::rule);
    }
  }
  s.pop_clip();
  if (upright)
    s.line({s.look.left_hand ? box.right() : box.x, box.y},
           {s.look.left_hand ? box.right() : box.x, box.bottom()}, Ink::ink, 2);
  else
    s.line({box.x, box.y}, {box.right(), box.y}, Ink::ink, 2);
  return tapped;
}

void staff_marks(Sheet& s, Box box, int done, int all, Ink ink) {
  draw_marks(s, box, false, done, all, ink);
}

}  // namespace levelrun
