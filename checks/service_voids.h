// Does each pipe, cable and box on a wall fit into the void behind the units in front of it?
//
//   void here = void_depth + local hollow of the wall behind the run's line (run_line.h)
//   void needed = projection from the wall to its far face
// Both kinds of back: a recessed back panel stands void_depth in front of the run's line inside
// the carcass; a standing-off carcass as a whole. A service that is moved or that no unit stands
// in front of has no verdict. Its projection is taken as known to 1 mm (a tape on a pipe: common
// practice, no source).
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct ServiceVoids {
  std::vector<ServiceResult> services;  // as room.services
  std::vector<Finding> findings;
};

ServiceVoids service_voids(const RoomFacts&, const std::vector<GroupResult>& groups);

}  // namespace levelrun
