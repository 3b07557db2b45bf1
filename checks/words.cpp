#include "checks/words.h"

#include <cmath>
#include <cstdio>

namespace levelrun {

std::string decimal(double value, int places) {
  const double scale = std::pow(10.0, places);
  const double rounded = std::round(std::abs(value) * scale);
  // Integers print the same under every locale; the point is ours.
  char digits[48];
  const auto whole = static_cast<long long>(rounded / scale);
  const auto part = static_cast<long long>(rounded - double(whole) * scale);
  std::string out = value < 0 && rounded > 0 ? "−" : "";
  std::snprintf(digits, sizeof digits, "%lld", whole);
  out += digits;
  if (places > 0) {
    std::snprintf(digits, sizeof digits, "%0*lld", places, part);
    out += '.';
    out += digits;
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

std::string slug(std::string_view words) {
  std::string out(words);
  for (char& c : out)
    if (c == ' ') c = '-';
  return out;
}

}  // namespace levelrun
