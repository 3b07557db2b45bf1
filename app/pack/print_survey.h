// A survey's text made into printed sheets, for whoever has the text alone: the touch app.
#pragma once

#include <string>
#include <string_view>

#include "app/windows/platform.h"

namespace levelrun {

// The PDF's bytes; empty: `why` says why. survey_name: of the survey inside, a plain name.
std::string print_survey(Sheets, std::string_view text, const std::string& survey_name,
                         std::string& why);

}  // namespace levelrun
