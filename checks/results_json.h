// The results as the text of a results file: JSON, two-space indent, numbers with up to 6
// decimals, unknown = null, never NaN or Infinity.
#pragma once

#include <string>

#include "checks/results.h"

namespace levelrun {

std::string results_json(const Results&);

}  // namespace levelrun
