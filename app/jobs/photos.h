// Photos of a job: kept in a folder of their own beside the survey file, NAME.photos, and named in
// the survey by a path relative to it that cannot lead elsewhere.
#pragma once

#include <string>
#include <string_view>

#include "app/photo_path.h"
#include "survey/file_layer.h"
#include "survey/survey_file.h"

namespace levelrun {

// "K-104.photos" for "K-104.levelrun.json".
std::string photo_folder_name(const std::string& survey_path);

// Puts a picture (photo_picture.h: upright, not too large, nothing of the original file but what is
// seen) into the job's folder under a name that is free. What the survey calls it; empty: `why`
// says what is wrong with `name`, and nothing was written.
std::string keep_photo_bytes(FileLayer&, const std::string& survey_path, const std::string& name,
                             std::string_view bytes, std::string& why);
// The same with what is in the file `from`.
std::string keep_photo(FileLayer&, const std::string& survey_path, const std::string& from,
                       std::string& why);

// RFC 6902: names it in a room's photos. at: JSON Pointer of what it shows.
Json photo_patch(const Json& document, Index room, const std::string& file, const std::string& at,
                 const std::string& note);

}  // namespace levelrun
