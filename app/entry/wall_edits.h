// What a person puts on a wall, as RFC 6902 patches: services and openings.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

struct OnWall {
  double along = 0, height = 0;
  std::string setup;  // empty: height from the floor; else signed from that set-up's plane
};

// kind as in the file; its id is the kind's letters and the next free number.
Json add_service_patch(const Json& document, const Survey&, Index room, Index wall,
                       const std::string& kind, const OnWall&);
// The opening's left edge and sill stand at the place.
Json add_opening_patch(const Json& document, const Survey&, Index room, Index wall,
                       const std::string& kind, const OnWall&, double width, double height);
// Removes what a JSON Pointer to a list's member names.
Json remove_patch(const std::string& at);

}  // namespace levelrun
