// How much a survey may hold, so that whatever the file, it is refused or solved within seconds and
// some hundred MB. Lists are bounded where a check compares their items in pairs or solves for them
// together; all bounds lie well beyond any house. tests/unit/hostile_test.cpp tries them.
#pragma once

#include "survey/survey.h"

namespace levelrun {

// Of the survey.
inline constexpr Index most_instruments = 100;  // a scale error each is solved for with the plan
inline constexpr Index most_layers = 100;       // of flooring, each way; and of a wall's finishes

// Of a room.
inline constexpr Index most_openings = 100;        // overlaps: in pairs
inline constexpr Index most_services = 300;        // gas to sockets: in pairs
inline constexpr Index most_ceilings = 2000;       // each against each unit below
inline constexpr Index most_floor_areas = 20;      // each asked for every place on the floor
inline constexpr Index most_outline = 100;         // places
inline constexpr Index most_known_heights = 1000;  // each against the datum
inline constexpr Index most_setups = 200;          // their planes are solved for together
inline constexpr Index most_staff = 20'000;        // readings; the floor is read from the nearest
inline constexpr Index most_units = 2000;          // doors and aisles: in pairs

// Of all rooms together, for a file may have a hundred rooms.
inline constexpr Index all_openings = 500, all_services = 1000, all_setups = 500,
                       all_staff = 50'000, all_units = 10'000;

}  // namespace levelrun
