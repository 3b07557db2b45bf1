// Can a cutting list be cut from a given number of boards? An exact search for short lists.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "checks/cutting_list.h"

namespace levelrun {

enum class Possible { yes, no, unknown };

struct ExactAnswer {
  Possible possible = Possible::unknown;  // unknown: the steps ran out
  std::vector<Pattern> boards;            // yes: the plan
};

// Takes at most `steps` from steps, and leaves what is over. Deterministic.
ExactAnswer cut_from(const CuttingList&, int boards, std::int64_t& steps);

}  // namespace levelrun
