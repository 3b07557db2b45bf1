// The straight line that fits points best, by least squares of y, and how well.
#pragma once

#include <span>

namespace levelrun {

// y = intercept + slope * x. The sds are from the residuals (n - 2 degrees of freedom), so
// they are 0 with two points; slope and its sd are 0 when all x are equal or n < 2.
// r_squared: the share of the scatter of y that the line explains, 1 where y has none.
// Accuracy: 12 digits of the certified values of NIST StRD "Norris".
struct LineFit {
  double slope = 0, intercept = 0;
  double slope_sd = 0, intercept_sd = 0;
  double residual_sd = 0;
  double r_squared = 1;
};

// x and y have the same size.
LineFit line_fit(std::span<const double> x, std::span<const double> y);

}  // namespace levelrun
