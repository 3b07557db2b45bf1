// Which pieces to cut from which boards, fewest boards first.
//
// Cutting stock in one dimension with a kerf: pieces share a board when
// sum of lengths + kerf * (pieces - 1) <= board, which equals lengths + kerf in board + kerf.
// Method and where it is from: board_cutting.cpp. Deterministic; no clock; bounded work.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace levelrun {

struct CutPlan {
  // Each board: the indices of the pieces cut from it, in the order of the list given.
  std::vector<std::vector<std::size_t>> boards;
  // No plan can use fewer boards than this (proved). boards.size() == bound: optimum.
  std::size_t bound = 0;
  // Pieces longer than the board: not in any board, the caller's error to report.
  std::vector<std::size_t> too_long;
};

// lengths > 0, board > 0, kerf >= 0, all mm. Comparisons allow 1e-6 mm.
CutPlan cut_boards(std::span<const double> lengths, double board, double kerf);

}  // namespace levelrun
