// What would let a level group stand after all: each way computed, none recommended blindly.
//
//   leg type     other leg types of the job at the units whose legs end first
//   plinth height  another stocked board that is neither cut nor short
//   split        one step in level, at the joint that needs the smallest
//   compound     levelling compound under the legs that cannot reach: depth, area, up to where
//   move underside  U itself, with the client's consent, when it is set
// Sought when the hard bounds conflict; the plinth height also when a board would be cut or is
// short.
#pragma once

#include "checks/datum.h"

namespace levelrun {

std::vector<WayOut> ways_out(const RoomFacts&, const LevelGroupFacts&, const GroupResult&);

}  // namespace levelrun
