// The files of a job's revisions: a new one written under a name that is free, and those before
// found again.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/windows/platform.h"
#include "checks/results.h"
#include "survey/file_layer.h"
#include "survey/survey_file.h"

namespace levelrun {

// Puts a document among the jobs on this machine; its path, empty: it could not be written.
std::string put_new_job(FileLayer&, Platform&, const std::string& folder, const Json& document);

struct EarlierRevision {
  std::string path;
  int revision = 0;
  Json document;
  Results results;
};

// The latest revision before this one in the folder of `path` or among the jobs, by reference;
// empty: none is known here. Reads the folders' files, so ask once.
std::optional<EarlierRevision> earlier_revision(FileLayer&, const std::string& path,
                                                const std::string& jobs_folder,
                                                const std::string& reference, int revision);

struct RevisionFile {
  std::string path, reference, surveyed_on;
  int revision = 0;
};
// What a survey can be compared with: the other surveys of those folders, those of the same
// reference first and the latest of them first, then the others by reference. Reads them all.
std::vector<RevisionFile> other_surveys(FileLayer&, const std::string& path,
                                        const std::string& jobs_folder,
                                        const std::string& reference);

// A survey, or the one inside a job pack, read and solved; empty: `why` says why not.
std::optional<EarlierRevision> read_revision(FileLayer&, const std::string& path, std::string& why);

}  // namespace levelrun
