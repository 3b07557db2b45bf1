// Where the floor should be read for the units that are planned: at their legs, run by run along
// the back and then along the front, so that one walks and the staff stands where it matters.
#pragma once

#include "survey/survey_file.h"

namespace levelrun {

// RFC 6902: appends the points, and what is missing for reading them (a benchmark, a set-up).
// Places nearer than 350 mm to a point that is there, or to one just proposed, are left out. Empty:
// nothing to propose (no units on legs, or no plan to place them in).
Json propose_points_patch(const Json& document, const Survey&, Index room);

// A further set-up, to which the points still to be read belong; it is tied by reading the
// benchmark.
Json new_setup_patch(const Json& document, const Survey&, Index room);

}  // namespace levelrun
