// What a person must know of a level group's datum.
#pragma once

#include "checks/group_bounds.h"

namespace levelrun {

// id = the group's.
std::vector<Finding> group_findings(const RoomFacts&, const LevelGroupFacts&, const GroupResult&);

}  // namespace levelrun
