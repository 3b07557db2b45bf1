// The floor came out otherwise than planned: would another U be better, and what would it change?
//
//   proposed U = U as released + (finished floor today - finished floor as planned), where the
//                worktop's height is asked
// which restores the worktop's height above the floor, kept within today's hard bounds (legs,
// niches, sills, ceiling). Only proposed: a released U stays until somebody moves it (`released`
// then keeps where it was). A group without a set U needs none, for its U follows the floor. No
// proposal when it would move U by less than `worth_moving`.
#pragma once

#include <vector>

#include "checks/group_bounds.h"

namespace levelrun {

inline constexpr double worth_moving = 0.5;  // mm; common practice, no source

// today: the room's facts with the floor as laid; as_planned: the survey before that, whose facts
// differ in flooring.laid only. groups: today's results. In the order of the groups.
std::vector<UndersideProposal> underside_proposals(const Survey& as_planned, const RoomFacts& today,
                                                   const std::vector<GroupResult>& groups);

}  // namespace levelrun
