#include "checks/measured_heights.h"

#include "checks/flooring.h"

namespace levelrun {

std::optional<Estimate> height_above_benchmark(const RoomFacts& f, const MeasuredHeight& height,
                                               const Place& place) {
  std::optional<Estimate> from;
  if (height.setup) {
    from = f.levels.planes[*height.setup];
  } else if (const auto at = f.plan.at(place)) {
    // The floor as it was surveyed: the bare floor with the layers still on it.
    from = f.floor.estimates({&*at, 1})[0];
    if (from)
      from->value += thickness_of(f.room, stripped_underfoot(f.room, {}, f.floor.area_at(*at)));
  }
  if (from) from->value += height.value;
  return from;
}

}  // namespace levelrun
