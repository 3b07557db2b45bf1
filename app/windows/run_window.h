// The touch app in a window of this machine, until it is closed.
#pragma once

#include <string>

namespace levelrun {

// path: a survey to open, or empty for the list of jobs. Exit code of the program: 0, or 2 when
// there is no display (said on standard error).
int run_window(const std::string& path);

}  // namespace levelrun
