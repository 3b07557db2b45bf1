// levelrun solve FILE: everything that follows from a survey, as a results file.
#pragma once

#include <string>

#include "app/output.h"

namespace levelrun {

// The exit code: 0, or 2 if the file could not be used.
int solve_command(const std::string& file, Output&);

}  // namespace levelrun
