#include "checks/kriging.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace levelrun {
namespace {

constexpr double least_rcond = 1e-14;  // below, the drift is not determined

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

double Kriging::log_likelihood(Eigen::MatrixXd& V, const Eigen::MatrixXd& X_observed,
                               const DriftInformation& known) {
  constexpr double impossible = -std::numeric_limits<double>::infinity();
  const Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>> factor(V);  // in place
  if (factor.info() != Eigen::Success) return impossible;
  // Whitened drift and observations in one pass; their products are all that is needed.
  const Eigen::MatrixXd W = factor.matrixL().solve(X_observed);
  const Eigen::Index p = X_observed.cols() - 1;
  const Eigen::MatrixXd products = W.transpose() * W;
  const Eigen::LLT<Eigen::MatrixXd> N(products.topLeftCorner(p, p) + known.matrix);
  if (N.info() != Eigen::Success || N.rcond() < least_rcond) return impossible;
  const Eigen::VectorXd right = products.col(p).head(p) + known.vector;
  const double log_det_V = 2 * V.diagonal().array().log().sum();
  const double log_det_N = 2 * N.matrixLLT().diagonal().array().log().sum();
  return -0.5 * (log_det_V + log_det_N + products(p, p) - right.dot(N.solve(right)));
}

Estimate Kriging::estimate(const Eigen::VectorXd& k, const Eigen::VectorXd& x, double own) const {
  const Eigen::VectorXd d = x - VX_.transpose() * k;
  const double variance = own - k.dot(V_.solve(k)) + d.dot(N_.solve(d));
  return {mean(k, x), std::sqrt(std::max(0.0, variance))};
}

void Kriging::prepare_bands() {
  const Eigen::Index n = VX_.rows(), p = VX_.cols();
  Q_ = N_.solve(Eigen::MatrixXd::Identity(p, p));
  G_ = VX_ * Q_;
  M_ = V_.solve(Eigen::MatrixXd::Identity(n, n));
  M_.noalias() -= G_ * VX_.transpose();
}

Eigen::VectorXd Kriging::variances(const Eigen::MatrixXd& K, const Eigen::MatrixXd& x,
                                   double own) const {
  Eigen::MatrixXd KM(K.rows(), K.cols());
  KM.noalias() = K * M_;
  Eigen::VectorXd variance = -(KM.array() * K.array()).rowwise().sum().matrix();
  variance += (x * Q_ - 2 * (K * G_)).cwiseProduct(x).rowwise().sum();
  return (variance.array() + own).cwiseMax(0).matrix();
}

Eigen::VectorXd Kriging::weights(const Eigen::VectorXd& k, const Eigen::VectorXd& x) const {
  return V_.solve(k) + VX_ * N_.solve(x - VX_.transpose() * k);
}

Estimate Kriging::left_out(Eigen::Index i) const {
  return {alpha_(i) / M_(i, i), 1 / std::sqrt(M_(i, i))};
}

}  // namespace levelrun
