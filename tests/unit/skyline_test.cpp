#include "checks/skyline.h"

#include <doctest/doctest.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

using namespace levelrun;

namespace {

// A ring of n: each row tied to the one before, the last to all; the diagonal outweighs the rest.
Eigen::MatrixXd ring(int n) {
  Eigen::MatrixXd m = Eigen::MatrixXd::Zero(n, n);
  for (int i = 0; i < n; ++i) {
    m(i, i) = 5 + i + (i == n - 1 ? n : 0);
    if (i > 0) m(i, i - 1) = m(i - 1, i) = 1.5 - 0.1 * i;
  }
  for (int c = 0; c < n - 1; ++c) m(n - 1, c) = m(c, n - 1) = 0.3 + 0.05 * c;
  return m;
}

Skyline skyline_of(const Eigen::MatrixXd& m) {
  const int n = int(m.rows());
  std::vector<int> first;
  for (int i = 0; i < n; ++i) first.push_back(i == n - 1 ? 0 : std::max(i - 1, 0));
  Skyline out(first);
  for (int i = 0; i < n; ++i)
    for (int c = first[std::size_t(i)]; c <= i; ++c) out(i, c) = m(i, c);
  return out;
}

}  // namespace

TEST_CASE("a matrix with late rows is factorised, solved and inverted as a dense one is") {
  for (const int n : {1, 2, 3, 9, 40}) {
    CAPTURE(n);
    const Eigen::MatrixXd m = ring(n);
    Skyline sky = skyline_of(m);
    REQUIRE(sky.factorise());
    const Eigen::LLT<Eigen::MatrixXd> dense(m);
    for (int i = 0; i < n; ++i)
      CHECK(sky.pivot(i) == doctest::Approx(dense.matrixLLT()(i, i)).epsilon(1e-13));
    const Eigen::VectorXd right = Eigen::VectorXd::LinSpaced(n, -1, 2);
    Eigen::VectorXd x = right;
    sky.solve(x);
    CHECK((m * x - right).cwiseAbs().maxCoeff() < 1e-12);
    CHECK((m * sky.inverse() - Eigen::MatrixXd::Identity(n, n)).cwiseAbs().maxCoeff() < 1e-12);
    // A right-hand side that starts late is solved from there on.
    const int from = n / 2;
    Eigen::VectorXd late = Eigen::VectorXd::Zero(n);
    late.tail(n - from).setConstant(2.0);
    Eigen::VectorXd whole = late;
    sky.solve_lower(late, from);
    dense.matrixL().solveInPlace(whole);
    CHECK((late - whole).cwiseAbs().maxCoeff() < 1e-12);
  }
}

TEST_CASE("a matrix that is not positive is not factorised") {
  Eigen::MatrixXd m = ring(4);
  m(2, 2) = -1;
  CHECK_FALSE(skyline_of(m).factorise());
  m(2, 2) = std::nan("");
  CHECK_FALSE(skyline_of(m).factorise());
}
