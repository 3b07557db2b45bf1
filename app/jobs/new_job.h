// The document that a new job starts from: a room with its corners, instruments with the usual
// deviations, and a leg stock, all to be changed on the Job page; and the five-minute practice job.
#pragma once

#include <string>
#include <vector>

#include "survey/survey_file.h"

namespace levelrun {

struct JobStart {
  std::string words;            // "4 corners"
  std::vector<double> corners;  // nominal interior angles, clockwise
};
const std::vector<JobStart>& job_starts();

// date: YYYY-MM-DD. corners as of a start.
Json new_job(const std::string& reference, const std::string& surveyor, const std::string& date,
             const std::vector<double>& corners);

// A small kitchen with everything placed and nothing read; its notes say which numbers to type.
Json practice_job(const std::string& surveyor, const std::string& date);

// The next revision of a job: the number goes up, the day's own part stays behind.
Json next_revision(const Json& document);

// A file name for it: the reference's letters and digits, and the revision beyond the first.
std::string job_file_name(const Json& document);

// Corners and walls of another room, as a patch that appends it.
Json room_patch(const Json& document, const std::vector<double>& corners);

}  // namespace levelrun
