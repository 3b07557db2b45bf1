// What a person does to runs and their units, as RFC 6902 patches. Indices are the survey's.
#pragma once

#include <string>
#include <vector>

#include "survey/survey_file.h"

namespace levelrun {

// A run along a wall from `along`, or an island at x, y; its id is the next free letter.
Json add_run_patch(const Json& document, const Survey&, Index room, Index wall, double along);
Json add_island_patch(const Json& document, const Survey&, Index room, double x, double y);
Json delete_run_patch(Index room, Index run);

// Units at the run's right end; their ids are the run's letter and the next free numbers.
Json add_units_patch(const Survey&, Index room, Index run, const std::string& kind,
                     const std::vector<double>& widths);
Json add_unit_patch(const Survey&, Index room, Index run, const std::string& kind, double width);
Json delete_unit_patch(Index room, Index run, Index unit);
// One place to the left or right.
Json move_unit_patch(const Survey&, Index room, Index run, Index unit, bool right);
// A field of a unit; null takes it out.
Json unit_patch(const Json& document, Index room, Index run, Index unit, const std::string& field,
                const Json& value);

// The niche of an appliance: its least and its greatest height; an end that is missing is made
// the same as the one given, and one that would cross it moves with it.
Json niche_patch(const Json& document, const Survey&, Index room, Index run, Index unit, bool most,
                 double height);

// The room's level groups: those it lists, then those that its runs only name.
std::vector<std::string> level_groups_of(const Room&);
// Lists every group that runs name, as the file wants it once any is listed.
Json list_level_groups_patch(const Json& document, const Survey&, Index room);
// The run in a group of its own, called by the next free letter.
Json own_level_group_patch(const Json& document, const Survey&, Index room, Index run);

// Worktop top above finished floor that is asked of a level group; the group is made if the room
// has none of that name.
Json asked_height_patch(const Json& document, const Survey&, Index room, const std::string& group,
                        double height);

std::string run_pointer(Index room, Index run);
std::string unit_pointer(Index room, Index run, Index unit);

}  // namespace levelrun
