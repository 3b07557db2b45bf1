// Opening a job: the survey file, and what its journal has that is newer.
//
// The journal says of which texts of the survey file it knows the state; from there its lines are
// played on. What does not go smoothly is said in words (EditedJob::notices), and nothing is
// thrown away but the beginning of a line that was never confirmed:
// - the journal ends in the middle of a line: cut there;
// - it is damaged further up: the rest is set aside, in a file of its own beside the journal;
// - the survey file was changed by someone else (no text the journal knows): it is opened as it
//   is, the journal is set aside, and what it had newer becomes "<name> (2).levelrun.json"
//   beside it;
// - the survey file is no survey any more: it is given back from the journal, and the damaged
//   file is copied aside;
// - another window has the job, the folder cannot be written, the journal cannot be read or is
//   of a later version: the job can be looked at only, and nothing on disk is touched.
#pragma once

#include <string>

#include "survey/edited_job.h"

namespace levelrun {

// Where the journal of a survey file is kept: "K-104.levelrun.journal" beside
// "K-104.levelrun.json". Where that folder is read-only the caller has another place for it.
std::string journal_path_beside(const std::string& path);

// Problems as load_survey gives them, if neither file nor journal can be used. `files` outlives
// the job.
Result<EditedJob> open_job(const std::string& path, const std::string& journal_path,
                           FileLayer& files);

}  // namespace levelrun
