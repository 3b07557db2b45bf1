// Question: a quick plan and a quick bound for a cutting list.
// Method: best fit decreasing; filling one board after the other by branch and bound (after Gupta
// and Ho's minimum bin slack, 1999); the bound L2 of Martello and Toth, Knapsack Problems (1990),
// ch. 8: for a threshold t, pieces over room - t share with nothing of t or more, and what is
// left beside the other pieces over half a board takes the small ones. From memory.
#include "checks/cutting_list.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

namespace levelrun {
namespace {

// Boards. Rounding of a quotient of lengths, so that 3.0000000001 boards are three.
constexpr double rounding = 1e-9;

// Steps to fill one board before the best so far will do: tuned here, no source.
constexpr int fill_steps = 2'000;

// The fullest way to fill one board.
class Fill {
 public:
  explicit Fill(const CuttingList& list) : list_(list), least_room_(list.room) {
    std::size_t longest = 0;
    while (list.count[longest] == 0) ++longest;
    pattern_.emplace_back(longest, 1);
    from(longest, list.count[longest] - 1, list.room - list.size[longest]);
  }

  const Pattern& best() const { return best_; }

 private:
  // `left` of `type` are to be had, and all of the shorter ones.
  void from(std::size_t type, int left, double room) {
    if (room < least_room_) {
      least_room_ = room;
      best_ = pattern_;
    }
    for (; type < list_.size.size();
         ++type, left = type < list_.size.size() ? list_.count[type] : 0) {
      if (left == 0 || list_.size[type] > room) continue;
      if (--steps_ < 0 || least_room_ <= same_room) return;
      const bool again = pattern_.back().first == type;
      if (again)
        ++pattern_.back().second;
      else
        pattern_.emplace_back(type, 1);
      from(type, left - 1, room - list_.size[type]);
      if (again)
        --pattern_.back().second;
      else
        pattern_.pop_back();
    }
  }

  static constexpr double same_room = 2e-6;  // mm: full
  const CuttingList& list_;
  double least_room_;
  int steps_ = fill_steps;
  Pattern pattern_, best_;
};

int boards_for(double length, double room) {
  return static_cast<int>(std::ceil(length / room - rounding));
}

}  // namespace

int pieces_in(const std::vector<int>& count) {
  return std::accumulate(count.begin(), count.end(), 0);
}

int least_boards(const CuttingList& list) {
  const std::size_t types = list.size.size();
  const double half = list.room / 2;
  // Types are falling: [0, alone) are over room - t, [alone, over_half) over half a board, then
  // those from t to half a board. t runs over the small sizes, falling.
  std::size_t over_half = 0;
  int big = 0;
  double all = 0, beside = 0;  // beside: the room left by [alone, over_half)
  for (std::size_t i = 0; i < types; ++i) {
    all += list.size[i] * list.count[i];
    if (list.size[i] <= half) continue;
    over_half = i + 1;
    big += list.count[i];
    beside += (list.room - list.size[i]) * list.count[i];
  }
  int best = std::max(big, boards_for(all, list.room));
  std::size_t alone = 0;
  // As t falls fewer big pieces are alone; start with all those alone at the largest t.
  double small = 0;
  for (; alone < over_half; ++alone) beside -= (list.room - list.size[alone]) * list.count[alone];
  for (std::size_t t = over_half; t < types; ++t) {
    while (alone > 0 && list.size[alone - 1] <= list.room - list.size[t]) {
      --alone;
      beside += (list.room - list.size[alone]) * list.count[alone];
    }
    small += list.size[t] * list.count[t];
    best = std::max(best, big + boards_for(small - beside, list.room));
  }
  return best;
}

std::vector<Pattern> best_fit_plan(const CuttingList& list) {
  std::vector<Pattern> boards;
  std::set<std::pair<double, std::size_t>> left;  // room left and board
  for (std::size_t type = 0; type < list.size.size(); ++type)
    for (int copy = 0; copy < list.count[type]; ++copy) {
      const auto fullest = left.lower_bound({list.size[type], 0});
      const bool fits = fullest != left.end();
      const auto [room, board] = fits ? *fullest : std::pair(list.room, boards.size());
      if (fits)
        left.erase(fullest);
      else
        boards.emplace_back();
      left.emplace(room - list.size[type], board);
      Pattern& pattern = boards[board];
      if (!pattern.empty() && pattern.back().first == type)
        ++pattern.back().second;
      else
        pattern.emplace_back(type, 1);
    }
  return boards;
}

std::vector<Pattern> fullest_boards_plan(CuttingList list) {
  std::vector<Pattern> boards;
  for (int pieces = pieces_in(list.count); pieces > 0;) {
    boards.push_back(Fill(list).best());
    for (const auto& [type, n] : boards.back()) {
      list.count[type] -= n;
      pieces -= n;
    }
  }
  return boards;
}

}  // namespace levelrun
