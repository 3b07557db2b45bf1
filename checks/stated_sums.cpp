#include "checks/stated_sums.h"

#include <cmath>

#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double machined = 0.2;  // mm: what machined joints keep to; common practice, no source

}  // namespace

std::vector<Finding> stated_sum_findings(const Survey& survey) {
  std::vector<Finding> out;
  const Furniture::WallUnit& unit = survey.furniture.wall_unit;
  if (!unit.back_thickness || !unit.void_depth || !unit.inside_depth) return out;
  const double left = unit.depth - *unit.back_thickness - *unit.void_depth;
  if (std::abs(left - *unit.inside_depth) <= machined) return out;
  Finding f;
  f.code = "stated parts do not add up";
  f.severity = Severity::query;
  f.id = "stated-parts-do-not-add-up/wall_unit";
  f.at = "/furniture/wall_unit";
  f.measured = *unit.inside_depth;
  f.limit = left;
  f.unit = "mm";
  f.source = "the job's own figures";
  f.says = "Wall unit: " + millimetres(unit.depth) + " − " + millimetres(*unit.back_thickness) +
           " − " + millimetres(*unit.void_depth) + " = " + millimetres(left) + ", but " +
           millimetres(*unit.inside_depth) + " inside is stated.";
  f.remedy = "Correct whichever of the four is wrong before panels are cut.";
  out.push_back(std::move(f));
  return out;
}

}  // namespace levelrun
