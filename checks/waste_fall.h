// Does a waste pipe fall enough, and not too much, along its route, and is it short enough?
//
// The route runs from the waste's own place and height through its route to where it connects.
// available = drop / length along it, in mm/m. Published range and longest unventilated length by
// bore (assets/published); a bore that no row gives has a fall and no verdict.
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct WasteFall {
  std::optional<FallResult> fall;
  std::vector<Finding> findings;
};

WasteFall waste_fall(const RoomFacts&, Index service);

}  // namespace levelrun
