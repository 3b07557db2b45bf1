// Four letters made from the numbers on a sheet, so that stale paper shows: the app writes the same
// letters beside the same numbers, and others when they have changed.
#pragma once

#include <string>
#include <vector>

#include "checks/results.h"

namespace levelrun {

// Of the lines as they are printed. Consonants only, without those taken for figures: no words, and
// nothing that reads as a number. Two different sheets agree by chance once in 130,321.
std::string agreement_mark(const std::vector<std::string>& lines);

// Of a unit's legs: positions, heights to the millimetre.
std::string unit_mark(const RoomResult&, const std::string& unit);
// Of a piece of plinth: its length, cuts and ordinates to 0.1 mm.
std::string plinth_mark(const PlinthResult&);
// Of all legs of a room, and of all its plinths.
std::string legs_mark(const RoomResult&);
std::string plinths_mark(const RoomResult&);

}  // namespace levelrun
