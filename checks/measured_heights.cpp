#include "checks/measured_heights.h"

namespace levelrun {

std::optional<double> surveyed_floor(const RoomFacts& f, PlanPoint at) {
  const auto bare = f.floor.heights({&at, 1})[0];
  if (!bare) return std::nullopt;
  return *bare + thickness_of(f.room, stripped_underfoot(f.room, {}, f.floor.area_at(at)));
}

std::optional<double> height_above_benchmark(const RoomFacts& f, const MeasuredHeight& height,
                                             const Place& place) {
  if (height.setup) {
    const auto& plane = f.levels.planes[*height.setup];
    return plane ? std::optional(plane->value + height.value) : std::nullopt;
  }
  const auto at = f.plan.at(place);
  const auto floor = at ? surveyed_floor(f, *at) : std::nullopt;
  return floor ? std::optional(*floor + height.value) : std::nullopt;
}

}  // namespace levelrun
