#include "checks/unit_notches.h"

#include <algorithm>
#include <cmath>

#include "checks/licensed_work.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

bool is_carcass(const Unit& unit) {
  return unit.kind == UnitKind::base || unit.kind == UnitKind::tall ||
         unit.kind == UnitKind::wall || unit.kind == UnitKind::unknown;
}

// Two cut-outs that overlap are made as one.
void add(std::vector<NotchResult>& all, NotchResult notch) {
  if (notch.to <= notch.from || notch.height_to <= notch.height_from) return;
  for (auto other = all.begin(); other != all.end(); ++other) {
    if (other->unit != notch.unit || other->part != notch.part) continue;
    if (other->from > notch.to || notch.from > other->to) continue;
    if (other->height_from > notch.height_to || notch.height_from > other->height_to) continue;
    notch.from = std::min(notch.from, other->from);
    notch.to = std::max(notch.to, other->to);
    notch.height_from = std::min(notch.height_from, other->height_from);
    notch.height_to = std::max(notch.height_to, other->height_to);
    notch.depth = std::max(notch.depth, other->depth);
    all.erase(other);
    return add(all, std::move(notch));
  }
  all.push_back(std::move(notch));
}

void add_side(std::vector<NotchResult>& all, const BackedUnit& unit, const std::string& id,
              const char* part, const SideCrossing& crossing) {
  if (crossing.reach <= unit.sides) return;
  const double deep = std::min(crossing.reach + notch_clear, unit.front) - unit.sides;
  add(all, {id, part, 0, deep, std::max(crossing.low - notch_clear, unit.lowest - unit.underside),
            std::min(crossing.high + notch_clear, unit.top - unit.underside), deep});
}

}  // namespace

bool has_void(const Unit& unit) { return is_carcass(unit) || unit.kind == UnitKind::appliance; }

bool built_in(const Unit& unit) {
  if (unit.kind == UnitKind::appliance) return true;
  for (const char* machine : {"oven", "dishwasher", "fridge", "freezer", "washing_machine"})
    if (unit.houses == machine) return true;
  return false;
}

bool inside_its_sink_unit(const BackedUnit& backed, const Unit& unit, const Service& service,
                          const UnitPass& pass) {
  const bool ends_there = service.kind == ServiceKind::waste ||
                          service.kind == ServiceKind::cold_water ||
                          service.kind == ServiceKind::hot_water;
  return unit.houses == "sink" && ends_there &&
         pass.nearest >= pass.here.value + backed.back_thickness;
}

std::vector<NotchResult> unit_notches(const BehindUnits& behind, const Service& service,
                                      const std::vector<UnitPass>& passes) {
  std::vector<NotchResult> out;
  for (const UnitPass& pass : passes) {
    const BackedUnit& unit = behind.units()[pass.unit];
    const Unit& facts = behind.facts(pass.unit);
    if (!pass.needed) continue;
    if (facts.kind == UnitKind::end_panel) {
      const double reach = unit.void_depth - pass.margin();
      add_side(out, unit, facts.id, "end_panel", {pass.low, pass.high, reach});
      continue;
    }
    if (!is_carcass(facts)) continue;
    if (pass.margin() < 0 && !built_in(facts) &&
        !inside_its_sink_unit(unit, facts, service, pass)) {
      const double top = unit.top - unit.underside;
      const double rail = unit.sides > 0 ? top - cross_rail : top;
      NotchResult notch{facts.id, "back", 0, 0, 0, 0, notch_clear - pass.margin()};
      notch.from = std::max(pass.left - notch_clear, 0.0);
      notch.to = std::min(pass.right + notch_clear, unit.right - unit.left);
      notch.height_from = std::max(pass.low - notch_clear, 0.0);
      notch.height_to = std::min(pass.high + notch_clear, rail);
      add(out, notch);
      notch.part = "cross_rail";
      notch.height_from = std::max(pass.low - notch_clear, rail);
      notch.height_to = std::min(pass.high + notch_clear, top);
      add(out, notch);
    }
    if (pass.left_side) add_side(out, unit, facts.id, "left_side", *pass.left_side);
    if (pass.right_side) add_side(out, unit, facts.id, "right_side", *pass.right_side);
  }
  return out;
}

std::string described(const NotchResult& notch) {
  const auto down = [](double x) { return decimal(std::floor(x), 0); };
  const auto up = [](double x) { return decimal(std::ceil(x), 0); };
  const bool across = notch.part == "back" || notch.part == "cross_rail";
  const std::string heights =
      down(notch.height_from) + " to " + up(notch.height_to) + " above its underside";
  const std::string part =
      "the " + (notch.part == "cross_rail" ? "cross-rail" : spaced(notch.part));
  return across ? part + ", " + down(notch.from) + " to " + up(notch.to) + " from its left and " +
                      heights + ", " + up(notch.depth) + " deep"
                : part + ", " + up(notch.to) + " in from its back edge and " + heights;
}

std::string notch_instruction(const std::vector<NotchResult>& notches, const std::string& unit,
                              double place_sd) {
  std::string parts;
  for (const NotchResult& notch : notches)
    if (notch.unit == unit) parts += (parts.empty() ? "" : "; ") + described(notch);
  if (parts.empty()) return parts;
  parts = "Notch " + unit + ": " + parts + ".";
  if (band95 * place_sd > notch_clear)
    parts += " Its place is known to ±" + decimal(band95 * place_sd, 0) +
             " only: cut on site, or measure it first.";
  return parts;
}

std::vector<Finding> notch_findings(const RoomFacts& f, Index index, const BehindUnits& behind,
                                    const std::vector<UnitPass>& passes,
                                    const std::vector<NotchResult>& notches,
                                    const std::vector<std::string>& told) {
  std::vector<Finding> out;
  const Service& service = f.room.services[index];
  std::vector<std::string> done = told;
  for (const NotchResult& notch : notches) {
    if (std::find(done.begin(), done.end(), notch.unit) != done.end()) continue;
    done.push_back(notch.unit);
    double deepest = 0, place_sd = 0;
    std::string parts;
    for (const NotchResult& n : notches) {
      if (n.unit != notch.unit) continue;
      deepest = std::max(deepest, n.depth);
      const std::string part = n.part == "cross_rail" ? "cross-rail" : spaced(n.part);
      if (parts.find(part) == std::string::npos) parts += (parts.empty() ? "" : " and ") + part;
    }
    for (const UnitPass& pass : passes)
      if (behind.facts(pass.unit).id == notch.unit) place_sd = std::max(place_sd, pass.place_sd);
    Finding finding;
    finding.code = "notch needed";
    finding.severity = Severity::note;
    finding.id = service.id + "/" + notch.unit;
    finding.at = pointer(f.index, "services", index);
    finding.measured = deepest;
    finding.unit = "mm";
    finding.source = millimetres(notch_clear) + " clear all round: common practice, no source";
    finding.says = "Service " + service.id + " runs through the " + parts + " of " + notch.unit +
                   ", up to " + decimal(deepest - notch_clear) + " deep.";
    finding.remedy = notch_instruction(notches, notch.unit, place_sd);
    finding.safety = is_safety(service.kind);
    if (finding.safety) finding.remedy += licensed_work(service.kind);
    out.push_back(std::move(finding));
  }
  return out;
}

}  // namespace levelrun
