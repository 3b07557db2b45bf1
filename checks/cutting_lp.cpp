// Question: the fewest boards if boards could be cut in fractions.
// Method: column generation. A linear programme over patterns, solved by the revised simplex
// with an explicit basis inverse; the pattern to enter comes from a bounded knapsack over the
// duals, solved by branch and bound on real lengths. Ties leave by the lexicographic rule, so
// the simplex cannot cycle. The bound does not rest on the simplex's arithmetic: duals >= 0
// divided by the best value any pattern reaches (Farley) bound every plan, whatever duals.
// Source: Gilmore and Gomory, Operations Research 9 (1961) and 11 (1963); Farley, Operations
// Research 38 (1990); Chvatal, Linear Programming (1983), ch. 13. From memory.
#include "checks/cutting_lp.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <span>

namespace levelrun {
namespace {

// Of a reduced cost, in boards: less is rounding and enters nothing.
constexpr double cost_tolerance = 1e-9;

// Of a pivot and of a share of boards: less is rounding.
constexpr double pivot_tolerance = 1e-9;

// Steps of one knapsack after which any pattern worth entering will do: tuned here, no source.
constexpr std::int64_t steps_when_found = 2'000;

// How far the duals priced stay with the best ones so far. Without it the duals swing and most
// patterns entered are of no use: tuned here, no source (after Wentges, 1997, from memory).
constexpr double stay = 0.6;

// Boards. The bound is rounded up only beyond this much rounding.
constexpr double bound_rounding = 1e-6;

int at_most(int count, double fit) { return fit < count ? static_cast<int>(fit) : count; }

// The most valuable pattern, if it is worth more than asked. Once one is found the search may
// stop early; the limit says so.
class Knapsack {
 public:
  Knapsack(const CuttingList& list, std::span<const double> value, double asked,
           std::int64_t& steps)
      : list_(list), value_(value), best_value_(asked), steps_(steps) {
    for (std::size_t i = 0; i < value.size(); ++i)
      if (value[i] > 0 && list.count[i] > 0) order_.push_back(i);
    std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
      return value[a] * list.size[b] > value[b] * list.size[a];
    });
    stop_ = steps - steps_when_found;
    fill(0, 0, list.room);
    std::sort(best_.begin(), best_.end());
  }

  const Pattern& best() const { return best_; }  // by type; empty: none is worth it
  // No pattern is worth more than this.
  double limit() const { return std::max(best_value_ + cost_tolerance, given_up_); }

 private:
  // What types from `next` on, in order of worth, could add if one might be cut in fractions.
  double could_add(std::size_t next, const double room) {
    double sum = 0, left = room;
    for (; next < order_.size(); ++next) {
      --steps_;
      const std::size_t type = order_[next];
      const double size = list_.size[type], all = list_.count[type] * size;
      if (size > room) continue;
      if (all >= left) return sum + value_[type] * left / size;
      sum += value_[type] * list_.count[type];
      left -= all;
    }
    return sum;
  }

  void fill(std::size_t next, double value, double room) {
    if (value > best_value_) {
      best_value_ = value;
      best_ = pattern_;
    }
    for (; next < order_.size(); ++next) {
      const double limit = value + could_add(next, room);
      if (limit <= best_value_ + cost_tolerance) return;
      if (steps_ < 0 || (steps_ < stop_ && !best_.empty())) {
        given_up_ = std::max(given_up_, limit);
        return;
      }
      const std::size_t type = order_[next];
      const double size = list_.size[type];
      const int most = at_most(list_.count[type], room / size);
      for (int n = most; n > 0; --n) {
        pattern_.emplace_back(type, n);
        fill(next + 1, value + n * value_[type], room - n * size);
        pattern_.pop_back();
      }
    }
  }

  const CuttingList& list_;
  std::span<const double> value_;
  double best_value_, given_up_ = 0;
  std::int64_t& steps_;
  std::int64_t stop_ = 0;
  std::vector<std::size_t> order_;
  Pattern pattern_, best_;
};

// The basis of the linear programme: minimise boards so that every type is cut often enough.
class Basis {
 public:
  explicit Basis(const CuttingList& list) : rows_(list.size.size()) {
    inverse_.assign(rows_ * rows_, 0.0);
    for (std::size_t i = 0; i < rows_; ++i) {
      const int fit = std::max(1, at_most(list.count[i], list.room / list.size[i]));
      columns_.push_back({{i, fit}});
      cost_.push_back(1);
      inverse_[i * rows_ + i] = 1.0 / fit;
      share_.push_back(static_cast<double>(list.count[i]) / fit);
    }
  }

  std::vector<double> duals() const {
    std::vector<double> y(rows_, 0.0);
    for (std::size_t r = 0; r < rows_; ++r)
      if (cost_[r] != 0)
        for (std::size_t i = 0; i < rows_; ++i) y[i] += inverse_[r * rows_ + i];
    return y;
  }

  // False: no row limits it, which only rounding can bring about.
  bool enter(const Pattern& column, double cost) {
    std::vector<double> change(rows_, 0.0);
    for (std::size_t r = 0; r < rows_; ++r)
      for (const auto& [i, n] : column) change[r] += inverse_[r * rows_ + i] * n;
    std::optional<std::size_t> leaves;
    for (std::size_t r = 0; r < rows_; ++r)
      if (change[r] > pivot_tolerance && (!leaves || earlier(r, *leaves, change))) leaves = r;
    if (!leaves) return false;
    const std::size_t p = *leaves;
    double* pivot_row = &inverse_[p * rows_];
    for (std::size_t i = 0; i < rows_; ++i) pivot_row[i] /= change[p];
    share_[p] /= change[p];
    for (std::size_t r = 0; r < rows_; ++r) {
      if (r == p || change[r] == 0) continue;
      double* row = &inverse_[r * rows_];
      for (std::size_t i = 0; i < rows_; ++i) row[i] -= change[r] * pivot_row[i];
      share_[r] = std::max(0.0, share_[r] - change[r] * share_[p]);
    }
    columns_[p] = column;
    cost_[p] = cost;
    return true;
  }

  std::vector<FractionalPlan::Share> shares() const {
    std::vector<FractionalPlan::Share> shares;
    for (std::size_t r = 0; r < rows_; ++r)
      if (cost_[r] != 0 && share_[r] > pivot_tolerance) shares.push_back({columns_[r], share_[r]});
    return shares;
  }

 private:
  // Lexicographic: the smaller of (share, inverse row) / change.
  bool earlier(std::size_t a, std::size_t b, const std::vector<double>& change) const {
    const double difference = share_[a] / change[a] - share_[b] / change[b];
    if (std::abs(difference) > pivot_tolerance) return difference < 0;
    for (std::size_t i = 0; i < rows_; ++i) {
      const double d = inverse_[a * rows_ + i] / change[a] - inverse_[b * rows_ + i] / change[b];
      if (std::abs(d) > pivot_tolerance) return d < 0;
    }
    return false;
  }

  std::size_t rows_;
  std::vector<Pattern> columns_;
  std::vector<double> cost_;     // 1 for a pattern, 0 for cutting one piece too many
  std::vector<double> share_;    // boards cut by each column of the basis
  std::vector<double> inverse_;  // by rows
};

}  // namespace

FractionalPlan fractional_plan(const CuttingList& list, std::int64_t& steps) {
  // Types that are all cut already would only cost time.
  CuttingList wanted{{}, {}, list.room};
  std::vector<std::size_t> type;
  for (std::size_t i = 0; i < list.size.size(); ++i)
    if (list.count[i] > 0) {
      wanted.size.push_back(list.size[i]);
      wanted.count.push_back(list.count[i]);
      type.push_back(i);
    }

  FractionalPlan plan;
  plan.bound = least_boards(wanted);
  if (type.empty()) return plan;
  Basis basis(wanted);
  const auto worth = [&](const std::vector<double>& y) {
    return std::inner_product(y.begin(), y.end(), wanted.count.begin(), 0.0);
  };
  const auto value = [](const Pattern& pattern, const std::vector<double>& y) {
    double sum = 0;
    for (const auto& [i, n] : pattern) sum += y[i] * n;
    return sum;
  };
  // A bound from duals that no pattern exceeds by more than limit; lengths are such duals.
  std::vector<double> steady(type.size());
  for (std::size_t i = 0; i < type.size(); ++i) steady[i] = wanted.size[i] / wanted.room;
  double proved = worth(steady);
  const auto prove = [&](const std::vector<double>& y, double limit) {
    const double bound = worth(y) / limit;
    if (bound <= proved) return;
    proved = bound;
    for (std::size_t i = 0; i < y.size(); ++i) steady[i] = y[i] / limit;
    plan.bound = std::max(plan.bound, static_cast<int>(std::ceil(bound - bound_rounding)));
  };

  const auto pivot_steps = static_cast<std::int64_t>(type.size() * type.size() / 2 + 1);
  for (const Pattern& pattern : best_fit_plan(wanted)) {
    steps -= pivot_steps;
    if (value(pattern, basis.duals()) > 1 + cost_tolerance) basis.enter(pattern, 1);
  }
  while (true) {
    std::vector<double> y = basis.duals();
    steps -= pivot_steps;
    if (steps < 0) break;
    // A negative dual: one piece too many would do no harm.
    const auto lowest = std::min_element(y.begin(), y.end());
    if (*lowest < -cost_tolerance) {
      const auto row = static_cast<std::size_t>(lowest - y.begin());
      if (!basis.enter({{row, -1}}, 0)) break;
      continue;
    }
    for (double& v : y) v = std::max(0.0, v);
    // Enough is proved when rounding up hides the rest.
    const double boards = worth(y);
    const double whole = std::ceil(boards - bound_rounding);
    if (plan.bound >= whole) break;
    std::vector<double> blend(y.size());
    for (std::size_t i = 0; i < y.size(); ++i) blend[i] = stay * steady[i] + (1 - stay) * y[i];
    const Knapsack near(wanted, blend, 1 + cost_tolerance, steps);
    prove(blend, near.limit());
    if (value(near.best(), y) > 1 + cost_tolerance) {
      if (!basis.enter(near.best(), 1)) break;
      continue;
    }
    const double asked = std::max(1.0, boards / (whole - 1 + 2 * bound_rounding));
    const Knapsack exact(wanted, y, asked + cost_tolerance, steps);
    prove(y, exact.limit());
    if (exact.best().empty() || !basis.enter(exact.best(), 1)) break;
  }
  plan.shares = basis.shares();
  for (FractionalPlan::Share& share : plan.shares)
    for (auto& [i, n] : share.pattern) i = type[i];
  return plan;
}

}  // namespace levelrun
