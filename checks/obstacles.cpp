#include "checks/obstacles.h"

#include <algorithm>
#include <cmath>

#include "checks/outline.h"

namespace levelrun {
namespace {

constexpr double looked_at = 200;     // mm from a foot's centre
constexpr double along_a_wall = 30;   // mm: an area's edge this near a wall is no step
constexpr double pipe_diameter = 22;  // mm, where none is booked; common practice, no source

bool pipe_like(ServiceKind kind) {
  switch (kind) {
    case ServiceKind::cold_water:
    case ServiceKind::hot_water:
    case ServiceKind::waste:
    case ServiceKind::soil_stack:
    case ServiceKind::gas:
    case ServiceKind::duct:
    case ServiceKind::underfloor_heating:
    case ServiceKind::other:
      return true;
    default:
      return false;
  }
}

PlanPoint nearest_on(PlanPoint p, PlanPoint a, PlanPoint b) {
  const double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
  const double t =
      length2 > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length2, 0.0, 1.0) : 0;
  return {a.x + t * dx, a.y + t * dy};
}

}  // namespace

FloorObstacles::FloorObstacles(const RoomFacts& f) {
  // Heights from a set-up's plane are turned into heights over the floor below.
  const auto over_floor = [&](const MeasuredHeight& height, PlanPoint at) {
    if (!height.setup) return std::optional(height.value);
    const auto floor = f.floor.heights({&at, 1})[0];
    const auto& plane = f.levels.planes[*height.setup];
    if (!floor || !plane) return std::optional<double>();
    return std::optional(plane->value + height.value - *floor);
  };
  for (const Service& service : f.room.services) {
    if (!pipe_like(service.kind)) continue;
    const double radius = service.diameter.value_or(pipe_diameter) / 2;
    const std::string what = "service " + service.id;
    std::optional<PlanPoint> last;
    double last_height = 0;
    const auto add = [&](const Place& place, const MeasuredHeight& measured) {
      const auto at = f.plan.at(place);
      const auto height = at ? over_floor(measured, *at) : std::nullopt;
      if (!height) return last.reset();
      if (last) stretches_.push_back({*last, *at, radius, std::min(last_height, *height), what});
      last = at;
      last_height = *height;
    };
    // A pipe that comes out of the floor stands where it is booked, as high as its outlet.
    if (const auto at = f.plan.at(service.place);
        at && !service.place.wall && service.route.empty())
      stretches_.push_back({*at, *at, radius, 0, what});
    for (const RoutePoint& point : service.route) add(point.place, point.height);
    if (service.connects_at && !service.route.empty())
      add(service.connects_at->place, service.connects_at->height);
  }
  if (f.room.floor_areas.size() > 1)
    for (const FloorArea& area : f.room.floor_areas)
      for (Index i = 0; i < area.outline.size(); ++i) {
        const auto a = f.plan.at(area.outline[i]);
        const auto b = f.plan.at(area.outline[(i + 1) % area.outline.size()]);
        if (!a || !b) continue;
        const PlanPoint middle{(a->x + b->x) / 2, (a->y + b->y) / 2};
        const bool wall =
            std::any_of(f.plan.walls.begin(), f.plan.walls.end(), [&](const WallLine& line) {
              return distance_to_segment(middle, line.from, line.to) < along_a_wall;
            });
        if (!wall) stretches_.push_back({*a, *b, 0, 0, "the edge of floor area " + area.id});
      }
}

std::optional<FloorObstacles::Near> FloorObstacles::nearest(PlanPoint p, double below) const {
  std::optional<Near> out;
  for (const Stretch& s : stretches_) {
    if (s.height > below) continue;
    const PlanPoint q = nearest_on(p, s.a, s.b);
    const double d = distance(p, q);
    if (d - s.radius > looked_at || (out && d - s.radius >= out->distance)) continue;
    const PlanPoint away = d > 1e-9 ? PlanPoint{(p.x - q.x) / d, (p.y - q.y) / d} : PlanPoint{0, 0};
    out = Near{d - s.radius, away, s.what};
  }
  return out;
}

}  // namespace levelrun
