// levelrun check FILE|DIR...: the findings by severity and place, worst first, short enough to
// read standing up.
#pragma once

#include <string>
#include <vector>

#include "app/output.h"

namespace levelrun {

// A directory stands for every *.levelrun.json below it, in sorted order; links to directories
// are not followed. One file that cannot be used does not keep the others from being checked.
// all: notes and cautions in full too, and each limit with its source.
// The exit code: 0 no hold, 1 a hold that no answer has released, 2 a file could not be used.
int check_command(const std::vector<std::string>& paths, bool all, bool json, Output&);

}  // namespace levelrun
