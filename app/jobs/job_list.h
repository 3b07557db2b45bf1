// The jobs on this machine, as the index page shows them.
#pragma once

#include <string>
#include <vector>

#include "survey/file_layer.h"

namespace levelrun {

enum class JobState { to_survey, in_the_office, to_fit };

struct JobLine {
  std::string path, reference, client, rooms;  // "Kitchen, utility"
  std::string day;                             // surveyed on
  int revision = 1;
  JobState state = JobState::to_survey;
  int holds = 0, queries = 0, answered = 0, notes = 0;  // open ones, but for the answered
  int booked = 0, asked = 0;                            // readings
  std::string trouble;                                  // why it cannot be read; the rest is empty
};

// Of the folder and of the paths given, each once; by state, then by reference.
std::vector<JobLine> jobs_on(FileLayer&, const std::string& folder,
                             const std::vector<std::string>& recent);

}  // namespace levelrun
