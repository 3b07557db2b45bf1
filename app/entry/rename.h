// Another id for a thing of the survey, and for everything that names it.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// at: JSON Pointer of an instrument, a leg type, a room, an opening, a service, a run, a level
// group, a floor area, a point of the levels or a set-up. References in the room, in other rooms
// and in the day's part follow; units keep their names, whatever their run is called.
// Whether the id is free, and whether it can be one, is the reader's to say.
Json rename_patch(const Json& document, const std::string& at, const std::string& id);

// An id that no member of the list has: the stem and the next free number.
std::string free_id_in(const Json& document, const std::string& list, const std::string& stem);

}  // namespace levelrun
