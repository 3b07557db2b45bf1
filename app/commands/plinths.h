// levelrun plinths FILE: what to cut of each plinth, and from which boards.
#pragma once

#include <string>

#include "app/commands/table_format.h"
#include "app/output.h"

namespace levelrun {

enum class PlinthLists { all, boards };

// A CSV file is one table: with `all` it holds the pieces.
// The exit code: 0, or 2 if the file could not be used.
int plinths_command(const std::string& file, TableFormat, PlinthLists, Output&);

}  // namespace levelrun
