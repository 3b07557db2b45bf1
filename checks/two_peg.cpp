// Question: the collimation of a level from a two-peg test.
// Method: the apparent minus the true difference, over the difference of the distances.
// Source: any textbook of surveying ("two-peg test"); from memory.
#include "checks/two_peg.h"

#include <cmath>

namespace levelrun {
namespace {

// m. Distances more alike than this cannot be told apart with a tape (common practice, no
// source).
constexpr double least_unequal = 0.01;

}  // namespace

std::optional<Estimate> collimation_of(const TwoPegTest& test, double reading_sd) {
  const double unequal = test.distance_b - test.distance_a;
  if (!(std::abs(unequal) >= least_unequal)) return std::nullopt;
  const double apparent = test.second_b - test.second_a;
  const double true_difference = test.middle_b - test.middle_a;
  return Estimate{(apparent - true_difference) / unequal, 2 * reading_sd / std::abs(unequal)};
}

double corrected_reading(double staff, double collimation, double distance_m) {
  return staff - collimation * distance_m;
}

}  // namespace levelrun
