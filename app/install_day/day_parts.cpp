#include "app/install_day/day_parts.h"

#include <algorithm>

namespace levelrun {

float foot_height(const Sheet& s) {
  constexpr float key_row = 88;  // dp
  return std::max(key_row, s.row(TextSize::title) + s.row() + 24) + 8;
}

Box take_foot(const Sheet& s, Box& page) {
  if (page.w > page.h * 1.15f && page.h < s.grown(420)) {
    const float wide = std::min(page.w * 0.4f, s.grown(300));
    return (s.look.left_hand ? page.take_left(wide) : page.take_right(wide)).inset(8, 8);
  }
  return page.take_bottom(foot_height(s)).inset(margin, 4);
}

FootTapped draw_foot(Sheet& s, Box b, const Session& session, const FootKey& first,
                     const FootKey& second) {
  FootTapped out;
  const bool can_undo = !session.undo_says().empty() && !session.read_only();
  const KeyLook undo_look = can_undo ? KeyLook::plain : KeyLook::not_yet;
  if (b.h > b.w * 0.5f) {  // a column: the page's key below, under the thumb
    Box top = b.take_top(std::max(least_target, (b.h - gap) * 0.42f));
    b.take_top(gap);
    if (!second.words.empty()) {
      out.second =
          s.key(top.take_right((top.w - gap) / 2), second.words, second.look, second.below);
      top.take_right(gap);
    }
    out.undo = s.key(top, "Undo", undo_look);
    if (!first.words.empty()) out.first = s.key(b, first.words, first.look, first.below);
    return out;
  }
  // On a desk the keys stay together, where the hand is.
  const float wide = std::min(b.w, s.grown(760));
  b = s.look.left_hand ? b.take_left(wide) : b.take_right(wide);
  const float most = b.w * 0.34f;
  const float undo = std::min(most, std::max(84.f, s.width("Undo", TextSize::body) + 24));
  out.undo = s.key(b.take_left(undo), "Undo", undo_look);
  b.take_left(gap);
  if (!second.words.empty()) {
    const float beside = std::min(most, std::max(84.f, s.width(second.words, TextSize::body) + 24));
    out.second = s.key(b.take_right(beside), second.words, second.look, second.below);
    b.take_right(gap);
  }
  if (!first.words.empty()) out.first = s.key(b, first.words, first.look, first.below);
  return out;
}

float head_height(const Sheet& s) { return std::max(least_target, s.row() + 16) + 12; }

int draw_head(Sheet& s, Box b, std::span<const HeadKey> keys, int in_use) {
  b = b.inset(margin, 6);
  float wanted = gap * float(keys.size() - 1);
  for (const HeadKey& key : keys) wanted += s.width(key.words, TextSize::body, true) + 12;
  const bool short_words = wanted > b.w;
  // Each as wide as its words, and what is left over in equal parts.
  const auto words = [&](const HeadKey& key) { return short_words ? key.short_words : key.words; };
  float all = 0;
  for (const HeadKey& key : keys) all += s.width(words(key), TextSize::body, true) + 12;
  const float room = b.w - gap * float(keys.size() - 1);
  int tapped = -1;
  for (std::size_t k = 0; k < keys.size(); ++k) {
    const float own = s.width(words(keys[k]), TextSize::body, true) + 12;
    const float wide =
        room >= all ? own + (room - all) / float(keys.size()) : std::max(0.f, own * room / all);
    const Box key = k + 1 == keys.size() ? b : b.take_left(wide);
    if (s.key(key, words(keys[k]), int(k) == in_use ? KeyLook::in_use : KeyLook::plain, {},
              keys[k].label))
      tapped = int(k);
    b.take_left(gap);
  }
  return tapped;
}

}  // namespace levelrun
