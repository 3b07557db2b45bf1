#include "checks/outline.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace levelrun {

double distance(PlanPoint a, PlanPoint b) { return std::hypot(a.x - b.x, a.y - b.y); }

namespace {

// Squared, for a root costs more than all the rest where many are compared.
double squared_to_segment(PlanPoint p, PlanPoint a, PlanPoint b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double length2 = dx * dx + dy * dy;
  const double t =
      length2 > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length2, 0.0, 1.0) : 0;
  const double x = p.x - (a.x + t * dx), y = p.y - (a.y + t * dy);
  return x * x + y * y;
}

double squared_outside(std::span<const PlanPoint> outline, PlanPoint p) {
  if (outline.size() >= 3 && inside(outline, p)) return 0;
  double least = std::numeric_limits<double>::infinity();
  for (Index i = 0, k = outline.size() - 1; i < outline.size(); k = i++)
    least = std::min(least, squared_to_segment(p, outline[k], outline[i]));
  return least;
}

}  // namespace

double distance_to_segment(PlanPoint p, PlanPoint a, PlanPoint b) {
  return std::sqrt(squared_to_segment(p, a, b));
}

bool inside(std::span<const PlanPoint> outline, PlanPoint p) {
  bool in = false;
  for (Index i = 0, k = outline.size() - 1; i < outline.size(); k = i++) {
    const PlanPoint a = outline[i], b = outline[k];
    if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) in = !in;
  }
  return in;
}

double distance_outside(std::span<const PlanPoint> outline, PlanPoint p) {
  return std::sqrt(squared_outside(outline, p));
}

Index nearest_outline(std::span<const std::vector<PlanPoint>> outlines, PlanPoint p) {
  Index best = 0;
  double least = std::numeric_limits<double>::infinity();
  for (Index i = 0; i < outlines.size(); ++i)
    if (const double d = squared_outside(outlines[i], p); d < least) {
      least = d;
      best = i;
    }
  return best;
}

}  // namespace levelrun
