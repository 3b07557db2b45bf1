// What the page Job asks, as fields of a form: who and where, instruments with their deviations,
// the room and its flooring, furniture, legs in stock.
#pragma once

#include <vector>

#include "app/screens/form.h"

namespace levelrun {

std::vector<FormField> job_fields(const Session&);
// Of the room on show: its layers from the top down, drawn in section.
void flooring_fields(std::vector<FormField>&, const Session&);

}  // namespace levelrun
