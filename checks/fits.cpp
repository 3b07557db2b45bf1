#include "checks/fits.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "checks/pointer.h"
#include "checks/run_line.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double offsets_sd = 1;       // mm, of a face where its wall has no offsets: its plan line
                                       // alone; common practice, no source
constexpr double straight_enough = 5;  // mm a run may pass its wall's end in an open corner;
                                       // common practice, no source
constexpr double straight_on = 30;  // degrees from square within which a neighbour is a side wall

// The face that a run meets at one of its ends.
struct SideFace {
  double at_back = 0, at_front = 0;  // u of the face at the carcass's back and front
  double intrudes = 0;               // how far it comes proud of that
  double sd = 0;
};

double still_to_come(const Wall& wall, double top) {
  double total = 0;
  for (const Finish& finish : wall.finish)
    if (finish.from_height.value_or(0) < top) total += finish.thickness;
  if (wall.skirting && wall.skirting->stays) total += wall.skirting->thickness;
  return total;
}

// u where the line of `wall` crosses v of the run's frame; empty where they run side by side.
std::optional<double> crosses(const RunFrame& frame, const WallLine& wall, double v) {
  const PlanPoint a = frame.at(0, v);
  const double cross = frame.along.x * wall.along.y - frame.along.y * wall.along.x;
  if (std::abs(cross) < std::cos(straight_on * std::numbers::pi / 180)) return std::nullopt;
  return ((wall.from.x - a.x) * wall.along.y - (wall.from.y - a.y) * wall.along.x) / cross;
}

std::optional<SideFace> side_face(const RoomFacts& f, Index run_index, bool right) {
  const Run& run = f.room.runs[run_index];
  const PlacedRun& placed = *f.runs[run_index];
  const Wall& own = f.room.walls[*run.wall];
  const Index corner = right ? own.to : own.from;
  for (Index w = 0; w < f.room.walls.size(); ++w) {
    const Wall& side = f.room.walls[w];
    if (w == *run.wall || (right ? side.from : side.to) != corner) continue;
    const WallLine& line = f.plan.walls[w];
    double back = 0, front = 0;
    for (const PlacedUnit& unit : placed.units) front = std::max(front, unit.front);
    const auto at_back = crosses(placed.frame, line, back);
    const auto at_front = crosses(placed.frame, line, front);
    if (!at_back || !at_front) return std::nullopt;
    SideFace out{*at_back, *at_front, still_to_come(side, height_in_use(run)), offsets_sd};
    // The stretch of the side wall beside the units.
    const double depth = front + placed.frame.line;
    const double from = right ? 0 : std::max(0.0, line.length - depth);
    const double to = right ? depth : line.length;
    if (const auto proud = RunLine(f.survey, side, from, to, height_in_use(run)).proudest()) {
      out.intrudes += proud->value;
      out.sd = proud->sd;
    }
    // The run is set out from its wall's left corner, so only the right one's place is in doubt.
    if (right) out.sd = std::hypot(out.sd, f.plan.walls[*run.wall].length_sd);
    return out;
  }
  return std::nullopt;
}

bool strikes(const Unit& unit, bool right) {
  return unit.hinge && *unit.hinge == (right ? Hinge::right : Hinge::left);
}

}  // namespace

Fits run_fits(const RoomFacts& f) {
  Fits out;
  for (Index r = 0; r < f.runs.size(); ++r) {
    const Run& run = f.room.runs[r];
    if (!run.wall || !f.runs[r] || run.units.empty()) continue;
    const PlacedRun& placed = *f.runs[r];
    FitResult fit;
    fit.run = run.id;
    fit.units = placed.length;
    const auto left = run.starts_at == RunEnd::wall ? side_face(f, r, false) : std::nullopt;
    const auto right = run.ends_at == RunEnd::wall ? side_face(f, r, true) : std::nullopt;
    // A run that stops well short of its side wall does not meet it.
    const double reach = run.furniture.infill.max * 3;
    const auto gap_left = left ? -std::max(left->at_back, left->at_front) - left->intrudes : 0;
    const auto gap_right =
        right ? std::min(right->at_back, right->at_front) - right->intrudes - placed.length : 0;
    const bool meets_left = left && gap_left <= reach, meets_right = right && gap_right <= reach;
    if (meets_left && meets_right) {
      fit.clear = gap_left + placed.length + gap_right;
      fit.left_over = gap_left + gap_right;
    }
    const double wall_length = f.plan.walls[*run.wall].length;
    if (run.from_along < -straight_enough ||
        run.from_along + placed.length > wall_length + straight_enough) {
      Finding finding;
      finding.code = "run longer than its wall";
      finding.severity = Severity::hold;
      finding.id = run.id;
      finding.at = pointer(f.index, "runs", r);
      finding.measured = run.from_along + placed.length;
      finding.limit = wall_length;
      finding.unit = "mm";
      finding.source = "the adjusted plan";
      finding.says = "Run " + run.id + " starts at " + millimetres(run.from_along) +
                     " and ends at " + millimetres(run.from_along + placed.length) +
                     "; its wall is " + decimal(wall_length, 0) + " long.";
      finding.remedy = "Check the units' widths and where the run starts.";
      out.findings.push_back(std::move(finding));
    }
    double variance = 0;
    double taper = 0;
    const Furniture::Infill& infill = run.furniture.infill;
    std::optional<Verdict> verdict;
    const auto judge = [&](bool is_right, double gap, const SideFace& side) {
      variance += side.sd * side.sd;
      taper = std::max(taper, std::abs(side.at_front - side.at_back));
      const Unit& unit = is_right ? run.units.back() : run.units.front();
      const bool handle = strikes(unit, is_right);
      const double least = std::max(infill.min, handle ? run.furniture.handle : 0);
      const Estimate width{gap, side.sd};
      const Verdict here = between(width, least, infill.max);
      verdict = worse(verdict.value_or(Verdict::within), here);
      if (here == Verdict::within) return;
      const bool narrow = gap < (least + infill.max) / 2;
      Finding finding;
      finding.code = narrow ? "no room for an infill" : "gap too wide for an infill";
      finding.severity = here == Verdict::outside ? Severity::hold : Severity::query;
      finding.id = run.id + (is_right ? "/right" : "/left");
      finding.at = pointer(f.index, "runs", r);
      finding.measured = gap;
      finding.limit = narrow ? least : infill.max;
      finding.unit = "mm";
      finding.source = narrow && handle ? "handle of this job" : "infill of this job";
      finding.says =
          "Run " + run.id + ": " + decimal(gap) + " ±" + decimal(band95 * side.sd) +
          " is left between " + unit.id + " and the wall at its " + (is_right ? "right" : "left") +
          (narrow ? "; it needs " : "; an infill covers ") + millimetres(*finding.limit) +
          (narrow && handle ? " for the door's handle." : ".");
      finding.remedy = narrow
                           ? "Move the run, choose a narrower unit, or hinge the door on its other "
                             "side."
                           : "Add a unit or a wider panel there.";
      out.findings.push_back(std::move(finding));
    };
    if (meets_left) {
      fit.infill_left = gap_left;
      judge(false, gap_left, *left);
    }
    if (meets_right) {
      fit.infill_right = gap_right;
      judge(true, gap_right, *right);
    }
    if (meets_left || meets_right) {
      fit.sd = std::sqrt(variance);
      fit.taper = taper;
      fit.verdict = verdict;
    }
    out.fits.push_back(std::move(fit));
  }
  return out;
}

}  // namespace levelrun
