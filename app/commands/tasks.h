// levelrun tasks FILE: the checklist of the install day, its cautions, and what bars signing off.
#pragma once

#include <string>

#include "app/output.h"

namespace levelrun {

int tasks_command(const std::string& file, bool json, Output&);

}  // namespace levelrun
