#include "app/touch/fonts.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/touch/faces.h"

namespace levelrun {
namespace {

// The largest sizes write numbers and their signs only, which keeps the atlas small.
const ImWchar numbers_only[] = {0x20, 0x2f, 0x30, 0x3f, 0x6d, 0x6d, 0xb1, 0xb1, 0x2212, 0x2212, 0};
const ImWchar everything[] = {0x20,   0x17f,  0x2010, 0x2033, 0x20ac, 0x20ac, 0x2153,
                              0x2193, 0x2212, 0x2265, 0x25a0, 0x25cf, 0};

// What is large already grows less than the text, and must fit: digit keys, the value, a leg's
// height.
float grown(std::size_t size, float text) {
  return em_height[size] * (em_height[size] > 24 ? 1 + (text - 1) / 4 : text);
}

}  // namespace

bool Fonts::make(float ratio, float text) {
  text = std::clamp(text, 1.f, 2.f);
  if (ratio == ratio_ && text == text_ && fonts_[0][0]) return false;
  ratio_ = ratio;
  text_ = text;
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  atlas.Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight;
  for (std::size_t size = 0; size < em_height.size(); ++size)
    for (const bool bold : {false, true}) {
      const Face face = bold ? bold_face() : regular_face();
      ImFontConfig config;
      config.FontDataOwnedByAtlas = false;
      config.OversampleH = 1;
      config.OversampleV = 1;
      config.PixelSnapH = false;
      // Dear ImGui does not write to a face it does not own.
      void* data = const_cast<unsigned char*>(face.data);
      fonts_[size][bold] = atlas.AddFontFromMemoryTTF(
          data, int(face.size), std::round(grown(size, text) * imgui_em * ratio), &config,
          em_height[size] > 40 ? numbers_only : everything);
    }
  atlas.Build();
  ImGui::GetIO().FontDefault = fonts_[std::size_t(TextSize::body)][0];
  ImGui::GetIO().FontGlobalScale = 1 / ratio;
  return true;
}

ImFont* Fonts::font(TextSize size, bool bold) const { return fonts_[std::size_t(size)][bold]; }
float Fonts::size(TextSize size) const { return grown(std::size_t(size), text_) * imgui_em; }
float Fonts::em(TextSize size) const { return grown(std::size_t(size), text_); }

}  // namespace levelrun
