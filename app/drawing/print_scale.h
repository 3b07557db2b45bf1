// Scales of printed drawings: a dp is 1/160 inch on paper, as on a sheet of the screen.
#pragma once

namespace levelrun {

inline constexpr double dp_in_mm = 25.4 / 160;  // mm of paper a dp

// "1 : 50". The ratios of ISO 5455, and 1 : 25, in which kitchens are drawn (both from memory).
inline constexpr int print_ratios[] = {5, 10, 20, 25, 50, 100, 200, 500, 1000};

// dp a mm of the room at a ratio.
constexpr double print_scale(int ratio) { return 1 / (dp_in_mm * ratio); }

// The largest drawing that is no larger than `scale`, dp a mm; the smallest of all if none is.
constexpr int print_ratio(double scale) {
  for (const int ratio : print_ratios)
    if (print_scale(ratio) <= scale) return ratio;
  return 1000;
}

}  // namespace levelrun
