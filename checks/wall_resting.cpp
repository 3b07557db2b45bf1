// Question: how do worktops, rails, end panels and infills lie against a wall?
// Method: the readings of one line as a profile, clipped to the thing, laid on (profile.cpp) or
// met by a plumb edge.
#include "checks/wall_resting.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "checks/profile.h"
#include "checks/words.h"

namespace levelrun {
namespace {

double of_scribe(double gap) { return gap < least_scribe ? 0 : gap; }

// The readings of a line between two places, the face straight between readings. Empty: fewer
// than two readings of the line, or none of it there.
std::vector<ProfilePoint> clipped(const Wall& wall, const FaceLine& line, double WallOffset::*on,
                                  double from, double to) {
  std::vector<ProfilePoint> all, out;
  for (const Index i : line.readings) all.push_back({wall.offsets[i].*on, -wall.offsets[i].offset});
  if (all.back().along - all.front().along <= same_line) return out;
  from = std::max(from, all.front().along);
  to = std::min(to, all.back().along);
  if (to - from <= same_line) return out;
  out.push_back({from, height_on(all, from)});
  for (const ProfilePoint& p : all)
    if (p.along > from && p.along < to) out.push_back(p);
  out.push_back({to, height_on(all, to)});
  return out;
}

// What finishes still to come add at a height, as seen from just below or just above it.
double finish_at(const Wall& wall, double height, bool above) {
  double sum = 0;
  for (const Finish& f : wall.finish) {
    const double from = f.from_height.value_or(-std::numeric_limits<double>::infinity());
    const double to = f.to_height.value_or(std::numeric_limits<double>::infinity());
    if (above ? from <= height && height < to : from < height && height <= to) sum += f.thickness;
  }
  return sum;
}

std::vector<ProfilePoint> with_finishes(const Wall& wall, const std::vector<ProfilePoint>& bare) {
  std::vector<double> heights;
  for (const ProfilePoint& p : bare) heights.push_back(p.along);
  const double low = heights.front(), high = heights.back();
  for (const Finish& f : wall.finish)
    for (const std::optional<double>& edge : {f.from_height, f.to_height})
      if (edge && *edge > low && *edge < high) heights.push_back(*edge);
  std::sort(heights.begin(), heights.end());
  std::vector<ProfilePoint> out;
  for (const double height : heights) {
    const double face = height_on(bare, height);
    if (height > low) out.push_back({height, face + finish_at(wall, height, false)});
    if (height < high) out.push_back({height, face + finish_at(wall, height, true)});
  }
  return out;
}

// Part of a run along its wall.
struct Stretch {
  double from = 0, to = 0;
};

bool one_of(UnitKind kind, std::initializer_list<UnitKind> kinds) {
  return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

bool under_worktop(UnitKind kind) { return one_of(kind, {UnitKind::base, UnitKind::appliance}); }
bool hangs(UnitKind kind) { return kind == UnitKind::wall; }

// Units side by side of a kind that `carries`, with whatever trim stands between and beside them.
std::vector<Stretch> stretches(const Run& run, bool (*carries)(UnitKind), bool spaces_too) {
  std::vector<Stretch> out;
  bool open = false, carried = false;
  double at = run.from_along;
  for (const Unit& unit : run.units) {
    const bool trim =
        one_of(unit.kind, {UnitKind::infill, UnitKind::corner_post, UnitKind::end_panel}) ||
        (spaces_too && unit.kind == UnitKind::space);
    if (carries(unit.kind) || trim) {
      if (!open) out.push_back({at, at}), carried = false;
      open = true;
      carried = carried || carries(unit.kind);
      out.back().to = at + unit.width;
    } else {
      if (open && !carried) out.pop_back();
      open = false;
    }
    at += unit.width;
  }
  if (open && !carried) out.pop_back();
  return out;
}

// Bottom and top above the floor of what stands or hangs in a run.
struct Upright {
  double bottom = 0, top = 0;
};

double worktop_top(const Room& room, const Run& run) {
  for (const LevelGroup& group : room.level_groups)
    if (group.id == run.level_group && group.asked_height) return *group.asked_height;
  const Furniture& f = run.furniture;
  return f.plinth.height + f.base_height + f.worktop.thickness;
}

bool hanging_run(const Run& run) {
  return std::any_of(run.units.begin(), run.units.end(),
                     [](const Unit& u) { return hangs(u.kind); }) &&
         std::none_of(run.units.begin(), run.units.end(), [](const Unit& u) {
           return under_worktop(u.kind) || u.kind == UnitKind::tall;
         });
}

Upright upright(const Room& room, const Run& run, const Unit& unit) {
  const Furniture& f = run.furniture;
  if (hanging_run(run)) {
    const double bottom = worktop_top(room, run) + f.wall_unit.above_worktop;
    return {bottom, bottom + unit.height.value_or(f.wall_unit.height)};
  }
  const double usual =
      unit.kind == UnitKind::tall ? f.tall_height.value_or(f.base_height) : f.base_height;
  return {0, f.plinth.height + unit.height.value_or(usual)};
}

class Rests {
 public:
  Rests(const Survey& survey, Index room, Index wall)
      : room_(survey.rooms[room]),
        index_(wall),
        wall_(room_.walls[wall]),
        level_(level_lines(wall_)),
        plumb_(plumb_lines(wall_)) {}

  std::vector<RestResult> all() {
    for (const Run& run : room_.runs)
      if (run.wall == index_) lying(run);
    for (const Run& run : room_.runs) {
      if (run.units.empty() || !run.wall) continue;
      if (*run.wall == index_) standing(run);
      infills(run);
    }
    return std::move(out_);
  }

 private:
  void lying(const Run& run) {
    if (const FaceLine* line = level_near(worktop_line))
      for (const Stretch& s : stretches(run, under_worktop, true)) lay("worktop", *line, s);
    const Furniture& f = run.furniture;
    if (!f.wall_unit.rail_drop) return;
    const double rail = worktop_top(room_, run) + f.wall_unit.above_worktop + f.wall_unit.height -
                        *f.wall_unit.rail_drop;
    if (const FaceLine* line = level_near(rail))
      for (const Stretch& s : stretches(run, hangs, false)) lay("rail", *line, s);
  }

  void lay(const char* of, const FaceLine& line, const Stretch& stretch) {
    const auto profile = clipped(wall_, line, &WallOffset::along, stretch.from, stretch.to);
    if (profile.empty()) return;
    RestResult rest = rested(profile);
    rest.of = of;
    rest.line = "at " + decimal(line.at, 0) + " high";
    out_.push_back(std::move(rest));
  }

  static RestResult rested(const std::vector<ProfilePoint>& profile) {
    const RestingLine line = resting_line(profile);
    RestResult rest;
    rest.from = profile.front().along;
    rest.to = profile.back().along;
    rest.resting = {line.left};
    if (line.right > line.left) rest.resting.push_back(line.right);
    rest.gap = line.gap;
    rest.scribe = of_scribe(line.gap);
    rest.rocks = line.rocks;
    return rest;
  }

  void standing(const Run& run) {
    const auto tall = [&](Index u) {
      return u < run.units.size() && run.units[u].kind == UnitKind::tall;
    };
    const auto ends_free = [](RunEnd end) {
      return end == RunEnd::open || end == RunEnd::end_panel;
    };
    double at = run.from_along;
    for (Index u = 0; u < run.units.size(); ++u) {
      const Unit& unit = run.units[u];
      const bool first = u == 0, last = u + 1 == run.units.size();
      const Upright reach = upright(room_, run, unit);
      if (unit.kind == UnitKind::end_panel) {
        stand("end_panel", at + unit.width / 2, reach);
      } else if (unit.kind != UnitKind::space && unit.kind != UnitKind::infill) {
        if (first ? ends_free(run.starts_at) : tall(u) && side_shows(run, u - 1))
          stand("end_panel", at, reach);
        if (last ? ends_free(run.ends_at) : tall(u) && side_shows(run, u + 1))
          stand("end_panel", at + unit.width, reach);
      }
      at += unit.width;
    }
  }

  // Beside a tall unit: what does not hide its side.
  static bool side_shows(const Run& run, Index beside) {
    return !one_of(run.units[beside].kind, {UnitKind::tall, UnitKind::end_panel, UnitKind::infill});
  }

  // Where a run that ends at this wall, its side wall, meets it with an infill.
  void infills(const Run& run) {
    const Wall& back = room_.walls[*run.wall];
    if (run.wall == index_ || wall_.lengths.empty()) return;
    const Furniture& f = run.furniture;
    const double depth = hanging_run(run)                   ? f.wall_unit.depth
                         : f.back == BackKind::standing_off ? f.base_depth + f.void_depth
                                                            : f.base_depth;
    if (wall_.to == back.from && run.starts_at == RunEnd::wall)
      stand("infill", wall_.lengths.front().length - depth, upright(room_, run, run.units.front()));
    if (wall_.from == back.to && run.ends_at == RunEnd::wall)
      stand("infill", depth, upright(room_, run, run.units.back()));
  }

  void stand(const char* of, double along, const Upright& reach) {
    const FaceLine* nearest = nullptr;
    std::vector<ProfilePoint> profile;
    for (const FaceLine& line : plumb_) {
      if (std::abs(line.at - along) > plumb_reach) continue;
      if (nearest && std::abs(line.at - along) >= std::abs(nearest->at - along)) continue;
      auto there = clipped(wall_, line, &WallOffset::height, reach.bottom, reach.top);
      if (there.empty()) continue;
      nearest = &line;
      profile = std::move(there);
    }
    if (!nearest) return;
    profile = with_finishes(wall_, profile);
    const auto [hollow, proud] = std::minmax_element(
        profile.begin(), profile.end(),
        [](const ProfilePoint& a, const ProfilePoint& b) { return a.height < b.height; });
    RestResult rest;
    rest.of = of;
    rest.line = "at " + decimal(nearest->at, 0) + " along";
    rest.from = profile.front().along;
    rest.to = profile.back().along;
    rest.resting = {proud->along};
    rest.gap = proud->height - hollow->height;
    rest.scribe = of_scribe(*rest.gap);
    const auto same = [&](const RestResult& o) {
      return o.of == rest.of && o.line == rest.line && o.from == rest.from && o.to == rest.to;
    };
    if (std::none_of(out_.begin(), out_.end(), same)) out_.push_back(std::move(rest));
  }

  const FaceLine* level_near(double height) const {
    const FaceLine* nearest = nullptr;
    for (const FaceLine& line : level_) {
      const double length =
          wall_.offsets[line.readings.back()].along - wall_.offsets[line.readings.front()].along;
      if (length <= same_line || std::abs(line.at - height) > level_reach) continue;
      if (!nearest || std::abs(line.at - height) < std::abs(nearest->at - height)) nearest = &line;
    }
    return nearest;
  }

  const Room& room_;
  Index index_;
  const Wall& wall_;
  std::vector<FaceLine> level_, plumb_;
  std::vector<RestResult> out_;
};

}  // namespace

std::vector<RestResult> wall_rests(const Survey& survey, Index room, Index wall) {
  if (survey.rooms[room].walls[wall].offsets.empty()) return {};
  return Rests(survey, room, wall).all();
}

}  // namespace levelrun
