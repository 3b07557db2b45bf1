// The one question: what follows from this survey?
//
// Pure: the same survey gives the same results, to the digit, on every machine. No clock, no
// file, no global. Never fails: an awkward room gives findings, an unknown number stays empty.
#pragma once

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

Results solve(const Survey&);

}  // namespace levelrun
