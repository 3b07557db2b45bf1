#include "checks/best_check.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "checks/outline.h"

namespace levelrun {
namespace {

constexpr double detectable_factor = 4.13;  // 0.1 % and 80 % power (Baarda 1968)
constexpr double default_sd = 2;            // mm; a tape's. Common practice, no source
constexpr double tie = 1e-9;                // mm
constexpr int looks = 20;                   // places looked at along a line of sight
constexpr Index most_corners = 60;          // beyond, no diagonal is sought: time, not truth

// A straight line inside the room that is not one of its walls.
bool see_each_other(std::span<const PlanPoint> corners, Index a, Index b) {
  const PlanPoint p = corners[a], q = corners[b];
  for (int k = 1; k < looks; ++k) {
    const double t = double(k) / looks;
    if (!inside(corners, {p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)})) return false;
  }
  return true;
}

bool measured(const RoomNet& net, Index a, Index b) {
  return std::any_of(net.readings().begin(), net.readings().end(), [&](const RoomReading& r) {
    return r.kind == RoomReadingKind::diagonal &&
           ((r.from == a && r.to == b) || (r.from == b && r.to == a));
  });
}

}  // namespace

std::optional<BestCheck> best_check(const RoomNet& net, std::span<const ToCheck> unchecked) {
  const PlanAdjustment& plan = net.plan();
  std::vector<PlanPoint> corners;
  for (const NetPoint& p : plan.points()) corners.push_back({p.x, p.y});
  const Index n = corners.size();
  std::optional<BestCheck> best;
  if (n > most_corners) return best;
  const auto first = std::find_if(net.readings().begin(), net.readings().end(),
                                  [](const RoomReading& r) { return r.from != r.to; });
  const double diagonal_sd = first == net.readings().end() ? default_sd : first->sd;
  const auto observation = [&](const ToCheck& c) { return plan.net().observations[c.reading]; };
  std::vector<double> variance;
  for (const ToCheck& c : unchecked) variance.push_back(plan.covariance(c.reading, c.reading));
  const auto largest_unseen = [&](const NetObservation& diagonal) {
    const double own = plan.covariance(diagonal, diagonal) + diagonal_sd * diagonal_sd;
    double worst = 0;
    for (std::size_t k = 0; k < unchecked.size(); ++k) {
      const NetObservation o = observation(unchecked[k]);
      const double shared = plan.covariance(o, diagonal);
      const double redundancy = 1 - (variance[k] - shared * shared / own) / (o.sd * o.sd);
      if (!(redundancy > PlanAdjustment::unchecked)) return std::numeric_limits<double>::infinity();
      worst = std::max(worst, unchecked[k].mm * detectable_factor * o.sd / std::sqrt(redundancy));
      if (best && !(worst < best->detectable - tie)) break;
    }
    return worst;
  };
  // What is measured once already comes second: another one checks it as well.
  for (const bool again : {false, true}) {
    for (Index a = 0; a < n; ++a)
      for (Index b = a + 2; b < n; ++b) {
        if ((a == 0 && b == n - 1) || measured(net, a, b) != again) continue;
        NetObservation diagonal;
        diagonal.from = a;
        diagonal.to = b;
        const double worst = largest_unseen(diagonal);
        if (!std::isfinite(worst) || (best && !(worst < best->detectable - tie))) continue;
        if (see_each_other(corners, a, b)) best = BestCheck{a, b, worst};
      }
    if (best) return best;
  }
  return best;
}

}  // namespace levelrun
