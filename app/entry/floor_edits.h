// What a person says of the floor's parts and of what comes out of it, as RFC 6902 patches. Places
// are as the file has them.
#pragma once

#include <string>
#include <vector>

#include "survey/survey_file.h"

namespace levelrun {

// Called "Area" and the next free number.
Json floor_area_patch(const Json& document, Index room, const std::vector<Json>& outline);
// Its points then belong to the area that they lie in; layers that name it must not be there.
Json take_out_area_patch(const Json& document, Index room, Index area);

Json floor_no_drill_patch(const Json& document, Index room, const std::vector<Json>& outline,
                          const std::string& why);

// A service that stands on no wall. kind as in the file; its id is the kind's letters and the next
// number free in the room.
Json floor_service_patch(const Json& document, Index room, const std::string& kind,
                         const Json& place);

}  // namespace levelrun
