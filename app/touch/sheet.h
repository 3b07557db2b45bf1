// The sheet of paper that a screen is drawn on: ink, text and keys in dp, one frame long.
//
// Everything is placed by boxes; nothing floats. Sizes follow the text scale. Text that does not
// fit its box is drawn smaller, then over several lines, then shortened with an ellipsis; never
// over its neighbour.
#pragma once

#include <imgui.h>

#include <string>
#include <string_view>
#include <vector>

#include "app/touch/box.h"
#include "app/touch/fonts.h"
#include "app/touch/inks.h"
#include "app/touch/touch.h"

namespace levelrun {

enum class Align { left, centre, right };

struct Look {  // how this person wants it: a setting, not a fact
  InkSet inks = InkSet::paper;
  float text = 1;  // 1 to 2
  bool left_hand = false;
  bool seven_on_top = false;
  bool tones = true;
};

struct Pen {
  TextSize size = TextSize::body;
  Ink ink = Ink::ink;
  bool bold = false;
  Align align = Align::left;
};

enum class KeyLook { plain, solid, in_use, not_yet };

inline constexpr float line_height = 1.3f;  // of an em

// Least side of a target, dp.
inline constexpr float least_target = 48;
inline constexpr float margin = 16, gap = 8;

class Sheet {
 public:
  Sheet(const Look&, const Fonts&, Touch&, ImDrawList&, Box screen);

  const Look& look;
  const Fonts& fonts;
  Touch& touch;
  ImDrawList& list;
  const Box screen;

  ImU32 colour(Ink) const;
  float line_scale() const { return levelrun::line_scale(look.inks); }
  // A length that holds text: grows with it.
  float grown(float dp) const { return dp * fonts.text_scale(); }
  float row(TextSize size = TextSize::body) const { return fonts.em(size) * line_height; }
  bool portrait() const { return screen.h >= screen.w; }
  bool narrow() const { return std::min(screen.w, screen.h) < 600; }  // a phone

  void fill(Box, Ink, float rounding = 0);
  void frame(Box, Ink, float width = 1, float rounding = 0);
  void line(Spot, Spot, Ink, float width = 1);
  void dotted(Spot, Spot, Ink, float width = 1, float on = 2, float off = 4);
  void rule_under(Box, Ink = Ink::rule, float width = 1);

  float width(std::string_view, TextSize, bool bold = false) const;
  // In its box: by align across, in the middle upright.
  void text(Box, std::string_view, Pen = {});
  // Lines broken at spaces, from the box's top; how high they came. Drawn only where it fits
  // the clip; the height is true whatever the box's.
  float paragraph(Box, std::string_view, Pen = {});
  float paragraph_height(float width, std::string_view, Pen = {}) const;

  // A key with its label in it; true when tapped. `id` when the label is not enough to tell it.
  bool key(Box, std::string_view label, KeyLook = KeyLook::plain, std::string_view second_line = {},
           std::string_view id = {});
  // A row that can be chosen: wash under it when chosen or pressed.
  bool row_target(Box, std::string_view label, bool chosen = false);

  void push_clip(Box);
  void pop_clip();
  // The little mark that says how far down a list is.
  void scroll_mark(Box, float offset, float content_height);

 private:
  std::vector<std::string> broken(float width, std::string_view, TextSize, bool bold) const;
};

}  // namespace levelrun
