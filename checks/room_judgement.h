// Which of a room's measurements does not agree with the others?
//
// Tests: chi-square over all residuals at 0.1 %, and data snooping, which runs even when that
// passes: the largest standardised residual against the limit for 0.5 % false alarms over all
// residuals that are checked. If neither fires: pass.
// Else each checked measurement is left out in turn, each time from a walk of its own. The one
// without which the rest agree best is rejected, unless another comes within 2 in chi-square.
// Then neither is the likelier: all of them are `one_of` and none is left out. If what is left
// still fails, pairs are tried, then a third. More than one needs as many spare measurements
// left as are left out, for the less there is, the more easily it agrees. When what is left
// passes: cured. Else everything is put back: fail.
// `one_of` is a fail too. Among pairs as likely as each other, one that all share is rejected
// and the rest are `one_of`.
// Lean terms, scale terms and nominal angles are never suspected.
// Where the rest agrees by far worse than without another, the solve is given up early. A room that
// is still bent into another one whatever is left out goes on with its nominal angles.
// Beyond 16 corners or 200 readings only the likeliest dozen are tried, and each length without
// which the walk round closes much better; beyond 200 corners none.
//
// False alarms in clean rooms: 0.2 to 0.7 % (4,000 simulated rooms of 4 to 8 corners, plumb and
// leaning).
#pragma once

#include <optional>
#include <vector>

#include "checks/results.h"
#include "checks/room_net.h"

namespace levelrun {

constexpr double global_alpha = 0.001;  // of the chi-square test (common practice, no source)

// How well the readings agree with the net as it is solved now.
struct Agreements {
  bool too_large = false;  // the chi-square test
  bool one_stands_out = false;
  double limit = 0;  // of a standardised residual
  Index worst = 0;
  bool fires() const { return too_large || one_stands_out; }
};

Agreements agreements(const RoomNet&, const std::vector<char>& used);

struct RoomJudgement {
  std::vector<char> used;          // what the plan rests on
  std::vector<Index> suspects;     // readings that were left out one by one
  std::vector<LeftOut> left_out;   // what came of it: RoomNet::each_left_out
  std::vector<Index> rejected;     // readings, in the order they were left out
  std::vector<Index> one_of;       // in document order
  std::optional<Index> accused;    // by the tau test, where nothing cures
  std::optional<GlobalTest> test;  // none: nothing is checked
  double limit = 0;                // of a standardised residual, before anything was left out
};

// On return the net is solved with `used`, or the state says why not. Undetermined: even nominal
// angles do not place the corners.
NetState judge_room(RoomNet&, RoomJudgement&);

}  // namespace levelrun
