// What in this room can hurt, told once a room: a few notes, never an approval.
//
// One note a kind at most, where the survey gives a reason for it: gas, electricity, water,
// structure, suspected asbestos, dust, lifting, drilling. Each ends with who may do it. A room in
// which nothing is fitted or served has none. The building's age is not surveyed, so asbestos is
// asked about in every existing house in which something is broken out or drilled.
#pragma once

#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

std::vector<Finding> cautions(const RoomFacts&);

}  // namespace levelrun
