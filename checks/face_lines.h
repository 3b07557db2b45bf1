// The straight lines along which a wall's face was measured.
//
// Readings within 20 mm of one height make a level line, within 20 mm of one along a plumb
// line. Between references of the `line` kind heights do not compare, so such a wall has no
// plumb lines. Sorted; ties in the file's order.
#pragma once

#include <optional>
#include <vector>

#include "survey/survey.h"

namespace levelrun {

// mm; readings this close were meant for one line: half a trowel's width, common practice, no
// source.
inline constexpr double same_line = 20;
// mm; the height that walls are read at and worktops rest near.
inline constexpr double worktop_line = 900;

struct FaceLine {
  double at = 0;                // mean height (level line) or along (plumb line)
  std::vector<Index> readings;  // into wall.offsets, by along or by height
};

std::vector<FaceLine> level_lines(const Wall&);
std::vector<FaceLine> plumb_lines(const Wall&);

// Of the lines with two readings or more, set apart by more than same_line, the one nearest
// 900 high; null: none.
const FaceLine* line_near_worktop(const std::vector<FaceLine>& level, const Wall&);

// Of one offset: its instrument's, else the tape's.
double offset_sd(const Survey&, const WallOffset&);

}  // namespace levelrun
