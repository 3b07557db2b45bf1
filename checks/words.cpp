#include "checks/words.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace levelrun {

std::string decimal(double value, int places) {
  double scale = 1;
  for (int i = 0; i < places; ++i) scale *= 10;
  constexpr double most = 9e18;  // what a long long holds
  if (!(std::abs(value) * scale < most)) return "?";
  // As one whole number of tenths (or so): digits alone print the same under every locale.
  const auto rounded = static_cast<long long>(std::round(std::abs(value) * scale));
  char digits[24];
  char* end = std::to_chars(digits, digits + sizeof digits, rounded).ptr;
  std::string out = value < 0 && rounded > 0 ? "−" : "";
  const auto count = static_cast<int>(end - digits);
  if (count <= places)
    out.append(1, '0');
  else
    out.append(digits, std::size_t(count - places));
  if (places > 0) {
    out += '.';
    if (count < places) out.append(std::size_t(places - count), '0');
    out.append(digits + std::max(0, count - places), end);
  }
  return out;
}

std::string millimetres(double value) {
  std::string out = decimal(value, 1);
  if (out.ends_with(".0")) out.resize(out.size() - 2);
  return out;
}

std::string term(double value) {
  std::string out = decimal(value);
  return out.starts_with("−") ? "(" + out + ")" : out;
}

std::string spaced(std::string_view id) {
  std::string out(id);
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

std::string slug(std::string_view words) {
  std::string out(words);
  std::replace(out.begin(), out.end(), ' ', '-');
  return out;
}

}  // namespace levelrun
