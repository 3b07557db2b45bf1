// levelrun quantities FILE: what the workshop orders, cuts over length, notches and makes.
#pragma once

#include <string>

#include "app/commands/table_format.h"
#include "app/output.h"

namespace levelrun {

// A CSV file is one table of all lists, the first column naming the list.
// The exit code: 0, or 2 if the file could not be used.
int quantities_command(const std::string& file, TableFormat, Output&);

}  // namespace levelrun
