// Cholesky factor L L' of a symmetric positive matrix whose rows start late, and what it solves.
//
// Row i is kept from its first element that may differ from 0 up to the diagonal; the factor
// fills no more than that. In a ring of corners taken in order it is a narrow band and a few full
// rows at the end. The same pivots as a dense factor in the same order, but for rounding.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace levelrun {

class Skyline {
 public:
  Skyline() = default;
  // first[i] <= i: the first column of row i that may differ from 0.
  explicit Skyline(std::vector<int> first);

  int size() const { return int(first_.size()); }
  void set_zero();
  // row >= column >= first[row].
  double& operator()(int row, int column) { return matrix_[at(row, column)]; }
  double operator()(int row, int column) const { return matrix_[at(row, column)]; }

  // False: a pivot is not above 0. Until it is true, the rest must not be used.
  bool factorise();
  double pivot(int i) const { return factor_[at(i, i)]; }

  // In place, elements before `from` being 0: L^-1 x; and (L L')^-1 x of all of it.
  void solve_lower(Eigen::VectorXd& x, int from = 0) const;
  void solve(Eigen::VectorXd& x) const;
  Eigen::MatrixXd inverse() const;

 private:
  std::size_t at(int row, int column) const {
    return begin_[std::size_t(row)] + std::size_t(column - first_[std::size_t(row)]);
  }
  void solve_upper(double* x, int down_to) const;

  std::vector<int> first_;
  std::vector<std::size_t> begin_;  // of each row in the two below
  std::vector<double> matrix_, factor_;
};

}  // namespace levelrun
