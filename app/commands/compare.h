// levelrun compare OLD NEW: what changed between two revisions, and what it does to the results; on
// the terminal, as JSON, or printed.
#pragma once

#include <string>

#include "app/output.h"
#include "app/pack/pdf_file.h"

namespace levelrun {

// The exit code: 0, or 2 if a file could not be used or written.
int compare_command(const std::string& old_file, const std::string& new_file, bool json, Output&);
// The same as a PDF at `to`, which carries the survey of new_file; "-" is standard output.
int compare_print_command(const std::string& old_file, const std::string& new_file,
                          const std::string& to, PaperSize, Output&);

}  // namespace levelrun
