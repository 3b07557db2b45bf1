// The survey files that a command line names.
#pragma once

#include <string>
#include <vector>

#include "survey/problem.h"

namespace levelrun {

struct NamedFile {
  std::string path;
  std::vector<Problem> problems;  // why it cannot be read; empty for a file to be loaded
};

// A path that is a directory gives every *.levelrun.json below it, sorted by its bytes; any
// other path gives itself. A directory that cannot be read, or that holds none, has a problem.
std::vector<NamedFile> survey_files(const std::vector<std::string>& paths);

}  // namespace levelrun
