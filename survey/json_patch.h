// A change to a document as data: JSON Patch (RFC 6902) over JSON Pointer (RFC 6901).
//
// All six operations; numbers compare by value and objects whatever the order of their members.
// One member is ours, which the RFC lets others ignore: an `add` of a new member may say
// `before`: the member that it comes before, so that undoing gives a file back byte for byte.
// Stricter than some: nothing is added to null, a list index has no leading zero, and the whole
// document cannot be removed. Bounds: 20,000 operations, there and back, and what they put in as a
// survey file is bounded (32 levels, 2 million values).
#pragma once

#include <vector>

#include "survey/problem.h"
#include "survey/survey_file.h"

namespace levelrun {

// Changes the document as all of the patch says, or gives the first problem (at = the pointer
// that could not be used) and leaves it as it was. Never throws. `inverse` becomes the patch that
// takes the change back exactly; its size goes with the change, not with the document.
std::vector<Problem> apply_patch(Json& document, const Json& patch, Json* inverse = nullptr);

// Applies an inverse to the very document that it came with; no bounds, and it cannot fail.
void take_back(Json& document, const Json& inverse);

// Equal as RFC 6902, 4.6 means it.
bool same_json(const Json& a, const Json& b);

}  // namespace levelrun
