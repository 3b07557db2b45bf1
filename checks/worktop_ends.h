// Where does a worktop reach at each end of its run?
//
// As worktops.h says, at the back edge, with walls as straight as the plan has them. mm beyond the
// last unit; negative: it stops short of it.
#pragma once

#include <optional>
#include <vector>

#include "checks/room_facts.h"

namespace levelrun {

// Units of a run that lie under one worktop, from first to last.
struct UnderTop {
  Index first = 0, last = 0;
};
std::vector<UnderTop> under_worktops(const Run&);

struct WorktopEnd {
  double beyond = 0, sd = 0;
  std::optional<Index> corner_run;  // that it is jointed to, there by this worktop
  UnderTop corner_top;
  std::optional<Index> corner;  // of the room
};
WorktopEnd worktop_end(const RoomFacts&, Index run, const UnderTop&, bool right);

}  // namespace levelrun
