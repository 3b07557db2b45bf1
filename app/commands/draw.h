// levelrun draw FILE: the plan, the elevation of a wall or the map of the floor, as SVG at a stated
// scale on A4.
#pragma once

#include <string>

#include "app/output.h"

namespace levelrun {

struct DrawWhat {
  enum class Kind { plan, wall, floor } kind = Kind::plan;
  std::string wall;  // its id
  std::string room;  // its id; empty: the only one, or the only one that has the wall
  std::string to;    // file to write; empty or "-": standard output
};

// The exit code: 0, or 2 if the file could not be used, there is no such room or wall, or the
// drawing could not be written. What is not measured yet is said on the sheet.
int draw_command(const std::string& file, const DrawWhat&, Output&);

}  // namespace levelrun
