// The cutting list relaxed: boards may be cut in fractions. A strong bound, and the patterns a
// good plan is made of.
#pragma once

#include <cstdint>
#include <vector>

#include "checks/cutting_list.h"

namespace levelrun {

struct FractionalPlan {
  struct Share {
    Pattern pattern;
    double boards = 0;  // > 0
  };
  std::vector<Share> shares;  // together they cut at least the whole list
  // No plan uses fewer boards, in whole boards. Holds also when the steps ran out.
  int bound = 0;
};

// Takes at most about `steps` from steps, and leaves what is over. Deterministic.
FractionalPlan fractional_plan(const CuttingList&, std::int64_t& steps);

}  // namespace levelrun
