// What does each straight, stiff thing touch on a wall, and how much is there to scribe?
//
// Worktop: each stretch of base units under one top, pushed to the level line of readings nearest
// 900 high. Rail: each stretch of wall units whose rail_drop is given, at
//   worktop top + above_worktop + wall unit height - rail_drop.
// Both rest on the hull edge that straddles their middle (profile.h); gap = the greatest distance
// from there to the face. End panel: each end panel, outer side of a tall unit and open end of a
// run, where it meets the wall behind; infill: where a run's end meets its side wall, at the
// carcass front. These stand plumb, so they touch the proudest place of the plumb line of
// readings nearest them; gap = from there to the hollowest. A finish still to come counts over
// its own heights: it makes a step where it ends between bottom and top.
//
// Level lines further than 200 from the height, plumb lines further than 600 along from the place,
// were not measured there: nothing is said. Of a thing that reaches beyond the readings the part
// between them is told (from, to). mm; along and heights as in the survey.
#pragma once

#include <vector>

#include "checks/face_lines.h"
#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

// mm; a level line is read no further than this from the height that it stands for: common
// practice, no source.
inline constexpr double level_reach = 200;
// mm; the usual spacing of readings: common practice, no source.
inline constexpr double plumb_reach = 600;
// mm; nobody scribes less (common practice, no source).
inline constexpr double least_scribe = 0.05;

// In document order of runs, worktop, rail, then what stands plumb, left to right.
std::vector<RestResult> wall_rests(const Survey&, Index room, Index wall);

}  // namespace levelrun
