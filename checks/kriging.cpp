#include "checks/kriging.h"

#include <cmath>

namespace levelrun {

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
  if (out.N_.info() != Eigen::Success || out.N_.rcond() < 1e-14) return std::nullopt;
  out.beta_ = out.N_.solve(right);

  const auto Lt = out.V_.matrixU();
  out.alpha_ = Lt.solve(z - A * out.beta_);
  out.VX_ = Lt.solve(A);

  const double log_det_V = 2 * out.V_.matrixLLT().diagonal().array().log().sum();
  const double log_det_N = 2 * out.N_.matrixLLT().diagonal().array().log().sum();
  out.log_likelihood_ = -0.5 * (log_det_V + log_det_N + z.squaredNorm() - out.beta_.dot(right));
  return out;
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
