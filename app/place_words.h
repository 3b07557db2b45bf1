// Where a fact stands, in the words of the trade instead of a JSON Pointer.
#pragma once

#include <string>
#include <string_view>

#include "survey/survey_file.h"

namespace levelrun {

// "/rooms/0/walls/2/lengths/1" -> "wall W3, length 2". The room itself is left out, for who
// prints it names it before. What does not lead anywhere in the document is returned as it is.
std::string place_words(const Json& document, std::string_view at);

// The room's name, else its id; "" for a room that the survey does not have.
std::string room_words(const Survey&, std::string_view room);

}  // namespace levelrun
