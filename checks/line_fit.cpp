// Question: which straight line fits best?
// Method: ordinary least squares about the means, so that large coordinates cost no digits.
#include "checks/line_fit.h"

#include <cassert>
#include <cmath>
#include <cstddef>
#include <numeric>

namespace levelrun {

LineFit line_fit(std::span<const double> x, std::span<const double> y) {
  assert(x.size() == y.size());
  LineFit fit;
  const std::size_t n = x.size();
  if (n == 0) return fit;
  const double count = static_cast<double>(n);
  const double mean_x = std::accumulate(x.begin(), x.end(), 0.0) / count;
  const double mean_y = std::accumulate(y.begin(), y.end(), 0.0) / count;
  double xx = 0, xy = 0, yy = 0;
  for (std::size_t i = 0; i < n; ++i) {
    xx += (x[i] - mean_x) * (x[i] - mean_x);
    xy += (x[i] - mean_x) * (y[i] - mean_y);
    yy += (y[i] - mean_y) * (y[i] - mean_y);
  }
  if (xx > 0) fit.slope = xy / xx;
  fit.intercept = mean_y - fit.slope * mean_x;
  double squares = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double residual = (y[i] - mean_y) - fit.slope * (x[i] - mean_x);
    squares += residual * residual;
  }
  if (yy > 0) fit.r_squared = 1 - squares / yy;
  if (n > 2 && xx > 0) {
    fit.residual_sd = std::sqrt(squares / (count - 2));
    fit.slope_sd = fit.residual_sd / std::sqrt(xx);
    fit.intercept_sd = fit.residual_sd * std::sqrt(1 / count + mean_x * mean_x / xx);
  }
  return fit;
}

}  // namespace levelrun
