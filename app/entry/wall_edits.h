// What a person puts on a wall, as RFC 6902 patches: services, openings, and where nobody may
// drill.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

struct OnWall {
  double along = 0, height = 0;
  std::string setup;  // empty: height from the floor; else signed from that set-up's plane
};

// kind as in the file; its id is the kind's letters and the next number free in the room.
Json add_service_patch(const Json& document, const Survey&, Index room, Index wall,
                       const std::string& kind, const OnWall&);
// The opening's left edge and sill stand at the place.
Json add_opening_patch(const Json& document, const Survey&, Index room, Index wall,
                       const std::string& kind, const OnWall&, double width, double height);
// A rectangle whose left edge and lower edge stand at the place, which is from the floor.
Json add_no_drill_patch(const Json& document, const Survey&, Index room, Index wall, const OnWall&,
                        double width, double height_of, const std::string& why);

// Appends to one of a room's lists, which is made where it is missing.
Json add_to_room_patch(const Json& document, Index room, const std::string& list, Json value);
// What the ids of services of a kind begin with: the letters that drawings have for it, "CW"; "WA"
// of a waste, "X" of what has no letters.
std::string service_stem(const std::string& kind);
// The stem and the next number that make no wall's, corner's, opening's, service's, run's or unit's
// id in the room.
std::string free_id_in_room(const Json& document, Index room, const std::string& stem);

// Removes what a JSON Pointer to a list's member names.
Json remove_patch(const std::string& at);

}  // namespace levelrun
