#include "checks/kriging.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace levelrun {
namespace {

constexpr double least_rcond = 1e-14;  // below, the drift is not determined

// W' V^-1 W, where `stacked` is V (its lower triangle) with W' below it; empty where V is not
// positive definite. Cholesky column by column in place, V = L L', which whitens the rows below
// on its way: at 24 or 32 observations quicker than to factorise, then solve. The diagonal of L
// stays in place.
std::optional<Eigen::MatrixXd> whitened_products(Eigen::MatrixXd& stacked) {
  const Eigen::Index n = stacked.cols(), q = stacked.rows() - n;
  for (Eigen::Index k = 0; k < n; ++k) {
    const auto done = stacked.row(k).head(k);
    const double pivot = stacked(k, k) - done.squaredNorm();
    if (!(pivot > 0)) return std::nullopt;
    auto below = stacked.col(k).tail(n + q - k - 1);
    below.noalias() -= stacked.bottomLeftCorner(n + q - k - 1, k) * done.transpose();
    stacked(k, k) = std::sqrt(pivot);
    below /= stacked(k, k);
  }
  const auto W = stacked.bottomRows(q);
  return W.lazyProduct(W.transpose());
}

}  // namespace

std::optional<Kriging> Kriging::fit(Eigen::MatrixXd V, const Eigen::MatrixXd& X,
                                    const Eigen::VectorXd& observed,
                                    const DriftInformation& known) {
  Kriging out;
  out.V_.compute(std::move(V));
  if (out.V_.info() != Eigen::Success) return std::nullopt;

  // Whitened by L (V = L L'), everything is ordinary least squares.
  const auto L = out.V_.matrixL();
  const Eigen::MatrixXd A = L.solve(X);
  const Eigen::VectorXd z = L.solve(observed);
  const Eigen::MatrixXd N = A.transpose() * A + known.matrix;
  const Eigen::VectorXd right = A.transpose() * z + known.vector;
  out.N_.compute(N);
  if (out.N_.info() != Eigen::Success || out.N_.rcond() < least_rcond) return std::nullopt;
  out.beta_ = out.N_.solve(right);

  const auto Lt = out.V_.matrixU();
  out.alpha_ = Lt.solve(z - A * out.beta_);
  out.VX_ = Lt.solve(A);
  return out;
}

double Kriging::log_likelihood(Eigen::MatrixXd& stacked, const DriftInformation& known) {
  constexpr double impossible = -std::numeric_limits<double>::infinity();
  const Eigen::Index p = known.vector.size();
  const auto products = whitened_products(stacked);
  if (!products) return impossible;
  const Eigen::LLT<Eigen::MatrixXd> N(products->topLeftCorner(p, p) + known.matrix);
  if (N.info() != Eigen::Success || N.rcond() < least_rcond) return impossible;
  const Eigen::VectorXd right = products->col(p).head(p) + known.vector;
  const double log_det_V = 2 * stacked.diagonal().array().log().sum();
  const double log_det_N = 2 * N.matrixLLT().diagonal().array().log().sum();
  return -0.5 * (log_det_V + log_det_N + (*products)(p, p) - right.dot(N.solve(right)));
}

std::optional<Estimate> Kriging::at_one(Eigen::MatrixXd& stacked, const DriftInformation& known,
                                        const Eigen::VectorXd& x, double own) {
  const Eigen::Index p = x.size();
  const auto products = whitened_products(stacked);
  if (!products) return std::nullopt;
  const Eigen::LLT<Eigen::MatrixXd> N(products->topLeftCorner(p, p) + known.matrix);
  if (N.info() != Eigen::Success || N.rcond() < least_rcond) return std::nullopt;
  const Eigen::VectorXd right = products->col(p).head(p) + known.vector;
  const Eigen::VectorXd d = x - products->col(p + 1).head(p);
  const Eigen::VectorXd Qd = N.solve(d);
  const double mean = (*products)(p, p + 1) + Qd.dot(right);
  const double variance = own - (*products)(p + 1, p + 1) + Qd.dot(d);
  return Estimate{mean, std::sqrt(std::max(0.0, variance))};
}

void Kriging::prepare_bands() {
  const Eigen::Index n = VX_.rows(), p = VX_.cols();
  Q_ = N_.solve(Eigen::MatrixXd::Identity(p, p));
  // By panels of columns, each from its own diagonal down: above it the inverse is zero, and to
  // leave that out saves half of the work.
  constexpr Eigen::Index panel = 32;
  L_inverse_ = Eigen::MatrixXd::Identity(n, n);
  for (Eigen::Index from = 0; from < n; from += panel) {
    const Eigen::Index down = n - from;
    auto columns = L_inverse_.block(from, from, down, std::min(panel, down));
    V_.matrixLLT()
        .bottomRightCorner(down, down)
        .triangularView<Eigen::Lower>()
        .solveInPlace(columns);
  }
}

Eigen::VectorXd Kriging::variances(const Eigen::MatrixXd& K, const Eigen::MatrixXd& x,
                                   double own) const {
  const Eigen::MatrixXd white = K * L_inverse_.transpose().triangularView<Eigen::Upper>();
  const Eigen::MatrixXd d = x - K * VX_;
  return (own - white.rowwise().squaredNorm().array() +
          (d * Q_).cwiseProduct(d).rowwise().sum().array())
      .cwiseMax(0)
      .matrix();
}

Eigen::MatrixXd Kriging::covariances(const Eigen::MatrixXd& K, const Eigen::MatrixXd& x,
                                     const Eigen::MatrixXd& prior) const {
  const Eigen::Index first = prior.rows();
  const Eigen::MatrixXd white =
      K.topRows(first) * L_inverse_.transpose().triangularView<Eigen::Upper>();
  const Eigen::MatrixXd weights = white * L_inverse_.triangularView<Eigen::Lower>();
  const Eigen::MatrixXd d = x - K * VX_;
  return prior - weights * K.transpose() + d.topRows(first) * Q_ * d.transpose();
}

Eigen::VectorXd Kriging::weights(const Eigen::VectorXd& k, const Eigen::VectorXd& x) const {
  return V_.solve(k) + VX_ * N_.solve(x - VX_.transpose() * k);
}

Estimate Kriging::left_out(Eigen::Index i) const {
  // Of V^-1 - V^-1 X Q X' V^-1, where the drift's share is left out too.
  const double weight = L_inverse_.col(i).squaredNorm() - VX_.row(i).dot(VX_.row(i) * Q_);
  return {alpha_(i) / weight, 1 / std::sqrt(weight)};
}

}  // namespace levelrun
