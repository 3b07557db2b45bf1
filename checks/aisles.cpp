// Question: what does each unit face, how far off, and is that enough?
// Method: everything else in the plan is cut to the strip before the unit, in its run's own
// coordinates; the nearest remainder counts.
#include "checks/aisles.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "checks/footprints.h"
#include "checks/pointer.h"
#include "checks/published_limits.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double grazes = 10;         // mm; less of a thing in the strip is no obstacle
constexpr double adjoins = 150;       // mm; a perpendicular thing nearer than this adjoins
constexpr double parallel = 0.94;     // cosine of 20 degrees
constexpr double turned_away = -0.3;  // a wall counts if its face looks back at the unit
// All common practice, no source.

struct Thing {  // what a unit faces
  std::string name;
  std::optional<Index> run;  // else a wall
  double v = 0;              // of its nearest part, in the unit's run
};

double dot(PlanPoint a, PlanPoint b) { return a.x * b.x + a.y * b.y; }

// Least v of an outline within u1..u2; empty where it misses or only grazes the strip.
std::optional<double> nearest_in_strip(std::span<const PlanPoint> outline, const RunFrame& frame,
                                       double u1, double u2) {
  double v = std::numeric_limits<double>::infinity();
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (Index i = 0, k = outline.size() - 1; i < outline.size(); k = i++) {
    const PlanPoint a{outline[k].x - frame.origin.x, outline[k].y - frame.origin.y};
    const PlanPoint b{outline[i].x - frame.origin.x, outline[i].y - frame.origin.y};
    const double ua = dot(a, frame.along), ub = dot(b, frame.along);
    const double va = dot(a, frame.out), vb = dot(b, frame.out);
    const double from = std::clamp(ua, u1, u2), to = std::clamp(ub, u1, u2);
    if (std::max(ua, ub) < u1 || std::min(ua, ub) > u2) continue;
    const auto v_at = [&](double u) {
      return ub == ua ? va : va + (vb - va) * (u - ua) / (ub - ua);
    };
    v = std::min({v, v_at(from), v_at(to), ub == ua ? vb : v_at(to)});
    least = std::min({least, from, to});
    most = std::max({most, from, to});
  }
  if (most - least <= grazes) return std::nullopt;
  return v;
}

std::vector<PlanPoint> face_of_wall(const RoomFacts& f, Index w) {
  const WallLine& line = f.plan.walls[w];
  double proud = 0;
  for (const Finish& finish : f.room.walls[w].finish) proud += finish.thickness;
  return {{line.from.x + proud * line.out.x, line.from.y + proud * line.out.y},
          {line.to.x + proud * line.out.x, line.to.y + proud * line.out.y}};
}

std::optional<Thing> faced(const RoomFacts& f, const std::vector<Footprint>& all,
                           const Footprint& own) {
  const RunFrame& frame = f.runs[own.run]->frame;
  const PlacedUnit& unit = f.runs[own.run]->units[own.unit];
  std::optional<Thing> nearest;
  const auto consider = [&](std::string name, std::optional<Index> run,
                            std::span<const PlanPoint> outline, double from) {
    const auto v = nearest_in_strip(outline, frame, unit.left, unit.right);
    if (v && *v >= from && (!nearest || *v < nearest->v)) nearest = Thing{std::move(name), run, *v};
  };
  for (const Footprint& other : all) {
    const Run& run = f.room.runs[other.run];
    if (other.run == own.run || run.units[other.unit].kind == UnitKind::wall) continue;
    const bool square = std::abs(dot(f.runs[other.run]->frame.out, frame.out)) < parallel;
    if (square && run.wall && frame.wall) continue;
    consider(run.id, other.run, other.outline, square ? own.front + adjoins : unit.front);
  }
  for (Index w = 0; w < f.plan.walls.size(); ++w)
    if (w != frame.wall && dot(f.plan.walls[w].out, frame.out) < turned_away)
      consider(f.room.walls[w].id, std::nullopt, face_of_wall(f, w), unit.front);
  return nearest;
}

double distance_sd(const RoomFacts& f, const RunFrame& frame, const Thing& thing) {
  const bool free = !frame.wall || (thing.run && !f.room.runs[*thing.run].wall);
  return std::hypot(plan_sd(f, frame.out), free ? setting_out_sd : 0);
}

// How far an open door stands before the carcass; empty: no appliance with a door.
struct OpenDoor {
  double reach = 0;
  std::string of;
};
std::optional<OpenDoor> open_door(const Unit& unit, const Furniture& furniture) {
  const auto holds = [&](std::initializer_list<std::string_view> words) {
    return std::any_of(words.begin(), words.end(), [&](std::string_view w) {
      return unit.houses.find(w) != std::string::npos;
    });
  };
  if (holds({"oven", "dishwasher", "cooker", "range", "microwave"})) {
    if (unit.kind == UnitKind::tall) return OpenDoor{unit.width, "width"};
    return OpenDoor{unit.height.value_or(furniture.base_height), "height"};
  }
  if (unit.kind == UnitKind::appliance || holds({"fridge", "freezer", "wash", "dryer"}))
    return OpenDoor{unit.width, "width"};
  return std::nullopt;
}

void judge_door(const RoomFacts& f, const Footprint& own, const Thing& thing, Clearances& out) {
  const Run& run = f.room.runs[own.run];
  const Unit& unit = run.units[own.unit];
  const auto door = open_door(unit, run.furniture);
  if (!door) return;
  const RunFrame& frame = f.runs[own.run]->frame;
  const double front = f.runs[own.run]->units[own.unit].front;
  const Estimate clear{thing.v - front - door->reach, distance_sd(f, frame, thing)};
  ClearanceResult& c = out.clearances.emplace_back();
  c.what = "aisle with the door open";
  c.at = pointer(f.index, "runs", own.run) + "/units/" + std::to_string(own.unit);
  c.clear = clear.value;
  c.sd = clear.sd;
  c.verdict = verdict_of(clear, 0);
  c.source = "the door's reach taken as its unit's " + door->of + " (common practice, no source)";
  c.sum = unit.id + ": " + decimal(thing.v - front) + " from the carcass to " + thing.name + " − " +
          millimetres(door->reach) + " open door = " + decimal(clear.value);
  if (c.verdict == Verdict::within) return;
  Finding finding;
  finding.code = "appliance door does not open";
  finding.severity = c.verdict == Verdict::outside ? Severity::hold : Severity::query;
  finding.id = unit.id;
  finding.at = c.at;
  finding.measured = clear.value;
  finding.limit = 0;
  finding.unit = "mm";
  finding.source = c.source;
  finding.says = "The door of " + unit.id + " reaches " + millimetres(door->reach) +
                 " when open; " + thing.name + " stands " + decimal(thing.v - front) + " ±" +
                 decimal(band95 * clear.sd) + " before its carcass.";
  finding.remedy = "Move " + unit.id + " or " + thing.name +
                   ", or take the reach of its door from its maker's sheet and widen the aisle.";
  out.findings.push_back(std::move(finding));
}

struct Aisle {
  Index run = 0;
  Thing thing;
  double clear = 0;
};

// The same aisle as seen from the other run's fronts is the same entry.
void keep(std::vector<Aisle>& aisles, const RoomFacts& f, Aisle aisle) {
  for (Aisle& known : aisles) {
    const bool same = known.run == aisle.run && known.thing.name == aisle.thing.name &&
                      known.thing.run == aisle.thing.run;
    const bool across = known.thing.run == aisle.run && aisle.thing.run == known.run &&
                        dot(f.runs[known.run]->frame.out, f.runs[aisle.run]->frame.out) < -parallel;
    if (!same && !across) continue;
    if (aisle.clear < known.clear) known.clear = aisle.clear;
    return;
  }
  aisles.push_back(std::move(aisle));
}

void judge_aisle(const RoomFacts& f, const Aisle& aisle, Clearances& out) {
  const PublishedLimit& limit = published_limit("clear space in front of worktops");
  const Run& run = f.room.runs[aisle.run];
  const Estimate clear{aisle.clear, distance_sd(f, f.runs[aisle.run]->frame, aisle.thing)};
  ClearanceResult& c = out.clearances.emplace_back();
  c.what = "aisle";
  c.at = pointer(f.index, "runs", aisle.run);
  c.clear = clear.value;
  c.sd = clear.sd;
  c.needed = limit.value;
  c.verdict = verdict_of(clear, limit.value);
  c.source = limit.source;
  c.sum = run.id + " to " + aisle.thing.name + ": " + decimal(clear.value) +
          " between what reaches furthest (handles, worktops)";
  if (c.verdict == Verdict::within) return;
  Finding finding;
  finding.code = "narrow aisle";
  finding.severity = f.survey.job.new_build ? Severity::query : Severity::note;
  finding.id = run.id + "/" + aisle.thing.name;
  finding.at = c.at;
  finding.measured = clear.value;
  finding.limit = limit.value;
  finding.unit = "mm";
  finding.source = limit.source;
  finding.says = "In front of run " + run.id + " " + decimal(clear.value) + " ±" +
                 decimal(band95 * clear.sd) + " is clear to " + aisle.thing.name +
                 "; guidance asks for " + millimetres(limit.value) + ".";
  finding.remedy = c.verdict == Verdict::outside
                       ? "Widen the aisle, or agree it with the client in writing."
                       : "Too near to say: measure across the aisle.";
  out.findings.push_back(std::move(finding));
}

}  // namespace

Clearances aisles(const RoomFacts& f) {
  Clearances doors, out;
  std::vector<Aisle> found;
  const std::vector<Footprint> all = footprints(f);
  for (const Footprint& own : all) {
    const Unit& unit = f.room.runs[own.run].units[own.unit];
    if (!stands_on_legs(unit) && unit.kind != UnitKind::appliance) continue;
    const auto thing = faced(f, all, own);
    if (!thing) continue;
    judge_door(f, own, *thing, doors);
    keep(found, f, {own.run, *thing, thing->v - own.front});
  }
  for (const Aisle& aisle : found) judge_aisle(f, aisle, out);
  for (ClearanceResult& c : doors.clearances) out.clearances.push_back(std::move(c));
  for (Finding& finding : doors.findings) out.findings.push_back(std::move(finding));
  return out;
}

}  // namespace levelrun
