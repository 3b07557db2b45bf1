// A line of heights along a straight edge, and what a straight, stiff thing does on it.
//
// Points are sorted by along. "Height" is towards the thing that is laid on: for a floor it is
// upwards, for a wall it is towards the room (so minus the offset).
#pragma once

#include <span>
#include <vector>

namespace levelrun {

struct ProfilePoint {
  double along = 0, height = 0;
};

// The upper convex hull: the points a string stretched over the profile touches, left to
// right. Of points with one `along` the highest counts. Collinear inner points are dropped.
// Empty gives empty; one point gives itself.
std::vector<ProfilePoint> upper_hull(std::span<const ProfilePoint> profile);

// The hull's (or any polyline's) height at along, by straight interpolation; beyond its ends
// the end segment is extended. Needs at least one point.
double height_on(std::span<const ProfilePoint> line, double along);

// How a rigid straight edge rests: on the hull edge that straddles the middle of the profile,
// extended to both ends.
struct RestingLine {
  double left = 0, right = 0;    // along of the two contacts (equal: one point, it rocks)
  double slope = 0, height = 0;  // line height at along a = height + slope * (a - left)
  double gap = 0;                // the greatest distance from the line down to the profile
  bool rocks = false;            // the profile is crowned: other hull edges would carry it too
};

// rock: how far (mm) an end may be pressed down before we say that it rocks.
RestingLine resting_line(std::span<const ProfilePoint> profile, double rock = 0.5);

}  // namespace levelrun
