// How long and how deep must each worktop be, where is it jointed, and is it deep enough once its
// back is scribed to the wall?
//
// One entry for each stretch of base units, appliances and what stands between them. from, to: u
// of the units below.
// length, at the back edge: over the units, and at each end
// - open or with an end panel: the overhang, as in front (common practice, no source);
// - at a side wall no further off than three infills: to its plan line, less finishes to come (the
//   wall's own hollow is not counted);
// - at an inside corner with another run's worktop: to where their backs cross before scribing (a
//   mitre's long point); the joint has the corner's adjusted angle, and half of it as its mitre;
// - at a tall unit or any other wall: flush.
// The top lies with its front parallel to the fronts, so its back follows the run's line
// (run_line.h). With h and H the least and greatest hollow behind that line at worktop height:
//   scribe     = H - h, cut where the wall is proudest
//   depth_left = depth - H, what is left in front of the run's line
//   needed     = front of the fronts + 10, or the asked overhang if less (common practice, no
//   source)
// Where an upstand, or a finish that starts on the worktop, is thicker than H - h it hides the gap:
// nothing is scribed, and depth_left = depth - h. A top that stands free loses nothing. Depth is a
// hold if outside, a query if doubtful, and an entry of `clearances`; empty where the wall's
// offsets were not read.
// Stock: whole lengths from the left, the trimming of their ends not counted; a joint over an
// appliance or cut-out is a note (common practice, no source). Without stock_length no pieces.
// Stone and the like: template once the units are fixed, so no cutting sizes. mm, degrees.
#pragma once

#include <vector>

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

struct Worktops {
  std::vector<WorktopResult> worktops;
  std::vector<ClearanceResult> clearances;
  std::vector<Finding> findings;
};

Worktops worktops(const RoomFacts&);

// Is this a material that is cut by template: stone, quartz, solid surface …? A laminate that
// looks like one is not.
bool cut_by_template(const std::string& material);

}  // namespace levelrun
