// The three sets of inks that everything is drawn in, and the checks that they can be read.
//
// Severity and state are never told by hue alone: marks differ in shape and weight (marks.h). Blue
// is the chalk line: datum, computed, proposed, the field in use. Crayon: needs a person. Nothing
// is green. One key on the title strip goes round Paper, Dark (in a cupboard) and Sun.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace levelrun {

enum class InkSet { paper, dark, sun };
enum class Ink { sheet, ink, soft, rule, blue, crayon, wash };
inline constexpr int ink_count = 7;

struct Rgb {
  std::uint8_t r = 0, g = 0, b = 0;
};

Rgb rgb(InkSet, Ink);
std::string_view word(InkSet);  // as its key says: Paper, Dark, Sun
InkSet next(InkSet);

// Lines are this much wider: sun eats thin ones.
constexpr float line_scale(InkSet set) { return set == InkSet::sun ? 1.5f : 1; }

// WCAG 2.1 contrast ratio, 1 to 21.
double contrast(Rgb, Rgb);

}  // namespace levelrun
