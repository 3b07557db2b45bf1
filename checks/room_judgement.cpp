// Question: which measurement does not agree with the others?
// Method: data snooping (W. Baarda, A testing procedure for use in geodetic networks, 1968) with
// each suspect's own non-linear solve; Sidak's limit for the largest of many; Pope's tau where
// nothing cures. Pairs are picked by the linear model of the full solution and then solved.
#include "checks/room_judgement.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "checks/critical_values.h"

namespace levelrun {
namespace {

// Rates of false alarms (common practice, no source).
constexpr double snooping_alpha = 0.005;  // a room, all residuals together
constexpr double tau_alpha = 0.001;
constexpr double tie = 2;  // chi-square: closer than this, neither is the likelier
// Larger rooms try only the likeliest readings, and beyond that none: time, not truth.
constexpr Index few_corners = 16;
constexpr Index few_readings = 200;
constexpr Index many_corners = 200;
constexpr std::size_t likeliest = 12;
constexpr std::size_t likeliest_pairs = 16;
constexpr double inseparable = 1e-3;   // 1 - correlation^2 of two residuals
constexpr double closes_better = 0.5;  // of the walk's miss; a length without which it closes so
constexpr double walk_miss = 50;       // mm; a walk that closes better accuses nothing

// Everything that is checked. In a large room the likeliest by their residuals, and each length
// without which the walk closes much better: a gross error spreads over the residuals, not over
// the walk.
std::vector<Index> suspects(const RoomNet& net, const std::vector<char>& used, bool solved) {
  const Index corners = net.wall_of_side().size();
  std::vector<Index> out;
  if (corners > many_corners) return out;
  for (Index i = 0; i < net.readings().size(); ++i)
    if (used[i] && (!solved || net.plan().redundancy(i) > PlanAdjustment::unchecked))
      out.push_back(i);
  const bool small = corners <= few_corners && out.size() <= few_readings;
  if (small || out.size() <= likeliest) return out;
  if (solved) {
    std::vector<double> w(net.readings().size(), 0.0);
    for (Index i : out) w[i] = std::abs(net.plan().standardised(i));
    std::stable_sort(out.begin(), out.end(), [&](Index a, Index b) { return w[a] > w[b]; });
  }
  out.resize(likeliest);
  const RoomNet::Closure walk = net.closure(used);
  for (const auto& [reading, miss] : walk.without)
    if (walk.miss > walk_miss && miss < closes_better * walk.miss) out.push_back(reading);
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

struct Pair {
  Index a = 0, b = 0;  // a < b
  double chi_square = 0;
  bool has(Index i) const { return a == i || b == i; }
};

bool likelier(const Pair& p, const Pair& q) {
  if (p.chi_square != q.chi_square) return p.chi_square < q.chi_square;
  return p.a != q.a ? p.a < q.a : p.b < q.b;
}

// The pairs without which the rest would agree best, by the linear model of the net as solved
// with all: leaving out a and b takes z' M^-1 z off chi-square, z = v / sd^2, M its covariance.
std::vector<Pair> likely_pairs(const RoomNet& net, const std::vector<Index>& singles) {
  const PlanAdjustment& plan = net.plan();
  std::vector<double> z, m;
  for (Index i : singles) {
    const double sd = net.readings()[i].sd;
    z.push_back(plan.residual(i) / (sd * sd));
    m.push_back(plan.redundancy(i) / (sd * sd));
  }
  std::vector<Pair> out;
  for (std::size_t a = 0; a < singles.size(); ++a)
    for (std::size_t b = a + 1; b < singles.size(); ++b) {
      const double sd_a = net.readings()[singles[a]].sd, sd_b = net.readings()[singles[b]].sd;
      const double both = -plan.covariance(singles[a], singles[b]) / (sd_a * sd_a * sd_b * sd_b);
      const double determinant = m[a] * m[b] - both * both;
      if (!(determinant > inseparable * m[a] * m[b])) continue;
      const double off =
          (z[a] * z[a] * m[b] - 2 * z[a] * z[b] * both + z[b] * z[b] * m[a]) / determinant;
      out.push_back({singles[a], singles[b], plan.chi_square() - off});
    }
  std::sort(out.begin(), out.end(), likelier);
  if (out.size() > likeliest_pairs) out.resize(likeliest_pairs);
  return out;
}

class Judge {
 public:
  Judge(RoomNet& net, RoomJudgement& out) : net_(net), out_(out) {}

  // state: of the net with all that is used now.
  NetState judge(NetState state) {
    out_ = {};
    out_.used = net_.all_used();
    // Until the net says how many are checked.
    out_.limit = sidak_limit(snooping_alpha, std::max(1, int(net_.readings().size())));
    const bool solved = state == NetState::solved;
    if (solved && net_.plan().dof() <= 0) return state;
    if (solved) {
      const Agreements now = agreements(net_, out_.used);
      out_.limit = now.limit;
      if (!now.fires()) {
        out_.test = GlobalTest::pass;
        return state;
      }
    }
    Step step = one(solved);
    if (step == Step::go_on) step = two(solved);
    if (step == Step::go_on) step = three();
    return step == Step::cured ? NetState::solved : failed();
  }

 private:
  enum class Step { cured, go_on, give_up };

  Step one(bool solved) {
    out_.suspects = suspects(net_, out_.used, solved);
    if (solved) pairs_ = likely_pairs(net_, out_.suspects);
    out_.left_out = net_.each_left_out(out_.used, out_.suspects);
    ranking_ = ranked(out_.left_out);
    if (ranking_.empty()) return Step::give_up;
    // Still bent into another room: nominal angles may straighten it, where they are not in yet.
    if (!net_.assumed() && !ranking_.front().like_described) return Step::give_up;
    const std::vector<Index> tied = as_likely(ranking_);
    if (tied.size() == 1) return cured_without({ranking_.front().reading});
    out_.one_of = tied;
    std::vector<char> used;
    return agree_without({ranking_.front().reading}, used) ? Step::give_up : Step::go_on;
  }

  Step two(bool solved) {
    const Index first = ranking_.front().reading;
    std::vector<char> used = out_.used;
    used[first] = 0;
    const bool solved_without = net_.solve(used) == NetState::solved;
    std::vector<Pair> pairs;
    const std::vector<Index> others = suspects(net_, used, solved_without);
    const std::vector<LeftOut> left_out = ranked(net_.each_left_out(used, others));
    for (const LeftOut& l : left_out)
      pairs.push_back({std::min(first, l.reading), std::max(first, l.reading), l.chi_square});
    if (solved) add_solved_pairs(pairs, first);
    if (pairs.empty()) return Step::give_up;
    std::sort(pairs.begin(), pairs.end(), likelier);
    pair_ = pairs.front();
    std::vector<Pair> tied;
    for (const Pair& p : pairs)
      if (p.chi_square < pair_.chi_square + tie) tied.push_back(p);
    if (tied.size() == 1) return cured_without({pair_.a, pair_.b});
    name_tied(tied);
    return Step::give_up;
  }

  Step three() {
    if (!out_.one_of.empty()) return Step::give_up;
    std::vector<char> used = out_.used;
    used[pair_.a] = used[pair_.b] = 0;
    if (net_.solve(used) != NetState::solved) return Step::give_up;
    const std::vector<Index> others = suspects(net_, used, true);
    const std::vector<LeftOut> last = ranked(net_.each_left_out(used, others));
    if (last.empty() || as_likely(last).size() > 1) return Step::give_up;
    return cured_without({pair_.a, pair_.b, last.front().reading});
  }

  // Those of the linear model that do not hold the first suspect, which has been tried.
  void add_solved_pairs(std::vector<Pair>& pairs, Index first) {
    std::vector<char> used = out_.used;
    double reached = std::numeric_limits<double>::infinity();
    for (const Pair& p : pairs) reached = std::min(reached, p.chi_square);
    for (Pair p : pairs_) {
      if (p.has(first)) continue;
      used[p.a] = used[p.b] = 0;
      if (net_.solve(used, RoomNet::hopeless(reached)) == NetState::solved) {
        p.chi_square = net_.plan().chi_square();
        if (net_.like_described()) {
          pairs.push_back(p);
          reached = std::min(reached, p.chi_square);
        }
      }
      used[p.a] = used[p.b] = 1;
    }
  }

  static std::vector<Index> as_likely(const std::vector<LeftOut>& ranking) {
    std::vector<Index> out;
    for (const LeftOut& l : ranking)
      if (l.chi_square < ranking.front().chi_square + tie) out.push_back(l.reading);
    std::sort(out.begin(), out.end());
    return out;
  }

  bool agree_without(const std::vector<Index>& left_out, std::vector<char>& used) {
    used = out_.used;
    for (Index i : left_out) used[i] = 0;
    if (net_.solve(used) != NetState::solved) return false;
    const int spare = left_out.size() > 1 ? int(left_out.size()) : 0;
    return net_.plan().dof() >= spare && !agreements(net_, used).fires();
  }

  Step cured_without(std::vector<Index> left_out) {
    std::vector<char> used;
    if (!agree_without(left_out, used)) return Step::go_on;
    out_.used = std::move(used);
    out_.rejected = std::move(left_out);
    out_.one_of.clear();
    out_.test = GlobalTest::cured;
    return Step::cured;
  }

  void name_tied(const std::vector<Pair>& tied) {
    std::vector<char> used;
    for (Index shared : {pair_.a, pair_.b}) {
      if (!std::all_of(tied.begin(), tied.end(), [&](const Pair& p) { return p.has(shared); }))
        continue;
      if (!agree_without({pair_.a, pair_.b}, used)) return;
      out_.rejected = {shared};
      out_.used[shared] = 0;
      out_.one_of.clear();
      for (const Pair& p : tied) out_.one_of.push_back(p.a == shared ? p.b : p.a);
      std::sort(out_.one_of.begin(), out_.one_of.end());
      return;
    }
  }

  NetState failed() {
    out_.test = GlobalTest::fail;
    const NetState last = net_.solve(out_.used);
    const PlanAdjustment& plan = net_.plan();
    if (last != NetState::solved || !out_.one_of.empty() || plan.dof() < 2) return last;
    const Index worst = agreements(net_, out_.used).worst;
    if (std::abs(plan.standardised(worst)) > plan.sigma0() * tau_limit(tau_alpha, plan.dof()))
      out_.accused = worst;
    return last;
  }

  RoomNet& net_;
  RoomJudgement& out_;
  std::vector<LeftOut> ranking_;
  std::vector<Pair> pairs_;
  Pair pair_;  // the likeliest
};

}  // namespace

Agreements agreements(const RoomNet& net, const std::vector<char>& used) {
  Agreements out;
  const PlanAdjustment& plan = net.plan();
  if (plan.dof() <= 0) return out;
  out.too_large = chi_square_above(plan.chi_square(), plan.dof()) < global_alpha;
  int checked = 0;
  double largest = 0;
  for (Index i = 0; i < net.readings().size(); ++i) {
    if (!used[i] || plan.redundancy(i) < PlanAdjustment::unchecked) continue;
    ++checked;
    const double w = std::abs(plan.standardised(i));
    if (w <= largest) continue;
    largest = w;
    out.worst = i;
  }
  if (checked == 0) return out;
  out.limit = sidak_limit(snooping_alpha, checked);
  out.one_stands_out = largest > out.limit;
  return out;
}

// Without a solution, or with one bent into another room, either rank is missing, and nominal
// angles fill it; or a slip bends the room out of shape, and it does without them once the slip is
// out. Angles that fit settle it.
NetState judge_room(RoomNet& net, RoomJudgement& out) {
  const NetState measured = net.solve(net.all_used());
  if (measured == NetState::solved &&
      (net.like_described() || !agreements(net, net.all_used()).fires()))
    return Judge(net, out).judge(measured);
  net.assume(true);
  NetState assumed = net.solve(net.all_used());
  const bool fits = assumed == NetState::solved && !agreements(net, net.all_used()).fires();
  if (!fits) {
    net.assume(false);
    if (measured == NetState::solved) net.solve(net.all_used());
    if (Judge(net, out).judge(measured) == NetState::solved && out.test == GlobalTest::cured)
      return NetState::solved;
    net.assume(true);
    assumed = net.solve(net.all_used());
  }
  if (assumed == NetState::undetermined) return assumed;
  return Judge(net, out).judge(assumed);
}

}  // namespace levelrun
