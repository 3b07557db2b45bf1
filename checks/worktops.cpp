// Question: what is each worktop to be made to, and is it deep enough?
// Method: worktop_ends.cpp for the length, hollows behind the run's line (run_line.cpp) for the
// depth: the face is straight between readings, so its extremes are at readings and at the ends.
#include "checks/worktops.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "checks/face_lines.h"
#include "checks/pointer.h"
#include "checks/run_line.h"
#include "checks/words.h"
#include "checks/worktop_ends.h"

namespace levelrun {
namespace {

constexpr double least_overhang = 10;  // mm over the fronts, so that drips fall clear
constexpr double least_scribe = 0.05;  // mm; nobody scribes less
constexpr double starts_on_top = 30;   // mm below a worktop's top that a splash back may start
// All common practice, no source.

bool needs_support(const Unit& unit) {
  return unit.kind == UnitKind::appliance || unit.niche || !unit.houses.empty();
}

struct Hollows {
  Estimate least, greatest;
};

// Behind the run's line along the units under a top; empty: not measured there.
std::optional<Hollows> hollows(const RoomFacts& f, const Run& run, const PlacedRun& placed,
                               double left, double right) {
  const Wall& wall = f.room.walls[*run.wall];
  const Furniture& furniture = run.furniture;
  const RunLine line(f.survey, wall, run.from_along, run.from_along + placed.length,
                     height_in_use(run));
  const double height =
      furniture.plinth.height + furniture.base_height + furniture.worktop.thickness;
  std::vector<double> places{run.from_along + left, run.from_along + right};
  for (const WallOffset& o : wall.offsets)
    if (o.along > places[0] && o.along < places[1]) places.push_back(o.along);
  std::optional<Hollows> out;
  for (const double along : places) {
    const auto hollow = line.hollow(along, height);
    if (!hollow) continue;
    if (!out) out = Hollows{*hollow, *hollow};
    if (hollow->value < out->least.value) out->least = *hollow;
    if (hollow->value > out->greatest.value) out->greatest = *hollow;
  }
  return out;
}

// Thickness of what hides a gap behind the top, and its name.
std::pair<double, std::string> cover(const Run& run, const Wall& wall) {
  const Furniture& furniture = run.furniture;
  std::pair<double, std::string> out{0, ""};
  if (furniture.worktop.upstand) out = {furniture.worktop.upstand->thickness, "upstand"};
  const double top = furniture.plinth.height + furniture.base_height + furniture.worktop.thickness;
  for (const Finish& finish : wall.finish)
    if (finish.from_height && *finish.from_height >= top - starts_on_top &&
        *finish.from_height <= top + starts_on_top && finish.thickness > out.first)
      out = {finish.thickness, finish.name};
  return out;
}

class OneTop {
 public:
  OneTop(const RoomFacts& f, Index run, const UnderTop& under, int piece, Worktops& out)
      : f_(f),
        index_(run),
        run_(f.room.runs[run]),
        placed_(*f.runs[run]),
        under_(under),
        out_(out) {
    top_.run = run_.id;
    top_.piece = piece;
    top_.from = placed_.units[under.first].left;
    top_.to = placed_.units[under.last].right;
    top_.material = worktop().material;
    top_.depth = worktop().depth;
  }

  void work_out() {
    if (cut_by_template(worktop().material)) {
      top_.by_template = true;
      top_.sum = "template after the units are fixed";
      Finding& note = add("worktop by template", Severity::note);
      note.says = "The worktop of run " + run_.id + " is " + worktop().material +
                  ": it is cut to a template taken once its units are fixed.";
      note.remedy = "Book the template for after the units are set; order nothing by these sizes.";
    } else {
      measure_length();
      measure_depth();
    }
    out_.worktops.push_back(std::move(top_));
  }

 private:
  const Furniture::Worktop& worktop() const { return run_.furniture.worktop; }

  Finding& add(const char* code, Severity severity) {
    Finding& f = out_.findings.emplace_back();
    f.code = code;
    f.severity = severity;
    f.id = run_.id + (top_.piece > 1 ? "/" + std::to_string(top_.piece) : "");
    f.at = pointer(f_.index, "runs", index_);
    return f;
  }

  void measure_length() {
    const WorktopEnd left = end_before_scribing(false), right = end_before_scribing(true);
    const double units = top_.to - top_.from;
    top_.length = left.beyond + units + right.beyond;
    top_.length_sd = std::hypot(left.sd, right.sd);
    // Rounded before they are added, so that the printed sum adds up.
    const double at_left = std::round(left.beyond * 10) / 10;
    const double at_right = std::round(right.beyond * 10) / 10;
    top_.sum = "long " + term(at_left) + " + " + millimetres(units) + " + " + term(at_right) +
               " = " + decimal(at_left + units + at_right);
    add_corner(left, 0);
    if (worktop().stock_length) add_stock(left.beyond);
    add_corner(right, *top_.length);
  }

  // The back of the top that it meets in a corner lies behind that run's line.
  WorktopEnd end_before_scribing(bool right) const {
    WorktopEnd end = worktop_end(f_, index_, under_, right);
    if (!end.corner_run) return end;
    const PlacedRun& other = *f_.runs[*end.corner_run];
    const auto behind =
        hollows(f_, f_.room.runs[*end.corner_run], other, other.units[end.corner_top.first].left,
                other.units[end.corner_top.last].right);
    if (!behind) return end;
    end.beyond += behind->greatest.value;
    end.sd = std::hypot(end.sd, behind->greatest.sd);
    return end;
  }

  void add_corner(const WorktopEnd& end, double along) {
    if (!end.corner_run) return;
    WorktopJoint joint;
    joint.kind = "corner";
    joint.along = along;
    joint.with = f_.room.runs[*end.corner_run].id;
    const CornerResult& corner = f_.plan.corner_results[*end.corner];
    joint.angle = corner.angle;
    joint.sd = corner.sd_angle;
    if (corner.angle) joint.mitre = *corner.angle / 2;
    top_.joints.push_back(std::move(joint));
  }

  void add_stock(double beyond_left) {
    const double stock = *worktop().stock_length;
    top_.pieces = std::max(1, int(std::ceil(*top_.length / stock - 1e-9)));
    for (int k = 1; k < *top_.pieces; ++k) {
      WorktopJoint joint;
      joint.kind = "stock";
      joint.along = k * stock;
      note_support(k * stock, top_.from - beyond_left, k);
      top_.joints.push_back(std::move(joint));
    }
  }

  // A joint that nothing solid carries; start: u of the top's left end.
  void note_support(double along, double start, int k) {
    for (Index i = under_.first; i <= under_.last; ++i) {
      const PlacedUnit& unit = placed_.units[i];
      const double u = start + along;
      if (u <= unit.left || u >= unit.right || !needs_support(run_.units[i])) continue;
      Finding& note = add("joint over an appliance", Severity::note);
      note.id += "/joint_" + std::to_string(k);
      note.source = "common practice, no source";
      note.says = "The worktop of run " + run_.id + " is longer than its stock of " +
                  millimetres(*worktop().stock_length) + "; the joint at " + millimetres(along) +
                  " from its left falls over " + run_.units[i].id + ".";
      const double next = std::min(along + *worktop().stock_length, *top_.length);
      std::optional<double> clear;
      for (Index b = under_.first; b < i; ++b) {
        const double at = placed_.units[b].right - start;
        if (next - at <= *worktop().stock_length && !needs_support(run_.units[b]) &&
            !needs_support(run_.units[b + 1]))
          clear = at;
      }
      note.remedy = clear ? "Joint it over the sides of two units, at " + millimetres(*clear) + "."
                          : "Joint it over the sides of two units, or order longer stock.";
      return;
    }
  }

  void measure_depth() {
    double front = 0;
    for (Index i = under_.first; i <= under_.last; ++i)
      front = std::max(front, placed_.units[i].front - (run_.wall ? 0 : placed_.units[i].back));
    const double thickness = run_.furniture.front_thickness;
    const double over = std::min(least_overhang, worktop().overhang);
    top_.needed = front + thickness + over;
    Estimate lost;
    std::string hidden;
    if (run_.wall) {
      const auto behind = hollows(f_, run_, placed_, top_.from, top_.to);
      if (!behind) return;
      const Estimate scribe{behind->greatest.value - behind->least.value,
                            std::hypot(behind->greatest.sd, behind->least.sd)};
      const auto [thick, name] = cover(run_, f_.room.walls[*run_.wall]);
      top_.covered = thick > 0 && at_most(scribe, thick) == Verdict::within;
      top_.scribe = top_.covered || scribe.value < least_scribe ? 0 : scribe.value;
      lost = top_.covered ? behind->least : behind->greatest;
      if (top_.covered)
        hidden = "; the gap of " + decimal(scribe.value) + " is hidden by the " + name + ", " +
                 millimetres(thick) + " thick";
    }
    const Estimate left{worktop().depth - lost.value, lost.sd};
    top_.depth_left = left.value;
    top_.depth_sd = left.sd;
    top_.overhang = left.value - front - thickness;
    top_.verdict = verdict_of(left, *top_.needed);
    const std::string needs = millimetres(front) + " + " + millimetres(thickness) + " + " +
                              millimetres(over) + " = " + millimetres(*top_.needed);
    const std::string deep =
        millimetres(worktop().depth) + " − " + term(lost.value) + " = " + decimal(left.value);
    top_.sum += "; deep " + deep + ", needs " + needs + hidden;
    ClearanceResult& c = out_.clearances.emplace_back();
    c.what = "worktop depth after scribing";
    c.at = pointer(f_.index, "runs", index_);
    c.clear = left.value;
    c.sd = left.sd;
    c.needed = *top_.needed;
    c.verdict = top_.verdict;
    c.source = "fronts of this job and " + millimetres(over) +
               " over them (common practice, no "
               "source)";
    c.sum = deep;
    if (top_.verdict == Verdict::within) return;
    const bool outside = top_.verdict == Verdict::outside;
    Finding& finding =
        add("worktop too shallow after scribing", outside ? Severity::hold : Severity::query);
    finding.measured = left.value;
    finding.limit = *top_.needed;
    finding.unit = "mm";
    finding.source = c.source;
    finding.says = "Of the " + millimetres(worktop().depth) + " worktop of run " + run_.id + " " +
                   decimal(left.value) + " ±" + decimal(band95 * left.sd) +
                   " is left once its back meets the wall; to cover the fronts it needs " +
                   millimetres(*top_.needed) + ".";
    finding.remedy =
        outside ? "A deeper top, an upstand that hides the gap, or the wall packed or cut back."
                : "Too near to say: read the wall's offsets again at worktop height, or order a "
                  "deeper top.";
  }

  const RoomFacts& f_;
  Index index_;
  const Run& run_;
  const PlacedRun& placed_;
  UnderTop under_;
  Worktops& out_;
  WorktopResult top_;
};

}  // namespace

bool cut_by_template(const std::string& material) {
  std::string lower;
  for (const char c : material)
    lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  const auto has = [&](const char* word) { return lower.find(word) != std::string::npos; };
  if (has("laminate") || has("effect") || has("look")) return false;
  for (const char* word : {"stone", "granite", "quartz", "marble", "sintered", "solid surface",
                           "slate", "porcelain", "ceramic", "terrazzo", "concrete"})
    if (has(word)) return true;
  return false;
}

Worktops worktops(const RoomFacts& f) {
  Worktops out;
  for (Index r = 0; r < f.runs.size(); ++r) {
    if (!f.runs[r]) continue;
    int piece = 0;
    for (const UnderTop& under : under_worktops(f.room.runs[r]))
      OneTop(f, r, under, ++piece, out).work_out();
  }
  return out;
}

}  // namespace levelrun
