#include "checks/on_wall.h"

#include <algorithm>
#include <cmath>

#include "checks/measured_heights.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double tape_sd = 2;  // mm, of a height taken by tape: what a tape has by default

double tenth(double value) { return std::round(value * 10) / 10; }

}  // namespace

std::vector<UnitOnWall> units_on_wall(const RoomFacts& f, const std::vector<GroupResult>& groups,
                                      Index wall) {
  std::vector<UnitOnWall> out;
  for (Index r = 0; r < f.runs.size(); ++r) {
    const Run& run = f.room.runs[r];
    if (!f.runs[r] || run.wall != wall) continue;
    const auto group = std::find_if(groups.begin(), groups.end(),
                                    [&](const GroupResult& g) { return g.id == run.level_group; });
    for (const PlacedUnit& placed : f.runs[r]->units) {
      UnitOnWall unit{
          r, placed.unit, run.from_along + placed.left, run.from_along + placed.right, {}, {}, {}};
      if (group != groups.end()) {
        unit.underside = group->underside + placed.offset;
        unit.top = group->underside + placed.top_offset;
        unit.worktop = group->underside + f.runs[r]->frame.offset + run.furniture.base_height +
                       run.furniture.worktop.thickness;
      }
      out.push_back(unit);
    }
  }
  return out;
}

std::optional<ServiceOnWall> service_on_wall(const RoomFacts& f, Index index) {
  const Service& service = f.room.services[index];
  if (!service.place.wall) return std::nullopt;
  const bool pipe = service.diameter.has_value();
  const double half = service.width.value_or(pipe ? *service.diameter : single_plate) / 2;
  ServiceOnWall out{
      service.place.along - half, service.place.along + half, service.place.sd, {}, {}};
  if (service.height) out.middle = height_above_benchmark(f, *service.height, service.place);
  if (out.middle) out.middle->sd = std::hypot(out.middle->sd, tape_sd);
  if (service.height_of)
    out.half_height = *service.height_of / 2;
  else if (pipe)
    out.half_height = *service.diameter / 2;
  return out;
}

std::vector<UnitOnWall> units_before(const Room& room, const ServiceOnWall& service,
                                     const std::vector<UnitOnWall>& units) {
  std::vector<UnitOnWall> out;
  if (!service.middle) return out;
  const double half = service.half_height.value_or(0);
  for (const UnitOnWall& unit : units) {
    if (unit.facts(room).kind == UnitKind::space || !unit.underside) continue;
    if (overlap(service.left, service.right, unit.left, unit.right) > 0 &&
        service.middle->value + half > *unit.underside && service.middle->value - half < *unit.top)
      out.push_back(unit);
  }
  return out;
}

double overlap(double left_a, double right_a, double left_b, double right_b) {
  return std::min(right_a, right_b) - std::max(left_a, left_b);
}

std::string difference_sum(double result, const std::vector<double>& taken_off) {
  double first = tenth(result);
  std::string rest;
  for (const double value : taken_off) {
    first += tenth(value);
    rest += " − " + term(value);
  }
  return decimal(first) + rest + " = " + decimal(result);
}

}  // namespace levelrun
