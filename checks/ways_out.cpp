#include "checks/ways_out.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "checks/plinth_cuts.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double grid = 100;  // mm between places looked at for compound
// mm. A way often ends exactly on a limit: its last binary digits must not decide the verdict.
constexpr double rounding = 1e-6;

std::string range(const LegType& type) {
  return millimetres(type.min) + "–" + millimetres(type.max);
}

// How far a number is from its nearer limit.
double spare(const Tightest& t) { return std::min(t.value - t.least, t.most - t.value); }

void tighter(std::optional<Tightest>& so_far, Tightest other) {
  if (!so_far || spare(other) < spare(*so_far)) so_far = std::move(other);
}

// The group's leg that comes nearest to its limits. `of`: what U, leg type and rise of the floor
// the leg stands on once the way is taken.
struct LegThen {
  double underside;
  const LegType* type;
  double rise = 0;
};
template <class LegThenOf>
std::optional<Tightest> tightest_leg(const RoomFacts& facts, const LevelGroupFacts& group,
                                     const LegThenOf& of) {
  std::optional<Tightest> out;
  for (const LegPlace& leg : facts.legs) {
    if (std::find(group.runs.begin(), group.runs.end(), leg.run) == group.runs.end()) continue;
    const auto bearing = leg.bearing();
    if (!bearing) continue;
    const LegThen then = of(leg);
    const Estimate height{then.underside + leg.placed->offset - bearing->value - then.rise,
                          bearing->sd};
    tighter(out, {facts.room.runs[leg.run].units[leg.unit].id + " " +
                      spaced(leg.placed->legs[leg.leg].position),
                  height.value, height.sd, then.type->min, then.type->max,
                  between(height, then.type->min - rounding, then.type->max + rounding)});
  }
  return out;
}

struct Range {
  double low = -infinity, high = infinity;
};

Range hard_range(const LevelGroupFacts& group, bool with_legs, bool with_set) {
  Range out;
  for (const GroupBound& b : group.bounds) {
    if (!b.bound.hard || (!with_legs && b.leg) || (!with_set && b.bound.kind == BoundKind::set))
      continue;
    if (b.bound.lower)
      out.low = std::max(out.low, b.bound.applied);
    else
      out.high = std::min(out.high, b.bound.applied);
  }
  return out;
}

// Each unit's legs allow U an interval for each leg type; find the U at which the fewest units
// need another type, everything else of the group kept.
std::optional<WayOut> other_leg_types(const RoomFacts& facts, const LevelGroupFacts& group) {
  struct Standing {
    Index run, unit, type;
    std::map<Index, Range> by_type;
  };
  std::vector<Standing> units;
  for (const LegPlace& leg : facts.legs) {
    if (std::find(group.runs.begin(), group.runs.end(), leg.run) == group.runs.end()) continue;
    const auto bearing = leg.bearing();
    if (!bearing) continue;
    if (units.empty() || units.back().run != leg.run || units.back().unit != leg.unit)
      units.push_back({leg.run, leg.unit, *leg.placed->leg_type, {}});
    const auto& types = facts.room.runs[leg.run].furniture.legs;
    for (Index t = 0; t < types.size(); ++t) {
      Range& allowed = units.back().by_type[t];
      const double base = bearing->value - leg.placed->offset, margin = band95 * bearing->sd;
      allowed.low = std::max(allowed.low, base + types[t].min + margin);
      allowed.high = std::min(allowed.high, base + types[t].max - margin);
    }
  }
  const Range others = hard_range(group, false, true);
  if (others.low > others.high) return std::nullopt;
  const auto fits = [](const Range& r, double u) {
    return u >= r.low - 1e-9 && u <= r.high + 1e-9;
  };

  std::vector<double> candidates;
  for (const double end : {others.low, others.high}) candidates.push_back(end);
  for (const Standing& unit : units)
    for (const auto& [type, allowed] : unit.by_type)
      for (const double end : {allowed.low, allowed.high}) candidates.push_back(end);
  std::sort(candidates.begin(), candidates.end());

  Index fewest = units.size() + 1;
  double best = 0;
  for (const double u : candidates) {
    if (!std::isfinite(u) || !fits(others, u)) continue;
    Index changed = 0;
    for (const Standing& unit : units) {
      if (fits(unit.by_type.at(unit.type), u)) continue;
      const bool any = std::any_of(unit.by_type.begin(), unit.by_type.end(),
                                   [&](const auto& t) { return fits(t.second, u); });
      changed += any ? 1 : units.size() + 1;
    }
    if (changed > 0 && changed < fewest) {
      fewest = changed;
      best = u;
    }
  }
  if (fewest > units.size()) return std::nullopt;
  WayOut out{"leg type", "", "underside " + decimal(best), {}};
  std::map<std::pair<Index, Index>, Index> other;
  for (const Standing& unit : units) {
    if (fits(unit.by_type.at(unit.type), best)) continue;
    const Run& run = facts.room.runs[unit.run];
    for (const auto& [type, allowed] : unit.by_type)
      if (fits(allowed, best)) {
        const LegType& leg = run.furniture.legs[type];
        other[{unit.run, unit.unit}] = type;
        out.what += (out.what.empty() ? "leg type " : ", ") + leg.id + " (" + range(leg) + ") at " +
                    run.units[unit.unit].id;
        break;
      }
  }
  out.tightest = tightest_leg(facts, group, [&](const LegPlace& leg) {
    const auto changed = other.find({leg.run, leg.unit});
    const auto& types = facts.room.runs[leg.run].furniture.legs;
    return LegThen{best, changed == other.end() ? leg.type : &types[changed->second]};
  });
  return out;
}

std::optional<WayOut> split(const RoomFacts& facts, const LevelGroupFacts& group) {
  // Units in order; bounds of the whole group (set, asked) go with both sides.
  std::vector<std::pair<Index, Index>> units;
  for (const Index r : group.runs)
    for (Index i = 0; i < facts.room.runs[r].units.size(); ++i) units.push_back({r, i});
  double smallest = infinity;
  Index where = 0;
  Range left_best, right_best;
  for (Index k = 1; k < units.size(); ++k) {
    Range left, right;
    for (const GroupBound& b : group.bounds) {
      if (!b.bound.hard) continue;
      const bool both = !b.run || !b.unit;
      const bool in_left = both || std::pair(*b.run, *b.unit) < units[k];
      const bool in_right = both || !in_left;
      for (auto [in, side] : {std::pair{in_left, &left}, std::pair{in_right, &right}}) {
        if (!in) continue;
        if (b.bound.lower)
          side->low = std::max(side->low, b.bound.applied);
        else
          side->high = std::min(side->high, b.bound.applied);
      }
    }
    if (left.low > left.high || right.low > right.high) continue;
    const double step = std::max({0.0, right.low - left.high, left.low - right.high});
    if (step < smallest - 1e-9) {
      smallest = step;
      where = k;
      left_best = left;
      right_best = right;
    }
  }
  if (where == 0 || !std::isfinite(smallest) || smallest <= 0) return std::nullopt;
  const bool up = right_best.low > left_best.high;
  const double u1 = up ? left_best.high : left_best.low, u2 = up ? right_best.low : right_best.high;
  const auto name = [&](Index k) {
    return facts.room.runs[units[k].first].units[units[k].second].id;
  };
  return WayOut{"split",
                "one step of " + decimal(smallest) + " in level between " + name(where - 1) +
                    " and " + name(where),
                "undersides " + decimal(u1) + " and " + decimal(u2),
                tightest_leg(facts, group, [&](const LegPlace& leg) {
                  return LegThen{std::pair(leg.run, leg.unit) < units[where] ? u1 : u2, leg.type};
                })};
}

// Compound brings the floor under the legs that cannot reach up to what they can reach.
std::optional<WayOut> compound(const RoomFacts& facts, const LevelGroupFacts& group) {
  const Interval hard = hard_interval(group);
  if (!hard.lower || !hard.upper || hard.upper->bound.kind != BoundKind::leg_max)
    return std::nullopt;
  // U as low as everything else lets it be; the floor must then come up to `level`.
  const double u = hard.lower->bound.applied;
  double depth = 0, level = -infinity;
  std::vector<const LegPlace*> reached;
  for (const GroupBound& b : group.bounds) {
    if (b.bound.kind != BoundKind::leg_max || b.bound.applied >= u) continue;
    const double needed = u - b.bound.applied;
    depth = std::max(depth, needed);
    level = std::max(level, b.leg->bare->value + needed);
    reached.push_back(b.leg);
  }
  // Area: under the units concerned, wherever the bare floor lies below that level.
  std::vector<PlanPoint> places;
  const PlacedUnit* last = nullptr;
  for (const LegPlace* leg : reached) {
    if (leg->placed == last) continue;
    last = leg->placed;
    const PlacedUnit& unit = *leg->placed;
    const RunFrame& frame = facts.runs[leg->run]->frame;
    for (double x = unit.left + grid / 2; x < unit.right; x += grid)
      for (double y = unit.back + grid / 2; y < unit.front; y += grid)
        places.push_back(frame.at(x, y));
  }
  int low = 0;
  for (const auto& height : facts.floor.heights(places)) low += height && *height < level;
  return WayOut{"compound",
                "levelling compound " + decimal(depth) + " deep, over " +
                    decimal(std::max(low, 1) * grid * grid / 1e6, 2) + " m², up to " +
                    decimal(level) + " (bare floor)",
                decimal(u) + " − " + term(hard.upper->bound.applied) + " = " + decimal(depth),
                tightest_leg(facts, group, [&](const LegPlace& leg) {
                  const double rise = leg.bare ? std::max(0.0, level - leg.bare->value) : 0;
                  const bool filled =
                      std::any_of(reached.begin(), reached.end(),
                                  [&](const LegPlace* one) { return one->placed == leg.placed; });
                  return LegThen{u, leg.type, filled ? rise : 0};
                })};
}

std::optional<WayOut> move_underside(const RoomFacts& facts, const LevelGroupFacts& group,
                                     const GroupResult& result) {
  const Range free = hard_range(group, true, false);
  if (!result.set || free.low > free.high) return std::nullopt;
  const double u = std::clamp(result.underside, free.low, free.high);
  const double by = u - result.underside;
  if (by == 0) return std::nullopt;
  return WayOut{"move underside",
                "underside " + decimal(std::abs(by)) + (by > 0 ? " higher" : " lower") +
                    ", if the client agrees",
                term(result.underside) + (by > 0 ? " + " : " − ") + decimal(std::abs(by)) + " = " +
                    decimal(u),
                tightest_leg(facts, group, [&](const LegPlace& leg) {
                  return LegThen{u, leg.type};
                })};
}

// Another stocked board for the runs whose board would be cut or would not reach.
void other_boards(const RoomFacts& facts, const LevelGroupFacts& group, const GroupResult& result,
                  std::vector<WayOut>& out) {
  for (const Index r : group.runs) {
    const Run& run = facts.room.runs[r];
    const Plinth& plinth = run.furniture.plinth;
    const double underside = result.underside + facts.runs[r]->frame.offset;
    const auto trouble = [&](double board) {
      int n = 0;
      for (const PlinthPiece& piece : facts.plinths)
        if (piece.run == r && !piece.floor.empty()) {
          const PlinthResult cut = cut_piece(piece, plinth, underside, board);
          n += cut.top != TopCut::none || cut.top_gap_greatest > plinth.top_gap_max;
        }
      return n;
    };
    if (trouble(plinth.height) == 0) continue;
    for (const double board : plinth.other_heights) {
      if (trouble(board) > 0) continue;
      double least = infinity, most = -infinity;
      std::optional<Tightest> tightest;
      for (const PlinthPiece& piece : facts.plinths)
        if (piece.run == r && !piece.floor.empty()) {
          const PlinthResult cut = cut_piece(piece, plinth, underside, board);
          least = std::min(least, cut.top_gap_least);
          most = std::max(most, cut.top_gap_greatest);
          for (const double gap : {cut.top_gap_least, cut.top_gap_greatest})
            tighter(tightest, {"top gap of run " + run.id, gap, cut.sd, plinth.top_gap_min,
                               plinth.top_gap_max,
                               between({gap, cut.sd}, plinth.top_gap_min - rounding,
                                       plinth.top_gap_max + rounding)});
        }
      out.push_back(
          {"plinth height",
           "board " + millimetres(board) + " high for run " + run.id + ": whole, none short",
           "top gap " + decimal(least) + " to " + decimal(most), tightest});
      break;
    }
  }
}

}  // namespace

std::vector<WayOut> ways_out(const RoomFacts& facts, const LevelGroupFacts& group,
                             const GroupResult& result) {
  std::vector<WayOut> out;
  if (!result.feasible) {
    if (auto way = compound(facts, group)) out.push_back(std::move(*way));
    if (auto way = other_leg_types(facts, group)) out.push_back(std::move(*way));
    if (auto way = split(facts, group)) out.push_back(std::move(*way));
    if (auto way = move_underside(facts, group, result)) out.push_back(std::move(*way));
  }
  other_boards(facts, group, result, out);
  return out;
}

}  // namespace levelrun
