#include "checks/fits.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "checks/corner_ends.h"
#include "checks/on_wall.h"
#include "checks/pointer.h"
#include "checks/run_ends.h"
#include "checks/side_faces.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double straight_enough = 5;  // mm a run may pass its wall's end in an open corner;
                                       // common practice, no source
constexpr double way_in_play = 2;      // mm, of a unit pushed in; common practice, no source
constexpr double drawer_play = 3;      // mm beside a drawer; common practice, no source

// One end of a run at its side wall.
struct AtWall {
  SideFace face;
  SideFace::Narrowest standing;
  double gap = 0;     // to the run's end
  double infill = 0;  // to the first unit that is no infill
  double taper = 0;
  Index unit = 0;  // that one
};

class RunFit {
 public:
  RunFit(const RoomFacts& f, Index r, Fits& out)
      : f_(f), r_(r), run_(f.room.runs[r]), placed_(*f.runs[r]), out_(out) {
    fit_.run = run_.id;
    fit_.units = placed_.length;
    if (run_.starts_at == RunEnd::wall) left_ = at_wall(false);
    if (run_.ends_at == RunEnd::wall) right_ = at_wall(true);
  }

  void solve() {
    longer_than_wall();
    double variance = 0;
    for (const bool right : {false, true}) {
      const auto& end = right ? right_ : left_;
      if (!end) continue;
      (right ? fit_.infill_right : fit_.infill_left) = end->infill;
      variance += end->standing.sd * end->standing.sd;
      fit_.taper = std::max(fit_.taper.value_or(0), end->taper);
      if (judge_infill(right, *end) == Verdict::within) opening_beside(right, *end);
      fit_.sum = difference_sum(end->gap, {end->standing.intrudes});
    }
    if (left_ || right_) fit_.sd = std::sqrt(variance);
    if (left_ && right_) {
      fit_.clear = left_->gap + placed_.length + right_->gap;
      fit_.left_over = left_->gap + right_->gap;
      fit_.sum = difference_sum(*fit_.left_over, {fit_.units});
      way_in();
    }
    out_.fits.push_back(std::move(fit_));
  }

 private:
  BesideWall box(Index first, Index last) const {
    BesideWall out{0, 0, std::numeric_limits<double>::max(), 0};
    for (Index i = first; i <= last; ++i) {
      const UnitHeights heights = nominal_heights(run_, placed_, i);
      out.front = std::max(out.front, placed_.units[i].front);
      out.bottom = std::min(out.bottom, heights.bottom);
      out.top = std::max(out.top, heights.top);
    }
    return out;
  }

  // Empty: no side wall, or the run stops well short of it.
  std::optional<AtWall> at_wall(bool right) const {
    auto face = SideFace::of(f_, r_, right);
    if (!face) return std::nullopt;
    const Index unit = end_unit(run_, right);
    const BesideWall stands = right ? box(unit, run_.units.size() - 1) : box(0, unit);
    AtWall out{*face, face->narrowest(stands, false), 0, 0, 0, unit};
    out.gap = right ? out.standing.u - placed_.length : -out.standing.u;
    if (out.gap > run_.furniture.infill.max * 3) return std::nullopt;
    out.infill =
        out.gap + (right ? placed_.length - placed_.units[unit].right : placed_.units[unit].left);
    out.taper = std::abs(face->plan_u(stands.front) - face->plan_u(0));
    return out;
  }

  Finding start(const char* code, Severity severity, std::string id) const {
    Finding finding;
    finding.code = code;
    finding.severity = severity;
    finding.id = std::move(id);
    finding.at = pointer(f_.index, "runs", r_);
    finding.unit = "mm";
    return finding;
  }

  void longer_than_wall() {
    const double wall_length = f_.plan.walls[*run_.wall].length;
    if (run_.from_along >= -straight_enough &&
        run_.from_along + placed_.length <= wall_length + straight_enough)
      return;
    Finding finding = start("run longer than its wall", Severity::hold, run_.id);
    finding.measured = run_.from_along + placed_.length;
    finding.limit = wall_length;
    finding.source = "the adjusted plan";
    finding.says = "Run " + run_.id + " starts at " + millimetres(run_.from_along) +
                   " and ends at " + millimetres(run_.from_along + placed_.length) +
                   "; its wall is " + decimal(wall_length, 0) + " long.";
    finding.remedy = "Check the units' widths and where the run starts.";
    out_.findings.push_back(std::move(finding));
  }

  // Along the wall from its left end: the further of the side wall's face and the unit's edge, less
  // the nearer.
  std::string infill_sum(bool right, const AtWall& end) const {
    const PlacedUnit& unit = placed_.units[end.unit];
    const double nearer = run_.from_along + (right ? unit.right : end.standing.u);
    return difference_sum(end.infill, {nearer});
  }

  Verdict judge_infill(bool right, const AtWall& end) {
    const Furniture::Infill& infill = run_.furniture.infill;
    const Unit& unit = run_.units[end.unit];
    const bool handle = hinged_at(unit, right);
    const double least = std::max(infill.min, handle ? run_.furniture.handle : 0);
    const Verdict verdict = between({end.infill, end.standing.sd}, least, infill.max);
    fit_.verdict = worse(fit_.verdict.value_or(Verdict::within), verdict);
    if (verdict == Verdict::within) return verdict;
    const bool narrow = end.infill < (least + infill.max) / 2;
    Finding finding = start(narrow ? "no room for an infill" : "gap too wide for an infill",
                            verdict == Verdict::outside ? Severity::hold : Severity::query,
                            run_.id + (right ? "/right" : "/left"));
    finding.measured = end.infill;
    finding.limit = narrow ? least : infill.max;
    const bool usual =
        *finding.limit == (narrow ? Furniture::Infill{}.min : Furniture::Infill{}.max);
    const bool for_handle = narrow && handle && run_.furniture.handle >= infill.min;
    finding.source = for_handle ? "handle of this job"
                     : usual    ? "the usual infill; common practice, no source"
                                : "infill of this job";
    finding.says = "Run " + run_.id + ": " + decimal(end.infill) + " ±" +
                   decimal(band95 * end.standing.sd) + " is left between " + unit.id + " and " +
                   (end.standing.what.empty() ? "the wall" : end.standing.what) + " at its " +
                   (right ? "right" : "left") + " (" + infill_sum(right, end) + ")" +
                   (narrow ? "; it needs " : "; an infill covers ") + millimetres(*finding.limit) +
                   (for_handle ? " for the door's handle."
                    : usual    ? (narrow ? ", usual for an infill." : ", as usual.")
                               : ", as this job says.");
    finding.remedy = narrow
                         ? "Move the run, choose a narrower unit, or hinge the door on its other "
                           "side."
                         : "Add a unit or a wider panel there.";
    out_.findings.push_back(std::move(finding));
    return verdict;
  }

  void opening_beside(bool right, const AtWall& end) {
    const Unit& unit = run_.units[end.unit];
    const bool door = hinged_at(unit, right);
    if (!door && !unit.drawers) return;
    const PlacedUnit& placed = placed_.units[end.unit];
    BesideWall swept = box(end.unit, end.unit);
    swept.bottom = nominal_heights(run_, placed_, end.unit).underside;
    swept.back = placed.front;
    swept.front = placed.front + (unit.drawers ? placed.front - placed.back : 0);
    if (door) swept.front = std::max(swept.front, placed.front + unit.width);
    const SideFace::Narrowest narrowest = end.face.narrowest(swept, true);
    const double edge = right ? placed.right : placed.left;
    const Estimate clear{right ? narrowest.u - edge : edge - narrowest.u, narrowest.sd};
    const double needed =
        std::max(unit.drawers ? drawer_play : 0, door ? run_.furniture.handle : 0);
    const Verdict verdict = list("opening beside the wall", end.unit, clear, needed,
                                 door ? "handle of this job" : "common practice, no source", "");
    if (verdict == Verdict::within) return;
    Finding finding =
        start(door ? "door strikes the side wall" : "drawers strike the side wall",
              verdict == Verdict::outside ? Severity::hold : Severity::query, unit.id);
    finding.measured = clear.value;
    finding.limit = needed;
    finding.source = door ? "handle of this job" : "common practice, no source";
    finding.says = unit.id + " has " + decimal(clear.value) + " ±" + decimal(band95 * clear.sd) +
                   " beside it in front to " +
                   (narrowest.what.empty() ? "the side wall" : narrowest.what) + "; it needs " +
                   millimetres(needed) + " to open.";
    finding.remedy = "A wider infill there, or the door hinged on its other side.";
    out_.findings.push_back(std::move(finding));
  }

  Verdict list(const char* what, Index unit, Estimate clear, double needed, std::string source,
               std::string sum) {
    ClearanceResult result;
    result.what = what;
    result.at = pointer(f_.index, "runs", r_) + "/units/" + std::to_string(unit);
    result.clear = clear.value;
    result.sd = clear.sd;
    result.needed = needed;
    result.verdict = verdict_of(clear, needed);
    result.source = std::move(source);
    result.sum = std::move(sum);
    out_.clearances.push_back(std::move(result));
    return *out_.clearances.back().verdict;
  }

  // Width left for a unit between what is set and the faces, by which ends it passes in front.
  struct WayIn {
    Index unit = 0;
    double width = 0;  // between the faces
    Estimate clear;
    std::string what;
  };
  WayIn way(Index unit, bool past_left, bool past_right, double others) const {
    BesideWall path = box(unit, unit);
    path.front += placed_.units[unit].front - placed_.units[unit].back;
    WayIn out{unit, 0, {0, *fit_.sd}, ""};
    double edges[2] = {left_->standing.u, right_->standing.u};
    for (const bool right : {false, true}) {
      const AtWall& end = right ? *right_ : *left_;
      if (!(right ? past_right : past_left)) continue;
      const SideFace::Narrowest narrowest = end.face.narrowest(path, true);
      if (right ? narrowest.u >= edges[1] : narrowest.u <= edges[0]) continue;
      edges[right] = narrowest.u;
      out.what = narrowest.what.empty() ? "the side wall" : narrowest.what;
    }
    out.width = edges[1] - edges[0];
    out.clear.value = out.width - (others - run_.units[unit].width);
    return out;
  }

  void way_in() {
    std::vector<Index> set;
    double widths = 0;
    for (Index i = 0; i < run_.units.size(); ++i)
      if (!is_filler(run_.units[i])) {
        set.push_back(i);
        widths += run_.units[i].width;
      }
    if (set.empty()) return;
    const auto spare = [&](const WayIn& w) { return w.clear.value - run_.units[w.unit].width; };
    WayIn best = way(set.front(), true, set.size() == 1, widths);
    if (set.size() > 1) {
      const WayIn end = way(set.back(), false, true, widths);
      if (spare(end) >= spare(best)) best = end;
    }
    const WayIn at_end = best;
    if (set.size() > 2) best = way(set[set.size() / 2], false, false, widths);

    const Unit& unit = run_.units[best.unit];
    const double needed = unit.width + way_in_play;
    const double others = widths - unit.width;
    std::string sum = decimal(best.width);
    if (others > 0) sum += " − " + decimal(others) + " = " + decimal(best.clear.value);
    const Verdict verdict = list("last unit's way in", best.unit, best.clear, needed,
                                 "common practice, no source", std::move(sum));
    const bool only_middle =
        verdict == Verdict::within && set.size() > 2 && spare(at_end) < way_in_play;
    if (verdict == Verdict::within && !only_middle) return;
    Finding finding = start(only_middle ? "set the end units first" : "last unit does not go in",
                            only_middle                   ? Severity::note
                            : verdict == Verdict::outside ? Severity::hold
                                                          : Severity::query,
                            run_.id + "/" + unit.id);
    const WayIn& told = only_middle ? at_end : best;
    finding.measured = told.clear.value;
    finding.limit = run_.units[told.unit].width + way_in_play;
    finding.source = "common practice, no source";
    finding.says = std::string("Run ") + run_.id + ": the way in for " + run_.units[told.unit].id +
                   " as the last unit is " + decimal(told.clear.value) + " ±" +
                   decimal(band95 * told.clear.sd) +
                   (told.what.empty() ? "" : ", past " + told.what) + "; it needs " +
                   millimetres(*finding.limit) + ".";
    finding.remedy = only_middle ? "Set the units at both ends first and " + unit.id + " last."
                                 : "Take off what stands in the way, choose a narrower unit, or "
                                   "let the run end short of the wall.";
    out_.findings.push_back(std::move(finding));
  }

  const RoomFacts& f_;
  Index r_;
  const Run& run_;
  const PlacedRun& placed_;
  Fits& out_;
  FitResult fit_;
  std::optional<AtWall> left_, right_;
};

}  // namespace

Fits run_fits(const RoomFacts& f) {
  Fits out;
  for (Index r = 0; r < f.runs.size(); ++r) {
    const Run& run = f.room.runs[r];
    if (run.wall && f.runs[r] && !run.units.empty()) RunFit(f, r, out).solve();
  }
  Clearances corners = corner_ends(f);
  for (ClearanceResult& one : corners.clearances) out.clearances.push_back(std::move(one));
  for (Finding& one : corners.findings) out.findings.push_back(std::move(one));
  return out;
}

}  // namespace levelrun
