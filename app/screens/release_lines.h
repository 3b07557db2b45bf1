// The release page's lines under its table: what changed since the last revision, what bars the
// release, what may be cut now; and the elevation of the wall that the chosen line is about.
#pragma once

#include <optional>

#include "app/screens/finding_parts.h"
#include "app/screens/screens.h"

namespace levelrun {

// Works out what the page shows, if the survey has changed since.
void refresh_release(ReleaseScreen&, ScreenContext&, const Session&);

void flow_release_lines(Flow&, const Session&, const ReleaseScreen&);

// The wall of the room on show that a fact stands at or before: of a unit its run's; empty: none.
std::optional<Index> wall_of_fact(const Room&, const std::string& at);

// The chosen line's wall, else the first run's. Gives the fact tapped.
std::string draw_wall_of(Sheet&, Box, Session&, ViewMoves&, const std::string& at);

}  // namespace levelrun
