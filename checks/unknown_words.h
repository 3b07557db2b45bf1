// What of the survey could not be read as meant?
//
// A word that an enum of the file does not have, or a misspelt field: a query, each. A unit whose
// kind is such a word gets no legs and no place in the order of setting, so it is also a hold,
// "unit left out": its legs would be missing on the day. A day of survey that is not YYYY-MM-DD
// (RFC 3339, with or without a time): a query, for jobs are sorted by it.
#pragma once

#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

// Code of the hold on a unit; its `says` also stands before the lists that it is missing from.
inline constexpr const char* unit_left_out = "unit left out";

// With ids and rooms; in the order of the file, holds first.
std::vector<Finding> unknown_words(const Survey&);

}  // namespace levelrun
