// A snag's place and its photos, as they are said on the screen and in print.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// "W1, 1240 from its left end", "x 800, y −1200", after the room's name where the survey has
// several; empty: the snag has no place, or there is no such snag.
std::string snag_place_words(const Json& document, const Survey&, Index snag);

// What a photo of the snag names as the fact that it shows.
std::string snag_pointer(Index snag);
// Also by its note, "snag N1", as photos of snags were kept at first.
bool shows_snag(const Photo&, Index snag, const std::string& id);

}  // namespace levelrun
