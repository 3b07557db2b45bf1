// The RFC 6902 patch that sets one value of the document, whatever of its parents is missing.
#pragma once

#include <string>

#include "survey/survey_file.h"

namespace levelrun {

// at: JSON Pointer to a member of objects (lists on the way must be there). Parents that are
// missing are made. A null value takes the member out, and patches nothing where there is none.
Json set_patch(const Json& document, const std::string& at, const Json& value);

// 3622 and not 3622.0: as people write files.
Json number_as_written(double);

// The value at a pointer; null: there is none.
const Json* value_at(const Json& document, const std::string& at);

}  // namespace levelrun
