// What was booked that cannot be so, or left out, and that no other check asks about?
//
// Units that stand on legs while the job names no leg type; floor points with a place but no
// reading; floor points outside the room by more than their place can be wrong.
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

std::vector<Finding> survey_gaps(const RoomFacts&);

}  // namespace levelrun
