// Text sizes and the atlas they are rasterised into.
//
// Sizes are em heights in dp at 100 % text. Dear ImGui's size is ascent + descent, for DejaVu 1.164
// em. The atlas is made for one pixel ratio and one text scale; when either changes it is made
// again.
#pragma once

#include <array>

#include "app/touch/box.h"

struct ImFont;

namespace levelrun {

enum class TextSize { caption, body, title, key, value, leg };
inline constexpr std::array<float, 6> em_height = {15, 18, 24, 28, 56, 96};
inline constexpr float imgui_em = 1.164f;

class Fonts {
 public:
  // Makes the atlas of ImGui's current context unless it is right already; true if it was made, so
  // that the renderer must take its texture again. ratio: pixels a dp; text: 1 to 2.
  bool make(float ratio, float text);

  ImFont* font(TextSize, bool bold) const;
  float size(TextSize) const;  // as Dear ImGui counts it, in dp, at this text scale
  float em(TextSize) const;    // em height in dp, at this text scale
  float text_scale() const { return text_; }

 private:
  std::array<std::array<ImFont*, 2>, em_height.size()> fonts_{};
  float ratio_ = 0, text_ = 1;
};

}  // namespace levelrun
