// Question: can this list be cut from so many boards?
// Method: bin completion. The longest piece left is cut from some board; try every way to
// complete that board, fullest first. Left out are completions that another one dominates:
// those that would still take a piece, and those in which a piece can be swapped for a longer
// one. What the boards tried so far wasted may not exceed what the list can spare. What was
// left when a branch failed is remembered.
// Source: Martello and Toth, Knapsack Problems (1990), ch. 8 (dominance); Korf, "A new algorithm
// for optimal bin packing" (2002). From memory.
#include "checks/cutting_exact.h"

#include <algorithm>
#include <string>
#include <unordered_set>

namespace levelrun {
namespace {

// Failures remembered at most; memory stays small.
constexpr std::size_t most_remembered = 100'000;

// Ways to complete one board held at most.
constexpr std::size_t most_completions = 20'000;

// A count above this does not fit the remembered key; such lists are not searched here.
constexpr int most_of_a_type = 127;

class Search {
 public:
  Search(const CuttingList& list, std::int64_t& steps)
      : list_(list), left_(list.count), steps_(steps) {
    pieces_ = pieces_in(list.count);
    for (std::size_t i = 0; i < left_.size(); ++i) length_ += list.size[i] * left_[i];
  }

  Possible cut(int boards) {
    if (pieces_ == 0) return Possible::yes;
    if (boards == 0 || length_ > boards * list_.room) return Possible::no;
    if (--steps_ < 0) return Possible::unknown;
    std::string key(left_.begin(), left_.end());
    key.append(reinterpret_cast<const char*>(&boards), sizeof boards);
    if (failed_.contains(key)) return Possible::no;

    std::size_t longest = 0;
    while (left_[longest] == 0) ++longest;
    std::vector<Completion> completions;
    Completion start{list_.room - list_.size[longest], {{longest, 1}}};
    --left_[longest];
    // The waste that can be spared, with a hair for the sums' rounding.
    const double spare = boards * list_.room - length_ + rounding;
    complete(longest, start, spare, completions);
    ++left_[longest];
    std::stable_sort(completions.begin(), completions.end(),
                     [](const Completion& a, const Completion& b) { return a.room < b.room; });

    for (const Completion& c : completions) {
      if (steps_ < 0) return Possible::unknown;
      const double length = length_;  // restored, not added back: no drift
      take(c.pattern, -1);
      const Possible rest = cut(boards - 1);
      take(c.pattern, +1);
      length_ = length;
      if (rest == Possible::no) continue;
      if (rest == Possible::yes) plan_.push_back(c.pattern);
      return rest;
    }
    if (steps_ < 0) return Possible::unknown;
    if (failed_.size() < most_remembered) failed_.insert(key);
    return Possible::no;
  }

  std::vector<Pattern> plan() && { return std::move(plan_); }

 private:
  struct Completion {
    double room = 0;  // still in the board
    Pattern pattern;
  };
  static constexpr double rounding = 1e-7;  // mm

  void take(const Pattern& pattern, int sign) {
    for (const auto& [type, n] : pattern) {
      left_[type] += sign * n;
      pieces_ += sign * n;
      length_ += sign * n * list_.size[type];
    }
  }

  // Adds pieces of type `from` or shorter to the board; left_ does not count those in it.
  void complete(std::size_t from, Completion& board, double spare, std::vector<Completion>& out) {
    if (--steps_ < 0) return;
    bool full = true;
    for (std::size_t type = from; type < left_.size() && steps_ >= 0; ++type) {
      if (left_[type] == 0 || list_.size[type] > board.room) continue;
      full = false;
      const double room = board.room;
      const bool again = board.pattern.back().first == type;
      if (again)
        ++board.pattern.back().second;
      else
        board.pattern.emplace_back(type, 1);
      board.room -= list_.size[type];
      --left_[type];
      complete(type, board, spare, out);
      ++left_[type];
      board.room = room;
      if (again)
        --board.pattern.back().second;
      else
        board.pattern.pop_back();
    }
    if (!full || board.room > spare || dominated(board)) return;
    if (out.size() == most_completions)
      steps_ = -1;  // too many to hold: give up
    else
      out.push_back(board);
  }

  bool dominated(const Completion& board) const {
    std::size_t next = 0;
    for (const auto& [type, n] : board.pattern) {
      // The shortest longer piece that is left, if any.
      for (std::size_t longer = type; longer-- > next;)
        if (left_[longer] > 0) {
          if (list_.size[longer] - list_.size[type] <= board.room) return true;
          break;
        }
      next = type;
    }
    // A shorter piece that still fits was passed over.
    for (std::size_t i = left_.size(); i-- > 0;)
      if (left_[i] > 0) return list_.size[i] <= board.room;
    return false;
  }

  const CuttingList& list_;
  std::vector<int> left_;
  int pieces_ = 0;
  double length_ = 0;
  std::int64_t& steps_;
  std::unordered_set<std::string> failed_;
  std::vector<Pattern> plan_;
};

}  // namespace

ExactAnswer cut_from(const CuttingList& list, int boards, std::int64_t& steps) {
  for (const int n : list.count)
    if (n > most_of_a_type) return {};
  Search search(list, steps);
  ExactAnswer answer;
  answer.possible = search.cut(boards);
  answer.boards = std::move(search).plan();
  return answer;
}

}  // namespace levelrun
