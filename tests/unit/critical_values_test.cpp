#include "checks/critical_values.h"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <numbers>

using namespace levelrun;
using doctest::Approx;

namespace {
Approx near(double value, double relative) { return Approx(value).epsilon(relative).scale(0); }
}  // namespace

TEST_CASE("normal quantiles are those of the handbooks and undo the distribution") {
  struct {
    double p, x;
  } const table[] = {
      // Two-sided 5, 1 and 0.1 %; power 80 % (exact distributions).
      {0.975, 1.959963984540054},
      {0.995, 2.575829303548901},
      {0.9995, 3.290526731491926},
      {0.80, 0.841621233572914},
      {0.5, 0},
      {1e-9, -5.997807015008182},
  };
  for (const auto& row : table) {
    CAPTURE(row.p);
    CHECK(normal_quantile(row.p) == Approx(row.x).epsilon(1e-12));
    CHECK(normal_cdf(row.x) == near(row.p, 1e-10));
    CHECK(normal_quantile(1 - row.p) == Approx(-row.x).epsilon(1e-7));
  }
  // Smallest detectable error at 0.1 % and 80 % power: 4.132 sd / sqrt(redundancy) (Baarda).
  CHECK(normal_quantile(0.9995) + normal_quantile(0.8) == Approx(4.132).epsilon(1e-4));
}

TEST_CASE("chi-square limits are those of the handbooks") {
  struct {
    double dof, p, x;
  } const table[] = {
      // Printed in any table of the distribution (from memory), three decimals.
      {1, 0.95, 3.841},   {5, 0.95, 11.070},   {10, 0.95, 18.307}, {30, 0.95, 43.773},
      {1, 0.999, 10.828}, {10, 0.999, 29.588}, {10, 0.05, 3.940},  {100, 0.95, 124.342},
  };
  for (const auto& row : table) {
    CAPTURE(row.dof);
    CAPTURE(row.p);
    CHECK(std::abs(chi_square_quantile(row.p, row.dof) - row.x) < 0.00051);
    const double x = chi_square_quantile(row.p, row.dof);
    CHECK(chi_square_cdf(x, row.dof) == near(row.p, 1e-12));
    CHECK(chi_square_above(x, row.dof) == near(1 - row.p, 1e-11));
  }
}

TEST_CASE("chi-square with two degrees of freedom is the exponential distribution") {
  for (double x : {1e-6, 0.1, 1.0, 7.0, 40.0, 700.0}) {
    CAPTURE(x);
    CHECK(chi_square_above(x, 2) == near(std::exp(-x / 2), 1e-12));
    CHECK(chi_square_cdf(x, 2) == near(-std::expm1(-x / 2), 1e-12));
  }
}

TEST_CASE("Student quantiles with one and two degrees of freedom are exact") {
  for (double p : {1e-6, 0.025, 0.3, 0.75, 0.975, 0.9995}) {
    CAPTURE(p);
    CHECK(student_quantile(p, 1) == near(std::tan(std::numbers::pi * (p - 0.5)), 1e-9));
    CHECK(student_quantile(p, 2) == near((2 * p - 1) / std::sqrt(2 * p * (1 - p)), 1e-9));
    CHECK(student_cdf(student_quantile(p, 7.5), 7.5) == near(p, 1e-10));
  }
}

TEST_CASE("Student limits are those of the handbooks") {
  // Two-sided 5 %, three decimals (from memory).
  struct {
    double dof, t;
  } const table[] = {{1, 12.706}, {5, 2.571}, {10, 2.228}, {30, 2.042}, {120, 1.980}};
  for (const auto& row : table) {
    CAPTURE(row.dof);
    CHECK(std::abs(student_quantile(0.975, row.dof) - row.t) < 0.00051);
  }
}

TEST_CASE("tau limits agree with the exact distribution") {
  // Pope's tau at 5, 1 and 0.1 % two-sided, computed with the exact distributions.
  struct {
    int r;
    double five, one, tenth;
  } const table[] = {
      {2, 1.410, 1.414, 1.414},  {3, 1.645, 1.715, 1.730},  {4, 1.757, 1.917, 1.982},
      {5, 1.814, 2.051, 2.178},  {8, 1.885, 2.256, 2.541},  {10, 1.904, 2.324, 2.679},
      {14, 1.923, 2.399, 2.845}, {20, 1.936, 2.454, 2.975}, {50, 1.951, 2.528, 3.163},
  };
  for (const auto& row : table) {
    CAPTURE(row.r);
    CHECK(std::abs(tau_limit(0.05, row.r) - row.five) < 0.00051);
    CHECK(std::abs(tau_limit(0.01, row.r) - row.one) < 0.00051);
    CHECK(std::abs(tau_limit(0.001, row.r) - row.tenth) < 0.00051);
  }
  CHECK(tau_limit(0.001, 1) == 1);
}

TEST_CASE("limits of the global test agree with the exact distribution") {
  // 95 % two-sided limits of sigma0 squared, computed with the exact distributions.
  struct {
    int r;
    double low, high;
  } const table[] = {{1, 0.0010, 5.024}, {2, 0.0253, 3.689}, {3, 0.0719, 3.116}, {4, 0.1211, 2.786},
                     {5, 0.1662, 2.567}, {8, 0.2725, 2.192}, {14, 0.4021, 1.866}};
  for (const auto& row : table) {
    CAPTURE(row.r);
    CHECK(std::abs(chi_square_quantile(0.025, row.r) / row.r - row.low) < 0.000051);
    CHECK(std::abs(chi_square_quantile(0.975, row.r) / row.r - row.high) < 0.00051);
  }
}

TEST_CASE("the limit of the largest of many keeps the rate of false alarms") {
  for (int tests : {1, 5, 30, 400}) {
    CAPTURE(tests);
    const double limit = sidak_limit(0.005, tests);
    const double all_below = std::pow(1 - 2 * normal_cdf(-limit), tests);
    CHECK(1 - all_below == near(0.005, 1e-9));
  }
  CHECK(sidak_limit(0.05, 1) == Approx(1.959963984540054).epsilon(1e-12));
}

TEST_CASE("questions without an answer give NaN, not a number") {
  CHECK(std::isnan(normal_quantile(0)));
  CHECK(std::isnan(normal_quantile(1)));
  CHECK(std::isnan(chi_square_quantile(0.5, 0)));
  CHECK(std::isnan(student_quantile(1.5, 3)));
  CHECK(std::isnan(tau_limit(0.05, 0)));
  CHECK(std::isnan(sidak_limit(0.05, 0)));
}
