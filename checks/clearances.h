// The spaces that a room's furniture, doors and services need, as several checks find them.
//
// An entry of `clearances` is a number against what it needs: at least `needed`, or at most where
// `most` says so; within, doubtful or outside by its 95 % band. Every entry that is not within has
// a finding; a check says in its header how severe.
#pragma once

#include <utility>
#include <vector>

#include "checks/results.h"

namespace levelrun {

struct Clearances {
  std::vector<ClearanceResult> clearances;
  std::vector<Finding> findings;
};

inline Verdict verdict_of(Estimate clear, double needed, bool most = false) {
  return most ? at_most(clear, needed) : at_least(clear, needed);
}

}  // namespace levelrun
