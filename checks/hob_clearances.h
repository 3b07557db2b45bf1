// Does what stands over and beside a gas hob keep the published distances?
//
//   above    underside of a wall unit over the hob's unit - worktop top
//   beside   the same for a wall unit that stands closer sideways than published
//   tall     hob's unit to the next tall unit, or side wall with its finishes to come
// The hob lies somewhere in its unit, so sideways this is the least it can be. Severities as in
// service_clearances.h; in a room where no gas pipe is recorded entries have no verdict and
// findings are notes, for the hob may be electric. Not looked at: the rear wall (the hob's own
// depth is not surveyed), and anything further than 300 sideways.
#pragma once

#include <vector>

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

bool houses_hob(const Unit&);  // a cooker has one too

Clearances hob_clearances(const RoomFacts&, const std::vector<GroupResult>&);

}  // namespace levelrun
