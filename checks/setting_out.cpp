#include "checks/setting_out.h"

#include <algorithm>
#include <cmath>

#include "checks/floor_surface.h"
#include "checks/flooring.h"
#include "checks/placing.h"
#include "checks/room_levels.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double from_corner = 50;  // mm: where along and out the floor at a wall's end is meant;
                                    // common practice, no source
constexpr double one_rail = 0.5;    // mm: rails this close in height are one; common practice,
                                    // no source

double tenth(double mm) { return std::round(mm * 10) / 10; }

class Marks {
 public:
  Marks(const Survey& survey, Index index, const Results& results)
      : room_(survey.rooms[index]),
        result_(results.rooms[index]),
        results_(results),
        plan_(adjust_room(survey, index)),
        levels_(adjust_room_levels(survey, index)),
        floor_(survey, index, plan_, levels_),
        runs_(placed_runs(survey, index, plan_)),
        as_laid_(room_) {
    // Legs and floors of the results stand on the floor as it was laid.
    if (results.install)
      for (const LaidFloorResult& laid : results.install->laid_floor)
        if (laid.room == room_.id && laid.laid) {
          as_laid_.flooring.laid[laid.layer_at].thickness = *laid.laid;
          as_laid_.flooring.laid[laid.layer_at].total_sd = laid.sd;
        }
    out_.room = room_.id;
  }

  SettingOut all() {
    collect_lines();
    for (Index w = 0; w < room_.walls.size(); ++w) wall(w);
    for (Index r = 0; r < room_.runs.size(); ++r) units_along(r);
    for (const GroupResult& group : result_.groups) first_unit(group);
    return std::move(out_);
  }

 private:
  const GroupResult* group_of(const std::string& id) const {
    for (const GroupResult& g : result_.groups)
      if (g.id == id) return &g;
    return nullptr;
  }

  struct Plane {
    std::string setup;
    bool of_the_day = false;
    double height = 0, sd = 0;
  };
  void collect_lines() {
    if (results_.install)
      for (const DaySetUpResult& s : results_.install->setups)
        if (s.room == room_.id && s.height)
          planes_.push_back({s.setup, true, *s.height, s.sd.value_or(0)});
    for (Index s = 0; s < levels_.planes.size(); ++s)
      if (levels_.planes[s])
        planes_.push_back(
            {room_.levels.setups[s].id, false, levels_.planes[s]->value, levels_.planes[s]->sd});
    if (planes_.empty())
      out_.missing.push_back(
          "No level line is tied to the benchmark: heights from the floor only.");
  }

  // What is marked at both ends of a wall: levels of its runs, and rails of its wall units.
  void wall(Index w) {
    struct Line {
      std::string what, of;
      double height;
    };
    std::vector<Line> lines;
    const auto add = [&](const char* what, const std::string& of, double height) {
      const bool there = std::any_of(lines.begin(), lines.end(), [&](const Line& l) {
        return l.what == what && std::abs(l.height - height) < one_rail;
      });
      if (!there) lines.push_back({what, of, height});
    };
    for (Index r = 0; r < room_.runs.size(); ++r) {
      const Run& run = room_.runs[r];
      if (run.wall != w || !runs_[r] || run.units.empty()) continue;
      const GroupResult* group = group_of(run.level_group);
      if (!group) {
        out_.missing.push_back("Run " + run.id + ": its level is not known, so nothing is marked.");
        continue;
      }
      const double underside = group->underside + runs_[r]->frame.offset;
      for (const PlacedUnit& placed : runs_[r]->units) {
        const UnitKind kind = run.units[placed.unit].kind;
        if (kind == UnitKind::wall) {
          if (const auto drop = run.furniture.wall_unit.rail_drop)
            add("rail", run.id, group->underside + placed.top_offset - *drop);
          else
            no_rail_drop(run.id);
        } else if (kind != UnitKind::space) {
          add("underside", run.level_group, underside);
          if (kind != UnitKind::tall)
            add("worktop", run.level_group,
                underside + run.furniture.base_height + run.furniture.worktop.thickness);
        }
      }
    }
    std::sort(lines.begin(), lines.end(),
              [](const Line& a, const Line& b) { return a.height < b.height; });
    for (const Line& line : lines)
      for (const bool right : {false, true}) mark(w, line.what, line.of, line.height, right);
  }

  void no_rail_drop(const std::string& run) {
    const std::string says = "Run " + run + ": rail_drop is not given, so its rail has no height.";
    if (std::find(out_.missing.begin(), out_.missing.end(), says) == out_.missing.end())
      out_.missing.push_back(says);
  }

  void mark(Index w, const std::string& what, const std::string& of, double height, bool right) {
    HeightMark m;
    m.what = what;
    m.of = of;
    m.wall = room_.walls[w].id;
    m.right = right;
    m.height = height;
    if (plan_.known) m.along = right ? plan_.walls[w].length : 0;
    for (const Plane& plane : planes_)
      m.lines.push_back({plane.setup, plane.of_the_day, plane.height - height, plane.sd});
    if (!m.lines.empty()) {
      const LineMark& line = m.lines[0];
      m.sum = decimal(height + line.down) + " − " + term(height) + " = " + decimal(line.down) +
              " down from " + line.setup;
    }
    const Place place{w, right ? m.along - from_corner : from_corner, from_corner, 0, 0, 0};
    if (const auto at = plan_.at(place))
      if (const auto bare = floor_.estimates({&*at, 1})[0]) {
        const LaidOver laid = laid_over_bare(as_laid_, Floor::bearing, floor_.area_at(*at));
        m.above_floor = height - bare->value - laid.thickness.value;
        m.floor_sd = std::hypot(bare->sd, laid.thickness.sd);
        // The floor's term takes up the rounding, so that the sum adds as printed.
        double shown = tenth(height) - tenth(*m.above_floor);
        for (const double layer : laid.each) shown -= tenth(layer);
        std::string sum = decimal(height) + " − " + term(shown);
        for (const double layer : laid.each) sum += " − " + term(layer);
        m.sum += (m.sum.empty() ? "" : "; ") + sum + " = " + decimal(*m.above_floor) +
                 " above the floor";
      }
    out_.heights.push_back(std::move(m));
  }

  void units_along(Index r) {
    const Run& run = room_.runs[r];
    if (!runs_[r]) {
      out_.missing.push_back("Run " + run.id + ": the place of its wall is not known.");
      return;
    }
    double start = run.wall ? run.from_along : 0;
    for (const PlacedUnit& placed : runs_[r]->units) {
      const Unit& unit = run.units[placed.unit];
      UnitMark m;
      m.run = run.id;
      m.unit = unit.id;
      if (run.wall) m.wall = room_.walls[*run.wall].id;
      m.left = start + placed.left;
      m.right = start + placed.right;
      m.sum = decimal(m.left) + " + " + decimal(unit.width) + " = " + decimal(m.right);
      out_.units.push_back(std::move(m));
    }
  }

  void first_unit(const GroupResult& group) {
    FirstUnit out;
    out.group = group.id;
    std::vector<const LegResult*> legs;
    for (const LegResult& leg : result_.legs)
      if (run_of(leg.unit) && run_of(leg.unit)->level_group == group.id) legs.push_back(&leg);
    if (legs.empty()) return;
    std::stable_sort(legs.begin(), legs.end(),
                     [](const LegResult* a, const LegResult* b) { return a->order < b->order; });
    for (const LegResult* leg : legs)
      if (std::find(out.order.begin(), out.order.end(), leg->unit) == out.order.end())
        out.order.push_back(leg->unit);
    out.unit = out.order.front();
    const Run& run = *run_of(out.unit);
    out.run = run.id;
    // As legs.h chooses it: units on legs at an end of their run that is a corner come first.
    std::vector<const Unit*> standing;
    for (const Unit& unit : run.units)
      if (stands_on_legs(unit)) standing.push_back(&unit);
    const bool in_corner = !standing.empty() &&
                           ((run.starts_at == RunEnd::corner && standing.front()->id == out.unit) ||
                            (run.ends_at == RunEnd::corner && standing.back()->id == out.unit));
    Unknown highest;
    for (const LegResult* leg : legs)
      if (leg->unit == out.unit && leg->bearing_floor &&
          (!highest || *leg->bearing_floor > *highest))
        highest = leg->bearing_floor;
    if (in_corner)
      out.why = out.unit + " first: it stands in the inside corner, from which both runs go on.";
    else if (highest)
      out.why = out.unit + " first: it stands on the highest bearing floor, " + decimal(*highest) +
                ", so its legs are the shortest.";
    else
      out.why = out.unit + " first: the floor was not read, so the order is as the units stand.";
    out_.first.push_back(std::move(out));
  }

  const Run* run_of(const std::string& unit) const {
    for (const Run& run : room_.runs)
      for (const Unit& u : run.units)
        if (u.id == unit) return &run;
    return nullptr;
  }

  const Room& room_;
  const RoomResult& result_;
  const Results& results_;
  const RoomPlan plan_;
  const RoomLevels levels_;
  const FloorSurface floor_;
  const std::vector<std::optional<PlacedRun>> runs_;
  Room as_laid_;
  std::vector<Plane> planes_;
  SettingOut out_;
};

}  // namespace

std::vector<SettingOut> setting_out(const Survey& survey, const Results& results) {
  std::vector<SettingOut> out;
  for (Index room = 0; room < survey.rooms.size() && room < results.rooms.size(); ++room)
    out.push_back(Marks(survey, room, results).all());
  return out;
}

}  // namespace levelrun
