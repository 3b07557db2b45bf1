#include "app/touch/inks.h"

#include <algorithm>
#include <cmath>

namespace levelrun {
namespace {

constexpr Rgb of(std::uint32_t hex) {
  return {std::uint8_t(hex >> 16), std::uint8_t(hex >> 8 & 255), std::uint8_t(hex & 255)};
}

// sheet, ink, soft, rule, blue, crayon, wash
constexpr std::array<std::array<std::uint32_t, ink_count>, 3> sets = {{
    {0xF5F2E8, 0x16212B, 0x465059, 0x7A848A, 0x0B5590, 0xB23A00, 0xE4DFCF},
    {0x11181D, 0xEDE7D8, 0xB3B8B6, 0x69757C, 0x7CC3F2, 0xFF8B4A, 0x212B32},
    {0xFFFFFF, 0x000000, 0x000000, 0x3A3A3A, 0x003E73, 0x9C2B00, 0xFFFFFF},
}};

double linear(std::uint8_t channel) {
  const double c = channel / 255.0;
  return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(Rgb c) {
  return 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b);
}

}  // namespace

Rgb rgb(InkSet set, Ink ink) { return of(sets[std::size_t(set)][std::size_t(ink)]); }

std::string_view word(InkSet set) {
  return set == InkSet::paper ? "Paper" : set == InkSet::dark ? "Dark" : "Sun";
}

InkSet next(InkSet set) { return InkSet((int(set) + 1) % 3); }

double contrast(Rgb a, Rgb b) {
  const double x = luminance(a), y = luminance(b);
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

}  // namespace levelrun
