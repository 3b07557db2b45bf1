// A number and how well it is known.
#pragma once

namespace levelrun {

// sd: one standard deviation, same unit as value, >= 0.
struct Estimate {
  double value = 0;
  double sd = 0;
};

// Half the 95 % band of a normally distributed number is band95 * sd.
inline constexpr double band95 = 1.96;

}  // namespace levelrun
