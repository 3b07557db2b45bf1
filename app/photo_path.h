// Where a photo that a survey names is on this machine.
#pragma once

#include <string>

namespace levelrun {

// Beside the survey, or in a folder there. Empty: what the survey calls it could lead out of the
// folder the survey is in (a survey may come from anywhere), so it is not opened.
std::string photo_path(const std::string& survey_path, const std::string& file);

// The folder that a file is in; "." where the path names none.
std::string folder_of(const std::string& path);

}  // namespace levelrun
