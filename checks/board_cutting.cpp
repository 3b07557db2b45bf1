// Question: which pieces to cut from which boards so that the fewest boards are used?
// Method: in order of cost, until a plan meets the proved bound:
//   1. best fit decreasing against two cheap bounds (cutting_list.cpp): most kitchens end here;
//   2. for short lists an exact search (cutting_exact.cpp), which also raises the bound;
//   3. the list with boards cut in fractions (cutting_lp.cpp) for a bound that is seldom short
//      of the truth, and diving: take the whole boards of that plan, solve what is left again,
//      round up one pattern at a time and go back a little where that fails;
//   4. for short lists the exact search once more, at length.
// Source: as in those files; diving: common practice in integer programming, no source.
#include "checks/board_cutting.h"

#include <algorithm>
#include <cstdint>

#include "checks/cutting_exact.h"
#include "checks/cutting_list.h"
#include "checks/cutting_lp.h"

namespace levelrun {
namespace {

// mm. Lengths that differ by less are one.
constexpr double same_length = 1e-6;

// All limits of work are in steps of search, some 3 to 50 ns each: tuned here, no source.
constexpr int short_list = 64;    // pieces; the exact search is tried
constexpr int long_list = 1'500;  // pieces; beyond, the quick plan must do
constexpr std::int64_t quick_search = 3'000;
constexpr std::int64_t long_search = 1'000'000;
constexpr std::int64_t lp_steps = 8'000'000;
constexpr std::int64_t dive_steps = 8'000'000;  // halved for each board more
constexpr std::int64_t dive_lp_steps = 1'000'000;
constexpr std::size_t most_types = 400;    // beyond, the linear programme is too dear
constexpr int short_rest = 24;             // pieces; searched within a dive
constexpr double whole_rounding = 1e-6;    // boards
constexpr std::size_t patterns_tried = 3;  // of a dive, before it goes back

struct Types {
  CuttingList list;
  std::vector<std::vector<std::size_t>> pieces;  // of each type, in the order given
};

Types types_of(std::span<const double> lengths, double board, double kerf,
               std::vector<std::size_t>& too_long) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < lengths.size(); ++i)
    (lengths[i] <= board + same_length ? order : too_long).push_back(i);
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return lengths[a] > lengths[b]; });
  Types types;
  types.list.room = board + kerf + same_length;
  double longest = 0;
  for (const std::size_t i : order) {
    if (types.pieces.empty() || longest - lengths[i] > same_length) {
      longest = lengths[i];
      // Lengths above 0 are promised; a size of at least a hair keeps counts finite anyhow.
      types.list.size.push_back(std::max(longest + kerf, same_length));
      types.list.count.push_back(0);
      types.pieces.emplace_back();
    }
    ++types.list.count.back();
    types.pieces.back().push_back(i);
  }
  for (auto& pieces : types.pieces) std::sort(pieces.begin(), pieces.end());
  return types;
}

// Looks for a plan of no more boards than asked for, and keeps the best one it meets.
class Dive {
 public:
  Dive(const CuttingList& list, int boards, std::int64_t steps) : steps_(steps) {
    down(list, boards);
  }

  const std::vector<Pattern>& best() const { return best_; }

 private:
  // True: a plan was found. `boards` are still to be had for `rest`.
  bool down(CuttingList rest, int boards) {
    if (least_boards(rest) > boards) return false;
    const std::vector<Pattern> quick_plan = best_fit_plan(rest);
    if (keep(quick_plan, boards)) return true;
    if (pieces_in(rest.count) <= short_rest) {
      std::int64_t quick = std::min(quick_search, steps_);
      steps_ -= quick;
      const ExactAnswer exact = cut_from(rest, boards, quick);
      steps_ += std::max<std::int64_t>(0, quick);
      if (exact.possible == Possible::yes) return keep(exact.boards, boards);
      if (exact.possible == Possible::no) return false;
    }
    // A plan from duals that are not the best yet will do to go on.
    std::int64_t some = std::min(dive_lp_steps, steps_);
    steps_ -= some;
    FractionalPlan fractional = fractional_plan(rest, some);
    steps_ += std::max<std::int64_t>(0, some);
    if (fractional.bound > boards) return false;

    const std::size_t before = cut_.size();
    for (const auto& share : fractional.shares)
      for (int whole = static_cast<int>(share.boards + whole_rounding); whole > 0; --whole)
        cut(rest, share.pattern);
    const int whole = static_cast<int>(cut_.size() - before);
    if (whole > 0) {
      const bool found = down(std::move(rest), boards - whole);
      cut_.resize(before);
      return found;
    }
    std::stable_sort(fractional.shares.begin(), fractional.shares.end(),
                     [](const auto& a, const auto& b) { return a.boards > b.boards; });
    for (std::size_t i = 0; i < std::min(patterns_tried, fractional.shares.size()); ++i) {
      CuttingList less = rest;
      cut(less, fractional.shares[i].pattern);
      const bool found = down(std::move(less), boards - 1);
      cut_.resize(before);
      if (found || steps_ <= 0) return found;
    }
    return false;
  }

  // Takes one board off the list. The pattern loses what the list no longer wants.
  void cut(CuttingList& list, const Pattern& pattern) {
    Pattern wanted;
    for (const auto& [type, n] : pattern) {
      const int taken = std::min(n, list.count[type]);
      list.count[type] -= taken;
      if (taken > 0) wanted.emplace_back(type, taken);
    }
    if (!wanted.empty()) cut_.push_back(std::move(wanted));
  }

  bool keep(const std::vector<Pattern>& rest, int boards) {
    if (best_.empty() || cut_.size() + rest.size() < best_.size()) {
      best_ = cut_;
      best_.insert(best_.end(), rest.begin(), rest.end());
    }
    return static_cast<int>(rest.size()) <= boards;
  }

  std::int64_t steps_;
  std::vector<Pattern> cut_, best_;
};

struct Proved {
  std::vector<Pattern> boards;
  int bound = 0;

  int used() const { return static_cast<int>(boards.size()); }
  bool optimum() const { return used() <= bound; }
};

// Raises the bound and betters the plan from below, as far as the steps go.
void search(const CuttingList& list, std::int64_t steps, Proved& best) {
  while (!best.optimum()) {
    ExactAnswer exact = cut_from(list, best.bound, steps);
    if (exact.possible == Possible::unknown) return;
    if (exact.possible == Possible::yes)
      best.boards = std::move(exact.boards);
    else
      ++best.bound;
  }
}

Proved plan_boards(const CuttingList& list) {
  Proved best{best_fit_plan(list), least_boards(list)};
  const bool is_short = pieces_in(list.count) <= short_list;
  if (is_short) search(list, quick_search, best);
  if (best.optimum()) return best;
  if (pieces_in(list.count) <= long_list) {
    std::vector<Pattern> fullest = fullest_boards_plan(list);
    if (static_cast<int>(fullest.size()) < best.used()) best.boards = std::move(fullest);
  }
  if (best.optimum() || list.size.size() > most_types) return best;

  std::int64_t steps = lp_steps;
  best.bound = std::max(best.bound, fractional_plan(list, steps).bound);
  // Where the bound cannot be reached, or not soon, one board more is tried, and so on.
  steps = dive_steps;
  for (int boards = best.bound; boards < best.used(); ++boards, steps /= 2) {
    const Dive dive(list, boards, steps);
    if (static_cast<int>(dive.best().size()) < best.used()) best.boards = dive.best();
  }
  if (is_short) search(list, long_search, best);
  return best;
}

}  // namespace

CutPlan cut_boards(std::span<const double> lengths, double board, double kerf) {
  CutPlan plan;
  Types types = types_of(lengths, board, kerf, plan.too_long);
  if (types.pieces.empty()) return plan;
  const Proved best = plan_boards(types.list);
  std::vector<std::size_t> next(types.pieces.size(), 0);
  for (const Pattern& pattern : best.boards) {
    auto& pieces = plan.boards.emplace_back();
    for (const auto& [type, n] : pattern)
      for (int copy = 0; copy < n; ++copy) pieces.push_back(types.pieces[type][next[type]++]);
    std::sort(pieces.begin(), pieces.end());
  }
  std::sort(plan.boards.begin(), plan.boards.end());
  plan.bound = static_cast<std::size_t>(best.bound);
  return plan;
}

}  // namespace levelrun
