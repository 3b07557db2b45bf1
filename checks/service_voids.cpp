#include "checks/service_voids.h"

#include <algorithm>
#include <cmath>

#include "checks/behind_units.h"
#include "checks/licensed_work.h"
#include "checks/measured_heights.h"
#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/service_fouls.h"
#include "checks/unit_notches.h"
#include "checks/waste_fall.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double tape_sd = 2;        // mm, of a height taken by tape: what a tape has by default
constexpr double surely_beyond = 3;  // sd beyond its wall that no chance explains

double tenth(double value) { return std::round(value * 10) / 10; }

void add_once(std::vector<std::string>& list, const std::string& word) {
  if (std::find(list.begin(), list.end(), word) == list.end()) list.push_back(word);
}

std::optional<Finding> outside_its_wall(const RoomFacts& f, Index index) {
  const Service& service = f.room.services[index];
  if (!service.place.wall || !f.plan.known) return std::nullopt;
  const WallLine& line = f.plan.walls[*service.place.wall];
  const std::string& wall = f.room.walls[*service.place.wall].id;
  Finding finding;
  finding.code = "service outside its wall";
  finding.severity = Severity::query;
  finding.id = service.id;
  finding.at = pointer(f.index, "services", index);
  finding.unit = "mm";
  finding.safety = is_safety(service.kind);
  const double along = service.place.along;
  const double right = line.length + surely_beyond * std::hypot(service.place.sd, line.length_sd);
  if (along < 0 || along > right) {
    finding.measured = along;
    finding.limit = along < 0 ? 0 : line.length;
    finding.source = "length of wall " + wall + " as adjusted";
    finding.says = "Service " + service.id + " is booked " + millimetres(along) + " along wall " +
                   wall + ", which runs from 0 to " + decimal(line.length, 0) + ".";
    finding.remedy = "Measure how far along its wall it is, and on which wall.";
    if (finding.safety) finding.remedy += licensed_work(service.kind);
    return finding;
  }
  const auto at = f.plan.at(service.place);
  const auto height =
      service.height ? height_above_benchmark(f, *service.height, service.place) : std::nullopt;
  if (!at || !height) return std::nullopt;
  std::optional<Estimate> ceiling;
  double nearest = 0;
  for (const CeilingReading& reading : f.room.ceilings) {
    const auto place = f.plan.at(reading.place);
    const auto here = height_above_benchmark(f, reading.height, reading.place);
    if (!place || !here || (ceiling && distance(*place, *at) >= nearest)) continue;
    ceiling = here;
    nearest = distance(*place, *at);
  }
  const double sd = ceiling ? std::hypot(height->sd, ceiling->sd, tape_sd * std::sqrt(2.0)) : 0;
  if (!ceiling || height->value <= ceiling->value + surely_beyond * sd) return std::nullopt;
  finding.measured = height->value;
  finding.limit = ceiling->value;
  finding.source = "the ceiling reading nearest to it";
  finding.says = "Service " + service.id + " is booked " +
                 decimal(height->value - ceiling->value, 0) + " above the ceiling.";
  finding.remedy = "Measure its height, and from what it was taken.";
  if (finding.safety) finding.remedy += licensed_work(service.kind);
  return finding;
}

bool is_worse(const UnitPass& a, const UnitPass& b) {
  const Verdict va = at_least(a.here, *a.needed), vb = at_least(b.here, *b.needed);
  return va != vb ? va > vb : a.margin() < b.margin();
}

// 42.0 + 3.1 hollow − 45.0 = 0.1; adds as printed, the hollow takes up the rounding.
std::string void_sum(const UnitPass& pass, double void_depth) {
  const double margin = tenth(pass.margin());
  if (!pass.hollow)
    return decimal(margin + tenth(*pass.needed)) + " − " + term(*pass.needed) + " = " +
           decimal(margin);
  return decimal(void_depth) + " + " + term(margin - tenth(void_depth) + tenth(*pass.needed)) +
         (pass.from_line ? " proud − " : " hollow − ") + term(*pass.needed) + " = " +
         decimal(margin);
}

// Where a built-in appliance leaves no room, a service fits behind the unit next to it.
std::string beside(const BehindUnits& behind, const UnitPass& pass) {
  const auto& units = behind.units();
  const double width = units[pass.unit].right - units[pass.unit].left;
  const bool nearer_left = (pass.left + pass.right) / 2 < width / 2;
  for (const bool with_drawers : {false, true})
    for (const bool left : {nearer_left, !nearer_left}) {
      if (left && pass.unit == 0) continue;
      const Index next = left ? pass.unit - 1 : pass.unit + 1;
      if (next >= units.size() || units[next].run != units[pass.unit].run) continue;
      const Unit& unit = behind.facts(next);
      if (unit.drawers == with_drawers && has_void(unit) && !built_in(unit))
        return "the neighbouring unit " + unit.id;
    }
  return "a neighbouring unit";
}

Finding too_shallow(const RoomFacts& f, Index index, const BehindUnits& behind,
                    const UnitPass& pass, Verdict verdict,
                    const std::vector<NotchResult>& notches) {
  const Service& service = f.room.services[index];
  const Unit& unit = behind.facts(pass.unit);
  Finding finding;
  finding.code = "void too shallow";
  finding.severity = verdict == Verdict::outside ? Severity::hold : Severity::query;
  finding.id = service.id + "/" + unit.id;
  finding.at = pointer(f.index, "services", index);
  finding.measured = *pass.needed;
  finding.limit = pass.here.value;
  finding.unit = "mm";
  finding.source =
      "void_depth of this job" + std::string(pass.hollow ? " and the wall's offsets" : "");
  finding.says =
      "Service " + service.id + " stands " + millimetres(*pass.needed) +
      (pass.from_line ? " in front of the wall's line behind " : " off the wall behind ") +
      unit.id + "; the void there is " + decimal(pass.here.value) + " ±" +
      decimal(band95 * pass.here.sd) + ".";
  const std::string notch = notch_instruction(notches, unit.id, pass.place_sd);
  finding.safety = is_safety(service.kind);
  const bool moves = built_in(unit) || !notch.empty();
  if (built_in(unit))
    finding.remedy = unit.id + " is as deep as its place: move the service behind " +
                     beside(behind, pass) + "." + (notch.empty() ? "" : " " + notch);
  else if (moves)
    finding.remedy = notch + " Or have the service moved.";
  else
    finding.remedy = "Measure the projection and the wall there again.";
  if (moves || finding.safety) finding.remedy += licensed_work(service.kind);
  return finding;
}

// What behind a run asks for the deepest void.
class RunVoids {
 public:
  explicit RunVoids(const BehindUnits& behind) {
    for (Index u = 0; u < behind.units().size(); ++u) {
      const BackedUnit& unit = behind.units()[u];
      if (!runs_.empty() && index_.back() == unit.run) continue;
      RunVoidResult run;
      run.here = unit.void_depth;
      runs_.push_back(run);
      index_.push_back(unit.run);
    }
  }
  void add(const Service& service, const BackedUnit& unit, const UnitPass& pass, Verdict verdict) {
    const auto at = std::find(index_.begin(), index_.end(), unit.run) - index_.begin();
    RunVoidResult& run = runs_[Index(at)];
    run.verdict = worse(run.verdict.value_or(Verdict::within), verdict);
    const double band = band95 * pass.here.sd;
    const double needed = unit.void_depth - pass.margin() + band;
    if (run.needed && needed - unit.void_depth <= *run.needed - run.here) return;
    run.needed = needed;
    run.here = unit.void_depth;
    run.sd = pass.here.sd;
    run.service = service.id;
    // Adds as printed, the band takes up the rounding.
    const double hollow = tenth(pass.hollow.value_or(0));
    run.sum = decimal(*pass.needed);
    if (pass.hollow) run.sum += " − " + term(hollow) + (pass.from_line ? " proud" : " hollow");
    run.sum +=
        " + " + term(tenth(needed) - tenth(*pass.needed) + hollow) + " band = " + decimal(needed);
  }
  std::vector<RunVoidResult> take(const Room& room) {
    for (Index i = 0; i < runs_.size(); ++i) runs_[i].run = room.runs[index_[i]].id;
    return std::move(runs_);
  }

 private:
  std::vector<RunVoidResult> runs_;
  std::vector<Index> index_;  // in room.runs
};

class Voids {
 public:
  Voids(const RoomFacts& f, const std::vector<GroupResult>& groups)
      : f_(f), behind_(f, groups), runs_(behind_) {}

  ServiceVoids work_out() {
    for (Index s = 0; s < f_.room.services.size(); ++s) {
      ServiceResult result;
      result.service = f_.room.services[s].id;
      if (auto asked = outside_its_wall(f_, s))
        out_.findings.push_back(std::move(*asked));
      else
        judge(s, result);
      WasteFall waste = waste_fall(f_, s);
      result.fall = waste.fall;
      for (Finding& finding : waste.findings) out_.findings.push_back(std::move(finding));
      out_.services.push_back(std::move(result));
    }
    out_.runs = runs_.take(f_.room);
    return std::move(out_);
  }

 private:
  void judge(Index index, ServiceResult& result) {
    const Service& service = f_.room.services[index];
    const ServicePasses behind = behind_.of(index);
    result.height_zone = behind.height_zone;
    std::vector<const UnitPass*> worst;  // of each unit, in order
    const UnitPass* least = nullptr;
    for (const UnitPass& pass : behind.passes) {
      const BackedUnit& backed = behind_.units()[pass.unit];
      const Unit& unit = behind_.facts(pass.unit);
      add_once(result.units, unit.id);
      if (!pass.needed || !has_void(unit) || inside_its_sink_unit(backed, unit, service, pass))
        continue;
      const Verdict verdict = at_least(pass.here, *pass.needed);
      runs_.add(service, backed, pass, verdict);
      result.verdict = worse(result.verdict.value_or(Verdict::within), verdict);
      if (!least || is_worse(pass, *least)) least = &pass;
      const auto same = std::find_if(worst.begin(), worst.end(), [&](const UnitPass* other) {
        return other->unit == pass.unit;
      });
      if (same == worst.end())
        worst.push_back(&pass);
      else if (is_worse(pass, **same))
        *same = &pass;
    }
    if (result.height_zone.empty() && !behind.passes.empty())
      result.height_zone = behind_.facts(behind.passes.front().unit).kind == UnitKind::wall
                               ? "behind a wall unit"
                               : "behind a unit";
    if (least) {
      result.void_here = least->here.value;
      result.void_sd = least->here.sd;
      result.void_needed = least->needed;
      result.sum = void_sum(*least, behind_.units()[least->unit].void_depth);
    }
    result.notches = unit_notches(behind_, service, behind.passes);
    std::vector<std::string> told;
    for (const UnitPass* pass : worst) {
      const Verdict verdict = at_least(pass->here, *pass->needed);
      if (verdict == Verdict::within) continue;
      const Unit& unit = behind_.facts(pass->unit);
      const bool cut_for_it =
          std::any_of(result.notches.begin(), result.notches.end(), [&](const NotchResult& notch) {
            return notch.unit == unit.id && (notch.part == "back" || notch.part == "cross_rail");
          });
      if (built_in(unit))
        result.clashes.push_back(unit.id + " appliance");
      else if (!cut_for_it)
        result.clashes.push_back(unit.id + " back");
      told.push_back(unit.id);
      out_.findings.push_back(too_shallow(f_, index, behind_, *pass, verdict, result.notches));
    }
    for (const NotchResult& notch : result.notches)
      add_once(result.clashes, notch.unit + " " + notch.part);
    ServiceFouls fouls = service_fouls(f_, index, behind_, behind.passes);
    for (std::string& clash : fouls.clashes) add_once(result.clashes, clash);
    for (Finding& finding : fouls.findings) out_.findings.push_back(std::move(finding));
    for (Finding& finding : notch_findings(f_, index, behind_, behind.passes, result.notches, told))
      out_.findings.push_back(std::move(finding));
  }

  const RoomFacts& f_;
  BehindUnits behind_;
  RunVoids runs_;
  ServiceVoids out_;
};

}  // namespace

ServiceVoids service_voids(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  return Voids(f, groups).work_out();
}

}  // namespace levelrun
