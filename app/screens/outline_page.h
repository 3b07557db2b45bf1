// A room's outline booked on the way round: a rough length on the pad, then which way the next wall
// goes, wall by wall, drawn as it comes; Back at start ends it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/entry/walked_outline.h"
#include "app/jobs/new_job.h"
#include "app/screens/screen_context.h"

namespace levelrun {

inline constexpr const char* walked_room_words = "Another shape, turn by turn";

struct OutlineEntry {
  bool open = false;
  std::vector<WalkedWall> walls;  // walked, the last one's turn still to be said
  bool turning = false;           // that is asked now; else a wall's rough length
  bool other_turn = false;        // and it is typed
  std::string typed;
  std::string refused;  // why the last deed did nothing
};

// Draws the page of an open entry; the room when it is complete. The entry is closed by Back too.
std::optional<RoomStart> draw_outline_page(ScreenContext&, Box, const Job&, OutlineEntry&);

}  // namespace levelrun
