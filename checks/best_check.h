// Which one more diagonal would check what nothing checks yet?
//
// For every pair of corners that see each other: were it measured (with the sd of the room's
// first length), each unchecked reading would gain redundancy
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
  double detectable = 0;   // mm; what would then show in all of them
};

struct ToCheck {
  Index reading = 0;
  double mm = 1;  // what one unit of it (a degree, say) is in mm
};

// unchecked: not empty. Empty: no diagonal inside the room would tell anything, or the
// room has more than 60 corners. The net must be solved.
std::optional<BestCheck> best_check(const RoomNet&, std::span<const ToCheck> unchecked);

}  // namespace levelrun
