// The fields of a place: along a wall, or by x and y, and the key that says it the other way.
#pragma once

#include <string>
#include <vector>

#include "app/screens/form.h"

namespace levelrun {

// at: JSON Pointer of the place. of: what stands before its captions, "Route 1: ".
void place_fields(std::vector<FormField>&, Session&, const std::string& at, const std::string& of,
                  const Place&);

}  // namespace levelrun
