#include "checks/hob_clearances.h"

#include <algorithm>
#include <limits>

#include "checks/on_wall.h"
#include "checks/pointer.h"
#include "checks/published_check.h"
#include "checks/published_limits.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double concerns = 300;     // mm; further apart is no question; common practice, no source
constexpr double unit_place_sd = 1;  // mm, of a unit along its wall; common practice, no source
constexpr double reaches_up = 1000;  // mm: a finish that starts higher is not beside the hob;
                                     // common practice, no source

bool gas_in(const Room& room) {
  return std::any_of(room.services.begin(), room.services.end(), [](const Service& s) {
    return s.kind == ServiceKind::gas && s.action != ServiceAction::cap;
  });
}

double still_to_come(const Wall& wall) {
  double total = 0;
  for (const Finish& finish : wall.finish)
    if (finish.from_height.value_or(0) < reaches_up) total += finish.thickness;
  return total;
}

struct HobChecks {
  const RoomFacts& f;
  const std::vector<UnitOnWall>& units;
  bool gas;
  Clearances& out;

  PublishedCheck check(const UnitOnWall& hob, const std::string& other) const {
    PublishedCheck c;
    c.id = hob.facts(f.room).id + "/" + other;
    c.at = pointer(f.index, "runs", hob.run) + "/units/" + std::to_string(hob.unit);
    c.holds = c.safety = gas;
    return c;
  }
  std::string if_gas() const { return gas ? "" : "If the hob in this room is gas: "; }

  void wall_units(const UnitOnWall& hob) const {
    const std::string name = hob.facts(f.room).id;
    for (const UnitOnWall& unit : units) {
      const Unit& facts = unit.facts(f.room);
      if (facts.kind != UnitKind::wall || !unit.underside || !hob.worktop) continue;
      const double beside = -overlap(hob.left, hob.right, unit.left, unit.right);
      const bool over = beside < 0;
      if (beside >= published_limit("sideways of a gas hob").value) continue;
      PublishedCheck c = check(hob, facts.id);
      c.limit = over ? "above a gas hob" : "wall unit beside a gas hob";
      c.what = "wall unit " + facts.id + (over ? " over" : " beside") + " the hob in " + name;
      c.code = over ? "wall unit low over a hob" : "wall unit low beside a hob";
      c.clear = {*unit.underside - *hob.worktop, 0};
      c.sum = difference_sum(c.clear.value, {*hob.worktop});
      c.says = if_gas() + "Wall unit " + facts.id + (over ? " hangs over" : " hangs beside") +
               " the hob in " + name + ", above the worktop";
      c.remedy = over ? "The hob's and the hood's makers give their own figures: keep the largest. "
                        "Raise or leave out " +
                            facts.id + "; a licensed person decides, to the local code."
                      : "Raise " + facts.id + " or move it " +
                            millimetres(published_limit("sideways of a gas hob").value) +
                            " clear of the hob; the maker's figure comes first, and a licensed "
                            "person decides, to the local code.";
      add_published(out, std::move(c));
    }
  }

  void beside(const UnitOnWall& hob, Index wall, bool right) const {
    double least = concerns, sd = unit_place_sd;
    std::string what, sum;
    for (const UnitOnWall& unit : units) {
      if (unit.facts(f.room).kind != UnitKind::tall) continue;
      const double gap = right ? unit.left - hob.right : hob.left - unit.right;
      if (gap < 0 || gap >= least) continue;
      least = gap;
      what = "tall unit " + unit.facts(f.room).id;
      sum = difference_sum(gap, {right ? hob.right : unit.right});
    }
    const Wall& own = f.room.walls[wall];
    const Index corner = right ? own.to : own.from;
    for (Index w = 0; w < f.room.walls.size() && f.room.corners[corner].angle < 180; ++w) {
      const Wall& side = f.room.walls[w];
      if (w == wall || (right ? side.from : side.to) != corner) continue;
      const double finish = still_to_come(side);
      const double gap = (right ? f.plan.walls[wall].length - hob.right : hob.left) - finish;
      if (gap < 0 || gap >= least) continue;
      least = gap;
      if (right) sd = f.plan.walls[wall].length_sd;
      what = "wall " + side.id;
      std::vector<double> less;
      if (right) less.push_back(hob.right);
      if (finish > 0) less.push_back(finish);
      sum = less.empty() ? decimal(gap) + " along" : difference_sum(gap, less);
    }
    if (what.empty()) return;
    const std::string name = hob.facts(f.room).id;
    PublishedCheck c = check(hob, right ? "right" : "left");
    c.limit = "tall beside a gas hob";
    c.what = "hob in " + name + " to " + what;
    c.code = "hob close to a tall side";
    c.clear = {least, sd};
    c.sum = sum;
    c.says = if_gas() + "The hob's unit " + name + " stands close to " + what;
    c.remedy =
        "The hob lies somewhere in its unit: measure from its own edge, take its maker's figure, "
        "and move it if that is not kept; a licensed person decides, to the local code.";
    add_published(out, std::move(c));
  }
};

}  // namespace

bool houses_hob(const Unit& unit) {
  return unit.houses.find("hob") != std::string::npos ||
         unit.houses.find("cooker") != std::string::npos;
}

Clearances hob_clearances(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  Clearances out;
  if (!f.plan.known) return out;
  for (Index w = 0; w < f.room.walls.size(); ++w) {
    const auto units = units_on_wall(f, groups, w);
    const HobChecks checks{f, units, gas_in(f.room), out};
    for (const UnitOnWall& unit : units) {
      const Unit& facts = unit.facts(f.room);
      if (facts.kind == UnitKind::wall || !houses_hob(facts)) continue;
      checks.wall_units(unit);
      checks.beside(unit, w, false);
      checks.beside(unit, w, true);
    }
  }
  return out;
}

}  // namespace levelrun
