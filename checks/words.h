// Numbers as they stand in sentences and sums: to 0.1 mm, true minus, decimal point, no locale.
#pragma once

#include <string>
#include <string_view>

namespace levelrun {

// 155.4, −12.4, 0.0 (never −0.0).
std::string decimal(double value, int places = 1);
// As decimal, but a whole number loses its ".0": 118, 12.4, −3.
std::string millimetres(double value);
// As decimal, in brackets when negative: (−12.4).
std::string term(double value);
// "front_left" -> "front left".
std::string spaced(std::string_view id);
// "leg too long" -> "leg-too-long".
std::string slug(std::string_view words);

}  // namespace levelrun
