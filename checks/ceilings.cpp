#include "checks/ceilings.h"

#include <cmath>
#include <vector>

#include "checks/flooring.h"
#include "checks/measured_heights.h"

namespace levelrun {
namespace {

constexpr double ceiling_near = 1500;  // mm; common practice, no source
constexpr double unevenness = 3;       // mm, sd of a ceiling between readings; the same
constexpr double tape_sd = 2;          // mm: no instrument named

}  // namespace

std::optional<Estimate> ceiling_over(const RoomFacts& f, PlanPoint p) {
  std::optional<Estimate> near, lowest;
  for (const CeilingReading& reading : f.room.ceilings) {
    auto height = height_above_benchmark(f, reading.height, reading.place);
    if (!height) continue;
    const double sd = reading.instrument ? f.survey.instruments[*reading.instrument].sd : tape_sd;
    height->sd = std::hypot(height->sd, sd, unevenness);
    const auto at = f.plan.at(reading.place);
    if (at && std::hypot(at->x - p.x, at->y - p.y) <= ceiling_near &&
        (!near || height->value < near->value))
      near = height;
    if (!lowest || height->value < lowest->value) lowest = height;
  }
  return near ? near : lowest;
}

std::optional<Estimate> finished_floor_at(const RoomFacts& f, const PlacedRun& run,
                                          const PlacedUnit& unit) {
  std::vector<PlanPoint> places;
  for (const double v : {unit.front, 2 * unit.front - unit.back})
    for (const double u : {unit.left, (unit.left + unit.right) / 2, unit.right})
      places.push_back(run.frame.at(u, v));
  const auto bare = f.floor.estimates(places);
  std::optional<Estimate> out;
  for (Index i = 0; i < places.size(); ++i) {
    if (!bare[i]) continue;
    const Estimate laid =
        laid_over_bare(f.room, Floor::finished, f.floor.area_at(places[i])).thickness;
    if (!out || bare[i]->value + laid.value > out->value)
      out = Estimate{bare[i]->value + laid.value, std::hypot(bare[i]->sd, laid.sd)};
  }
  return out;
}

}  // namespace levelrun
