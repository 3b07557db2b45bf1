#include "checks/behind_units.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "checks/measured_heights.h"

namespace levelrun {
namespace {

constexpr double projection_sd = 1;   // mm; common practice, no source
constexpr double pipe_diameter = 22;  // mm, where none is booked; common practice, no source
constexpr double point_width = 1e-3;  // mm: a service of no width at a joint is behind both units

bool pipe_like(const Service& service) {
  switch (service.kind) {
    case ServiceKind::cold_water:
    case ServiceKind::hot_water:
    case ServiceKind::waste:
    case ServiceKind::soil_stack:
    case ServiceKind::gas:
    case ServiceKind::duct:
      return true;
    default:
      return service.diameter.has_value();
  }
}

double between(double a, double b, double t) { return a + (b - a) * t; }

// Both ends of a stretch, its middle, and the readings on it.
std::vector<double> looked_at(double from, double to, const std::vector<WallOffset>& offsets,
                              double WallOffset::*coordinate) {
  std::vector<double> out{from, (from + to) / 2, to};
  for (const WallOffset& offset : offsets)
    if (offset.*coordinate > from && offset.*coordinate < to) out.push_back(offset.*coordinate);
  return out;
}

}  // namespace

struct BehindUnits::Point {
  double along = 0, height = 0;
  double over_floor = 0;  // its height as the wall's readings count it
  double out = 0;
  double sd = 0;         // of out
  bool at_face = false;  // no out: its projection from the face counts
};

struct BehindUnits::Stretch {
  Point a, b;
  double half_width = 0, half_height = 0, half_depth = 0;
  bool routed = false;
  double place_sd = 0;
};

struct BehindUnits::Reach {
  Unknown needed;
  Estimate here;
  std::optional<double> hollow;
  bool from_line = false;
};

// The part of a stretch, 0 to 1 from a to b, that lies before a rectangle of the wall.
struct BehindUnits::Clip {
  double from = 0, to = 1;

  // Keeps where a number, f at a and g at b, is positive.
  void keep(double f, double g) {
    if (f > 0 && g > 0) return;
    if (f <= 0 && g <= 0)
      to = -1;
    else if (f > 0)
      to = std::min(to, f / (f - g));
    else
      from = std::max(from, f / (f - g));
  }
  Clip(const Stretch& s, double left, double right, double low, double high) {
    keep(s.a.along + s.half_width - left, s.b.along + s.half_width - left);
    keep(right - s.a.along + s.half_width, right - s.b.along + s.half_width);
    keep(s.a.height + s.half_height - low, s.b.height + s.half_height - low);
    keep(high - s.a.height + s.half_height, high - s.b.height + s.half_height);
  }
  bool any() const { return from < to; }
};

BehindUnits::BehindUnits(const RoomFacts& f, const std::vector<GroupResult>& groups) : f_(f) {
  for (Index r = 0; r < f.runs.size(); ++r) {
    const Run& run = f.room.runs[r];
    lines_.emplace_back();
    if (!f.runs[r] || !run.wall) continue;
    const auto group = std::find_if(groups.begin(), groups.end(),
                                    [&](const GroupResult& g) { return g.id == run.level_group; });
    if (group == groups.end()) continue;
    lines_.back().emplace(f.survey, f.room.walls[*run.wall], run.from_along,
                          run.from_along + f.runs[r]->length, height_in_use(run));
    const Furniture& ours = run.furniture;
    for (const PlacedUnit& placed : f.runs[r]->units) {
      const Unit& facts = run.units[placed.unit];
      if (facts.kind == UnitKind::space) continue;
      BackedUnit unit;
      unit.run = r;
      unit.unit = placed.unit;
      unit.left = run.from_along + placed.left;
      unit.right = run.from_along + placed.right;
      unit.underside = group->underside + placed.offset;
      unit.top = group->underside + placed.top_offset;
      unit.lowest = unit.underside - (facts.kind == UnitKind::end_panel ? ours.plinth.height : 0);
      const bool wall_unit = facts.kind == UnitKind::wall;
      unit.void_depth =
          wall_unit ? ours.wall_unit.void_depth.value_or(ours.void_depth) : ours.void_depth;
      unit.back_thickness = wall_unit ? ours.wall_unit.back_thickness.value_or(ours.back_thickness)
                                      : ours.back_thickness;
      unit.sides = placed.back;
      unit.front = placed.front;
      units_.push_back(unit);
    }
  }
}

const Unit& BehindUnits::facts(Index unit) const {
  return f_.room.runs[units_[unit].run].units[units_[unit].unit];
}

const Furniture& BehindUnits::furniture(Index unit) const {
  return f_.room.runs[units_[unit].run].furniture;
}

// A place as seen facing a wall; empty if its height or position is not known.
std::optional<BehindUnits::Point> BehindUnits::point(Index wall, const Place& place,
                                                     const MeasuredHeight& height) const {
  const auto known = height_above_benchmark(f_, height, place);
  const auto at = f_.plan.at(place);
  if (!known || !at || !f_.plan.known) return std::nullopt;
  Point p;
  p.height = known->value;
  p.over_floor = height.value;
  if (height.setup) {
    const auto floor = height_above_benchmark(f_, {}, place);
    p.over_floor = floor ? known->value - floor->value : known->value;
  }
  if (place.wall == wall) {
    p.along = place.along;
    p.out = place.out;
    p.sd = projection_sd;
    p.at_face = place.out == 0;
  } else {
    const WallLine& line = f_.plan.walls[wall];
    const double x = at->x - line.from.x, y = at->y - line.from.y;
    p.along = x * line.along.x + y * line.along.y;
    p.out = x * line.out.x + y * line.out.y;
    p.sd = place.wall ? projection_sd : std::hypot(projection_sd, place.sd);
  }
  return p;
}

void BehindUnits::add_route(std::vector<Stretch>& out, const Service& service, Index wall) const {
  if (service.route.empty() || !pipe_like(service)) return;
  std::vector<RoutePoint> points;
  if (service.height) points.push_back({service.place, *service.height});
  points.insert(points.end(), service.route.begin(), service.route.end());
  if (service.connects_at) points.push_back(*service.connects_at);
  const double radius = service.diameter.value_or(pipe_diameter) / 2;
  const WallLine& line = f_.plan.walls[wall];

  // From `here` on this wall to `there` on a neighbouring one it goes by their corner.
  const auto by_the_corner = [&](Point here, const Place& there, double height) {
    const Wall& ours = f_.room.walls[wall];
    const Wall& theirs = f_.room.walls[*there.wall];
    const bool at_right = ours.to == theirs.from;
    if (!at_right && ours.from != theirs.to) return std::optional<Point>();
    Point corner = here;
    corner.along = at_right ? line.length : 0;
    const double first = std::abs(corner.along - here.along);
    const double then = std::abs(there.along - (at_right ? 0 : f_.plan.walls[*there.wall].length));
    if (first + then > 0) {
      const double rise = (height - here.height) * first / (first + then);
      corner.height += rise;
      corner.over_floor += rise;
    }
    return std::optional(corner);
  };
  for (Index i = 0; i + 1 < points.size(); ++i) {
    const Place& from = points[i].place;
    const Place& to = points[i + 1].place;
    auto a = point(wall, from, points[i].height), b = point(wall, to, points[i + 1].height);
    if (!a || !b) continue;
    const bool a_elsewhere = from.wall && from.wall != wall;
    const bool b_elsewhere = to.wall && to.wall != wall;
    if (a_elsewhere && b_elsewhere) continue;
    if (from.wall == wall && b_elsewhere) {
      if (const auto corner = by_the_corner(*a, to, b->height)) b = corner;
    } else if (to.wall == wall && a_elsewhere) {
      if (const auto corner = by_the_corner(*b, from, a->height)) a = corner;
    }
    out.push_back({*a, *b, radius, radius, radius, true, std::max(from.sd, to.sd)});
  }
}

std::vector<BehindUnits::Stretch> BehindUnits::stretches(Index index, Index wall) const {
  std::vector<Stretch> out;
  const Service& service = f_.room.services[index];
  if (service.height && (!service.place.wall || service.place.wall == wall))
    if (auto own = point(wall, service.place, *service.height)) {
      own->at_face = own->at_face || (service.place.wall && service.projection > 0);
      const double thick = service.diameter.value_or(0) / 2;
      const double wide = service.width ? *service.width / 2 : thick;
      const double tall = service.height_of ? *service.height_of / 2 : thick;
      out.push_back(
          {*own, *own, std::max(wide, point_width), tall, thick, false, service.place.sd});
    }
  add_route(out, service, wall);
  return out;
}

// The worst place of a stretch's part behind a unit.
BehindUnits::Reach BehindUnits::reach(const BackedUnit& unit, const Service& service,
                                      const Stretch& s, const Clip& clip) const {
  const RunLine& line = *lines_[unit.run];
  const Wall& wall = f_.room.walls[*f_.room.runs[unit.run].wall];
  const bool measured = service.projection > 0;
  Reach out;
  out.here.value = unit.void_depth;
  if (s.a.at_face && s.b.at_face) {
    out.here.sd = projection_sd;
    if (measured) out.needed = service.projection;
    const double wide = s.routed ? 0 : s.half_width;
    const auto [left, right] = std::minmax(
        {between(s.a.along, s.b.along, clip.from), between(s.a.along, s.b.along, clip.to)});
    const auto [low, high] = std::minmax({between(s.a.over_floor, s.b.over_floor, clip.from),
                                          between(s.a.over_floor, s.b.over_floor, clip.to)});
    std::optional<Estimate> least;
    for (const double along :
         looked_at(left - wide, right + wide, wall.offsets, &WallOffset::along))
      for (const double height : looked_at(low - s.half_height, high + s.half_height, wall.offsets,
                                           &WallOffset::height)) {
        const auto hollow = line.hollow(along, height);
        if (!hollow) return out;
        if (!least || hollow->value < least->value) least = hollow;
      }
    out.hollow = least->value;
    out.here.value += least->value;
    out.here.sd = std::hypot(projection_sd, least->sd);
    return out;
  }
  const auto proud = line.proudest();
  out.from_line = true;
  if (proud) out.hollow = proud->value;
  out.here.value += proud ? proud->value : 0;
  out.here.sd = std::hypot(proud ? proud->sd : 0, std::max(s.a.sd, s.b.sd));
  const auto far = [&](const Point& p) -> Unknown {
    if (!p.at_face) return p.out + s.half_depth;
    if (!measured) return std::nullopt;
    const auto hollow = line.hollow(p.along, p.over_floor);
    return service.projection + (hollow && proud ? proud->value - hollow->value : 0);
  };
  const Unknown a = far(s.a), b = far(s.b);
  if (a && b) out.needed = std::max(between(*a, *b, clip.from), between(*a, *b, clip.to));
  return out;
}

void BehindUnits::add_pass(std::vector<UnitPass>& out, Index index, const Service& service,
                           const Stretch& s) const {
  const BackedUnit& unit = units_[index];
  Clip clip(s, unit.left, unit.right, unit.lowest, unit.top);
  const auto proud = lines_[unit.run]->proudest();
  const double line = proud ? proud->value : 0;
  // What stands in the room in front of the unit, or behind the wall, does not pass it.
  const auto in_front = [&](const Point& p) {
    return p.at_face ? 1 : line + unit.front - p.out + s.half_depth;
  };
  const auto in_room = [&](const Point& p) { return p.at_face ? 1 : p.out + s.half_depth; };
  clip.keep(in_front(s.a), in_front(s.b));
  clip.keep(in_room(s.a), in_room(s.b));
  if (!clip.any()) return;

  const Reach worst = reach(unit, service, s, clip);
  UnitPass pass;
  pass.unit = index;
  pass.routed = s.routed;
  pass.needed = worst.needed;
  pass.here = worst.here;
  pass.hollow = worst.hollow;
  pass.from_line = worst.from_line;
  pass.place_sd = s.place_sd;
  const auto [left, right] = std::minmax(
      {between(s.a.along, s.b.along, clip.from), between(s.a.along, s.b.along, clip.to)});
  pass.left = std::max(left - s.half_width - unit.left, 0.0);
  pass.right = std::min(right + s.half_width - unit.left, unit.right - unit.left);
  const auto heights = [&](const Clip& part) {
    const auto [low, high] = std::minmax(
        {between(s.a.height, s.b.height, part.from), between(s.a.height, s.b.height, part.to)});
    return std::pair(low - s.half_height - unit.underside, high + s.half_height - unit.underside);
  };
  std::tie(pass.low, pass.high) = heights(clip);
  if (!s.a.at_face && !s.b.at_face)
    pass.nearest =
        std::min(between(s.a.out, s.b.out, clip.from), between(s.a.out, s.b.out, clip.to)) -
        s.half_depth;
  const auto side = [&](double from, double to) -> std::optional<SideCrossing> {
    Clip part(s, from, to, unit.lowest, unit.top);
    part.keep(in_front(s.a), in_front(s.b));
    part.keep(in_room(s.a), in_room(s.b));
    if (!part.any()) return std::nullopt;
    const Reach there = reach(unit, service, s, part);
    if (!there.needed) return std::nullopt;
    const auto [low, high] = heights(part);
    return SideCrossing{low, high, *there.needed - there.here.value + unit.void_depth};
  };
  pass.left_side = side(unit.left, unit.left + side_thickness);
  pass.right_side = side(unit.right - side_thickness, unit.right);
  out.push_back(pass);
}

void BehindUnits::add_zone(std::string& zone, Index index, const Stretch& s) const {
  const BackedUnit& unit = units_[index];
  if (s.a.along + s.half_width <= unit.left || s.a.along - s.half_width >= unit.right) return;
  if (s.a.height + s.half_height <= unit.lowest) {
    if (zone.empty()) zone = "below the underside";
  } else if (s.a.height - s.half_height >= unit.top) {
    if (zone.empty()) zone = "above the units";
  } else {
    zone = facts(index).kind == UnitKind::wall ? "behind a wall unit" : "behind a unit";
  }
}

ServicePasses BehindUnits::of(Index index) const {
  ServicePasses out;
  const Service& service = f_.room.services[index];
  const bool moved = service.action == ServiceAction::move;
  std::vector<std::optional<std::vector<Stretch>>> on_wall(f_.room.walls.size());
  for (const bool routed : {false, true})
    for (Index u = 0; u < units_.size() && !(routed && moved); ++u) {
      const Index wall = *f_.room.runs[units_[u].run].wall;
      if (!on_wall[wall]) on_wall[wall] = stretches(index, wall);
      for (const Stretch& s : *on_wall[wall]) {
        if (s.routed != routed) continue;
        if (!routed && service.place.wall) add_zone(out.height_zone, u, s);
        add_pass(out.passes, u, service, s);
      }
    }
  if (moved)
    for (UnitPass& pass : out.passes) pass.needed.reset();
  return out;
}

}  // namespace levelrun
