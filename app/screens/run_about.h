// The form of a run, which stands instead of the page Runs: its name, the level group that it is
// levelled with, and what of its furniture is not as the job says.
#pragma once

#include "app/screens/screens.h"

namespace levelrun {

void draw_run_about(ScreenContext&, Box, Session&, RunsScreen&);

}  // namespace levelrun
