// Every job on this machine as one file, with its photos, and such a file taken in again: the way
// from one tablet to another, and what is copied out before a browser forgets.
#pragma once

#include <string>
#include <string_view>

#include "app/windows/platform.h"
#include "survey/file_layer.h"

namespace levelrun {

struct AllJobs {
  std::string zip;  // surveys by their names, photos in their folders beside them
  int jobs = 0, photos = 0;
};

// What was booked and is only in a journal yet is in it too. A file that is no survey, or no longer
// one, goes along as it is.
AllJobs all_jobs(FileLayer&, const std::string& folder);

// "5 jobs, 12 photos"
std::string counted_jobs(int jobs, int photos);

// What take_in_jobs begins with when something was taken in.
inline constexpr std::string_view taken_in = "Taken in: ";

// Puts each survey of an archive among the jobs, under a name that is free, and its photos beside
// it; what is here already, byte for byte, is not put twice. What came of it, in words.
std::string take_in_jobs(FileLayer&, Platform&, const std::string& folder, const std::string& name,
                         std::string_view zip);

}  // namespace levelrun
