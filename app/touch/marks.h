// The marks that say how matters stand: by shape and weight, with the word beside them, readable in
// grey.
//   hold: solid block   query: bracket open to the right   answered: closed square, solid centre
//   note: leader dot and line
// The verdict is a vial: its ticks are the limits, its bubble the 95 % band. Within: solid bubble
// clear of the ticks; doubtful: hollow with the tick through it; outside: solid, pinned in the end.
// The verdict decides, then the numbers place the bubble. Without a limit there is no vial.
#pragma once

#include <optional>

#include "app/touch/sheet.h"
#include "checks/results.h"

namespace levelrun {

inline constexpr float mark_side = 20;

void severity_mark(Sheet&, Spot top_left, Severity, bool answered, float side = mark_side);

struct Vial {
  Verdict verdict = Verdict::within;
  double value = 0, sd = 0;
  std::optional<double> least, most;
};
// In a box of 48 x 20 dp, or twice that beside the value being booked.
void vial(Sheet&, Box, const Vial&);

// The plan's marks: a point booked, a point to come, the one in use with its number.
void booked_mark(Sheet&, Spot, Ink = Ink::ink);
void ring_mark(Sheet&, Spot);

}  // namespace levelrun
