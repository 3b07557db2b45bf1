// Question: what does a stiff, straight thing touch on a line of heights, and how does it lie?
// Method: upper half of the monotone-chain convex hull (A. M. Andrew, 1979). A straight edge
// lies on the hull edge under its middle, for there its weight or the push at it is.
#include "checks/profile.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace levelrun {
namespace {

// mm; a point no higher than this above its neighbours' chord is rounding, not a contact.
constexpr double collinear = 1e-9;
// mm; a contact no further than this from the middle carries the edge alone. The default sd of
// a measured place; common practice, no source.
constexpr double at_middle = 20;

double slope_between(const ProfilePoint& a, const ProfilePoint& b) {
  return (b.height - a.height) / (b.along - a.along);
}

double above_chord(const ProfilePoint& a, const ProfilePoint& p, const ProfilePoint& b) {
  return (p.height - a.height) - slope_between(a, b) * (p.along - a.along);
}

}  // namespace

std::vector<ProfilePoint> upper_hull(std::span<const ProfilePoint> profile) {
  std::vector<ProfilePoint> hull;
  for (const ProfilePoint& p : profile) {
    if (!hull.empty() && p.along <= hull.back().along) {
      if (p.height <= hull.back().height) continue;
      hull.pop_back();
    }
    while (hull.size() >= 2 && above_chord(hull[hull.size() - 2], hull.back(), p) <= collinear)
      hull.pop_back();
    hull.push_back(p);
  }
  return hull;
}

double height_on(std::span<const ProfilePoint> line, double along) {
  assert(!line.empty());
  if (line.size() == 1) return line[0].height;
  const auto beyond = std::upper_bound(line.begin() + 1, line.end() - 1, along,
                                       [](double a, const ProfilePoint& p) { return a < p.along; });
  const ProfilePoint &a = *(beyond - 1), &b = *beyond;
  if (b.along <= a.along) return std::max(a.height, b.height);
  return a.height + slope_between(a, b) * (along - a.along);
}

RestingLine resting_line(std::span<const ProfilePoint> profile, double rock) {
  RestingLine line;
  const std::vector<ProfilePoint> hull = upper_hull(profile);
  if (hull.empty()) return line;
  if (hull.size() == 1) {
    line.left = line.right = hull[0].along;
    line.height = hull[0].height;
  } else {
    const double middle = (hull.front().along + hull.back().along) / 2;
    const double half = middle - hull.front().along;
    // The edge [i, i+1] that straddles the middle; a contact at the middle belongs to two.
    std::size_t i = 0;
    while (i + 2 < hull.size() && hull[i + 1].along < middle) ++i;
    std::size_t peak =
        std::abs(hull[i].along - middle) < std::abs(hull[i + 1].along - middle) ? i : i + 1;
    const bool inner = peak > 0 && peak + 1 < hull.size();
    const double tilt = inner ? slope_between(hull[peak - 1], hull[peak]) -
                                    slope_between(hull[peak], hull[peak + 1])
                              : 0;
    if (inner && std::abs(hull[peak].along - middle) <= at_middle && tilt * half > rock) {
      // Balanced on one point: held halfway between its two positions.
      line.rocks = true;
      line.left = line.right = hull[peak].along;
      line.slope = slope_between(hull[peak], hull[peak + 1]) + tilt / 2;
      line.height = hull[peak].height;
    } else {
      line.left = hull[i].along;
      line.right = hull[i + 1].along;
      line.slope = slope_between(hull[i], hull[i + 1]);
      line.height = hull[i].height;
    }
  }
  for (const ProfilePoint& p : profile) {
    const double edge = line.height + line.slope * (p.along - line.left);
    line.gap = std::max(line.gap, edge - p.height);
  }
  return line;
}

}  // namespace levelrun
