// Which floor a thing stands on, layer by layer.
//
//   bare floor      = surveyed - stripped layers that exist at that point
//   bearing floor   = bare + laid layers that reach the wall           (under a leg)
//   plinth floor    = bare + laid layers to the wall or the front legs (under a plinth)
//   finished floor  = bare + all laid layers                           (in front of the units)
//   niche floor     = bare + laid layers that run into niches
// A layer with an `area` exists on that floor area only. Thickness errors add in squares.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

// Existing layers that will be stripped from under a point: a bit for each of
// flooring.existing (the first 64).
std::uint64_t stripped_underfoot(const Room&, const LevelPoint&, Index area);
double thickness_of(const Room&, std::uint64_t layers);

enum class Floor { bearing, plinth, finished, niche };

// What is laid over the bare floor of an area: thickness and sd together.
struct LaidOver {
  Estimate thickness;
  std::vector<double> each;  // of the layers that count, from the bottom up
  bool top_layer = false;    // the topmost laid layer of the room is among them
};
LaidOver laid_over_bare(const Room&, Floor, Index area);

// Flags that need no floor heights: cabinets on a floating floor and the like.
std::vector<Finding> flooring_findings(const Survey&, Index room);

}  // namespace levelrun
