// Printed sheets of the open job, handed to the person.
#pragma once

#include <string>

#include "app/jobs/session.h"
#include "app/windows/platform.h"

namespace levelrun {

// What came of it, a sentence: "The job pack was saved as …", or why there is none.
std::string hand_out(Platform&, const Session&, Sheets);

}  // namespace levelrun
