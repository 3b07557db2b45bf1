// The floor that each leg will bear on: bare floor where the leg stands, plus what is laid
// under it.
#pragma once

#include <vector>

#include "checks/floor_surface.h"
#include "checks/flooring.h"
#include "checks/placing.h"

namespace levelrun {

struct LegPlace {
  Index run = 0, unit = 0, leg = 0;    // unit in run.units, leg in PlacedUnit::legs
  const PlacedUnit* placed = nullptr;  // held by the placed runs given
  const LegType* type = nullptr;
  PlanPoint place;
  std::optional<Estimate> bare;  // empty: the floor was not read there
  LaidOver laid;

  std::optional<Estimate> bearing() const;
};

// Room order: runs, units, legs.
std::vector<LegPlace> leg_places(const Room&, const std::vector<std::optional<PlacedRun>>&,
                                 const FloorSurface&);

}  // namespace levelrun
