#include "checks/tall_units.h"

#include <algorithm>
#include <cmath>

#include "checks/ceilings.h"
#include "checks/on_wall.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double lift_onto_legs = 10;  // mm of headroom; common practice, no source
constexpr const char* practice = "common practice, no source";

class TallUnit {
 public:
  TallUnit(const RoomFacts& f, const PlacedRun& placed, const PlacedUnit& unit, Clearances& out)
      : f_(f),
        run_(f.room.runs[unit.run]),
        unit_(unit),
        facts_(run_.units[unit.unit]),
        at_(pointer(f.index, "runs", unit.run) + "/units/" + std::to_string(unit.unit)),
        out_(out) {
    const auto over = ceiling_over(
        f, placed.frame.at((unit.left + unit.right) / 2, (unit.back + unit.front) / 2));
    floor_ = finished_floor_at(f, placed, unit);
    if (over) ceiling_ = *over;
    if (over && floor_)
      room_ = Estimate{over->value - floor_->value, std::hypot(over->sd, floor_->sd)};
  }

  bool ceiling_known() const { return ceiling_.has_value(); }

  void stands(double underside) {
    const double top = underside + unit_.top_offset + run_.furniture.cornice;
    if (floor_) list("standing height", room_, top - floor_->value, "the ceiling of this survey");
    const auto coving = run_.wall ? f_.room.walls[*run_.wall].coving_drop : std::nullopt;
    if (!coving || *coving <= 0 || !ceiling_) return;
    const Estimate clear{ceiling_->value - *coving - top, ceiling_->sd};
    const Verdict verdict = list("clear of the coving", clear, 0, "the coving of this survey",
                                 difference_sum(clear.value, {*coving, top}))
                                .value();
    if (verdict == Verdict::within) return;
    Finding finding = start("tall unit into the coving", Severity::query, clear.value, 0);
    finding.source = "the coving of this survey";
    finding.says = facts_.id + " ends " + decimal(clear.value) + " ±" + decimal(band95 * clear.sd) +
                   " below the coving.";
    finding.remedy = "Have the coving cut back, or stop the cornice short of it.";
    out_.findings.push_back(std::move(finding));
  }

  void tilts_up() {
    const double carcass = unit_.top_offset - unit_.offset;
    const double depth = unit_.front - unit_.back;
    const double plinth = run_.furniture.plinth.height;
    const double leg =
        unit_.leg_type ? run_.furniture.legs[*unit_.leg_type].supplied.value_or(plinth) : plinth;
    const double on = std::hypot(carcass + leg, depth), off = std::hypot(carcass, depth);
    const double lift = carcass + leg + lift_onto_legs;
    const std::string on_sum = diagonal(carcass + leg, depth, on);
    const std::string off_sum = diagonal(carcass, depth, off);
    const auto with_legs = list("tilting up with legs on", room_, on, "its diagonal", on_sum);
    const auto without = list("tilting up with legs off", room_, off, "its diagonal", off_sum);
    const auto lifting = list("lifting onto its legs", room_, lift, practice,
                              decimal(carcass) + " + " + decimal(leg) + " + " +
                                  decimal(lift_onto_legs) + " = " + decimal(lift));
    if (!with_legs || *with_legs == Verdict::within) return;
    const Verdict best = std::min(*with_legs, worse(*without, *lifting));
    const double needed = best == Verdict::within ? on : std::min(on, std::max(off, lift));
    Finding finding = start(best == Verdict::within ? "tall unit tilts up with its legs off"
                                                    : "tall unit does not tilt up",
                            best == Verdict::within    ? Severity::note
                            : best == Verdict::outside ? Severity::hold
                                                       : Severity::query,
                            room_->value, needed);
    finding.source = "its diagonal";
    finding.says =
        facts_.id + " has " + decimal(room_->value) + " ±" + decimal(band95 * room_->sd) +
        " between floor and ceiling; tilting it up needs " + decimal(on) + " with its legs on, " +
        decimal(off) + " without, and lifting it onto them " + decimal(lift) + ".";
    finding.remedy = best == Verdict::within ? "Fit its legs after standing it up; two people."
                     : best == Verdict::outside
                         ? "Have it made in two parts, or put it together upright where it stands."
                         : "Measure the ceiling again where it is to be stood up.";
    out_.findings.push_back(std::move(finding));
  }

 private:
  static std::string diagonal(double h, double d, double result) {
    return "√(" + decimal(h) + "² + " + decimal(d) + "²) = " + decimal(result);
  }

  // Empty: no ceiling or no floor, so no number.
  std::optional<Verdict> list(const char* what, std::optional<Estimate> clear, double needed,
                              const char* source, std::string sum = "") {
    ClearanceResult entry;
    entry.what = what;
    entry.at = at_;
    entry.needed = needed;
    entry.source = source;
    entry.sum = std::move(sum);
    if (clear) {
      entry.clear = clear->value;
      entry.sd = clear->sd;
      entry.verdict = verdict_of(*clear, needed);
    }
    out_.clearances.push_back(std::move(entry));
    return out_.clearances.back().verdict;
  }

  Finding start(const char* code, Severity severity, double measured, double limit) const {
    Finding finding;
    finding.code = code;
    finding.severity = severity;
    finding.id = facts_.id;
    finding.at = at_;
    finding.measured = measured;
    finding.limit = limit;
    finding.unit = "mm";
    return finding;
  }

  const RoomFacts& f_;
  const Run& run_;
  const PlacedUnit& unit_;
  const Unit& facts_;
  std::string at_;
  Clearances& out_;
  std::optional<Estimate> ceiling_, floor_, room_;
};

}  // namespace

Clearances tall_units(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  Clearances out;
  std::string not_measured;
  for (Index r = 0; r < f.runs.size(); ++r) {
    if (!f.runs[r]) continue;
    const Run& run = f.room.runs[r];
    const auto group = std::find_if(groups.begin(), groups.end(),
                                    [&](const GroupResult& g) { return g.id == run.level_group; });
    for (const PlacedUnit& placed : f.runs[r]->units) {
      const Unit& facts = run.units[placed.unit];
      if (facts.kind != UnitKind::tall || placed.top_offset <= placed.offset) continue;
      TallUnit unit(f, *f.runs[r], placed, out);
      if (group != groups.end()) unit.stands(group->underside);
      unit.tilts_up();
      if (unit.ceiling_known()) continue;
      not_measured += (not_measured.empty() ? "" : ", ") + facts.id;
    }
  }
  if (not_measured.empty()) return out;
  Finding finding;
  finding.code = "ceiling not measured at tall units";
  finding.severity = Severity::note;
  finding.id = "ceilings";
  finding.at = pointer(f.index) + "/ceilings";
  finding.says =
      "No ceiling was measured over " + not_measured + ": whether it stands up there is not known.";
  finding.remedy = "Measure floor to ceiling where tall units are stood up.";
  out.findings.push_back(std::move(finding));
  return out;
}

}  // namespace levelrun
