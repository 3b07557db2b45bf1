// The part `install` of the results file: an object, its fields as DEVELOPERS.md names them.
#pragma once

#include "checks/install_results.h"
#include "checks/json_text.h"

namespace levelrun {

void write_install(JsonText&, const InstallResult&);

}  // namespace levelrun
