#include "checks/unit_openings.h"

#include <algorithm>
#include <cmath>

#include "checks/measured_heights.h"
#include "checks/on_wall.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double booked_sd = 2;    // mm, of an opening's place; common practice, no source
constexpr double beside_it = 300;  // mm further off nothing is listed; the same

struct Gap {
  const UnitOnWall* unit = nullptr;
  double clear = 0;
};

class OwnOpening {
 public:
  OwnOpening(const RoomFacts& f, Index index, Clearances& out)
      : f_(f), opening_(f.room.openings[index]), out_(out) {}

  void check(const std::vector<UnitOnWall>& units) {
    const double middle = opening_.left + opening_.width / 2;
    const auto sill = height_above_benchmark(f_, opening_.sill, {opening_.wall, middle, 0, 0, 0});
    if (!sill) return;
    const bool window = opening_.kind == OpeningKind::window;
    const double left = opening_.left, right = left + opening_.width;
    const double bottom = sill->value, top = bottom + opening_.height;
    Gap at_left, at_right;
    for (const UnitOnWall& unit : units) {
      const UnitKind kind = unit.facts(f_.room).kind;
      if (kind == UnitKind::space || !unit.underside) continue;
      if (window && kind != UnitKind::wall && kind != UnitKind::tall) continue;
      const double wide = opening_.architrave;
      const double lowest = kind == UnitKind::wall ? *unit.underside : -HUGE_VAL;
      if (lowest >= top + wide || *unit.top <= bottom - wide) continue;
      const double across = overlap(unit.left, unit.right, left, right);
      if (across > 0 && lowest<top&& * unit.top> bottom) {
        over(unit, across);
        continue;
      }
      if (wide <= 0) continue;
      // Beside it, at the side of the opening's middle it lies on.
      const bool before = (unit.left + unit.right) / 2 < middle;
      const double clear = before ? left - wide - unit.right : unit.left - right - wide;
      Gap& gap = before ? at_left : at_right;
      if (clear <= beside_it && (!gap.unit || clear < gap.clear)) gap = {&unit, clear};
    }
    if (at_left.unit) beside(at_left);
    if (at_right.unit) beside(at_right);
  }

 private:
  std::string at(const UnitOnWall& unit) const {
    return pointer(f_.index, "runs", unit.run) + "/units/" + std::to_string(unit.unit);
  }

  Finding start(const char* code, Severity severity, const UnitOnWall& unit) const {
    Finding finding;
    finding.code = code;
    finding.severity = severity;
    finding.id = unit.facts(f_.room).id + "/" + opening_.id;
    finding.at = at(unit);
    finding.limit = 0;
    finding.unit = "mm";
    finding.source = "the openings of this survey";
    return finding;
  }

  void over(const UnitOnWall& unit, double across) {
    const Verdict verdict = at_most({across, booked_sd}, 0);
    Finding finding = start("unit over an opening",
                            verdict == Verdict::outside ? Severity::hold : Severity::query, unit);
    finding.measured = across;
    finding.says = unit.facts(f_.room).id + " stands " + decimal(across) + " ±" +
                   decimal(band95 * booked_sd) + " across " + opening_.id + ".";
    finding.remedy = "Move the run or choose narrower units; check where " + opening_.id + " is.";
    out_.findings.push_back(std::move(finding));
  }

  void beside(const Gap& gap) {
    const Estimate clear{gap.clear, booked_sd};
    ClearanceResult entry;
    entry.what = "clear of the architrave of " + opening_.id;
    entry.at = at(*gap.unit);
    entry.clear = clear.value;
    entry.sd = clear.sd;
    entry.needed = 0;
    // Booked to touch is meant to touch.
    entry.verdict = clear.value == 0 ? Verdict::within : verdict_of(clear, 0);
    entry.source = "the openings of this survey";
    const Verdict verdict = *entry.verdict;
    out_.clearances.push_back(std::move(entry));
    if (verdict == Verdict::within) return;
    Finding finding = start("unit over an architrave", Severity::query, *gap.unit);
    finding.measured = clear.value;
    finding.says = gap.unit->facts(f_.room).id + " ends " + decimal(clear.value) + " ±" +
                   decimal(band95 * clear.sd) + " clear of the architrave of " + opening_.id + ".";
    finding.remedy = "Measure there again; cut the architrave back, or move the run.";
    out_.findings.push_back(std::move(finding));
  }

  const RoomFacts& f_;
  const Opening& opening_;
  Clearances& out_;
};

}  // namespace

Clearances unit_openings(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  Clearances out;
  for (Index o = 0; o < f.room.openings.size(); ++o)
    OwnOpening(f, o, out).check(units_on_wall(f, groups, f.room.openings[o].wall));
  return out;
}

}  // namespace levelrun
