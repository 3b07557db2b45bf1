// The jobs on this machine, as the index page shows them.
#pragma once

#include <string>
#include <vector>

#include "app/entry/job_summary.h"
#include "survey/file_layer.h"

namespace levelrun {

struct JobLine : JobSummary {
  std::string path;
  std::string trouble;  // why it cannot be read; the summary is then empty
};

enum class JobOrder { oldest, holds, name };  // oldest survey first; most holds; by reference

// Of the folder and of the paths given, each once, a broken one among them; by state, then by
// reference. On several cores where there are any.
std::vector<JobLine> jobs_on(FileLayer&, const std::string& folder,
                             const std::vector<std::string>& recent);

// By state, and within it as asked; what cannot be read comes last.
void sort_jobs(std::vector<JobLine>&, JobOrder);

// Those whose reference, rooms, client or path hold the words, however written; all for "".
std::vector<JobLine> jobs_that_say(const std::vector<JobLine>&, const std::string& words);

}  // namespace levelrun
