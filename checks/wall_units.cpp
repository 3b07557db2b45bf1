#include "checks/wall_units.h"

#include <algorithm>
#include <cmath>

#include "checks/ceilings.h"
#include "checks/on_wall.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double meant_to_differ = 50;  // mm between tops; common practice, no source
constexpr double same_height = 0.05;    // mm; prints as none

// A tall or wall unit's top, as it will stand.
struct Top {
  Index run = 0, unit = 0;
  const PlacedUnit* placed = nullptr;
  Estimate height;  // carcass, above the benchmark
  bool own_bottom = false;
};

class WallUnits {
 public:
  WallUnits(const RoomFacts& f, const GroupResult& group, Clearances& out)
      : f_(f), group_(group), out_(out) {
    for (Index r = 0; r < f.runs.size(); ++r) {
      if (!f.runs[r] || f.room.runs[r].level_group != group.id) continue;
      for (const PlacedUnit& placed : f.runs[r]->units) {
        const Unit& facts = f.room.runs[r].units[placed.unit];
        Top top{r, placed.unit, &placed, {group.underside + placed.top_offset, 0}, false};
        if (facts.kind == UnitKind::wall && facts.bottom) {
          const auto floor = finished_floor_at(f, *f.runs[r], placed);
          if (!floor) continue;
          const double height = placed.top_offset - placed.offset;
          top.height = {floor->value + *facts.bottom + height, floor->sd};
          top.own_bottom = true;
        }
        if (facts.kind == UnitKind::wall) hung_.push_back(top);
        if (facts.kind == UnitKind::tall && placed.top_offset > placed.offset)
          standing_.push_back(top);
      }
    }
  }

  void rails() {
    std::optional<Index> run;
    for (const Top& top : hung_) {
      const auto drop = furniture(top).wall_unit.rail_drop;
      if (!drop || run == top.run) continue;
      const auto floor = finished_floor_at(f_, *f_.runs[top.run], *top.placed);
      if (!floor) continue;
      run = top.run;
      const double rail = top.height.value - *drop;
      ClearanceResult entry = start("rail height", top);
      entry.clear = rail - floor->value;
      entry.sd = top.own_bottom ? 0 : floor->sd;
      entry.source = "rail_drop of this job";
      entry.sum = difference_sum(*entry.clear, {*drop, floor->value});
      for (const LevelLine& line : group_.level_lines) {
        const double up = rail - (group_.underside + line.down);
        entry.sum += "; " + decimal(std::abs(up)) + (up < 0 ? " below" : " above") +
                     " the level line of " + line.setup;
      }
      out_.clearances.push_back(std::move(entry));
    }
  }

  void overhead() {
    for (const Top& top : hung_) {
      const PlacedUnit& unit = *top.placed;
      const auto ceiling = ceiling_over(
          f_, f_.runs[top.run]->frame.at((unit.left + unit.right) / 2, unit.front / 2));
      if (!ceiling) continue;
      const double highest = top.height.value + furniture(top).cornice;
      const Estimate clear{ceiling->value - highest, std::hypot(ceiling->sd, top.height.sd)};
      const Verdict verdict = list("under the ceiling", top, clear, {highest}, "this survey");
      if (top.own_bottom && verdict != Verdict::within)
        report("wall unit too high for the ceiling",
               verdict == Verdict::outside ? Severity::hold : Severity::query, top, clear,
               "the ceiling", "Hang it lower, or choose a lower unit.");
      const auto& wall = f_.room.runs[top.run].wall;
      const double coving = wall ? f_.room.walls[*wall].coving_drop.value_or(0) : 0;
      if (coving <= 0) continue;
      const Estimate under{clear.value - coving, clear.sd};
      if (list("clear of the coving", top, under, {coving, highest}, "this survey") !=
          Verdict::within)
        report("wall unit into the coving", Severity::query, top, under, "the coving",
               "Have the coving cut back, or hang a lower unit.");
    }
  }

  // One entry for each run of wall units beside each different top of a tall one.
  void tops_in_line() {
    std::vector<std::pair<Index, double>> told;
    for (const Top& top : hung_)
      for (const Top& tall : standing_) {
        const double ours = top.height.value + furniture(top).cornice;
        const double theirs = tall.height.value + furniture(tall).cornice;
        const double apart = std::abs(ours - theirs);
        if (apart >= meant_to_differ) continue;
        const bool known = std::any_of(told.begin(), told.end(), [&](const auto& t) {
          return t.first == top.run && std::abs(t.second - (ours - theirs)) < same_height;
        });
        if (known) continue;
        told.push_back({top.run, ours - theirs});
        ClearanceResult entry = start("tops in line", top);
        entry.clear = apart;
        entry.sd = top.height.sd;
        entry.most = true;
        entry.source = "common practice, no source";
        entry.sum = difference_sum(apart, {std::min(ours, theirs)});
        entry.verdict =
            apart < same_height ? Verdict::within : verdict_of({apart, top.height.sd}, 0, true);
        const Verdict verdict = *entry.verdict;
        out_.clearances.push_back(std::move(entry));
        if (verdict == Verdict::within) continue;
        Finding finding = start("tops not in line", Severity::query, top, apart);
        finding.source = "common practice, no source";
        finding.says = "The top of wall unit " + id(top) + " lies " + decimal(apart) +
                       (ours < theirs ? " below" : " above") + " that of tall unit " + id(tall) +
                       ".";
        finding.remedy =
            "Ask whether they are meant to line up; change above_worktop, a height or "
            "the cornice if so.";
        out_.findings.push_back(std::move(finding));
      }
  }

 private:
  const Furniture& furniture(const Top& top) const { return f_.room.runs[top.run].furniture; }
  const std::string& id(const Top& top) const { return f_.room.runs[top.run].units[top.unit].id; }
  std::string at(const Top& top) const {
    return pointer(f_.index, "runs", top.run) + "/units/" + std::to_string(top.unit);
  }

  ClearanceResult start(const char* what, const Top& top) const {
    ClearanceResult entry;
    entry.what = what;
    entry.at = at(top);
    return entry;
  }

  Finding start(const char* code, Severity severity, const Top& top, double measured) const {
    Finding finding;
    finding.code = code;
    finding.severity = severity;
    finding.id = id(top);
    finding.at = at(top);
    finding.measured = measured;
    finding.limit = 0;
    finding.unit = "mm";
    return finding;
  }

  Verdict list(const char* what, const Top& top, Estimate clear,
               const std::vector<double>& taken_off, const char* source) {
    ClearanceResult entry = start(what, top);
    entry.clear = clear.value;
    entry.sd = clear.sd;
    entry.verdict = verdict_of(clear, 0);
    entry.source = source;
    entry.sum = difference_sum(clear.value, taken_off);
    out_.clearances.push_back(std::move(entry));
    return *out_.clearances.back().verdict;
  }

  void report(const char* code, Severity severity, const Top& top, Estimate clear,
              const char* below, const char* remedy) {
    Finding finding = start(code, severity, top, clear.value);
    finding.source = "this survey";
    finding.says = id(top) + " ends " + decimal(clear.value) + " ±" + decimal(band95 * clear.sd) +
                   " below " + below + ".";
    finding.remedy = remedy;
    out_.findings.push_back(std::move(finding));
  }

  const RoomFacts& f_;
  const GroupResult& group_;
  Clearances& out_;
  std::vector<Top> hung_, standing_;
};

}  // namespace

Clearances wall_units(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  Clearances out;
  for (const GroupResult& group : groups) {
    WallUnits units(f, group, out);
    units.rails();
    units.overhead();
    units.tops_in_line();
  }
  return out;
}

}  // namespace levelrun
