#include "app/text_number.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "checks/fixed_text.h"

namespace levelrun {

// mm; under the sixth decimal, the last that a results file has.
static constexpr double counts_as_half = 5e-8;

static constexpr std::string_view unknown = "?";
static constexpr std::string_view true_minus = "\u2212";

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return std::string(unknown);
  std::array<char, 400> buffer;  // the longest double has 309 digits before the point
  const double nudged = value + std::copysign(counts_as_half, value);
  char* end =
      fixed_text(buffer.data(), buffer.data() + buffer.size(), nudged, std::clamp(decimals, 0, 9));
  std::string text(buffer.data(), end);
  if (text.find_first_not_of("-0.") == std::string::npos && text.starts_with('-')) text.erase(0, 1);
  return text;
}

static std::string for_people(std::string text, char decimal_sign) {
  std::replace(text.begin(), text.end(), '.', decimal_sign);
  if (text.starts_with('-')) text.replace(0, 1, true_minus);
  return text;
}

std::string shown(std::optional<double> value, int decimals, char decimal_sign) {
  return value ? for_people(fixed(*value, decimals), decimal_sign) : std::string(unknown);
}

std::string shown_change(std::optional<double> value, int decimals, char decimal_sign) {
  const std::string text = shown(value, decimals, decimal_sign);
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  return value && *value > 0 && !zero ? "+" + text : text;
}

std::string shown_short(double value, int most_decimals, char decimal_sign) {
  std::string text = fixed(value, most_decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
  }
  return for_people(text, decimal_sign);
}

std::string inches(std::optional<double> mm) {
  constexpr double mm_per_inch = 25.4;  // exact by definition
  if (!mm || !std::isfinite(*mm) || std::abs(*mm) > 1e9) return std::string(unknown);
  const long long sixteenths = std::llround(*mm / mm_per_inch * 16);
  const long long size = std::llabs(sixteenths), whole = size / 16;
  long long top = size % 16, bottom = 16;
  for (; top > 0 && top % 2 == 0; top /= 2) bottom /= 2;
  std::string text = sixteenths < 0 ? std::string(true_minus) : "";
  if (whole > 0 || top == 0) text += std::to_string(whole);
  if (whole > 0 && top > 0) text += ' ';
  if (top > 0) text += std::to_string(top) + "/" + std::to_string(bottom);
  return text + "\"";
}

std::string with_decimal_sign(std::string_view text, char decimal_sign) {
  std::string out(text);
  for (size_t i = 1; i + 1 < out.size(); ++i)
    if (out[i] == '.' && is_digit(out[i - 1]) && is_digit(out[i + 1])) out[i] = decimal_sign;
  return out;
}

}  // namespace levelrun
