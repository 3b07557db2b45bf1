// A plan network by least squares: where its points are, how well, and how far each measurement
// is checked by the others.
//
// One unit of length throughout (mm in a room; any for a textbook net), x right, y up. Angles
// in degrees, anticlockwise. Standard deviations are a priori: multiply by sigma0() for a
// posteriori ones. Residual v = adjusted - measured; redundancy r = its own share, 0 (unchecked)
// to 1; standardised w = v / (sd sqrt(r)).
//
// Model: Gauss-Newton from the given start, and Newton where that crawls; the step halved while it
// makes matters worse. It finds the minimum next to the start: one gross error can lead it into a
// false one, so the caller chooses the start without the doubtful measurement.
//
// Accuracy: points to 1e-9 of the minimum where residuals are below a hundredth of the distances.
// Never throws; a net that cannot be solved says so and its numbers must not be used.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "survey/estimate.h"
#include "survey/survey.h"

namespace levelrun {

struct NetPoint {
  double x = 0, y = 0;  // start, or the known place of a fixed point
  bool fixed = false;
};

enum class NetKind {
  distance,  // from - to
  angle,     // at `at`, from the ray to `from` anticlockwise to the ray to `to`, degrees
  across     // between the points leg_from and leg_to out from `at` on those two rays
};

// An unknown besides the points: measured = geometry + factor * term.
struct NetTerm {
  Index term = 0;
  double factor = 0;
};

struct NetObservation {
  NetKind kind = NetKind::distance;
  Index from = 0, to = 0, at = 0;
  double value = 0, sd = 1;  // sd > 0
  double leg_from = 0, leg_to = 0;
  // A distance measured parallel to from - to, `out` to its right, up to the lines before - from
  // and to - after. Without such a line it ends square to the end point.
  double out = 0;
  std::optional<Index> before, after;
  std::optional<NetTerm> lean, scale;  // into PlanNet::leans and ::scales
};

struct PlanNet {
  std::vector<NetPoint> points;
  std::vector<NetObservation> observations;
  // The sd of each term, itself an observation 0 +- sd; it adds as much to the observations as
  // to the unknowns. A lean belongs to observations of one pair of points, a scale to any.
  std::vector<double> leans, scales;
  // Two points kept at one y, which fixes the bearing when one point is fixed.
  std::optional<std::pair<Index, Index>> level;
  // A free net: over these points the corrections to the start sum to no shift and no rotation.
  std::vector<Index> datum;
};

// hopeless: given up, see solve.
enum class NetState { solved, undetermined, diverged, hopeless };

class PlanAdjustment {
 public:
  explicit PlanAdjustment(PlanNet);
  ~PlanAdjustment();
  PlanAdjustment(PlanAdjustment&&) noexcept;
  PlanAdjustment& operator=(PlanAdjustment&&) noexcept;

  const PlanNet& net() const;

  // From the net's own start with every observation.
  NetState solve();
  // From another start (one for each point; fixed ones must stand at their known place) and with
  // the observations whose `used` is not 0. Undetermined also when a coordinate's sd (those of
  // later points taken as known) exceeds largest_sd at the start or at the end. Hopeless when the
  // third step leaves a chi-square above `hopeless`.
  NetState solve(std::span<const NetPoint> start, std::span<const char> used,
                 double largest_sd = std::numeric_limits<double>::infinity(),
                 double hopeless = std::numeric_limits<double>::infinity());
  // At that start, before any step.
  double chi_square_at(std::span<const NetPoint> start, std::span<const char> used);

  // The rest holds for the last solve, and only if it said solved.
  const std::vector<NetPoint>& points() const;
  double lean(Index) const;
  double scale(Index) const;
  double chi_square() const;  // sum of (v / sd)^2, terms included
  int dof() const;
  double sigma0() const;  // 0 when dof is 0
  double residual(Index observation) const;
  double redundancy(Index observation) const;  // 0 to 1; of an unused one: had it been used
  // Of the adjusted values of two observations; used or not, as the net stands.
  double covariance(Index, Index) const;
  // Of what the net says about two measurements, booked or not.
  double covariance(const NetObservation&, const NetObservation&) const;
  double standardised(Index observation) const;  // 0 where the redundancy is below `unchecked`

  // What the adjusted net says about a measurement, booked or not: its kind, points, out and
  // terms count; its value and sd do not.
  Estimate predict(const NetObservation&) const;
  double value(const NetObservation&) const;  // the same without its sd, at less cost
  double sd_x(Index point) const;
  double sd_y(Index point) const;

  static constexpr double unchecked = 1e-6;  // redundancy; rounding makes 1e-12 of a true 0

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace levelrun
