// levelrun compare OLD NEW: what changed between two revisions, and what it does to the results.
#pragma once

#include <string>

#include "app/output.h"

namespace levelrun {

// The exit code: 0, or 2 if a file could not be used.
int compare_command(const std::string& old_file, const std::string& new_file, bool json, Output&);

}  // namespace levelrun
