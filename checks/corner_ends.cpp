#include "checks/corner_ends.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "checks/pointer.h"
#include "checks/run_ends.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double about_square = 30;  // degrees, of two runs that make a corner
constexpr double least_play = 3;     // mm without handles; common practice, no source
constexpr double in_front = 600;     // mm before our fronts in which the other's units matter
constexpr double same_place = 5;     // mm, of fronts that meet; common practice, no source
constexpr double set_out_sd = 1;     // mm, of a run set out from its corner; common practice,
                                     // no source

double dot(PlanPoint a, PlanPoint b) { return a.x * b.x + a.y * b.y; }

bool hangs(const Run& run) {
  return std::all_of(run.units.begin(), run.units.end(),
                     [](const Unit& unit) { return unit.kind == UnitKind::wall; });
}

struct OtherFronts {
  double u = 0;  // of their fronts, at our fronts
  Index run = 0;
};

// The other run whose fronts face our end. Empty: none, or ours passes behind them.
std::optional<OtherFronts> other_fronts(const RoomFacts& f, Index ours, Index unit, bool right) {
  const Run& run = f.room.runs[ours];
  const PlacedRun& placed = *f.runs[ours];
  const double our_front = placed.units[unit].front;
  const double end = right ? placed.length : 0;
  const double edge = right ? placed.units[unit].right : placed.units[unit].left;
  std::optional<OtherFronts> out;
  for (Index q = 0; q < f.runs.size(); ++q) {
    const Run& other = f.room.runs[q];
    if (q == ours || !f.runs[q] || other.units.empty() || hangs(other) != hangs(run)) continue;
    const RunFrame &a = placed.frame, &b = f.runs[q]->frame;
    const double faces = dot(b.out, a.along) * (right ? -1 : 1);
    if (faces < std::cos(about_square * std::numbers::pi / 180)) continue;
    for (const PlacedUnit& theirs : f.runs[q]->units) {
      if (other.units[theirs.unit].kind == UnitKind::space) continue;
      const double front = theirs.front + other.furniture.front_thickness;
      double v[2], u[2];
      for (const bool far : {false, true}) {
        const PlanPoint p = b.at(far ? theirs.right : theirs.left, front);
        const PlanPoint from{p.x - a.origin.x, p.y - a.origin.y};
        u[far] = dot(from, a.along);
        v[far] = dot(from, a.out);
      }
      if (std::max(v[0], v[1]) <= 0 || std::min(v[0], v[1]) >= our_front + in_front) continue;
      const double t = std::clamp((our_front - v[0]) / (v[1] - v[0]), 0.0, 1.0);
      const double at = u[0] + t * (u[1] - u[0]);
      const double clear = right ? at - edge : edge - at;
      const bool starts_in_front = std::min(v[0], v[1]) >= our_front - same_place;
      if (starts_in_front && clear < -other.furniture.front_thickness - same_place)
        continue;  // ours passes behind
      if (std::abs(at - end) > 3 * run.furniture.infill.max + run.units[unit].width) continue;
      if (!out || (right ? at < out->u : at > out->u)) out = OtherFronts{at, q};
    }
  }
  return out;
}

}  // namespace

Clearances corner_ends(const RoomFacts& f) {
  Clearances out;
  for (Index r = 0; r < f.runs.size(); ++r) {
    const Run& run = f.room.runs[r];
    if (!f.runs[r] || run.units.empty()) continue;
    for (const bool right : {false, true}) {
      if ((right ? run.ends_at : run.starts_at) != RunEnd::corner) continue;
      const Index index = end_unit(run, right);
      const Unit& unit = run.units[index];
      if (is_filler(unit) || unit.kind == UnitKind::end_panel) continue;
      const auto fronts = other_fronts(f, r, index, right);
      if (!fronts) continue;
      const Run& other = f.room.runs[fronts->run];
      const PlacedUnit& placed = f.runs[r]->units[index];
      double sd = set_out_sd;
      for (const auto& wall : {run.wall, other.wall})
        if (wall) sd = std::hypot(sd, f.plan.walls[*wall].length_sd);
      const Estimate clear{right ? fronts->u - placed.right : placed.left - fronts->u, sd};

      ClearanceResult entry;
      entry.what = "clear of the other run's fronts";
      entry.at = pointer(f.index, "runs", r) + "/units/" + std::to_string(index);
      entry.clear = clear.value;
      entry.sd = clear.sd;
      entry.needed = std::max({run.furniture.handle, other.furniture.handle, least_play});
      entry.verdict = verdict_of(clear, entry.needed);
      entry.source = "handle of this job; common practice, no source";
      const double from = right ? fronts->u : placed.left, to = right ? placed.right : fronts->u;
      entry.sum = decimal(from) + " − " + term(to) + " = " + decimal(clear.value);
      const Verdict verdict = *entry.verdict;
      const double needed = entry.needed;
      out.clearances.push_back(std::move(entry));
      if (verdict == Verdict::within) continue;

      Finding finding;
      finding.code = "no room for a corner post";
      finding.severity =
          at_least(clear, -same_place) == Verdict::outside ? Severity::hold : Severity::query;
      finding.id = run.id + (right ? "/right" : "/left");
      finding.at = out.clearances.back().at;
      finding.measured = clear.value;
      finding.limit = needed;
      finding.unit = "mm";
      finding.source = "handle of this job";
      finding.says = unit.id + " stands " + decimal(clear.value) + " ±" +
                     decimal(band95 * clear.sd) + " from the fronts of run " + other.id + "; its " +
                     (unit.drawers ? "drawers need " : "door needs ") + millimetres(needed) +
                     " to pass their handles.";
      finding.remedy =
          "A corner post between " + unit.id + " and run " + other.id + ", or no handles there.";
      out.findings.push_back(std::move(finding));
    }
  }
  return out;
}

}  // namespace levelrun
