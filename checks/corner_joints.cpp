// Question: how square is each corner where furniture stands, and how do worktops meet there?
// Method: the angle's offset at a depth grows with the depth.
#include "checks/corner_joints.h"

#include "checks/tolerance_table.h"

namespace levelrun {

void judge_corners(const Survey& survey, std::vector<CornerResult>& corners) {
  const double top = survey.furniture.worktop.depth, unit = survey.furniture.base_depth;
  const auto limit =
      angle_limit(tolerance_table(survey.job.tolerance_table), top, survey.job.table_overrides);
  for (CornerResult& corner : corners) {
    if (corner.angle) {
      corner.joint_angle = corner.angle;
      corner.mitre = *corner.angle / 2;
    }
    if (!corner.out_of_square || !corner.sd) continue;
    if (top > 0) corner.out_of_square_units = *corner.out_of_square * unit / top;
    if (!limit) continue;
    corner.limit = limit->value;
    corner.verdict = between({*corner.out_of_square, *corner.sd}, -limit->value, limit->value);
  }
}

}  // namespace levelrun
