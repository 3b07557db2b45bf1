// What inside a unit does a service stand in the way of?
//
//   drawers  a service that stands past the back panel of a unit with drawers: the boxes run back
//            to the panel (what they stop short of it is the maker's and is not credited)
//   sink     the same behind a sink, in the top 200 mm of the carcass, where the bowl hangs
//            (common practice, no source). Water and waste are excepted: tap and trap end there.
// Reach against void + back_thickness: outside is a hold, doubtful a query. A built-in appliance
// takes the whole depth of its place, so there the void itself counts (service_voids.h).
#pragma once

#include <string>
#include <vector>

#include "checks/behind_units.h"

namespace levelrun {

struct ServiceFouls {
  std::vector<std::string> clashes;  // "U4 drawers", "U2 sink"
  std::vector<Finding> findings;
};

ServiceFouls service_fouls(const RoomFacts&, Index service, const BehindUnits&,
                           const std::vector<UnitPass>&);

}  // namespace levelrun
