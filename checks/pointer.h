// JSON Pointers to facts of the survey.
#pragma once

#include <string>

#include "survey/survey.h"

namespace levelrun {

inline std::string pointer(Index room) { return "/rooms/" + std::to_string(room); }
inline std::string pointer(Index room, const char* list, Index i) {
  return pointer(room) + "/" + list + "/" + std::to_string(i);
}

}  // namespace levelrun
