// Outlines in plan: closed polygons of places.
#pragma once

#include <span>
#include <vector>

#include "checks/room_plan.h"

namespace levelrun {

double distance(PlanPoint a, PlanPoint b);
double distance_to_segment(PlanPoint p, PlanPoint a, PlanPoint b);
// Even-odd rule; on the edge counts either way.
bool inside(std::span<const PlanPoint> outline, PlanPoint p);
// 0 inside, else how far outside. Infinity for an empty outline.
double distance_outside(std::span<const PlanPoint> outline, PlanPoint p);
// Index of the outline that holds p, else of the nearest; the first of equals.
Index nearest_outline(std::span<const std::vector<PlanPoint>> outlines, PlanPoint p);

}  // namespace levelrun
