// The one height that all runs of a level group hang on: U, the underside of its base carcasses.
//
// U = an exact answer, no iteration. Hard bounds (tightened) leave an interval. Soft bounds
// restrict it in their order; one that cannot be met takes the end that violates it least.
// Within what is left: the asked height, else the lowest. When the hard bounds leave nothing, U
// halves the violation and the two bounds that conflict are named. A set U stays where it is.
// Room to spare: how much thicker or thinner the top layer of the new floor may come before
// the hard bounds leave nothing, U free to move unless it is set.
#pragma once

#include "checks/group_bounds.h"

namespace levelrun {

// The largest lower and the smallest upper of a set of bounds; empty = none on that side.
struct Interval {
  const GroupBound* lower = nullptr;
  const GroupBound* upper = nullptr;

  bool feasible() const { return !lower || !upper || lower->bound.applied <= upper->bound.applied; }
  void take(const GroupBound&);
};

Interval hard_interval(const LevelGroupFacts&);

// Needs a known floor or a set U (else there is nothing to hang on: see has_datum).
GroupResult level_group_datum(const RoomFacts&, const LevelGroupFacts&);

// False: no bound at all, so U would be a guess.
bool has_datum(const LevelGroupFacts&);

}  // namespace levelrun
