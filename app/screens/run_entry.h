// What the pad of the page Runs types: the width of the next unit, or a number of the unit chosen
// or of its run; what it may be, and the edit it makes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/screens/run_keys.h"

namespace levelrun {

struct RunNumber {
  std::string name;           // "S3 width"
  std::optional<double> now;  // empty: there is none yet
  double least = 0, most = 0;
  bool degrees = false;
  bool of_run = false;  // offered when a run is new, and may stay as it is
};

// The run must be there, and the unit if one is chosen.
RunNumber run_number(const Session&, const RunsScreen&);

std::string shown_number(double value, const RunNumber&, const Job&);

// What is typed, within its limits; several only as widths of the next units.
struct TypedRunNumbers {
  std::vector<double> values;
  std::string problem;  // why there are none; empty while nothing is typed
};
TypedRunNumbers typed_run_numbers(const Session&, const RunsScreen&);

// The edit that books them; nothing in it if they are none.
RunDeed booked_numbers(const Session&, const RunsScreen&, const std::vector<double>&);

// What is asked next: of a run without units its place, piece by piece; then widths.
RunsScreen::Field next_run_field(const Session&, const RunsScreen&);

}  // namespace levelrun
