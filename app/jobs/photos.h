// Photos of a job: kept in a folder of their own beside the survey file, NAME.photos, and named in
// the survey by a path relative to it that cannot lead elsewhere.
#pragma once

#include <string>

#include "survey/file_layer.h"
#include "survey/survey_file.h"

namespace levelrun {

inline constexpr std::size_t most_photo = 50U << 20;  // bytes

// "K-104.photos" for "K-104.levelrun.json".
std::string photo_folder_name(const std::string& survey_path);

// True for a name of a file within the job's photo folder: no folder above, none below.
bool is_photo_path(const std::string& survey_path, const std::string& file);

// Copies a picture (JPEG or PNG by its first bytes) into the job's folder under a name that is
// free. What the survey calls it; empty: `why` says what is wrong, and nothing was written.
std::string keep_photo(FileLayer&, const std::string& survey_path, const std::string& from,
                       std::string& why);

// RFC 6902: names it in a room's photos. at: JSON Pointer of what it shows.
Json photo_patch(const Json& document, Index room, const std::string& file, const std::string& at,
                 const std::string& note);

}  // namespace levelrun
