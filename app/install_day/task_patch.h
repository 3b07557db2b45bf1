// Ticks of the day's checklist, as edits.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// RFC 6902: the task is open, done or not_needed (which wants a note why). Its entry in
// install.tasks is made or replaced; other fields of an entry that is there stay.
Json task_patch(const Json& document, const std::string& id, const std::string& state,
                const std::string& at, const std::string& by, const std::string& note = {});

}  // namespace levelrun
