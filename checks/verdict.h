// A number against a limit, its uncertainty counted (the idea of ISO 14253-1): within only if
// the whole 95 % band is inside, outside only if all of it is beyond, else measure again.
#pragma once

#include <string_view>

#include "survey/estimate.h"

namespace levelrun {

enum class Verdict { within, doubtful, outside };

inline Verdict at_most(Estimate x, double limit) {
  if (x.value + band95 * x.sd <= limit) return Verdict::within;
  if (x.value - band95 * x.sd > limit) return Verdict::outside;
  return Verdict::doubtful;
}

inline Verdict at_least(Estimate x, double limit) { return at_most({-x.value, x.sd}, -limit); }

inline Verdict worse(Verdict a, Verdict b) { return a < b ? b : a; }

inline Verdict between(Estimate x, double least, double most) {
  return worse(at_least(x, least), at_most(x, most));
}

constexpr std::string_view word(Verdict v) {
  return v == Verdict::within ? "within" : v == Verdict::doubtful ? "doubtful" : "outside";
}

}  // namespace levelrun
