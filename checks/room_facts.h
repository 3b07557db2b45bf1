// What the checks on a room have in common: the survey and all that was worked out of it so far.
#pragma once

#include <optional>
#include <vector>

#include "checks/floor_surface.h"
#include "checks/leg_places.h"
#include "checks/placing.h"
#include "checks/plinth_faces.h"
#include "checks/room_levels.h"
#include "checks/room_plan.h"

namespace levelrun {

// Views: whoever holds it keeps alive what it refers to.
struct RoomFacts {
  const Survey& survey;
  Index index = 0;
  const Room& room;
  const RoomPlan& plan;
  const RoomLevels& levels;
  const FloorSurface& floor;
  const std::vector<std::optional<PlacedRun>>& runs;
  const std::vector<LegPlace>& legs;
  const std::vector<PlinthPiece>& plinths;
};

}  // namespace levelrun
