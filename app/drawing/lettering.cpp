// Widths of text from the typefaces' own tables, so that a drawing can be laid out without a
// screen.
#include "app/drawing/lettering.h"

#include <array>
#include <cmath>

#include "app/drawing/code_points.h"
#include "app/drawing/drawing.h"
#include "app/touch/faces.h"
#include "app/touch/fonts.h"

#define STBTT_STATIC
#define STB_TRUETYPE_IMPLEMENTATION
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#endif
#include <stb/stb_truetype.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

namespace levelrun {
namespace {

const stbtt_fontinfo& face_of(bool bold) {
  static const std::array<stbtt_fontinfo, 2> faces = [] {
    std::array<stbtt_fontinfo, 2> out{};
    stbtt_InitFont(&out[0], regular_face().data, 0);
    stbtt_InitFont(&out[1], bold_face().data, 0);
    return out;
  }();
  return faces[bold];
}

TextSize size_of(TextHeight h) {
  return h == TextHeight::title  ? TextSize::title
         : h == TextHeight::body ? TextSize::body
                                 : TextSize::caption;
}

}  // namespace

float lettering_height(TextHeight h, float text_scale) {
  return em_height[std::size_t(size_of(h))] * text_scale;
}

float letters_em(std::string_view text, bool bold) {
  const stbtt_fontinfo& face = face_of(bold);
  const float scale = stbtt_ScaleForMappingEmToPixels(&face, 1);
  float wide = 0;
  while (!text.empty()) {
    int advance = 0, bearing = 0;
    stbtt_GetCodepointHMetrics(&face, int(next_code_point(text)), &advance, &bearing);
    wide += float(advance) * scale;
  }
  return wide;
}

bool has_letter(unsigned code_point, bool bold) {
  return stbtt_FindGlyphIndex(&face_of(bold), int(code_point)) != 0;
}

float lettering_width(const Lettering& l, float text_scale) {
  return letters_em(l.text, l.bold) * lettering_height(l.height, text_scale);
}

}  // namespace levelrun
