// What the day's readings change: the results as the job came to the house beside those of today.
#pragma once

#include <string>
#include <vector>

#include "checks/compare.h"

namespace levelrun {

// As released: the same survey without the floor laid and the levels set up today, U where it was
// released.
Comparison day_changes(const Json& document, const Results& today);

// In the order that matters to the fitter: what does not fit any more, then legs, plinths,
// worktop, the rest; a line each.
struct ChangedLine {
  Severity severity = Severity::note;
  bool finding = false;  // else a movement
  std::string says;
};
std::vector<ChangedLine> changed_today(const Comparison&, char decimal);

}  // namespace levelrun
