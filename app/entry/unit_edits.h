// What a person does to runs and their units, as RFC 6902 patches. Indices are the survey's.
#pragma once

#include <optional>
#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// A run along a wall from `along`, or an island at x, y; its id is the next free letter. With it
// comes its level group, if the room has none of that name.
Json add_run_patch(const Json& document, const Survey&, Index room, Index wall, double along);
Json add_island_patch(const Json& document, const Survey&, Index room, double x, double y);
Json delete_run_patch(Index room, Index run);

// A unit at the run's right end; its id is the run's letter and the next free number.
Json add_unit_patch(const Survey&, Index room, Index run, const std::string& kind, double width);
Json delete_unit_patch(Index room, Index run, Index unit);
// One place to the left or right.
Json move_unit_patch(const Survey&, Index room, Index run, Index unit, bool right);
// A field of a unit; null takes it out.
Json unit_patch(const Json& document, Index room, Index run, Index unit, const std::string& field,
                const Json& value);

std::string run_pointer(Index room, Index run);
std::string unit_pointer(Index room, Index run, Index unit);

}  // namespace levelrun
