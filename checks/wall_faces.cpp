// Question: do the walls stand plumb and flat, and how will a worktop lie against them?
// Method: lean by least squares on the offsets, each plumb line with its own constant, so that
// bow along the wall does not pass for lean; flatness in flatness.cpp, resting in profile.cpp.
// Sds are those of the readings; the waviness of the wall itself is no error.
#include "checks/wall_faces.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>

#include "checks/face_lines.h"
#include "checks/fixed_text.h"
#include "checks/flatness.h"
#include "checks/line_fit.h"
#include "checks/profile.h"
#include "checks/tolerance_table.h"
#include "checks/wall_resting.h"

namespace levelrun {
namespace {

// Heights and alongs that go together as closely as this (1 - r squared) do not tell lean from
// the wall's direction.
constexpr double inseparable = 1e-6;
// Of two figures that differ by rounding only, the first in the file's order counts.
constexpr double equal_by_rounding = 1 + 1e-9;

std::string figure(double value, int decimals) {
  char text[32];
  return {text, fixed_text(text, text + sizeof text, value, decimals)};
}

std::string mm(double value) { return figure(value, 1); }

// A limit or a place: whole mm without a decimal.
std::string plain(double value) {
  std::string text = mm(value);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  return text;
}

bool rises(const FaceLine& plumb, const Wall& wall) {
  return wall.offsets[plumb.readings.back()].height - wall.offsets[plumb.readings.front()].height >
         same_line;
}

// Mean clear height of the room; else the range of the heights read.
double storey(const Room& room, const Wall& wall) {
  double sum = 0, count = 0;
  for (const CeilingReading& ceiling : room.ceilings)
    if (!ceiling.height.setup) sum += ceiling.height.value, ++count;
  if (sum > 0) return sum / count;
  const auto [low, high] = std::minmax_element(
      wall.offsets.begin(), wall.offsets.end(),
      [](const WallOffset& a, const WallOffset& b) { return a.height < b.height; });
  return high->height - low->height;
}

// Plinth and carcass of the tallest that stands there; the job's base units if nothing does.
double height_of_units(const Survey& survey, const Room& room, Index wall) {
  double height = 0;
  for (const Run& run : room.runs) {
    if (run.wall != wall) continue;
    const Furniture& f = run.furniture;
    height = std::max(height, f.base_height + f.plinth.height);
    for (const Unit& unit : run.units) {
      if (unit.kind != UnitKind::tall) continue;
      const double tall = unit.height ? *unit.height : f.tall_height.value_or(f.base_height);
      height = std::max(height, tall + f.plinth.height);
    }
  }
  return height > 0 ? height : survey.furniture.base_height + survey.furniture.plinth.height;
}

// Lean of the whole wall, mm a mm of height. Empty: not measured.
std::optional<Estimate> lean_slope(const Survey& survey, const Wall& wall,
                                   const std::vector<FaceLine>& plumb) {
  if (plumb.empty()) return {};
  // Within its plumb line each reading counts from that line's means.
  std::vector<double> up, off, sd;
  if (std::any_of(plumb.begin(), plumb.end(),
                  [&](const FaceLine& line) { return rises(line, wall); })) {
    for (const FaceLine& line : plumb) {
      double height = 0, offset = 0;
      for (const Index i : line.readings) {
        height += wall.offsets[i].height;
        offset += wall.offsets[i].offset;
      }
      const double count = static_cast<double>(line.readings.size());
      for (const Index i : line.readings) {
        up.push_back(wall.offsets[i].height - height / count);
        off.push_back(wall.offsets[i].offset - offset / count);
        sd.push_back(offset_sd(survey, wall.offsets[i]));
      }
    }
  } else {
    // No place was read at two heights: a plane, if heights and alongs can be told apart. What
    // of height is explained by along is taken out of it.
    std::vector<double> along, height;
    for (const WallOffset& o : wall.offsets) {
      along.push_back(o.along);
      height.push_back(o.height);
      off.push_back(o.offset);
      sd.push_back(offset_sd(survey, o));
    }
    const auto [low, high] = std::minmax_element(height.begin(), height.end());
    const LineFit by_along = line_fit(along, height);
    if (*high - *low <= same_line || 1 - by_along.r_squared < inseparable) return {};
    for (Index i = 0; i < height.size(); ++i)
      up.push_back(height[i] - by_along.intercept - by_along.slope * along[i]);
  }
  double squares = 0, variance = 0;
  for (Index i = 0; i < up.size(); ++i) {
    squares += up[i] * up[i];
    variance += up[i] * up[i] * sd[i] * sd[i];
  }
  return Estimate{line_fit(up, off).slope, std::sqrt(variance) / squares};
}

double slope_of(const FaceLine& plumb, const Wall& wall) {
  std::vector<double> height, offset;
  for (const Index i : plumb.readings) {
    height.push_back(wall.offsets[i].height);
    offset.push_back(wall.offsets[i].offset);
  }
  return line_fit(height, offset).slope;
}

// Lean of the rightmost plumb line less that of the leftmost, mm a mm of height.
Unknown twist_slope(const Wall& wall, const std::vector<FaceLine>& plumb) {
  const auto up = [&](const FaceLine& line) { return rises(line, wall); };
  const auto left = std::find_if(plumb.begin(), plumb.end(), up);
  const auto right = std::find_if(plumb.rbegin(), plumb.rend(), up);
  if (left == plumb.end() || &*left == &*right) return {};
  return slope_of(*right, wall) - slope_of(*left, wall);
}

// Greatest departure of any level line from the chord of its ends.
Unknown greatest_bow(const Wall& wall, const std::vector<FaceLine>& level) {
  Unknown bow;
  for (const FaceLine& line : level) {
    const WallOffset &a = wall.offsets[line.readings.front()],
                     &b = wall.offsets[line.readings.back()];
    if (line.readings.size() < 3 || b.along - a.along <= same_line) continue;
    const double slope = (b.offset - a.offset) / (b.along - a.along);
    for (Index k = 1; k + 1 < line.readings.size(); ++k) {
      const WallOffset& p = wall.offsets[line.readings[k]];
      const double off = (p.offset - a.offset) - slope * (p.along - a.along);
      if (!bow || std::abs(off) > std::abs(*bow) * equal_by_rounding) bow = off;
    }
  }
  return bow;
}

void rest_worktop(const Wall& wall, const std::vector<FaceLine>& level, WallResult& result) {
  const FaceLine* line = line_near_worktop(level, wall);
  if (!line || std::abs(line->at - worktop_line) > level_reach) return;
  std::vector<ProfilePoint> profile;
  for (const Index i : line->readings)
    profile.push_back({wall.offsets[i].along, -wall.offsets[i].offset});
  const RestingLine rest = resting_line(profile);
  result.resting = {rest.left};
  if (rest.right > rest.left) result.resting.push_back(rest.right);
  result.gap = rest.gap;
  result.scribe = rest.gap < least_scribe ? 0 : rest.gap;
  result.rocks = rest.rocks;
}

void judge_flatness(const Survey& survey, const Wall& wall, const RowInUse& row,
                    const std::vector<FaceLine>& lines, double WallOffset::*on,
                    const char* direction, WallResult& result) {
  std::vector<FacePoint> points;
  for (const FaceLine& line : lines) {
    points.clear();
    for (const Index i : line.readings) {
      const WallOffset& o = wall.offsets[i];
      points.push_back({o.*on, o.offset, offset_sd(survey, o)});
    }
    std::optional<WorstFlatness> worst = worst_flatness(points, row);
    if (!worst) continue;
    // By cross-multiplying: deviation / limit, where a limit may be 0.
    if (result.worst && std::abs(worst->deviation) * result.worst->limit <=
                            std::abs(result.worst->deviation) * worst->limit * equal_by_rounding)
      continue;
    worst->line = "at " + plain(line.at) + direction;
    result.worst = std::move(worst);
  }
}

// One wall's findings, their room and place filled in.
class WallFindings {
 public:
  WallFindings(const Survey& survey, Index room, Index wall, std::vector<Finding>& findings)
      : job_(survey.job),
        room_(survey.rooms[room]),
        wall_(room_.walls[wall]),
        at_("/rooms/" + std::to_string(room) + "/walls/" + std::to_string(wall)),
        findings_(findings) {}

  void out_of_flat(const WorstFlatness& w, Verdict verdict, const std::string& source) {
    Finding* f = judged("wall out of flat", verdict, std::abs(w.deviation), w.limit, source);
    if (!f) return;
    f->says = wall_.id + " is " + mm(std::abs(w.deviation)) + " " +
              (w.deviation < 0 ? "proud" : "hollow") + " between " + plain(w.from) + " and " +
              plain(w.to) + ", " + w.line + ", by " +
              (w.method == FlatnessMethod::resting_bar ? "a bar resting on the wall"
                                                       : "a straightedge on equal offsets") +
              "; limit " + plain(w.limit) + " over " + plain(w.span) + ".";
    if (verdict == Verdict::outside && !job_.new_build)
      f->remedy = "Scribe the worktop and infills to it, or have the wall straightened first.";
  }

  void out_of_plumb(Estimate lean, double over, Verdict verdict, const Limit& limit) {
    Finding* f =
        judged("wall out of plumb", verdict, std::abs(lean.value), limit.value, limit.source);
    if (!f) return;
    f->says = wall_.id + " leans " + mm(std::abs(lean.value)) + " over " + plain(over) +
              (lean.value < 0 ? ", its top into the room" : ", its top away from the room") +
              "; limit " + plain(limit.value) + ".";
    if (verdict == Verdict::outside && !job_.new_build)
      f->remedy = "Stand tall units and end panels plumb and scribe to the wall.";
  }

  void lean_not_measured() {
    Finding& f = add("lean not measured", Severity::note);
    if (wall_.offsets_from == OffsetsFrom::plumb_plane) {
      f.says = wall_.id + " was not read at two heights, so its lean is not known.";
      f.remedy =
          "Read the offsets from the same plumb plane at a second height, near the floor or "
          "the ceiling, at both ends of the wall.";
    } else {
      f.says = wall_.id + "'s offsets are from a line, which tells nothing of its lean.";
      f.remedy = "Read offsets from one plumb plane at two heights, at both ends of the wall.";
    }
  }

 private:
  Finding& add(const char* code, Severity severity) {
    Finding& f = findings_.emplace_back();
    f.code = code;
    f.severity = severity;
    f.room = room_.id;
    f.id = wall_.id;
    f.at = at_;
    return f;
  }

  // Null: nothing to say. In an existing house what matters is the fit, so a limit is a note.
  Finding* judged(const char* code, Verdict verdict, double measured, double limit,
                  const std::string& source) {
    if (verdict == Verdict::within || (verdict == Verdict::doubtful && !job_.new_build))
      return nullptr;
    const bool doubtful = verdict == Verdict::doubtful;
    Finding& f = add(code, !job_.new_build ? Severity::note
                           : doubtful      ? Severity::query
                                           : Severity::hold);
    f.measured = measured;
    f.limit = limit;
    f.unit = "mm";
    f.source = source;
    f.remedy = doubtful ? "Too near the limit to say: measure again, with a better instrument."
                        : "Have the builder put it right, or agree it in writing, before anything "
                          "is made.";
    return &f;
  }

  const Job& job_;
  const Room& room_;
  const Wall& wall_;
  std::string at_;
  std::vector<Finding>& findings_;
};

}  // namespace

WallFaces wall_faces(const Survey& survey, Index room_index) {
  WallFaces faces;
  const Room& room = survey.rooms[room_index];
  const std::vector<Job::TableOverride>& overrides = survey.job.table_overrides;
  const ToleranceTable* table = tolerance_table(survey.job.tolerance_table);
  const auto row_of = [&](LimitOf what) {
    return RowInUse(table ? table->row(what) : nullptr, overrides);
  };
  const RowInUse finished = row_of(LimitOf::wall_finished);
  const RowInUse unfinished = row_of(LimitOf::wall_unfinished);

  for (Index w = 0; w < room.walls.size(); ++w) {
    const Wall& wall = room.walls[w];
    WallResult& result = faces.walls.emplace_back();
    result.wall = wall.id;
    if (wall.offsets.empty()) continue;
    WallFindings findings(survey, room_index, w, faces.findings);
    const std::vector<FaceLine> level = level_lines(wall), plumb = plumb_lines(wall);

    if (const std::optional<Estimate> slope = lean_slope(survey, wall, plumb)) {
      const double over = storey(room, wall);
      const Estimate lean{slope->value * over, slope->sd * over};
      result.lean = lean.value;
      result.lean_over = over;
      result.lean_units = slope->value * height_of_units(survey, room, w);
      result.sd = lean.sd;
      if (const Unknown twist = twist_slope(wall, plumb)) result.twist = *twist * over;
      if (const std::optional<Limit> limit = plumb_limit(table, over, overrides))
        findings.out_of_plumb(lean, over, at_most({std::abs(lean.value), lean.sd}, limit->value),
                              *limit);
    } else {
      findings.lean_not_measured();
    }
    result.bow = greatest_bow(wall, level);
    rest_worktop(wall, level, result);
    result.rests = wall_rests(survey, room_index, w);

    const RowInUse& row = wall.finish.empty() ? finished : unfinished;
    judge_flatness(survey, wall, row, level, &WallOffset::along, " high", result);
    judge_flatness(survey, wall, row, plumb, &WallOffset::height, " along", result);
    if (result.worst) {
      result.verdict =
          at_most({std::abs(result.worst->deviation), result.worst->sd}, result.worst->limit);
      findings.out_of_flat(*result.worst, *result.verdict, row.limit(result.worst->span)->source);
    }
  }
  return faces;
}

}  // namespace levelrun
