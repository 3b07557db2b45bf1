// A job in a line: how far it is, what bars it. The index page and `levelrun check DIR` show it.
#pragma once

#include <string>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

enum class JobState { to_survey, in_the_office, to_fit, handed_over };

// "to survey", "in the office", "to fit", "handed over"
const char* word(JobState);

struct JobSummary {
  std::string reference, client, rooms;  // "Kitchen, utility"
  std::string day;                       // surveyed on; empty: not said
  int revision = 1;
  JobState state = JobState::to_survey;
  int holds = 0, queries = 0, answered = 0, notes = 0;  // open ones, but for the answered
  int booked = 0, asked = 0;                            // readings
};

// to_fit: every underside is set; in_the_office: every reading asked for is booked; handed_over:
// signed off.
JobSummary job_summary(const Survey&, const Results&);

// Oldest survey first (what says no day last), then by reference.
bool older(const JobSummary&, const JobSummary&);

}  // namespace levelrun
