#include "app/screens/booking_page.h"

#include "app/touch/keypad.h"

namespace levelrun {
namespace {

constexpr float word_key_height = 56, phone_word_height = 52, word_key_width = 116;
constexpr float row_height = 48;
constexpr float least_plan = 60;  // high, at 100 % text

// Name, caption and what the others expect side by side; the caption below where it is too long.
struct Heading {
  Heading(const Sheet& s, float w, const BookingView& v)
      : name(v.name.empty() ? v.done : v.name),
        size(s.narrow() ? TextSize::body : TextSize::title),
        expected(std::min(w * 0.55f, s.width(v.expected, TextSize::body) + 2)),
        named(std::min(w - expected - 8, s.width(name, size, true) + 2)),
        rest(w - expected - 8 - named - 10),
        line(std::max(1.25f * s.row(size), 40.f)) {  // 40: two lines of the smallest text
    const Pen least{TextSize::caption};
    below = !v.caption.empty() &&
            (rest < 40 || s.paragraph_height(rest, v.caption, least) > 2.1f * s.row(least.size));
    height = line + (below ? s.row(TextSize::caption) : 0);
  }
  const std::string& name;
  TextSize size;
  float expected, named, rest, line, height = 0;
  bool below = false;
};

float heading_height(const Sheet& s, float w, const BookingView& v) {
  return Heading(s, w, v).height;
}

void draw_heading(Sheet& s, Box b, const BookingView& v) {
  const Heading h(s, b.w, v);
  const Box top = b.take_top(h.line);
  s.text({top.right() - h.expected, top.y, h.expected, top.h}, v.expected,
         {TextSize::body, Ink::blue, false, Align::right});
  s.text({top.x, top.y, h.named, top.h}, h.name, {h.size, Ink::ink, true});
  const Pen caption{s.narrow() || h.below ? TextSize::caption : TextSize::body, Ink::soft};
  s.text(h.below ? b : Box{top.x + h.named + 10, top.y, h.rest, top.h}, v.caption, caption);
}

// The value in large digits with the caret, its vial and what the check says.
void draw_value(Sheet& s, Box b, const BookingView& v, bool typing, BookingEvent& e) {
  if (v.name.empty()) {
    const float w = (b.w - gap * float(std::max<std::size_t>(v.offers.size(), 1) - 1)) /
                    float(std::max<std::size_t>(v.offers.size(), 2));
    b.h = std::max(least_target, b.h - 8);
    for (const std::string& offer : v.offers) {
      if (s.key(b.take_left(w), offer)) e.offer = offer;
      b.take_left(gap);
    }
    return;
  }
  const float digits = s.width(v.typed, TextSize::value, true);
  const float most = b.w * 0.6f;
  const bool small = digits > most || b.h < s.fonts.em(TextSize::value);
  const TextSize size = small ? TextSize::title : TextSize::value;
  const float wide = s.width(v.typed, size, true);
  s.text({b.x, b.y, b.w, b.h}, v.typed, {size, typing ? Ink::blue : Ink::soft, true});
  const float caret = b.x + (v.typed.empty() ? 0 : wide + 4);
  if (!v.name.empty()) s.line({caret, b.y + 6}, {caret, b.bottom() - 6}, Ink::blue, 2);
  float right = b.right();
  if (!v.result.empty() && !s.narrow()) {
    const float w =
        std::max(s.width(v.result, TextSize::title), s.width(v.result_caption, TextSize::caption)) +
        2;
    if (wide + w + 250 < b.w) {
      s.text({right - w, b.y, w, b.h * 0.6f}, v.result,
             {TextSize::title, Ink::ink, false, Align::right});
      s.text({right - w, b.y + b.h * 0.55f, w, b.h * 0.45f}, v.result_caption,
             {TextSize::caption, Ink::soft, false, Align::right});
      right -= w + 12;
    }
  }
  const Pen words{TextSize::title, v.check_needs_a_person ? Ink::crayon : Ink::ink,
                  v.check_needs_a_person};
  const float said = s.width(v.check, words.size, words.bold);
  float x = std::max(caret + 16, s.narrow() ? right - said - 106 : b.x + b.w * 0.3f);
  if (v.vial && x + 96 < right) {
    vial(s, {x, b.y + (b.h - 40) / 2, 96, 40}, *v.vial);
    x += 96 + (s.narrow() ? 10.f : 18.f);
  }
  if (x < right)
    s.text({x, b.y, right - x, b.h}, v.check,
           {said > right - x ? TextSize::caption : words.size, words.ink, words.bold});
}

constexpr float thought_indent = 32;  // behind its mark

float thought_height(const Sheet& s, float w, const BookingView& v) {
  const std::string& said = v.refused.empty() ? v.thought : v.refused;
  return said.empty() ? s.paragraph_height(w, v.advice)
                      : s.paragraph_height(w - thought_indent, said);
}

// The one thought, or why the value cannot be booked; how high it came.
float draw_thought(Sheet& s, Box b, const BookingView& v, float most) {
  const std::string& said = v.refused.empty() ? v.thought : v.refused;
  if (b.h <= 0 || (said.empty() && v.advice.empty())) return 0;
  if (said.empty()) {
    s.push_clip(b);
    const float high = s.paragraph(b, v.advice, {TextSize::body, Ink::blue});
    s.pop_clip();
    return std::min(high, most);
  }
  const Pen pen{TextSize::body, Ink::crayon};
  severity_mark(s, {b.x, b.y + (s.row() - mark_side) / 2}, Severity::query, false);
  const float high = s.paragraph_height(b.w - thought_indent, said, pen);
  const Box whole{b.x + thought_indent, b.y, b.w - thought_indent, std::min(most, b.h)};
  // Where there is too little room, smaller.
  if (high > whole.h + 1)
    s.text(whole, said, pen);
  else
    s.paragraph(whole, said, pen);
  return std::min(high, most);
}

// The row of a slip tapped.
std::string draw_slips(Sheet& s, Box b, const BookingView& v) {
  std::string tapped;
  const Box clip = b;
  s.push_clip(clip);
  severity_mark(s, {b.x, b.y + 2}, Severity::query, false);
  Box rest{b.x + 32, b.y, b.w - 32, b.h};
  s.text(rest.take_top(s.row() + 6), v.thought, {TextSize::body, Ink::crayon, true});
  bool first = true;
  const float odds = s.grown(52), name = s.grown(64), value = s.grown(54);
  float kinds = 0;
  for (const LikelySlip& slip : v.slips)
    kinds = std::max(kinds, s.width(slip.kind, TextSize::body, true));
  // What kind of slip stands beside its value, or below where the band is narrow.
  const bool below = odds + name + value + 24 + kinds > rest.w;
  for (const LikelySlip& slip : v.slips) {
    const float least = slip.row.empty() ? 36.f : least_target;
    Box row = rest.take_top(std::max(least, (below ? 2 : 1) * s.row() + 10));
    if (row.h < s.row()) break;
    if (!slip.row.empty() && s.row_target(row, "slip " + slip.name + " " + slip.value))
      tapped = slip.row;
    s.rule_under(row);
    Box low = below ? row.take_bottom(s.row() + 5) : Box{};
    const Pen pen{TextSize::body, first ? Ink::ink : Ink::soft, first};
    Pen right = pen;
    right.align = Align::right;
    s.text(row.take_right(odds), slip.odds, right);
    s.text(row.take_left(name), slip.name, pen);
    s.text(row.take_left(value), slip.value, right);
    row.take_left(24);
    if (below) low.take_left(name);
    s.text(below ? low : row, slip.kind, pen);
    first = false;
  }
  rest.take_top(6);
  s.paragraph(rest, v.after_slips, {TextSize::caption, Ink::soft});
  s.pop_clip();
  return tapped;
}

std::string draw_rows(Sheet& s, Box b, const BookingView& v, const char* scroll_label) {
  std::string tapped;
  if (!v.row_heads[0].empty() && !v.rows.empty()) {
    Box head = b.take_top(s.row(TextSize::caption) + 10);
    s.rule_under(head);
    const Pen pen{TextSize::caption, Ink::soft};
    Box inner = head.inset(6, 0);
    s.text(inner.take_left(inner.w * 0.27f), v.row_heads[0], pen);
    s.text(inner.take_left(inner.w * 0.24f), v.row_heads[1],
           {TextSize::caption, Ink::soft, false, Align::right});
    inner.take_left(16);
    s.text(inner, v.row_heads[2], pen);
  }
  const float high = std::max(row_height, s.row() + 20);
  const bool two = b.w > 560 * s.fonts.text_scale();  // rows in two columns
  const std::size_t columns = two ? 2 : 1;
  const float content = high * float((v.rows.size() + columns - 1) / columns);
  const float offset = s.touch.scroll(scroll_label, b, content);
  s.push_clip(b);
  for (std::size_t i = 0; i < v.rows.size(); ++i) {
    const BookedRow& r = v.rows[i];
    const float w = two ? (b.w - 16) / 2 : b.w;
    const Box row{b.x + float(i % columns) * (w + 16), b.y - offset + high * float(i / columns), w,
                  high};
    if (row.bottom() < b.y || row.y > b.bottom()) continue;
    if (s.row_target(row, r.id, r.chosen)) tapped = r.id;
    s.rule_under(row);
    const Ink ink = r.needs_a_person ? Ink::crayon : Ink::ink;
    Box inner = row.inset(6, 0);
    if (r.vial) vial(s, {inner.take_right(48).x, row.y + (row.h - 20) / 2, 48, 20}, *r.vial);
    inner.take_right(8);
    // The number whole; a name that is too long for its place goes over two lines.
    const float number = std::max(inner.w * 0.3f, s.width(r.value, TextSize::body, true) + 2);
    const Box name = inner.take_left(std::min(
        inner.w - number,
        std::max(inner.w * 0.33f, inner.w - number - 12 - s.width(r.words, TextSize::body))));
    const Ink name_ink = r.needs_a_person ? Ink::crayon : Ink::soft;
    if (s.width(r.name, TextSize::body) > name.w) {
      const Pen small{TextSize::caption, name_ink};
      const float tall = s.paragraph_height(name.w, r.name, small);
      s.paragraph({name.x, name.y + std::max(0.f, (name.h - tall) / 2), name.w, tall}, r.name,
                  small);
    } else {
      s.text(name, r.name, {TextSize::body, name_ink});
    }
    s.text(inner.take_left(number), r.value, {TextSize::body, ink, true, Align::right});
    inner.take_left(12);
    if (inner.w > 8)
      s.text(inner, r.words, {TextSize::body, r.needs_a_person ? Ink::crayon : Ink::ink});
  }
  s.pop_clip();
  s.scroll_mark(b, offset, content);
  return tapped;
}

// The last ones, at most three, in a narrow column beside a phone's plan.
std::string draw_last(Sheet& s, Box b, const BookingView& v) {
  constexpr std::size_t most = 3;
  const float line = s.row(), vial_height = 20;
  const auto name_height = [&](const BookedRow& r) {
    return s.paragraph_height(b.w - 16, r.name, {TextSize::caption});
  };
  std::string tapped;
  float taken = 0;
  for (std::size_t i = 0; i < most && i < v.rows.size(); ++i) {
    const BookedRow& r = v.rows[i];
    // Name and number beside each other where both fit whole, the vial below; else the number
    // below.
    const float number = s.width(r.value, TextSize::body, true) + 2;
    const bool beside = s.width(r.name, TextSize::caption) + 4 + number <= b.w - 16;
    const float high =
        std::max(b.h / float(most), (beside ? line + vial_height : name_height(r) + line) + 14);
    if (i > 0 && taken + high > b.h + 1) break;
    const Box row{b.x, b.y + taken, b.w, std::min(high, b.h)};
    taken += high;
    if (i > 0) s.line({row.x, row.y}, {row.right(), row.y}, Ink::rule);
    if (s.row_target(row, r.id, r.chosen)) tapped = r.id;
    const Ink ink = r.needs_a_person ? Ink::crayon : Ink::ink;
    Box inner = row.inset(8, 3);
    if (beside) {
      Box top = inner.take_top(line);
      inner.take_top(2);
      s.text(top.take_right(number), r.value, {TextSize::body, ink, true, Align::right});
      s.text(top, r.name, {TextSize::caption, Ink::soft});
      if (r.vial) vial(s, {inner.right() - 48, inner.y, 48, vial_height}, *r.vial);
    } else {
      const TextSize size = inner.h < 2.2f * line ? TextSize::caption : TextSize::body;
      s.text(inner.take_bottom(s.row(size)), r.value, {size, ink, true, Align::right});
      // 40: two lines of the smallest text; with less, what stands before the comma tells it.
      const std::string head = inner.h < 40 ? r.name.substr(0, r.name.find(',')) : r.name;
      s.text(inner, head, {TextSize::caption, Ink::soft});
    }
  }
  return tapped;
}

// Skip, or Delete of what is booked; why it is not reached; what else is read; and Undo.
void draw_words(Sheet& s, Box b, const BookingView& v, bool upright, bool with_more,
                BookingEvent& e) {
  struct Word {
    const char* label;
    float share;  // of a row
    KeyLook look;
    bool* tapped;
  };
  const auto look = [](bool can) { return can ? KeyLook::plain : KeyLook::not_yet; };
  std::vector<Word> words;
  const bool asked = v.can_skip && !v.name.empty();
  if (v.can_delete)
    words.push_back({"Delete", 2.6f, KeyLook::plain, &e.remove});
  else
    words.push_back({"Skip", 2.6f, look(asked), &e.skip});
  words.push_back({"Can’t reach", 4.4f, look(asked && !v.can_delete), &e.cant_reach});
  if (with_more && !v.more.empty())
    words.push_back({v.more.c_str(), 2.9f, KeyLook::plain, &e.more});
  words.push_back({"Undo", 3, look(!v.undo_says.empty()), &e.undo});
  float shares = 0;
  for (const Word& w : words) shares += w.share;
  const float count = float(words.size());
  const float high = (b.h - gap * (count - 1)) / count, wide = b.w - gap * (count - 1);
  for (const Word& w : words) {
    const Box key =
        upright ? b.take_top(std::min(high, b.h)) : b.take_left(wide * w.share / shares);
    if (s.key(key, w.label, w.look)) *w.tapped = true;
    upright ? b.take_top(gap) : b.take_left(gap);
  }
}

}  // namespace

BookingEvent draw_booking_page(Sheet& s, Box page, const BookingView& v, std::string& typed,
                               const std::function<void(Box)>& draw_plan) {
  BookingEvent e;
  s.touch.say(v.name.empty()
                  ? v.done + " " + (v.thought.empty() ? v.advice : v.thought)
                  : v.name + " " + v.typed + " " + v.check + " " + v.refused + v.thought);
  const bool typing = !typed.empty();
  const KeypadKeys keys{"Book", v.book_value, v.can_book, v.decimal};
  const bool wide_phone = !s.portrait() && s.screen.h < 500;
  if (!s.portrait() && !wide_phone) {
    // Landscape.
    const float right_width = std::clamp(page.w * 0.46f, 420.f, std::max(540.f, s.grown(480)));
    Box right = s.look.left_hand ? page.take_left(right_width) : page.take_right(right_width);
    const float rows_height = std::min(page.h * 0.3f, std::max(row_height, s.row() + 20) * 4);
    Box rows = page.take_bottom(rows_height);
    draw_plan(page);
    s.line({rows.x, rows.y}, {rows.right(), rows.y}, Ink::ink, 2);
    const float edge = s.look.left_hand ? right.right() : right.x;
    s.line({edge, right.y}, {edge, right.bottom()}, Ink::rule);
    e.row = draw_rows(s, rows.inset(margin, 10), v, "rows");
    Box inner = right.inset(margin, margin);
    Box pad_row = inner.take_bottom(std::min(keypad_height(s), inner.h * 0.6f));
    const float pad_width = keypad_width(s, pad_row.w - word_key_width - margin);
    const Box pad = s.look.left_hand ? pad_row.take_left(pad_width) : pad_row.take_right(pad_width);
    Box words = s.look.left_hand ? (pad_row.take_left(margin), pad_row)
                                 : (pad_row.take_right(margin), pad_row);
    words.take_top((pad.h - 3 * gap) / 4 + gap);
    e.book = keypad(s, pad, typed, keys);
    draw_words(s, words, v, true, true, e);
    draw_heading(s, inner.take_top(heading_height(s, inner.w, v)), v);
    inner.take_top(8);
    draw_value(s, inner.take_top(s.fonts.em(TextSize::value) * 1.35f), v, typing, e);
    inner.take_top(10);
    s.line({inner.x, inner.y}, {inner.right(), inner.y}, Ink::rule);
    inner.take_top(14);
    if (!v.slips.empty() && v.refused.empty())
      e.row += draw_slips(s, inner, v);
    else
      draw_thought(s, inner, v, inner.h);
    return e;
  }
  if (wide_phone) {
    Box right = s.look.left_hand ? page.take_left(page.w / 2) : page.take_right(page.w / 2);
    e.book = keypad(s, right.inset(8, 6), typed, keys);
    Box words = page.take_bottom(least_target + 6).inset(8, 0);
    draw_words(s, words, v, false, true, e);
    page.take_bottom(6);
    Box value =
        page.take_bottom(std::min(page.h * 0.55f, heading_height(s, page.w - 2 * margin, v) +
                                                      s.fonts.em(TextSize::value) * 1.3f))
            .inset(8, 0);
    draw_plan(page);
    draw_heading(s, value.take_top(heading_height(s, value.w, v)), v);
    draw_value(s, value, v, typing, e);
    return e;
  }
  if (s.narrow()) {
    // A phone, upright.
    Box pad = page.take_bottom(std::min(keypad_height(s), page.h * 0.4f) + 8).inset(15, 0);
    pad.take_bottom(8);
    Box words = page.take_bottom(phone_word_height + gap).inset(15, 0);
    words.take_bottom(gap);
    const float thought =
        std::clamp(thought_height(s, page.w - 2 * margin, v), 1.1f * s.row(), 4.1f * s.row());
    // Large text leaves no room for the large digits: at 200 % the title's are nearly as large.
    const float value_row = s.fonts.text_scale() > 1.4f ? s.fonts.em(TextSize::title) * 1.6f
                                                        : s.fonts.em(TextSize::value) * 1.15f;
    const float value_height = heading_height(s, page.w - 2 * margin, v) +
                               (v.name.empty() && v.offers.empty() ? 0 : value_row) + thought + 8;
    Box value = page.take_bottom(std::min(value_height, page.h * 0.7f));
    // Where a plan would be a blot, the last readings have its room.
    const bool plan = v.needs_plan || page.h >= s.grown(least_plan);
    Box last = plan ? page.take_right(std::min(s.grown(94), page.w * 0.4f)) : page;
    if (plan) draw_plan(page);
    const Box all_last = last;
    if (!v.more.empty()) {
      // Its words have no room among the others.
      const float high = std::max(least_target, s.row() + 16);
      Box key = plan ? last.take_bottom(std::min(high, last.h / 2))
                     : last.take_right(s.width(v.more, TextSize::body) + 44);
      key.h = std::min(key.h, high);
      if (s.key(key.inset(8, 0), v.more)) e.more = true;
    }
    if (plan) s.line({last.x, last.y + 8}, {last.x, all_last.bottom() - 8}, Ink::rule);
    e.row = draw_last(s, last, v);
    s.line({value.x, value.y}, {value.right(), value.y}, Ink::ink, 2);
    value = value.inset(margin, 4);
    draw_heading(s, value.take_top(heading_height(s, value.w, v)), v);
    draw_value(s, value.take_top(value_row), v, typing, e);
    draw_thought(s, value, v, value.h);
    draw_words(s, words, v, false, false, e);
    e.book = keypad(s, pad, typed, keys);
    return e;
  }
  // A tablet, upright.
  Box low = page.take_bottom(keypad_height(s) + 2 * margin);
  const float band_height = heading_height(s, page.w - 2 * margin, v) +
                            s.fonts.em(TextSize::value) * 1.35f + 2.4f * s.row() + 24;
  Box band = page.take_bottom(std::min(band_height, page.h * 0.5f));
  draw_plan(page);
  s.line({band.x, band.y}, {band.right(), band.y}, Ink::ink, 2);
  s.line({low.x, low.y}, {low.right(), low.y}, Ink::ink, 2);
  band = band.inset(margin, 10);
  draw_heading(s, band.take_top(heading_height(s, band.w, v)), v);
  band.take_top(6);
  draw_value(s, band.take_top(s.fonts.em(TextSize::value) * 1.35f), v, typing, e);
  band.take_top(8);
  draw_thought(s, band, v, band.h);
  low = low.inset(margin, margin);
  const float pad_width = keypad_width(s, low.w / 2);
  const Box pad = s.look.left_hand ? low.take_left(pad_width) : low.take_right(pad_width);
  if (s.look.left_hand)
    low.take_left(margin);
  else
    low.take_right(margin);
  e.book = keypad(s, pad, typed, keys);
  Box words = low.take_bottom(std::max(word_key_height, s.row() + 20));
  draw_words(s, words, v, false, true, e);
  low.take_bottom(gap);
  low.y -= 8;
  low.h += 8;
  if (!v.slips.empty() && v.refused.empty()) {
    e.row = draw_slips(s, low, v);
  } else {
    e.row = draw_rows(s, low, v, "rows");
  }
  return e;
}

}  // namespace levelrun
