// How large may a number be by chance alone? Distributions and limits of the tests on
// adjusted measurements.
//
// p is a probability below the value, 0 < p < 1; alpha is a rate of false alarms, 0 < alpha < 1;
// dof > 0. Outside these ranges the answer is NaN. Accuracy: 1e-10 relative for
// dof <= 1000 and p, alpha >= 1e-9.
#pragma once

namespace levelrun {

double normal_cdf(double x);
double normal_quantile(double p);

double chi_square_cdf(double x, double dof);
double chi_square_above(double x, double dof);  // 1 - cdf, without its loss of digits
double chi_square_quantile(double p, double dof);

double student_cdf(double t, double dof);
double student_quantile(double p, double dof);

// The limit of |v| / (sigma0 * sd * sqrt(redundancy)), sigma0 from the same residuals, for one
// residual picked beforehand; two-sided (Pope 1976). dof 1: 1, which tests nothing.
double tau_limit(double alpha, int dof);

// The limit of the largest |w| of `tests` independent standard normal w, two-sided (Sidak 1967).
// Residuals of one adjustment are dependent, which makes it slightly too wide, never too narrow.
double sidak_limit(double alpha, int tests);

}  // namespace levelrun
