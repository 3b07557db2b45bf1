// Question: the limits of normal, chi-square, Student and tau tests.
// Method: incomplete gamma and beta functions by series and by Lentz' continued fraction
// (Abramowitz & Stegun 6.5.29, 6.5.31, 26.5.8), inverted by Newton kept inside a bracket.
// Tau: A. J. Pope, The statistics of residuals and the detection of outliers, NOAA TR NOS 65
// NGS 1 (1976): tau = t sqrt(r) / sqrt(r - 1 + t^2), Student t with r - 1 degrees of freedom.
#include "checks/critical_values.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace levelrun {
namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double smallest = 1e-300;  // keeps Lentz' quotients from dividing by 0
constexpr double settled = 1e-15;    // relative; the last term that still counts
constexpr int most_terms = 5000;

double lentz(double value) { return std::abs(value) < smallest ? smallest : value; }

// Regularised incomplete gamma: the lower part by series, the upper by continued fraction, each
// where it converges fast; the other follows without loss where it is the larger one.
struct Parts {
  double below, above;
};

Parts gamma_parts(double a, double x) {
  if (x <= 0) return {0, 1};
  const double front = std::exp(-x + a * std::log(x) - std::lgamma(a));
  if (x < a + 1) {
    double term = 1 / a, sum = term;
    for (int n = 1; n < most_terms && term > sum * settled; ++n) sum += term *= x / (a + n);
    return {front * sum, 1 - front * sum};
  }
  double b = x + 1 - a, c = 1 / smallest, d = 1 / lentz(b), fraction = d;
  for (int n = 1; n < most_terms; ++n) {
    const double an = -n * (n - a);
    b += 2;
    d = 1 / lentz(an * d + b);
    c = lentz(b + an / c);
    fraction *= c * d;
    if (std::abs(c * d - 1) < settled) break;
  }
  return {1 - front * fraction, front * fraction};
}

// Regularised incomplete beta; x is the smaller of the two variables' share (x < (a+1)/(a+b+2)).
double beta_fraction(double a, double b, double x, double front) {
  double c = 1, d = 1 / lentz(1 - (a + b) * x / (a + 1)), fraction = d;
  for (int m = 1; m < most_terms; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / lentz(1 + even * d);
    c = lentz(1 + even / c);
    fraction *= c * d;
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / lentz(1 + odd * d);
    c = lentz(1 + odd / c);
    fraction *= c * d;
    if (std::abs(c * d - 1) < settled) break;
  }
  return front * fraction / a;
}

// y = 1 - x, given apart so that neither loses digits.
double incomplete_beta(double a, double b, double x, double y) {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  const double front = std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) +
                                a * std::log(x) + b * std::log(y));
  return x < (a + 1) / (a + b + 2) ? beta_fraction(a, b, x, front)
                                   : 1 - beta_fraction(b, a, y, front);
}

// P(T > t), t >= 0.
double student_above(double t, double dof) {
  const double whole = dof + t * t;
  return incomplete_beta(dof / 2, 0.5, dof / whole, t * t / whole) / 2;
}

// x in [low, high] with miss(x) = 0; miss falls from low to high, `slope` is its derivative.
template <class Miss, class Slope>
double root(Miss miss, Slope slope, double low, double high, double x) {
  for (int n = 0; n < 200; ++n) {
    const double f = miss(x);
    (f > 0 ? low : high) = x;
    const double newton = x - f / slope(x);
    const double next = newton >= low && newton <= high ? newton : (low + high) / 2;
    if (std::abs(next - x) <= 4e-16 * std::abs(next) || f == 0) return next;
    x = next;
  }
  return x;
}

double normal_upper_quantile(double q) {  // q <= 0.5
  if (q == 0.5) return 0;
  const auto miss = [q](double x) { return std::erfc(x / std::numbers::sqrt2) / 2 - q; };
  const auto slope = [](double x) {
    return -std::exp(-x * x / 2) / std::sqrt(2 * std::numbers::pi);
  };
  return root(miss, slope, 0, 40, 0.5 * std::sqrt(-2 * std::log(q)));
}

bool probability(double p) { return p > 0 && p < 1; }

}  // namespace

double normal_cdf(double x) { return std::erfc(-x / std::numbers::sqrt2) / 2; }

double normal_quantile(double p) {
  if (!probability(p)) return not_a_number;
  return p < 0.5 ? -normal_upper_quantile(p) : normal_upper_quantile(1 - p);
}

double chi_square_cdf(double x, double dof) {
  return dof > 0 ? gamma_parts(dof / 2, x / 2).below : not_a_number;
}

double chi_square_above(double x, double dof) {
  return dof > 0 ? gamma_parts(dof / 2, x / 2).above : not_a_number;
}

double chi_square_quantile(double p, double dof) {
  if (!probability(p) || !(dof > 0)) return not_a_number;
  const double a = dof / 2;
  const auto miss = [=](double x) {
    const Parts parts = gamma_parts(a, x / 2);
    return p < 0.5 ? p - parts.below : parts.above - (1 - p);
  };
  const auto slope = [=](double x) {
    return -std::exp((a - 1) * std::log(x / 2) - x / 2 - std::lgamma(a)) / 2;
  };
  double high = dof;
  while (miss(high) > 0) high *= 2;
  return root(miss, slope, 0, high, high / 2);
}

double student_cdf(double t, double dof) {
  if (!(dof > 0)) return not_a_number;
  return t < 0 ? student_above(-t, dof) : 1 - student_above(t, dof);
}

double student_quantile(double p, double dof) {
  if (!probability(p) || !(dof > 0)) return not_a_number;
  if (p < 0.5) return -student_quantile(1 - p, dof);
  if (p == 0.5) return 0;
  const auto miss = [=](double t) { return student_above(t, dof) - (1 - p); };
  const double front = std::exp(std::lgamma((dof + 1) / 2) - std::lgamma(dof / 2)) /
                       std::sqrt(dof * std::numbers::pi);
  const auto slope = [=](double t) { return -front * std::pow(1 + t * t / dof, -(dof + 1) / 2); };
  double high = 1;
  while (miss(high) > 0) high *= 2;
  return root(miss, slope, 0, high, high / 2);
}

double tau_limit(double alpha, int dof) {
  if (!probability(alpha) || dof < 1) return not_a_number;
  if (dof == 1) return 1;
  const double t = student_quantile(1 - alpha / 2, dof - 1);
  return t * std::sqrt(dof) / std::sqrt(dof - 1 + t * t);
}

double sidak_limit(double alpha, int tests) {
  if (!probability(alpha) || tests < 1) return not_a_number;
  return -normal_quantile(-std::expm1(std::log1p(-alpha) / tests) / 2);
}

}  // namespace levelrun
