// A surface from scattered observations: kriging with a drift, and with whatever is known of
// the drift beforehand.
//
// Model: observation = X beta + surface + noise, with covariance V of (surface + noise) between
// the observations, and about beta the information J beta = j (J = 0: nothing known). This is
// universal kriging (Matheron), the same as Gaussian process regression with a linear mean
// (Rasmussen and Williams 2006, section 2.7). beta and its uncertainty are part of every band.
// Internal to checks (it speaks Eigen).
#pragma once

#include <Eigen/Dense>
#include <optional>

#include "survey/estimate.h"

namespace levelrun {

// Information about the drift that does not come from the observations themselves.
struct DriftInformation {
  Eigen::MatrixXd matrix;  // J
  Eigen::VectorXd vector;  // j
};

class Kriging {
 public:
  // V symmetric positive definite, n x n, of which only the lower triangle is read; X n x p.
  // Empty when V is not, or when the drift is not determined by X and J together.
  static std::optional<Kriging> fit(Eigen::MatrixXd V, const Eigen::MatrixXd& X,
                                    const Eigen::VectorXd& observed, const DriftInformation& known);

  // Log of the restricted likelihood, up to a constant that V does not change; -infinity where
  // fit would give nothing: the grid of parameters asks for this alone, many times. `stacked` is V
  // (its lower triangle), below it X' and the observations as rows; it is overwritten.
  static double log_likelihood(Eigen::MatrixXd& stacked, const DriftInformation& known);

  const Eigen::VectorXd& drift() const { return beta_; }

  // k: covariance of the target with each observation; x: the target's drift row.
  double mean(const Eigen::VectorXd& k, const Eigen::VectorXd& x) const {
    return x.dot(beta_) + k.dot(alpha_);
  }
  // One target with its band, from a model that is asked once: what fit, means and variances
  // give, empty where fit is. `stacked` as above, with k as its last row; it is overwritten.
  static std::optional<Estimate> at_one(Eigen::MatrixXd& stacked, const DriftInformation& known,
                                        const Eigen::VectorXd& x, double own);
  // Many targets at once: a row of K and of x each. scale: what K is still to be multiplied by.
  Eigen::VectorXd means(const Eigen::MatrixXd& K, const Eigen::MatrixXd& x,
                        double scale = 1) const {
    return x * beta_ + K * (scale * alpha_);
  }
  // own: the surface's variance at the target (no noise). Needs prepare_bands() once before.
  Eigen::VectorXd variances(const Eigen::MatrixXd& K, const Eigen::MatrixXd& x, double own) const;
  void prepare_bands();
  // Covariances, given the observations, of the first targets (rows) with all of them (columns).
  // prior: the same before any observation. Needs prepare_bands() once before.
  Eigen::MatrixXd covariances(const Eigen::MatrixXd& K, const Eigen::MatrixXd& x,
                              const Eigen::MatrixXd& prior) const;

  // Weight of each observation in the mean at a target (J = 0).
  Eigen::VectorXd weights(const Eigen::VectorXd& k, const Eigen::VectorXd& x) const;

  // What the others say of observation i: observed less predicted without it, and its sd.
  Estimate left_out(Eigen::Index i) const;

 private:
  Eigen::LLT<Eigen::MatrixXd> V_;
  Eigen::LLT<Eigen::MatrixXd> N_;
  Eigen::MatrixXd VX_;     // V^-1 X
  Eigen::VectorXd alpha_;  // V^-1 (observed - X beta)
  Eigen::VectorXd beta_;
  Eigen::MatrixXd L_inverse_, Q_;  // for the bands: V = L L', and the drift's covariance
};

}  // namespace levelrun
