// Do the walls stand plumb and flat, and how will a straight, stiff thing lie against them?
//
// Answered from the offsets alone. An offset is from the reference to the face, larger =
// hollow = away from the room. Lines of readings: face_lines.h. Known only as far as measured:
// - lean: from a plumb plane read at two or more heights, mm over the room's mean clear ceiling
//   height, or else over the heights read; otherwise empty, with a note.
// - twist: from plumb lines at two or more places. Bow: from level lines of three readings.
// - worst flatness, verdict: from any line of three, judged by the job's table, as unfinished
//   where a finish is to come; empty where the table gives no number for that surface or is not
//   known (tolerance_table.h, table_findings).
// - resting, gap, scribe, rocks: a rigid worktop pushed to the level line nearest 900 high, over
//   all of that line; rests: each thing over its own part (wall_resting.h).
// Unchanged when all offsets grow by one amount; a wall seen in a mirror has its twist negated
// and all else the same. Where a run stands against a wall: run_line.h.
#pragma once

#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct WallFaces {
  std::vector<WallResult> walls;  // as room.walls
  std::vector<Finding> findings;  // id left empty
};

WallFaces wall_faces(const Survey&, Index room);

}  // namespace levelrun
