// An invented survey of any size, as the text of a survey file, for timing.
#pragma once

#include <cstdint>
#include <string>

namespace levelrun {

struct KitchenSize {
  int readings = 60;  // floor readings, on a grid over the room
  int setups = 2;
  int units = 24;             // in runs along the first walls
  int corners = 8;            // an outline of steps: even, at least 4
  bool wrong_length = false;  // one wall length with two digits swapped
};

// The same size and seed give the same text on every machine.
std::string kitchen_text(const KitchenSize&, std::uint64_t seed);

}  // namespace levelrun
