// Is every value of a document one that a survey may hold, known field or not?
//
// Numbers finite and at most 1e6 in size, texts well-formed Unicode, nesting within the limit.
// The parser has seen to the texts and the nesting of a file; a document that was edited in
// memory has been through no parser.
#pragma once

#include "survey/field_reader.h"

namespace levelrun {

void check_values(const Json& document, Reading& reading);

}  // namespace levelrun
