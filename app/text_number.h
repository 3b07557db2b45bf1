// Numbers as text, the same in every locale.
//
// Rounding is to the nearest, halves away from zero; a number within 5e-8 of a half counts as
// the half, so that the last digit shown does not hang on the last bit computed.
// Zero has no sign. A number that is not finite is shown as "?".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace levelrun {

// For machines: "." and "-", exactly so many decimals.
std::string fixed(double value, int decimals);

// For people: the job's decimal sign ('.' or ',') and a true minus; "?" = not known.
std::string shown(std::optional<double> value, int decimals, char decimal_sign);

// The same with a sign before every number but zero: a change, not a height.
std::string shown_change(std::optional<double> value, int decimals, char decimal_sign);

// The same with the zeros at the end left out: 170, 172.4.
std::string shown_short(double value, int most_decimals, char decimal_sign);

// mm as inches to the nearest sixteenth: 6 1/8". "?" = not known.
std::string inches(std::optional<double> mm);

// A text written with "." between digits, with the job's decimal sign instead.
std::string with_decimal_sign(std::string_view text, char decimal_sign);

}  // namespace levelrun
