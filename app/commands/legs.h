// levelrun legs FILE: the leg schedule, by run and unit, to be taped inside a cabinet.
#pragma once

#include <string>

#include "app/commands/table_format.h"
#include "app/output.h"

namespace levelrun {

// The exit code: 0, or 2 if the file could not be used.
int legs_command(const std::string& file, TableFormat, Output&);

}  // namespace levelrun
