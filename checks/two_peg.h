// Does the level's line of sight rise or fall, and by how much?
//
// Collimation is the rise of the line of sight in mm per m of distance, rising positive.
// Staff readings in mm, distances in m. A larger reading is a lower point; on an inverted staff
// (ceiling, lintel) readings are negative.
#pragma once

#include <optional>

#include "survey/estimate.h"

namespace levelrun {

// Pegs A and B are read from half-way, where collimation cancels, and again from a second
// place at unequal distances.
struct TwoPegTest {
  double middle_a = 0, middle_b = 0;
  double second_a = 0, second_b = 0;
  double distance_a = 0, distance_b = 0;  // m, from the second place
};

// collimation = ((second_b - second_a) - (middle_b - middle_a)) / (distance_b - distance_a)
// reading_sd: of one reading; the result's sd follows from it.
// Empty when the second place is as far from A as from B: it shows nothing.
std::optional<Estimate> collimation_of(const TwoPegTest&, double reading_sd = 0);

// What a level without collimation would have read.
double corrected_reading(double staff, double collimation, double distance_m);

}  // namespace levelrun
