// Where offsets of a wall are read, when it is not where they are proposed: places along it and
// heights, typed once; every place is then asked for at every height.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "app/entry/protocol.h"
#include "app/jobs/session.h"
#include "app/screens/screen_context.h"

namespace levelrun {

struct OffsetPlaces {
  bool open = false, to_heights = false;
  std::vector<double> along, heights;
  std::string typed;
  std::vector<Protocol::OffsetAt> wanted;  // of the wall on show; empty: as proposed
};

// Stands instead of the page while it is open; false: it is not.
bool draw_offset_places(ScreenContext&, Box, Session&, OffsetPlaces&, Index wall,
                        const std::function<void(Box)>& draw_wall);

}  // namespace levelrun
