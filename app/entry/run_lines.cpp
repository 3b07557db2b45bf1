#include "app/entry/run_lines.h"

#include <algorithm>

#include "app/entry/typed_number.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {
namespace {

class Lines {
 public:
  Lines(const Survey& survey, Index room, Index run, const RoomResult* results,
        std::optional<Estimate> wall_length)
      : room_(survey.rooms[room]),
        run_(room_.runs[run]),
        job_(survey.job),
        results_(results),
        wall_length_(wall_length) {
    for (const Unit& unit : run_.units) units_ += unit.width;
  }

  std::vector<RunRow> lines() {
    if (!run_.units.empty() || wall_length_) left();
    if (!results_ || run_.units.empty()) return std::move(out_);
    void_behind();
    plinth();
    worktop();
    return std::move(out_);
  }

 private:
  std::string length(double mm) const { return shown_length(mm, job_); }

  RunRow& add(std::string name, std::string value, std::string words = {}) {
    out_.push_back({std::move(name), std::move(value), std::move(words), std::nullopt, false});
    return out_.back();
  }
  static void judge(RunRow& line, const Judged& judged) {
    line.judged = judged;
    line.needs_a_person = judged.verdict != Verdict::within;
  }

  std::string in_units() const {
    return length(units_) + " in " + std::to_string(run_.units.size()) +
           (run_.units.size() == 1 ? " unit" : " units");
  }

  // The wall that one meets going on to the right.
  std::string next_wall() const {
    for (const Wall& wall : room_.walls)
      if (wall.from == room_.walls[*run_.wall].to) return wall.id;
    return "the wall’s end";
  }

  void left() {
    const FitResult* fit = nullptr;
    if (results_)
      for (const FitResult& one : results_->fits)
        if (one.run == run_.id) fit = &one;
    if (fit && fit->left_over) {
      RunRow& line = add("Left over", with_band(fit->left_over, fit->sd, job_.decimal));
      line.words = length(*fit->clear) + " clear, " + in_units();
      line.needs_a_person = *fit->left_over < 0;
    } else if (run_.wall && wall_length_) {
      const double left = wall_length_->value - run_.from_along - units_;
      RunRow& line = add("Left to " + next_wall(), with_band(left, wall_length_->sd, job_.decimal),
                         run_.units.empty() ? "" : in_units());
      if (left < 0) judge(line, {Verdict::outside, left, wall_length_->sd, 0.0, std::nullopt});
    } else {
      add("Units", in_units());
    }
    if (fit) infills(*fit);
  }

  // A fit has one verdict for both of its ends: the tighter one carries it.
  void infills(const FitResult& fit) {
    const Furniture::Infill& limits = run_.furniture.infill;
    const auto margin = [&](const Unknown& v) {
      return v ? std::min(*v - limits.min, limits.max - *v) : 1e9;
    };
    const bool left_tighter = margin(fit.infill_left) <= margin(fit.infill_right);
    for (const bool at_left : {true, false}) {
      const Unknown& value = at_left ? fit.infill_left : fit.infill_right;
      if (!value) continue;
      RunRow& line =
          add(at_left ? "Infill left" : "Infill right", with_band(value, fit.sd, job_.decimal));
      const double sd = fit.sd.value_or(0);
      const Verdict verdict = at_left == left_tighter && fit.verdict
                                  ? *fit.verdict
                                  : between({*value, sd}, limits.min, limits.max);
      judge(line, {verdict, *value, sd, limits.min, limits.max});
    }
  }

  void void_behind() {
    for (const RunVoidResult& v : results_->run_voids) {
      if (v.run != run_.id) continue;
      if (!v.needed) {
        add("Void", length(v.here), "nothing behind it");
        continue;
      }
      RunRow& line = add("Void", length(v.here),
                         with_band(v.needed, v.sd, job_.decimal) + " needed for " + v.service);
      if (v.verdict) judge(line, {*v.verdict, v.here, v.sd.value_or(0), *v.needed, std::nullopt});
    }
  }

  // The cut line of its front: between which heights it runs, and what is cut.
  void plinth() {
    std::optional<double> least, most;
    bool top = false, scribed = false;
    std::optional<Judged> worst;
    for (const PlinthResult& p : results_->plinths) {
      if (p.run != run_.id) continue;
      least = std::min({least.value_or(p.height_left), p.height_left, p.height_right});
      most = std::max({most.value_or(p.height_left), p.height_left, p.height_right});
      top |= p.top != TopCut::none;
      scribed |= p.bottom == BottomCut::scribe;
      if (!worst || worse(worst->verdict, p.verdict) != worst->verdict)
        worst = Judged{p.verdict, p.top_gap_greatest, p.sd, std::nullopt,
                       run_.furniture.plinth.top_gap_max};
    }
    if (!least) return;
    std::string heights = length(*least);
    if (length(*most) != heights) heights += " to " + length(*most);
    judge(add("Plinth", heights,
              top && scribed ? "cut at the top and scribed"
              : top          ? "cut at the top"
              : scribed      ? "scribed to the floor"
                             : "whole"),
          *worst);
  }

  void worktop() {
    for (const GroupResult& group : results_->groups) {
      const WorktopAboveFloor& above = group.worktop_above_floor;
      if (group.id != run_.level_group || !above.at) continue;
      std::string words = "above finished floor";
      if (above.greatest && *above.greatest - *above.at > 0.05)
        words += ", up to " + length(*above.greatest);
      RunRow& line = add("Worktop", length(*above.at), words);
      line.needs_a_person = !group.feasible;
    }
  }

  const Room& room_;
  const Run& run_;
  const Job& job_;
  const RoomResult* results_;
  std::optional<Estimate> wall_length_;
  double units_ = 0;
  std::vector<RunRow> out_;
};

// How far inside its limits: what a row shows when all are within is the tightest.
double room_left(const Judged& j) {
  double out = 1e9;
  if (j.least) out = std::min(out, j.value - *j.least);
  if (j.most) out = std::min(out, *j.most - j.value);
  return out;
}

void keep_worse(std::optional<Judged>& kept, const std::optional<Judged>& other) {
  if (!other) return;
  if (!kept || kept->verdict < other->verdict ||
      (kept->verdict == other->verdict && room_left(*other) < room_left(*kept)))
    kept = other;
}

bool wants_a_person(const std::optional<Judged>& judged) {
  return judged && judged->verdict != Verdict::within;
}

void add_legs(UnitRow& row, const Survey& survey, Index room, const RoomResult& results) {
  std::optional<double> least, most;
  double sd = 0;
  std::optional<Judged> worst;
  for (const LegResult& leg : results.legs) {
    if (leg.unit != row.id || !leg.height) continue;
    least = std::min(least.value_or(*leg.height), *leg.height);
    most = std::max(most.value_or(*leg.height), *leg.height);
    sd = std::max(sd, leg.sd.value_or(0));
    keep_worse(worst, judged(survey, room, leg));
  }
  if (!least) return;
  const char decimal = survey.job.decimal;
  row.legs = shown(*least, 1, decimal);
  if (const std::string high = shown(*most, 1, decimal); high != row.legs) row.legs += "–" + high;
  row.legs += " ±" + shown(band95 * sd, 1, decimal);
  row.legs_need_a_person = wants_a_person(worst);
  keep_worse(row.judged, worst);
}

void add_void(UnitRow& row, const Job& job, const RoomResult& results) {
  const ServiceResult* tightest = nullptr;
  const auto spare = [](const ServiceResult& s) { return *s.void_here - *s.void_needed; };
  for (const ServiceResult& s : results.services) {
    if (std::find(s.units.begin(), s.units.end(), row.id) == s.units.end()) continue;
    if (s.void_here && s.void_needed && (!tightest || spare(s) < spare(*tightest))) tightest = &s;
  }
  if (!tightest) return;
  row.void_here = shown_short(*tightest->void_here, 1, job.decimal) + " of " +
                  shown_short(*tightest->void_needed, 1, job.decimal);
  const std::optional<Judged> own = judged(*tightest);
  row.void_needs_a_person = wants_a_person(own);
  // Legs come first: the void's vial stands only where it is worse.
  if (own && (!row.judged || row.judged->verdict < own->verdict)) row.judged = own;
}

}  // namespace

std::vector<RunRow> run_lines(const Survey& survey, Index room, Index run,
                              const RoomResult* results, std::optional<Estimate> wall_length) {
  return Lines(survey, room, run, results, wall_length).lines();
}

std::vector<UnitRow> unit_rows(const Survey& survey, Index room, Index run,
                               const RoomResult* results) {
  std::vector<UnitRow> rows;
  for (const Unit& unit : survey.rooms[room].runs[run].units) {
    UnitRow row;
    row.id = unit.id;
    row.what = kind_words(unit.kind);
    if (unit.drawers) row.what += ", drawers";
    if (!unit.houses.empty()) row.what += ", " + spaced(unit.houses);
    row.width = shown_length(unit.width, survey.job);
    if (results) {
      add_legs(row, survey, room, *results);
      add_void(row, survey.job, *results);
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

const std::vector<std::string>& unit_kinds() {
  static const std::vector<std::string> kinds = {"base",   "tall",        "wall",      "appliance",
                                                 "infill", "corner_post", "end_panel", "space"};
  return kinds;
}

std::string kind_words(UnitKind kind) {
  return kind == UnitKind::unknown ? "other kind" : spaced(unit_kinds()[std::size_t(kind)]);
}

double free_along(const Survey& survey, Index room, Index wall) {
  double along = 0;
  for (const Run& run : survey.rooms[room].runs) {
    if (run.wall != wall) continue;
    double end = run.from_along;
    for (const Unit& unit : run.units) end += unit.width;
    const bool hangs = std::all_of(run.units.begin(), run.units.end(),
                                   [](const Unit& u) { return u.kind == UnitKind::wall; });
    if (!hangs) along = std::max(along, end);
  }
  return along;
}

}  // namespace levelrun
