// Where someone is in the app and what is half typed there, so that a page that the system threw
// away (a locked screen, a reload) comes back to it. No facts of a job: those are in its journal.
#pragma once

#include <string>
#include <string_view>

#include "app/screens/app.h"

namespace levelrun {

// One line of JSON; empty: nothing to come back to.
std::string half_typed(App&);

// Opens the job and the page again, and puts back what was typed. What cannot be read or is not
// there any more is passed over.
void back_to_half_typed(App&, std::string_view line);

}  // namespace levelrun
