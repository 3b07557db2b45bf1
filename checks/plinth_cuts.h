// How each plinth board is cut, and from which stock boards.
//
// The board stands on the floor, sealed edge down: it rests on the upper hull of the plinth
// floor along its face (plinth_faces.h).
//   clear   = underside - hull            top gap = clear - board height
// Top gap under top_gap_min: the top edge is cut to clear - top_gap_min, parallel or taper; it
// hides under the carcass and is sealed again. Hollow under the board over floor_gap_max: only
// then the bottom is scribed, which takes the sealed edge out of the wet: a finding. Top gap
// over top_gap_max: a taller board; cutting never mends a short one. Cuts under 0.05 are none.
// Ordinates: every 100 from the left, both ends, and where a cut begins or bends; height is the
// board's as cut.
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct PlinthCuts {
  std::vector<PlinthResult> plinths;  // pieces with a known floor, in RoomFacts::plinths order
  std::vector<Board> boards;
  int boards_bound = 0;
  std::vector<Finding> findings;
};

PlinthCuts plinth_cuts(const RoomFacts&, const std::vector<GroupResult>& groups);

// One piece at an underside (its run's own), with a board of this height: for trying other boards
// too. along from the piece's left end.
PlinthResult cut_piece(const PlinthPiece&, const Plinth&, double underside, double board_height);

}  // namespace levelrun
