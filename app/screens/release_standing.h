// Whether a survey is released for manufacture, or free to be.
#pragma once

#include <string>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct ReleaseStanding {
  bool released = false;  // every underside is set
  bool free = false;      // nothing bars it, and there is something to fix
  std::string by, at;     // of the latest underside set
};

ReleaseStanding release_standing(const Survey&, const Results&);

}  // namespace levelrun
