// levelrun report FILE -o X.pdf: the printed job pack, with its survey inside.
// levelrun as-built FILE -o X.pdf: the as-built sheets, likewise.
#pragma once

#include <string>

#include "app/output.h"
#include "app/pack/pdf_file.h"

namespace levelrun {

// The exit code: 0, or 2 if the file could not be used or the pack not be written.
int report_command(const std::string& file, const std::string& to, PaperSize, Output&);
int as_built_command(const std::string& file, const std::string& to, PaperSize, Output&);

}  // namespace levelrun
