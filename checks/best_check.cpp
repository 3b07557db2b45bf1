#include "checks/best_check.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "checks/outline.h"

namespace levelrun {
namespace {

constexpr double detectable_factor = 4.13;  // 0.1 % and 80 % power (Baarda 1968)
constexpr int looks = 20;                   // places looked at along a line of sight

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

std::optional<BestCheck> best_check(const RoomNet& net, std::span<const Index> unchecked) {
  const PlanAdjustment& plan = net.plan();
  std::vector<PlanPoint> corners;
  for (const NetPoint& p : plan.points()) corners.push_back({p.x, p.y});
  const Index n = corners.size();
  std::optional<BestCheck> best;
  // What is measured once already comes second: another one checks it as well.
  for (const bool again : {false, true}) {
    for (Index a = 0; a < n; ++a)
      for (Index b = a + 2; b < n; ++b) {
        if ((a == 0 && b == n - 1) || measured(net, a, b) != again) continue;
        if (!see_each_other(corners, a, b)) continue;
        NetObservation diagonal;
        diagonal.from = a;
        diagonal.to = b;
        const double own = plan.covariance(diagonal, diagonal);
        double worst = 0;
        for (const Index i : unchecked) {
          const NetObservation& o = plan.net().observations[i];
          const double shared = plan.covariance(o, diagonal);
          const double sd2 = o.sd * o.sd, diagonal_sd = net.readings()[unchecked[0]].sd;
          const double left =
              plan.covariance(o, o) - shared * shared / (own + diagonal_sd * diagonal_sd);
          const double redundancy = 1 - left / sd2;
          worst = std::max(worst, redundancy > PlanAdjustment::unchecked
                                      ? detectable_factor * o.sd / std::sqrt(redundancy)
                                      : std::numeric_limits<double>::infinity());
        }
        if (std::isfinite(worst) && (!best || worst < best->detectable - 1e-9))
          best = BestCheck{a, b, worst};
      }
    if (best) return best;
  }
  return best;
}

}  // namespace levelrun
