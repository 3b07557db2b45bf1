// What numbers the file's fields may hold: the unit, the range, and the words for both.
//
// The bounds are the format's: 1e6 for any number, 100 m for a length in a room.
#pragma once

#include <string_view>

namespace levelrun {

inline constexpr double most_number = 1e6;  // in size, any unit
inline constexpr double most_length = 1e5;  // mm; no room is longer than 100 m

struct NumberKind {
  std::string_view type;   // expected where there is no number
  std::string_view range;  // expected where the number is out of range
  double least = -most_number;
  double most = most_number;
  bool least_excluded = false;
  bool most_excluded = false;

  // False for NaN.
  constexpr bool holds(double x) const {
    return (least_excluded ? x > least : x >= least) && (most_excluded ? x < most : x <= most);
  }
};

inline constexpr NumberKind any_mm{"a number of mm", "a number of mm up to 1000000 in size"};
inline constexpr NumberKind length_mm{"a number of mm", "a length over 0 and up to 100000 mm", 0,
                                      most_length, true};
inline constexpr NumberKind thickness_mm{
    "a number of mm", "a length of 0 or more and up to 100000 mm", 0, most_length};
inline constexpr NumberKind sd_mm{"a number of mm", "a standard deviation over 0 mm", 0,
                                  most_number, true};
inline constexpr NumberKind sd_degrees{"a number of degrees", "a standard deviation over 0 degrees",
                                       0, most_number, true};
inline constexpr NumberKind sd_mm_per_m{"a number of mm/m",
                                        "a standard deviation of 0 or more mm/m", 0, most_number};
inline constexpr NumberKind any_mm_per_m{"a number of mm/m",
                                         "a number of mm/m up to 1000000 in size"};
inline constexpr NumberKind any_degrees{"a number of degrees",
                                        "a number of degrees up to 1000000 in size"};
inline constexpr NumberKind corner_degrees{
    "a number of degrees", "an angle over 0 and under 360 degrees", 0, 360, true, true};
inline constexpr NumberKind distance_m{"a number of metres", "a distance of 0 or more metres", 0,
                                       most_number};

}  // namespace levelrun
