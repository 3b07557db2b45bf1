// Whose work a service is: every finding about one ends in these words.
#pragma once

#include <string>

#include "survey/survey.h"

namespace levelrun {

// Gas, mains and structure: no answer in a survey releases what is said of them.
inline bool is_safety(ServiceKind kind) {
  return kind == ServiceKind::gas || kind == ServiceKind::meter ||
         kind == ServiceKind::consumer_unit || kind == ServiceKind::soil_stack;
}

inline std::string licensed_work(ServiceKind kind) {
  return is_safety(kind) ? " Gas, mains and structure: by a licensed person, to the local code."
                         : " Moving it: by a licensed person where the local code asks it.";
}

}  // namespace levelrun
