// The two-peg check, guided: six numbers on the pad, and what the level's line of sight does.
#pragma once

#include <string>
#include <vector>

#include "app/jobs/session.h"
#include "app/screens/screen_context.h"

namespace levelrun {

struct TwoPegEntry {
  bool open = false;
  std::vector<double> numbers;  // booked so far, in the order asked for
  std::string typed;
};

// Stands instead of the page while it is open; false: it is not. The collimation found is set at
// the set-up given.
bool draw_two_peg(ScreenContext&, Box, Session&, TwoPegEntry&, Index setup);

}  // namespace levelrun
