// How far is each corner out of square where furniture stands, and at what angle do worktops
// meet there?
//
//   out of square at a depth = depth * tan(adjusted angle - nominal angle), + = the corner opens
// told at worktop depth, against the job's tolerance table with its band, and at unit depth.
// joint_angle: the adjusted interior angle, which the worktops' backs make; mitre: half of it,
// between a back and the joint. Both bear the corner's sd_angle, a mitre half of it.
// Degrees and mm; what the plan does not know stays empty.
#pragma once

#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

// The corners as the room plan gives them (room_plan.h), out of square at worktop depth.
void judge_corners(const Survey&, std::vector<CornerResult>&);

}  // namespace levelrun
