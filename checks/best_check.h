// Which one more diagonal would check what nothing checks yet?
//
// For every pair of corners that see each other: were it measured (with the sd of the first
// reading to be checked), each unchecked reading would gain redundancy
//   r = 1 - (var - cov² / (var of the diagonal + sd²)) / sd²,
// and its smallest detectable error falls to 4.13 sd / sqrt(r). The best diagonal leaves the
// least of the greatest. No measurement is needed to know this: only where things are.
#pragma once

#include <optional>
#include <span>

#include "checks/room_net.h"

namespace levelrun {

struct BestCheck {
  Index from = 0, to = 0;  // corners
  double detectable = 0;   // mm (degrees for an angle): what would then show in all of them
};

// unchecked: readings, not empty. Empty: no diagonal inside the room would tell anything. The net
// must be solved.
std::optional<BestCheck> best_check(const RoomNet&, std::span<const Index> unchecked);

}  // namespace levelrun
