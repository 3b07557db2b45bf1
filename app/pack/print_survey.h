// A survey's text made into printed sheets, for whoever has the text alone: the touch app.
#pragma once

#include <string>
#include <string_view>

#include "app/windows/platform.h"
#include "survey/file_layer.h"

namespace levelrun {

// The PDF's bytes; empty: `why` says why. survey_path: where the survey would be; photos are looked
// for beside it, and the survey inside has its plain name.
std::string print_survey(FileLayer&, Sheets, std::string_view text, const std::string& survey_path,
                         std::string& why);

// Two revisions of a job side by side; the later one is inside under survey_name, a plain name.
std::string print_comparison(std::string_view old_text, std::string_view new_text,
                             const std::string& survey_name, std::string& why);

}  // namespace levelrun
