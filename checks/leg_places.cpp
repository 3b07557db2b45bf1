#include "checks/leg_places.h"

#include <cmath>

namespace levelrun {

std::optional<Estimate> LegPlace::bearing() const {
  if (!bare) return std::nullopt;
  return Estimate{bare->value + laid.thickness.value, std::hypot(bare->sd, laid.thickness.sd)};
}

std::vector<LegPlace> leg_places(const Room& room,
                                 const std::vector<std::optional<PlacedRun>>& runs,
                                 const FloorSurface& floor) {
  std::vector<LegPlace> out;
  std::vector<PlanPoint> places;
  for (Index r = 0; r < runs.size(); ++r) {
    if (!runs[r]) continue;
    for (const PlacedUnit& unit : runs[r]->units) {
      if (!unit.leg_type) continue;
      for (Index k = 0; k < unit.legs.size(); ++k) {
        LegPlace leg;
        leg.run = r;
        leg.unit = unit.unit;
        leg.leg = k;
        leg.placed = &unit;
        leg.type = &room.runs[r].furniture.legs[*unit.leg_type];
        leg.place = unit.legs[k].place;
        places.push_back(leg.place);
        out.push_back(std::move(leg));
      }
    }
  }
  const auto bare = floor.estimates(places);
  for (Index i = 0; i < out.size(); ++i) {
    out[i].bare = bare[i];
    out[i].laid = laid_over_bare(room, Floor::bearing, floor.area_at(places[i]));
  }
  return out;
}

}  // namespace levelrun
