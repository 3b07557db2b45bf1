#include "checks/legs.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "checks/obstacles.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double clear_of_pipe = 5;  // mm beyond the foot's radius; common practice, no source
constexpr double band_wide = 3;      // mm of 1.96 sd: beyond, the floor there counts as unread

const GroupResult* group_of(const std::vector<GroupResult>& groups, const std::string& id) {
  for (const GroupResult& group : groups)
    if (group.id == id) return &group;
  return nullptr;
}

// Units of one level group in the order in which a fitter sets them: rank of (run, unit).
std::map<std::pair<Index, Index>, int> setting_order(const RoomFacts& facts,
                                                     const std::string& group) {
  struct Standing {
    Index run, unit;
    double floor;
    bool at_corner;
  };
  std::vector<Standing> units;
  for (const LegPlace& leg : facts.legs) {
    const Run& run = facts.room.runs[leg.run];
    if (run.level_group != group) continue;
    const auto bearing = leg.bearing();
    const double floor = bearing ? bearing->value : -1e9;
    if (!units.empty() && units.back().run == leg.run && units.back().unit == leg.unit) {
      units.back().floor = std::max(units.back().floor, floor);
      continue;
    }
    units.push_back({leg.run, leg.unit, floor, false});
  }
  std::map<std::pair<Index, Index>, int> rank;
  if (units.empty()) return rank;
  for (Index i = 0; i < units.size(); ++i) {
    const Run& run = facts.room.runs[units[i].run];
    const bool first = i == 0 || units[i - 1].run != units[i].run;
    const bool last = i + 1 == units.size() || units[i + 1].run != units[i].run;
    units[i].at_corner =
        (first && run.starts_at == RunEnd::corner) || (last && run.ends_at == RunEnd::corner);
  }
  const auto start =
      std::max_element(units.begin(), units.end(), [](const Standing& a, const Standing& b) {
        return std::pair(a.at_corner, a.floor) < std::pair(b.at_corner, b.floor);
      });
  const PlacedUnit& first = facts.runs[start->run]->units[start->unit];
  const PlanPoint from =
      facts.runs[start->run]->frame.at((first.left + first.right) / 2, first.front);
  // Own run outwards from the start, then the other runs from the end that is nearer to it.
  std::vector<std::pair<double, Index>> order;
  for (Index i = 0; i < units.size(); ++i) {
    const PlacedUnit& unit = facts.runs[units[i].run]->units[units[i].unit];
    const PlanPoint at =
        facts.runs[units[i].run]->frame.at((unit.left + unit.right) / 2, unit.front);
    const double other_run = units[i].run == start->run ? 0 : 1e6 * double(1 + units[i].run);
    order.push_back({other_run + std::hypot(at.x - from.x, at.y - from.y), i});
  }
  std::stable_sort(order.begin(), order.end());
  for (Index k = 0; k < order.size(); ++k)
    rank[{units[order[k].second].run, units[order[k].second].unit}] = int(k);
  return rank;
}

double tenth(double mm) { return std::round(mm * 10) / 10; }

// What a height asks of its leg type: which end of the range is in question, and by how much.
struct RangeTrouble {
  Verdict verdict = Verdict::doubtful;
  bool reaches = true;  // the upper end
  double limit = 0, by = 0;
};

RangeTrouble range_trouble(const LegPlace& leg, Estimate height) {
  RangeTrouble out;
  out.verdict = between(height, leg.type->min, leg.type->max);
  out.reaches = height.value > (leg.type->min + leg.type->max) / 2;
  out.limit = out.reaches ? leg.type->max : leg.type->min;
  out.by = out.reaches ? height.value - out.limit : out.limit - height.value;
  return out;
}

// What is wrong with the legs of one unit; it is said once a unit, with the worst leg's numbers.
struct Trouble {
  Index run = 0, unit = 0;
  std::vector<std::string> unread, wide;
  double widest = 0;
  std::vector<std::pair<Index, RangeTrouble>> beyond;  // index into the leg results
};

// reading_helps: by best estimates some underside suits the unit's whole level group. Else its
// legs stand at the least bad one, whatever another reading says.
Finding range_finding(const RoomFacts& facts, const Trouble& trouble,
                      const std::vector<LegResult>& legs, bool reading_helps) {
  const auto worst = std::max_element(
      trouble.beyond.begin(), trouble.beyond.end(), [](const auto& a, const auto& b) {
        return std::pair(a.second.verdict, a.second.by) < std::pair(b.second.verdict, b.second.by);
      });
  const LegResult& leg = legs[worst->first];
  const RangeTrouble& range = worst->second;
  const bool outside = range.verdict == Verdict::outside;
  const std::string& group = facts.room.runs[trouble.run].level_group;
  Finding f;
  f.code = !outside        ? "leg near the end of its range"
           : range.reaches ? "leg too short for the floor"
                           : "leg too long for the floor";
  f.severity = outside ? Severity::hold : Severity::query;
  f.id = leg.unit + "/" + leg.position;
  f.at = pointer(facts.index, "runs", trouble.run) + "/units/" + std::to_string(trouble.unit);
  f.measured = *leg.height;
  f.limit = range.limit;
  f.unit = "mm";
  f.source = "leg type " + leg.type;
  f.says = "Leg " + spaced(leg.position) + " of " + leg.unit + " needs " + decimal(*leg.height) +
           " ±" + decimal(band95 * *leg.sd) + "; type " + leg.type +
           (range.reaches ? " reaches " : " starts at ") + millimetres(range.limit) + ". " +
           leg.sum;
  if (trouble.beyond.size() > 1)
    f.says += "; " + std::to_string(trouble.beyond.size()) + " of its legs are so.";
  f.remedy = outside || !reading_helps ? "See the ways out of level group " + group + "."
                                       : "Read the floor at these legs again.";
  return f;
}

}  // namespace

LegHeights leg_heights(const RoomFacts& facts, const std::vector<GroupResult>& groups) {
  LegHeights out;
  const FloorObstacles obstacles(facts);
  std::vector<Trouble> troubles;

  for (const LegPlace& leg : facts.legs) {
    const Run& run = facts.room.runs[leg.run];
    const Unit& unit = run.units[leg.unit];
    const PlacedLeg& placed = leg.placed->legs[leg.leg];
    const std::string at =
        pointer(facts.index, "runs", leg.run) + "/units/" + std::to_string(leg.unit);
    LegResult result;
    result.unit = unit.id;
    result.position = placed.position;
    result.type = leg.type->id;
    result.x = leg.place.x;
    result.y = leg.place.y;
    if (troubles.empty() || troubles.back().run != leg.run || troubles.back().unit != leg.unit)
      troubles.push_back({leg.run, leg.unit, {}, {}, 0, {}});

    const GroupResult* group = group_of(groups, run.level_group);
    const auto bearing = leg.bearing();
    if (bearing) {
      result.bearing_floor = bearing->value;
      result.sd = bearing->sd;
      if (band95 * bearing->sd > band_wide) {
        troubles.back().wide.push_back(placed.position);
        troubles.back().widest = std::max(troubles.back().widest, band95 * bearing->sd);
      }
    } else {
      troubles.back().unread.push_back(placed.position);
    }
    if (bearing && group) {
      const double underside = group->underside + leg.placed->offset;
      const Estimate height{underside - bearing->value, bearing->sd};
      result.height = height.value;
      result.verdict = between(height, leg.type->min, leg.type->max);
      if (leg.type->supplied && leg.type->pitch)
        result.turns = (height.value - *leg.type->supplied) / *leg.type->pitch;
      // The floor's term takes up the rounding of the others, so that the sum adds as printed:
      // it is the one with a band.
      double shown = tenth(underside) - tenth(height.value);
      for (const double layer : leg.laid.each) shown -= tenth(layer);
      result.sum = decimal(underside) + " − " + term(shown);
      for (const double layer : leg.laid.each) result.sum += " − " + term(layer);
      result.sum += " = " + decimal(height.value);

      if (*result.verdict != Verdict::within)
        troubles.back().beyond.push_back({out.legs.size(), range_trouble(leg, height)});
    }
    if (const auto near = obstacles.nearest(leg.place, result.height.value_or(1e9))) {
      result.foot_clear = near->distance - leg.type->foot_radius;
      if (*result.foot_clear < 0) {
        const double move = clear_of_pipe - *result.foot_clear;
        const RunFrame& frame = facts.runs[leg.run]->frame;
        const double right = near->away.x * frame.along.x + near->away.y * frame.along.y;
        const double forward = near->away.x * frame.out.x + near->away.y * frame.out.y;
        const bool sideways = std::abs(right) >= std::abs(forward);
        Finding finding;
        finding.code = "foot over an obstacle";
        finding.severity = Severity::hold;
        finding.id = unit.id + "/" + placed.position;
        finding.at = at;
        finding.measured = *result.foot_clear;
        finding.limit = 0;
        finding.unit = "mm";
        finding.source = "foot radius of leg type " + leg.type->id;
        finding.says = "Foot " + unit.id + " " + spaced(placed.position) + " stands " +
                       decimal(-*result.foot_clear) + " over " + near->what + ".";
        finding.remedy = "Move the foot " + millimetres(std::ceil(move)) +
                         (sideways ? (right > 0 ? " to the right" : " to the left")
                                   : (forward > 0 ? " forward" : " back")) +
                         ".";
        out.findings.push_back(std::move(finding));
      }
    }
    out.legs.push_back(std::move(result));
  }

  for (const Trouble& trouble : troubles) {
    const Unit& unit = facts.room.runs[trouble.run].units[trouble.unit];
    if (!trouble.beyond.empty()) {
      const GroupResult* group = group_of(groups, facts.room.runs[trouble.run].level_group);
      const bool sure_conflict = group && group->conflict && group->conflict->by > 0;
      out.findings.push_back(range_finding(facts, trouble, out.legs, !sure_conflict));
    }
    if (trouble.unread.empty() && trouble.wide.empty()) continue;
    const bool unread = !trouble.unread.empty();
    std::string names;
    for (const std::string& position : unread ? trouble.unread : trouble.wide)
      names += (names.empty() ? "" : ", ") + spaced(position);
    Finding finding;
    finding.code = "floor not read under legs";
    finding.severity = unread ? Severity::hold : Severity::query;
    finding.id = unit.id;
    finding.at =
        pointer(facts.index, "runs", trouble.run) + "/units/" + std::to_string(trouble.unit);
    finding.unit = "mm";
    finding.source = "common practice, no source";
    if (!unread) {
      finding.measured = trouble.widest;
      finding.limit = band_wide;
    }
    finding.says = unread ? "No floor reading reaches the legs of " + unit.id + ": no heights."
                          : "Legs of " + unit.id + " (" + names + ") are known to ±" +
                                decimal(trouble.widest) + " only: no reading is near enough.";
    finding.remedy = "Read the floor under " + unit.id + ".";
    out.findings.push_back(std::move(finding));
  }

  // Level groups one after the other, each in its own order; legs without a level come last.
  std::vector<std::pair<Index, int>> rank(out.legs.size(), {groups.size(), 0});
  for (Index g = 0; g < groups.size(); ++g) {
    const auto order = setting_order(facts, groups[g].id);
    for (Index i = 0; i < facts.legs.size(); ++i) {
      const auto found = order.find({facts.legs[i].run, facts.legs[i].unit});
      if (found != order.end()) rank[i] = {g, found->second};
    }
  }
  std::vector<Index> by_order(out.legs.size());
  for (Index i = 0; i < by_order.size(); ++i) by_order[i] = i;
  std::stable_sort(by_order.begin(), by_order.end(),
                   [&](Index a, Index b) { return rank[a] < rank[b]; });
  for (Index k = 0; k < by_order.size(); ++k) out.legs[by_order[k]].order = int(k) + 1;
  return out;
}

}  // namespace levelrun
