// What the day's pages share: their keys at the foot, outside whatever scrolls, so that nothing is
// ticked by scrolling; lists that scroll; a row of keys at the head.
#pragma once

#include <algorithm>
#include <span>
#include <string>

#include "app/jobs/session.h"
#include "app/screens/finding_parts.h"
#include "app/touch/sheet.h"

namespace levelrun {

struct FootKey {
  std::string words, below;  // below: the second line
  KeyLook look = KeyLook::plain;
};
struct FootTapped {
  bool undo = false, first = false, second = false;
};
float foot_height(const Sheet&);
// The foot's box: the page's bottom, or a column at its side on a phone that lies on its side.
Box take_foot(const Sheet&, Box& page);
// Undo, the key of the page, and one beside it; one without words is left out. Undo is given back,
// not done.
FootTapped draw_foot(Sheet&, Box, const Session&, const FootKey& first, const FootKey& second);

struct HeadKey {
  const char *words, *short_words, *label;
};
float head_height(const Sheet&);
// The key tapped, or -1. in_use: -1 none.
int draw_head(Sheet&, Box, std::span<const HeadKey>, int in_use);

// A list in its box; content(Flow&) lays it out, twice.
template <typename Content>
void scrolled(Sheet& s, Box b, const char* label, const Content& content) {
  // No wider than an eye follows from a row's left to its right.
  const float wide = std::min(b.w - 2 * margin, s.grown(820));
  Flow measure(s, {b.x + margin, b.y + 10, wide, 0}, false);
  content(measure);
  const float high = measure.height() + 20;
  const float offset = s.touch.scroll(label, b, high);
  s.push_clip(b);
  Flow flow(s, {b.x + margin, b.y - offset + 10, wide, 0}, true);
  content(flow);
  s.pop_clip();
  s.scroll_mark(b, offset, high);
}

// A row that is chosen by a tap, as high as its content(Flow&), ruled under; true when tapped.
template <typename Content>
bool flow_row(Flow& f, const std::string& label, bool chosen, const Content& content) {
  Flow measure(f.s, {0, 0, f.w() - 16, 0}, false);
  content(measure);
  const float high = std::max(least_target, measure.height() + 16);
  const Box row = f.take(high);
  if (!f.draws()) return false;
  const bool tapped = f.s.row_target(row, label, chosen);
  Flow in(f.s, Box{row.x + 8, row.y + (high - measure.height()) / 2, row.w - 16, 0}, true);
  content(in);
  if (!chosen) f.s.rule_under(row);
  return tapped;
}

}  // namespace levelrun
