// Question: what solves a symmetric system whose rows start late?
// Method: Cholesky by rows, each inner product over the columns that both rows have (A. Jennings,
// A compact storage scheme for the solution of symmetric linear simultaneous equations, 1966;
// from memory).
#include "checks/skyline.h"

#include <algorithm>
#include <cmath>

namespace levelrun {
namespace {

// Four sums side by side, two to a register: an addition need not wait for the one before.
inline double inner(const double* a, const double* b, int count) {
  double sums[4] = {0, 0, 0, 0};
  int k = 0;
  for (; k + 3 < count; k += 4)
    for (int s = 0; s < 4; ++s) sums[s] += a[k + s] * b[k + s];
  for (; k < count; ++k) sums[0] += a[k] * b[k];
  return (sums[0] + sums[2]) + (sums[1] + sums[3]);
}

}  // namespace

Skyline::Skyline(std::vector<int> first) : first_(std::move(first)) {
  std::size_t end = 0;
  for (int i = 0; i < size(); ++i) {
    begin_.push_back(end);
    end += std::size_t(i - first_[std::size_t(i)] + 1);
  }
  matrix_.assign(end, 0.0);
  factor_.assign(end, 0.0);
}

void Skyline::set_zero() { std::fill(matrix_.begin(), matrix_.end(), 0.0); }

bool Skyline::factorise() {
  for (int i = 0; i < size(); ++i) {
    const int start = first_[std::size_t(i)];
    const double* given = &matrix_[begin_[std::size_t(i)]];
    double* row = &factor_[begin_[std::size_t(i)]];
    for (int j = start; j < i; ++j) {
      const int both = std::max(start, first_[std::size_t(j)]);
      const double* other = &factor_[at(j, both)];
      row[j - start] =
          (given[j - start] - inner(row + (both - start), other, j - both)) / other[j - both];
    }
    const double square = given[i - start] - inner(row, row, i - start);
    if (!(square > 0)) return false;
    row[i - start] = std::sqrt(square);
  }
  return true;
}

void Skyline::solve_lower(Eigen::VectorXd& x, int from) const {
  for (int i = from; i < size(); ++i) {
    const int start = std::max(from, first_[std::size_t(i)]);
    const double* row = &factor_[at(i, std::min(start, i))];
    if (start >= i) {
      x(i) /= factor_[at(i, i)];
    } else {
      x(i) = (x(i) - inner(row, x.data() + start, i - start)) / row[i - start];
    }
  }
}

// L'^-1 x, as far as the elements from `down_to` on.
void Skyline::solve_upper(double* x, int down_to) const {
  for (int i = size() - 1; i >= down_to; --i) {
    x[i] /= factor_[at(i, i)];
    const int start = std::max(down_to, first_[std::size_t(i)]);
    const double* row = &factor_[at(i, std::min(start, i))];
    for (int j = start; j < i; ++j) x[j] -= row[j - start] * x[i];
  }
}

void Skyline::solve(Eigen::VectorXd& x) const {
  solve_lower(x);
  solve_upper(x.data(), 0);
}

Eigen::MatrixXd Skyline::inverse() const {
  Eigen::MatrixXd out(size(), size());
  Eigen::VectorXd x(size());
  for (int c = 0; c < size(); ++c) {
    x.setZero();
    x(c) = 1;
    solve_lower(x, c);
    solve_upper(x.data(), c);
    for (int i = c; i < size(); ++i) out(i, c) = out(c, i) = x(i);
  }
  return out;
}

}  // namespace levelrun
