// How high is each end panel that goes to the floor, front and back?
//
//   back  = worktop underside - bearing floor where its back edge stands
//   front = worktop underside - finished floor where its front edge stands
// (a floor that stops at the front legs is under its front edge and not under its back).
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

std::vector<EndPanelResult> end_panels(const RoomFacts&, const std::vector<GroupResult>& groups);

}  // namespace levelrun
