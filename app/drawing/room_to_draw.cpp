#include "app/drawing/room_to_draw.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "checks/floor_surface.h"
#include "checks/flooring.h"
#include "checks/outline.h"
#include "checks/room_levels.h"

namespace levelrun {
namespace {

constexpr double at_foot = 100;           // mm out: where a wall's floor is meant
constexpr double unmeasured_wall = 2500;  // mm: drawn this long until somebody knows
constexpr double least_step = 100;        // mm between grid points
constexpr double most_points_across = 48;
// Along a step between floor areas, mm: how closely it is looked at, and how far beside it.
constexpr double step_apart = 50, beside_step = 30;
constexpr int most_step_parts = 400;

// Booked or guessed lengths walked round at the nominal angles; what does not close is shared out
// among the walls that were not measured, else among all.
std::vector<PlanPoint> guessed_outline(const Room& room) {
  const Index n = room.corners.size();
  std::vector<Index> wall_from(n, 0);
  for (Index w = 0; w < room.walls.size(); ++w)
    if (room.walls[w].from < n) wall_from[room.walls[w].from] = w;
  std::vector<double> length(n), dx(n), dy(n);
  std::vector<bool> measured(n);
  double bearing = 0;
  bool any_open = false;
  for (Index c = 0; c < n; ++c) {
    const Wall& wall = room.walls[wall_from[c]];
    measured[c] = !wall.lengths.empty();
    any_open = any_open || !measured[c];
    length[c] = measured[c] ? wall.lengths[0].length : wall.rough.value_or(unmeasured_wall);
    dx[c] = std::cos(bearing);
    dy[c] = std::sin(bearing);
    bearing -= (180 - room.corners[(c + 1) % n].angle) * std::numbers::pi / 180;
  }
  // Least change of the free lengths that closes: two equations, so two multipliers.
  double ex = 0, ey = 0, a = 0, b = 0, d = 0;
  for (Index c = 0; c < n; ++c) {
    ex += length[c] * dx[c];
    ey += length[c] * dy[c];
    if (any_open && measured[c]) continue;
    a += dx[c] * dx[c];
    b += dx[c] * dy[c];
    d += dy[c] * dy[c];
  }
  const double determinant = a * d - b * b;
  if (std::abs(determinant) > 1e-9) {
    const double p = (d * ex - b * ey) / determinant, q = (a * ey - b * ex) / determinant;
    for (Index c = 0; c < n; ++c)
      if (!any_open || !measured[c]) length[c] = std::max(100.0, length[c] - p * dx[c] - q * dy[c]);
  }
  std::vector<PlanPoint> out(n);
  double x = 0, y = 0;
  for (Index c = 0; c < n; ++c) {
    out[c] = {x, y};
    x += length[c] * dx[c];
    y += length[c] * dy[c];
  }
  return out;
}

std::vector<WallLine> lines_along(const Room& room, const std::vector<PlanPoint>& corners) {
  std::vector<WallLine> out;
  for (const Wall& wall : room.walls) {
    WallLine line{corners[wall.from], corners[wall.to], {1, 0}, {0, -1}, 0, 0};
    line.length = distance(line.from, line.to);
    if (line.length > 0)
      line.along = {(line.to.x - line.from.x) / line.length,
                    (line.to.y - line.from.y) / line.length};
    line.out = {line.along.y, -line.along.x};
    out.push_back(line);
  }
  return out;
}

HeightGrid floor_grid(const FloorSurface& floor, const std::vector<PlanPoint>& outline,
                      bool several_areas) {
  HeightGrid g;
  if (outline.size() < 3) return g;
  double x0 = 1e300, x1 = -1e300, y0 = 1e300, y1 = -1e300;
  for (const PlanPoint& p : outline) {
    x0 = std::min(x0, p.x), x1 = std::max(x1, p.x);
    y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
  }
  g.step = std::max(least_step, std::max(x1 - x0, y1 - y0) / most_points_across);
  g.x = x0;
  g.y = y0;
  g.nx = std::size_t((x1 - x0) / g.step) + 2;
  g.ny = std::size_t((y1 - y0) / g.step) + 2;
  std::vector<PlanPoint> places;
  std::vector<std::size_t> index;
  for (std::size_t k = 0; k < g.ny; ++k)
    for (std::size_t i = 0; i < g.nx; ++i)
      if (distance_outside(outline, g.at(i, k)) <= g.step) {
        places.push_back(g.at(i, k));
        index.push_back(g.index(i, k));
      }
  g.height.resize(g.nx * g.ny);
  g.sd.resize(g.nx * g.ny);
  const auto estimates = floor.estimates(places);
  for (std::size_t i = 0; i < places.size(); ++i)
    if (estimates[i]) {
      g.height[index[i]] = estimates[i]->value;
      g.sd[index[i]] = estimates[i]->sd;
    }
  for (std::size_t k = 0; several_areas && k < g.ny; ++k)
    for (std::size_t i = 0; i < g.nx; ++i) g.area.push_back(floor.area_at(g.at(i, k)));
  return g;
}

// Along every edge of the floor areas' outlines, wherever another area lies on its other side. An
// edge that both areas have is taken from the first.
std::vector<RoomToDraw::Step> floor_steps(const Room& room, const RoomPlan& plan,
                                          const FloorSurface& floor,
                                          const std::vector<PlanPoint>& outline) {
  std::vector<RoomToDraw::Step> out;
  for (Index area = 0; area < room.floor_areas.size(); ++area) {
    std::vector<PlanPoint> edge;
    for (const Place& place : room.floor_areas[area].outline)
      if (const auto p = plan.at(place)) edge.push_back(*p);
    for (std::size_t e = 0; e < edge.size(); ++e) {
      const PlanPoint a = edge[e], b = edge[(e + 1) % edge.size()];
      const double length = distance(a, b);
      const int parts = std::clamp(int(length / step_apart), 1, most_step_parts);
      const PlanPoint left{-(b.y - a.y) / length * beside_step, (b.x - a.x) / length * beside_step};
      const auto at = [&](double t) {
        return PlanPoint{a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
      };
      const auto sides = [&](double t) {
        const PlanPoint p = at(t);
        return std::array{PlanPoint{p.x + left.x, p.y + left.y},
                          PlanPoint{p.x - left.x, p.y - left.y}};
      };
      const auto meets = [&](double t) {
        const auto s = sides(t);
        if (!inside(outline, s[0]) || !inside(outline, s[1])) return false;
        const Index one = floor.area_at(s[0]), other = floor.area_at(s[1]);
        return one != other && std::min(one, other) == area;
      };
      for (int n = 0; n < parts; ++n) {
        const int first = n;
        while (n < parts && meets((n + 0.5) / parts)) ++n;
        if (n == first) continue;
        const auto heights = floor.heights(sides((first + n) / 2.0 / parts));
        if (heights[0] && heights[1])
          out.push_back(
              {at(double(first) / parts), at(double(n) / parts), *heights[0] - *heights[1]});
      }
    }
  }
  return out;
}

}  // namespace

RoomToDraw room_to_draw(const Survey& survey, Index index) {
  const Room& room = survey.rooms[index];
  RoomToDraw out;
  out.room = index;
  out.plan = adjust_room(survey, index);
  out.guessed = !out.plan.known;
  const bool closed = room.corners.size() >= 3 && room.walls.size() == room.corners.size();
  if (out.plan.known)
    out.corners = out.plan.corners;
  else if (closed)
    out.corners = guessed_outline(room);
  if (closed || out.plan.known) out.walls = lines_along(room, out.corners);
  // While the plan is a guess, places on walls stand along it, so that there is something to tap.
  RoomPlan drawn = out.plan;
  if (out.guessed && !out.walls.empty()) {
    drawn.known = true;
    drawn.corners = out.corners;
    drawn.walls = out.walls;
  }
  out.runs = placed_runs(survey, index, drawn);
  const RoomLevels levels = adjust_room_levels(survey, index);
  const FloorSurface floor(survey, index, drawn, levels);
  std::vector<bool> booked(room.levels.points.size());
  for (const SetUp& setup : room.levels.setups)
    for (const StaffReading& reading : setup.readings) booked[reading.point] = true;
  for (Index p = 0; p < room.levels.points.size(); ++p) {
    const LevelPoint& point = room.levels.points[p];
    RoomToDraw::Point one;
    if (point.place) one.at = drawn.at(*point.place);
    one.booked = booked[p];
    one.height = levels.points[p];
    if (one.at && !point.off_floor)
      one.stripped = thickness_of(
          room, stripped_underfoot(room, point, point.area.value_or(floor.area_at(*one.at))));
    out.points.push_back(one);
  }
  for (const WallLine& wall : out.walls) {
    const PlanPoint foot{(wall.from.x + wall.to.x) / 2 + wall.out.x * at_foot,
                         (wall.from.y + wall.to.y) / 2 + wall.out.y * at_foot};
    out.stripped.push_back(thickness_of(room, stripped_underfoot(room, {}, floor.area_at(foot))));
  }
  out.planes = levels.planes;
  out.floor = floor_grid(floor, out.corners, room.floor_areas.size() > 1);
  if (room.floor_areas.size() > 1) out.steps = floor_steps(room, drawn, floor, out.corners);
  return out;
}

}  // namespace levelrun
