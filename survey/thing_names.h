// Which things does a JSON Pointer lead through, by their ids?
//
// A place in a list is found by counting; a person looks for "wall W3".
#pragma once

#include <string>
#include <string_view>

#include "survey/survey_file.h"

namespace levelrun {

// "/rooms/0/runs/1/units/2/width" -> "run S, unit S3"; "" where nothing on the way has an id. The
// room is named only where the document has several. A thing whose own id is the matter is left
// out. Ids are shown as visible() shows them.
std::string thing_names(const Json& document, std::string_view at);

}  // namespace levelrun
