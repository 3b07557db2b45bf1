// Does each pipe, cable and box fit into the void behind the units that it stands or runs behind?
//
//   void here, void needed: behind_units.h, at the worst place along the service.
// Both kinds of back: a recessed back panel stands void_depth in front of the run's line inside
// the carcass; a standing-off carcass as a whole. One finding for each service and unit: outside
// is a hold, doubtful a query. A service without a known projection or place, one that is moved,
// and one that no unit stands in front of have no verdict; nor has one booked outside its wall
// (left of it, right of it by more than 3 sd, above the ceiling by more than 3 sd), which is asked
// about. Infills, corner posts and end panels have no void.
//
// What must be cut: unit_notches.h. What inside a unit it fouls: service_fouls.h. All parts that a
// service strikes are in `clashes` ("S2 back", "S3 left_side", "S4 drawers", "S5 appliance").
//
// void of a run: the void_depth with which every service behind it passes,
//   needed = void needed − hollow (or proud) there + 1.96 sd of the readings
#pragma once

#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct ServiceVoids {
  std::vector<ServiceResult> services;  // as room.services
  std::vector<RunVoidResult> runs;      // runs on walls that have a level, in room order
  std::vector<Finding> findings;
};

ServiceVoids service_voids(const RoomFacts&, const std::vector<GroupResult>& groups);

}  // namespace levelrun
