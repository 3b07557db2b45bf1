// Printed sheets from the command line: the survey inside by a plain name, and where they go.
#pragma once

#include <string>

#include "app/output.h"

namespace levelrun {

// The plain name of the survey inside: no folder, and always a survey's ending.
std::string survey_name_inside(const std::string& path);

// Writes a PDF to a file, or to standard output for "-". Empty bytes: tells `error`. The exit code.
int put_pdf(const std::string& pdf, const std::string& to, const std::string& error, Output&);

}  // namespace levelrun
