// What there is to say of a wall, an opening, a service or a zone without drilling beyond what is
// read off an instrument on its elevation, as fields of a form.
#pragma once

#include <string>
#include <vector>

#include "app/screens/form.h"

namespace levelrun {

const char* words_of(WallBuild);    // "lath and plaster"
const char* words_of(OpeningKind);  // "Door"

std::vector<FormField> wall_fields(const Session&, Index wall);
std::vector<FormField> opening_fields(const Session&, Index opening);
// With its route and where it connects.
std::vector<FormField> service_fields(Session&, Index service);
std::vector<FormField> no_drill_fields(const Session&, Index zone);

}  // namespace levelrun
