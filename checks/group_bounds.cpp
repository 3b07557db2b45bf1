#include "checks/group_bounds.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "checks/measured_heights.h"
#include "checks/outline.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double front_step = 300;      // mm between places looked at along the fronts
constexpr double slide_in_depth = 600;  // mm in front of a niche that an appliance crosses; the
                                        // depth to assume for one (NHBC Standards 2020, 9.4.3)
constexpr Index ceilings_near = 3;      // readings nearest a unit that bound it

constexpr std::array<std::string_view, 10> bound_words = {
    "leg_min", "leg_max", "niche",        "slide_in",      "sill",
    "ceiling", "set",     "asked_height", "board_reaches", "board_whole"};

Estimate plus(Estimate a, double b) { return {a.value + b, a.sd}; }
Estimate plus(Estimate a, Estimate b) { return {a.value + b.value, std::hypot(a.sd, b.sd)}; }

class Collector {
 public:
  Collector(const RoomFacts& facts, LevelGroupFacts& group) : f_(facts), group_(group) {}

  void legs() {
    for (const LegPlace& leg : f_.legs) {
      if (!in_group(leg.run)) continue;
      const auto bearing = leg.bearing();
      if (!bearing) continue;
      const Unit& unit = f_.room.runs[leg.run].units[leg.unit];
      const PlacedLeg& placed = leg.placed->legs[leg.leg];
      const std::string at = unit.id + " " + placed.position;
      const double offset = leg.placed->offset;
      const double moves = leg.laid.top_layer ? 1 : 0;
      GroupBound low = hard(BoundKind::leg_min, at, true, plus(*bearing, leg.type->min - offset));
      GroupBound high = hard(BoundKind::leg_max, at, false, plus(*bearing, leg.type->max - offset));
      low.bound.sum = sum({{bearing->value, "+"}, {leg.type->min, "+"}, {offset, "-"}});
      high.bound.sum = sum({{bearing->value, "+"}, {leg.type->max, "+"}, {offset, "-"}});
      for (GroupBound* b : {&low, &high}) {
        b->bound.flooring = moves;
        b->run = leg.run;
        b->unit = leg.unit;
        b->leg = &leg;
        group_.bounds.push_back(std::move(*b));
      }
    }
  }

  void niches() {
    struct Spot {
      Index run, unit;
      Index first_niche, first_front;
    };
    std::vector<Spot> spots;
    std::vector<PlanPoint> places;
    for (const Index r : group_.runs) {
      const PlacedRun& run = *f_.runs[r];
      for (const PlacedUnit& unit : run.units) {
        if (!f_.room.runs[r].units[unit.unit].niche) continue;
        Spot spot{r, unit.unit, places.size(), 0};
        for (const double v : {0.0, 0.5, 1.0})
          for (const double u : {0.0, 0.5, 1.0})
            places.push_back(run.frame.at(unit.left + u * (unit.right - unit.left),
                                          unit.back + v * (unit.front - unit.back)));
        spot.first_front = places.size();
        for (const double out : {0.0, 0.5, 1.0})
          for (const double u : {0.0, 0.5, 1.0})
            places.push_back(run.frame.at(unit.left + u * (unit.right - unit.left),
                                          unit.front + out * slide_in_depth));
        spots.push_back(spot);
      }
    }
    if (spots.empty()) return;
    const auto bare = f_.floor.estimates(places);
    for (const Spot& spot : spots) {
      const Run& run = f_.room.runs[spot.run];
      const Unit& unit = run.units[spot.unit];
      const double top = f_.runs[spot.run]->frame.offset + run.furniture.base_height;
      const auto highest = extreme(places, bare, spot.first_niche, 9, Floor::niche, true);
      const auto lowest = extreme(places, bare, spot.first_niche, 9, Floor::niche, false);
      const auto in_front = extreme(places, bare, spot.first_front, 9, Floor::finished, true);
      if (highest) {
        add(BoundKind::niche, spot, unit.id, true, *highest, unit.niche->min_height, top);
        add(BoundKind::niche, spot, unit.id, false, *lowest, unit.niche->max_height, top);
      }
      if (in_front)
        add(BoundKind::slide_in, spot, unit.id, true, *in_front,
            unit.niche->min_height + unit.niche->slide_in, top);
    }
  }

  void sills() {
    for (const Opening& opening : f_.room.openings) {
      if (opening.kind != OpeningKind::window || opening.sill.value <= 0 || !f_.plan.known)
        continue;
      const Place middle{opening.wall, opening.left + opening.width / 2, 0, 0, 0, 0};
      const auto sill = absolute(opening.sill, middle);
      if (!sill) continue;
      for (const Index r : group_.runs) {
        const Run& run = f_.room.runs[r];
        if (run.wall != opening.wall) continue;
        for (const PlacedUnit& unit : f_.runs[r]->units) {
          const Unit& facts = run.units[unit.unit];
          if (facts.kind == UnitKind::wall || facts.kind == UnitKind::tall) continue;
          if (run.from_along + unit.right <= opening.left ||
              run.from_along + unit.left >= opening.left + opening.width)
            continue;
          const Furniture& furniture = run.furniture;
          const double top = f_.runs[r]->frame.offset + furniture.base_height +
                             furniture.worktop.thickness +
                             (furniture.worktop.upstand ? furniture.worktop.upstand->height : 0);
          const double board = opening.board ? opening.board->thickness : 0;
          GroupBound b = hard(BoundKind::sill, opening.id + " over " + facts.id, false,
                              plus(*sill, -board - top));
          b.bound.sum = sum({{sill->value, "+"}, {board, "-"}, {top, "-"}});
          b.run = r;
          b.unit = unit.unit;
          group_.bounds.push_back(std::move(b));
          break;  // one unit carries the worktop under this window; its neighbours say the same
        }
      }
    }
  }

  void ceilings() {
    if (f_.room.ceilings.empty()) return;
    for (const Index r : group_.runs) {
      const Run& run = f_.room.runs[r];
      for (const PlacedUnit& unit : f_.runs[r]->units) {
        const Unit& facts = run.units[unit.unit];
        const bool hangs = facts.kind == UnitKind::wall && !facts.bottom;
        if (!hangs && !(facts.kind == UnitKind::tall && unit.top_offset > unit.offset)) continue;
        const PlanPoint middle =
            f_.runs[r]->frame.at((unit.left + unit.right) / 2, (unit.back + unit.front) / 2);
        const auto ceiling = lowest_ceiling_near(middle);
        if (!ceiling) continue;
        const double top = unit.top_offset + run.furniture.cornice;
        GroupBound b = hard(BoundKind::ceiling, facts.id, false, plus(*ceiling, -top));
        b.bound.sum = sum({{ceiling->value, "+"}, {top, "-"}});
        b.run = r;
        b.unit = unit.unit;
        group_.bounds.push_back(std::move(b));
      }
    }
  }

  void set() {
    if (!group_.asked || !group_.asked->underside_set) return;
    for (const bool lower : {true, false}) {
      GroupBound b = hard(BoundKind::set, "group " + group_.id, lower,
                          {group_.asked->underside_set->value, 0});
      b.bound.sum = "set by " + group_.asked->underside_set->by;
      group_.bounds.push_back(std::move(b));
    }
  }

  // Finished floor along the group's fronts, and where the worktop's height is asked at.
  void floor_in_front() {
    std::vector<PlanPoint> places;
    for (const Index r : group_.runs) {
      const PlacedRun& run = *f_.runs[r];
      for (const PlacedUnit& unit : run.units) {
        if (f_.room.runs[r].units[unit.unit].kind == UnitKind::wall) continue;
        const int steps = std::max(1, int(std::ceil((unit.right - unit.left) / front_step)));
        for (int k = 0; k <= steps; ++k)
          places.push_back(
              run.frame.at(unit.left + (unit.right - unit.left) * k / steps, unit.front));
      }
    }
    const auto bare = f_.floor.heights(places);
    std::optional<Index> highest;
    for (Index i = 0; i < places.size(); ++i) {
      if (!bare[i]) continue;
      const double finished = *bare[i] + laid(Floor::finished, places[i]).thickness.value;
      if (!highest || finished > group_.floor_highest) {
        group_.floor_highest = finished;
        highest = i;
      }
      group_.floor_lowest = group_.floor_known ? std::min(group_.floor_lowest, finished) : finished;
      group_.floor_known = true;
    }
    std::optional<PlanPoint> at;
    if (group_.asked && group_.asked->height_at)
      at = f_.plan.at(*group_.asked->height_at);
    else if (highest)
      at = places[*highest];
    if (!at) return;
    if (const auto estimate = f_.floor.estimates({&*at, 1})[0]) {
      group_.floor_at = plus(*estimate, laid(Floor::finished, *at).thickness);
      asked_moves_ = laid(Floor::finished, *at).top_layer ? 1 : 0;
    }
  }

  void asked_height() {
    if (!group_.asked || !group_.asked->asked_height || !group_.floor_at) return;
    const Furniture& furniture = f_.survey.furniture;
    const double over = furniture.base_height + furniture.worktop.thickness;
    const double asked = *group_.asked->asked_height, tolerance = group_.asked->tolerance;
    group_.asked_underside = group_.floor_at->value + asked - over;
    for (const bool lower : {true, false}) {
      const double height = lower ? asked - tolerance : asked + tolerance;
      GroupBound b = soft(BoundKind::asked_height, "group " + group_.id, lower,
                          plus(*group_.floor_at, height - over));
      b.bound.flooring = asked_moves_;
      b.bound.sum = sum({{group_.floor_at->value, "+"}, {height, "+"}, {over, "-"}});
      group_.bounds.push_back(std::move(b));
    }
  }

  void boards() {
    for (const bool whole : {false, true})
      for (const PlinthPiece& piece : f_.plinths) {
        if (!in_group(piece.run) || piece.floor.empty()) continue;
        const Run& run = f_.room.runs[piece.run];
        const Plinth& plinth = run.furniture.plinth;
        const double offset = f_.runs[piece.run]->frame.offset;
        const double floor = whole ? piece.highest : piece.lowest;
        const double gap = whole ? plinth.top_gap_min : plinth.top_gap_max;
        GroupBound b = soft(whole ? BoundKind::board_whole : BoundKind::board_reaches,
                            run.id + " " + piece.face + " " + std::to_string(piece.piece), whole,
                            {floor + plinth.height + gap - offset, piece.sd});
        b.bound.flooring = laid(Floor::plinth, piece.from).top_layer ? 1 : 0;
        b.bound.sum = sum({{floor, "+"}, {plinth.height, "+"}, {gap, "+"}, {offset, "-"}});
        b.run = piece.run;
        group_.bounds.push_back(std::move(b));
      }
  }

 private:
  struct SumTerm {
    double value;
    const char* sign;
  };

  bool in_group(Index run) const {
    return std::find(group_.runs.begin(), group_.runs.end(), run) != group_.runs.end();
  }

  LaidOver laid(Floor floor, PlanPoint p) const {
    return laid_over_bare(f_.room, floor, f_.floor.area_at(p));
  }

  static GroupBound soft(BoundKind kind, std::string at, bool lower, Estimate u) {
    GroupBound out;
    out.bound.kind = kind;
    out.bound.at = std::move(at);
    out.bound.lower = lower;
    out.bound.hard = false;
    out.bound.value = out.bound.applied = u.value;
    out.bound.sd = u.sd;
    return out;
  }

  static GroupBound hard(BoundKind kind, std::string at, bool lower, Estimate u) {
    GroupBound out = soft(kind, std::move(at), lower, u);
    out.bound.hard = true;
    out.bound.applied += (lower ? band95 : -band95) * u.sd;
    return out;
  }

  template <class Spot>
  void add(BoundKind kind, const Spot& spot, const std::string& at, bool lower,
           const std::pair<Estimate, bool>& floor, double height, double top) {
    GroupBound b = hard(kind, at, lower, plus(floor.first, height - top));
    b.bound.flooring = floor.second ? 1 : 0;
    b.bound.sum = sum({{floor.first.value, "+"}, {height, "+"}, {top, "-"}});
    b.run = spot.run;
    b.unit = spot.unit;
    group_.bounds.push_back(std::move(b));
  }

  // The highest (lowest) floor of `count` places; second: the top layer lies there.
  std::optional<std::pair<Estimate, bool>> extreme(const std::vector<PlanPoint>& places,
                                                   const std::vector<std::optional<Estimate>>& bare,
                                                   Index first, Index count, Floor floor,
                                                   bool highest) const {
    std::optional<std::pair<Estimate, bool>> out;
    for (Index i = first; i < first + count; ++i) {
      if (!bare[i]) continue;
      const LaidOver over = laid(floor, places[i]);
      const Estimate height = plus(*bare[i], over.thickness);
      if (!out || (highest ? height.value > out->first.value : height.value < out->first.value))
        out = {height, over.top_layer};
    }
    return out;
  }

  // A height taken with a tape.
  std::optional<Estimate> absolute(const MeasuredHeight& height, const Place& place) const {
    const auto known = height_above_benchmark(f_, height, place);
    return known ? std::optional(plus(*known, Estimate{0, tape_sd})) : std::nullopt;
  }

  std::optional<Estimate> lowest_ceiling_near(PlanPoint p) const {
    std::vector<std::pair<double, Estimate>> near;
    for (const CeilingReading& reading : f_.room.ceilings) {
      const auto place = f_.plan.at(reading.place);
      const auto height = absolute(reading.height, reading.place);
      if (place && height) near.push_back({distance(*place, p), *height});
    }
    if (near.empty()) return std::nullopt;
    std::stable_sort(near.begin(), near.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    near.resize(std::min(near.size(), ceilings_near));
    return std::min_element(
               near.begin(), near.end(),
               [](const auto& a, const auto& b) { return a.second.value < b.second.value; })
        ->second;
  }

  // 0.0 + 150.0 + 2.0; a zero offset is left out.
  static std::string sum(std::initializer_list<SumTerm> terms) {
    std::string out;
    for (const SumTerm& t : terms) {
      if (!out.empty() && t.value == 0) continue;
      out += out.empty() ? decimal(t.value)
                         : std::string(t.sign[0] == '+' ? " + " : " − ") + term(t.value);
    }
    return out;
  }

  static constexpr double tape_sd = 2;  // mm: a height taken with a tape, no instrument named
  const RoomFacts& f_;
  LevelGroupFacts& group_;
  double asked_moves_ = 0;
};

}  // namespace

std::string_view word(BoundKind kind) { return bound_words[Index(kind)]; }

std::string named(const Bound& b) { return std::string(word(b.kind)) + " " + b.at; }

std::string phrase(const Bound& b) {
  const std::string at = spaced(b.at);
  switch (b.kind) {
    case BoundKind::leg_min:
      return "the shortest leg at " + at;
    case BoundKind::leg_max:
      return "the longest leg at " + at;
    case BoundKind::niche:
      return (b.lower ? "the least height of niche " : "the most height of niche ") + at;
    case BoundKind::slide_in:
      return "sliding the appliance in at " + at;
    case BoundKind::sill:
      return "the sill of " + at;
    case BoundKind::ceiling:
      return "the ceiling over " + at;
    case BoundKind::set:
      return "the underside as released";
    case BoundKind::asked_height:
      return "the asked height";
    case BoundKind::board_reaches:
      return "plinth " + at + " reaching up";
    case BoundKind::board_whole:
      return "plinth " + at + " left whole";
  }
  return at;
}

std::vector<LevelGroupFacts> level_group_facts(const RoomFacts& facts) {
  std::vector<LevelGroupFacts> groups;
  const auto group = [&](const std::string& id) -> LevelGroupFacts& {
    for (LevelGroupFacts& known : groups)
      if (known.id == id) return known;
    groups.push_back({});
    groups.back().id = id;
    for (const LevelGroup& asked : facts.room.level_groups)
      if (asked.id == id) groups.back().asked = &asked;
    return groups.back();
  };
  for (Index r = 0; r < facts.room.runs.size(); ++r)
    if (facts.runs[r]) group(facts.room.runs[r].level_group).runs.push_back(r);

  for (LevelGroupFacts& each : groups) {
    Collector collect(facts, each);
    collect.legs();
    collect.niches();
    collect.sills();
    collect.ceilings();
    collect.set();
    collect.floor_in_front();
    collect.asked_height();
    collect.boards();
    for (GroupBound& b : each.bounds)
      if (b.bound.kind != BoundKind::set) b.bound.sum += " = " + decimal(b.bound.value);
  }
  return groups;
}

}  // namespace levelrun
