// Do parts that the survey states add up to the whole that it states too?
//
// Wall units: inside depth = depth - back - void, when the job states all three
// (furniture.wall_unit back_thickness, void_depth, inside_depth). A difference is never shared
// out or hidden: it is a query, for one of the numbers is wrong.
#pragma once

#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

std::vector<Finding> stated_sum_findings(const Survey&);

}  // namespace levelrun
