// What room does each unit take in the plan, with all that sticks out of it?
//
// In front: the front's thickness and then the handle or, over base units and appliances, the
// worktop's overhang, whichever reaches further. At an open end of a run the worktop overhangs
// sideways as it does in front (common practice, no source). Behind a run that stands free: what
// its worktop's depth leaves after that. A `space` takes none. mm; in document order.
#pragma once

#include <array>
#include <vector>

#include "checks/room_facts.h"

namespace levelrun {

struct Footprint {
  Index run = 0, unit = 0;  // into f.runs and its units
  double front = 0;         // v of whatever reaches furthest
  std::array<PlanPoint, 4> outline;
};

std::vector<Footprint> footprints(const RoomFacts&);

// How well a distance across the room is known: the greatest length_sd of the walls within 30
// degrees of `direction` (a unit vector), of all walls if there is none. 0 without a plan.
double plan_sd(const RoomFacts&, PlanPoint direction);

// mm; how well a run that stands free is set out from the plan: common practice, no source.
inline constexpr double setting_out_sd = 5;
// mm; of an opening's place and size, which name no instrument: the file's default tape.
inline constexpr double opening_sd = 2;

}  // namespace levelrun
