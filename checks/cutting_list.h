// What is to be cut, as the cutting-stock computations see it, and two bounds that cost little.
//
// The kerf is gone: every size carries one, and so does the board's room.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace levelrun {

struct CuttingList {
  std::vector<double> size;  // mm, of each type, falling, > 0 and <= room
  std::vector<int> count;    // of each type, >= 0
  double room = 0;           // mm, of one board
};

// What is cut from one board: type and how many, by type.
using Pattern = std::vector<std::pair<std::size_t, int>>;

int pieces_in(const std::vector<int>& count);

// No plan uses fewer boards: by length alone, and with every piece over half a board alone.
int least_boards(const CuttingList&);

// Each piece, longest first, into the fullest board that takes it.
std::vector<Pattern> best_fit_plan(const CuttingList&);

// Board by board: the longest piece left, and what fills the rest of it best. Dearer; better
// where boards can be filled without waste.
std::vector<Pattern> fullest_boards_plan(CuttingList);

}  // namespace levelrun
