#include "app/drawing/wall_routes.h"

#include <cmath>
#include <optional>
#include <utility>

#include "app/drawing/elevation_view.h"

namespace levelrun {
namespace {

// mm out of the wall: what is further off goes through the room. Our choice, twice a soil pipe.
constexpr double on_wall_within = 220;

class RoutesOnWall {
 public:
  RoutesOnWall(const Room& room, const RoomToDraw& drawn, Index wall, double floor)
      : room_(room), drawn_(drawn), w_(wall), floor_(floor) {}

  void add(const Service& s, std::vector<WallRoute>& out) const {
    if (s.route.empty() && !s.connects_at) return;
    std::vector<RoutePoint> points;
    if (s.height) points.push_back({s.place, *s.height});
    points.insert(points.end(), s.route.begin(), s.route.end());
    if (s.connects_at) points.push_back(*s.connects_at);
    WallRoute way;
    const auto end = [&] {
      if (way.size() > 1) out.push_back(std::move(way));
      way = {};
    };
    for (Index i = 0; i < points.size(); ++i) {
      const auto here = bend(points[i]);
      if (!here) {
        end();
        continue;
      }
      if (i > 0 && way.empty())
        if (const auto corner = corner_between(*here, points[i - 1])) way.push_back(*corner);
      way.push_back(*here);
      if (i + 1 < points.size() && !bend(points[i + 1]))
        if (const auto corner = corner_between(*here, points[i + 1])) way.push_back(*corner);
    }
    end();
  }

 private:
  double height_of(const RoutePoint& p) const { return above_floor(p.height, drawn_, floor_); }

  std::optional<PlanPoint> bend(const RoutePoint& point) const {
    const Place& place = point.place;
    if (place.wall && *place.wall != w_) return std::nullopt;
    if (place.wall) return PlanPoint{place.along, height_of(point)};
    if (drawn_.guessed) return std::nullopt;
    const WallLine& line = drawn_.walls[w_];
    const double x = place.x - line.from.x, y = place.y - line.from.y;
    const double along = x * line.along.x + y * line.along.y;
    const double out = x * line.out.x + y * line.out.y;
    if (along < 0 || along > line.length || std::abs(out) > on_wall_within) return std::nullopt;
    return PlanPoint{along, height_of(point)};
  }

  std::optional<PlanPoint> corner_between(PlanPoint here, const RoutePoint& there) const {
    if (!there.place.wall) return std::nullopt;
    const Index other = *there.place.wall;
    const bool at_right = room_.walls[w_].to == room_.walls[other].from;
    if (!at_right && room_.walls[w_].from != room_.walls[other].to) return std::nullopt;
    PlanPoint corner{at_right ? drawn_.walls[w_].length : 0, here.y};
    const double first = std::abs(corner.x - here.x);
    const double then = std::abs(there.place.along - (at_right ? 0 : drawn_.walls[other].length));
    if (first + then > 0) corner.y += (height_of(there) - here.y) * first / (first + then);
    return corner;
  }

  const Room& room_;
  const RoomToDraw& drawn_;
  Index w_;
  double floor_;
};

}  // namespace

std::vector<WallRoute> routes_on_wall(const Room& room, const RoomToDraw& drawn, Index wall,
                                      double floor) {
  std::vector<WallRoute> out;
  if (wall >= drawn.walls.size()) return out;
  const RoutesOnWall on_wall(room, drawn, wall, floor);
  for (const Service& service : room.services) on_wall.add(service, out);
  return out;
}

}  // namespace levelrun
