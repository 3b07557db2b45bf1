// What does a worktop weigh, as far as its material says?
//
//   weight = length · depth · thickness · density of the material
// Densities are by a word in the material's name (worktop_weight.cpp; from memory, no source). A
// material that is not among them has no weight: unknown, never guessed.
#pragma once

#include <optional>
#include <string>

namespace levelrun {

// kg; lengths mm. Empty: the material is not known, or nothing of it is left.
std::optional<double> worktop_weight(const std::string& material, double length, double depth,
                                     double thickness);

}  // namespace levelrun
