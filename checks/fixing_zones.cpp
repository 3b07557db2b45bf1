#include "checks/fixing_zones.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "checks/ceilings.h"
#include "checks/measured_heights.h"
#include "checks/on_wall.h"
#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/published_limits.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double one_line = 0.5;     // mm: rails this close in height are one; common practice,
                                     // no source
constexpr double rectangle_sd = 20;  // mm, of a no-drill rectangle along its wall: as any place
constexpr double tape_sd = 2;        // mm, of a height taken by tape
constexpr const char* decides = " A licensed person decides, to the local code.";

// Wall units side by side that hang from one line.
struct Rail {
  Index run = 0, wall = 0;
  double left = 0, right = 0;  // along
  Unknown height;              // above the benchmark; empty: rail_drop is not given
  double underside = 0, top = 0;
  std::string first, last;  // units

  std::string units() const { return first == last ? first : first + " to " + last; }
};

std::vector<Rail> rails(const RoomFacts& f, const std::vector<GroupResult>& groups, Index wall) {
  std::vector<Rail> out;
  for (const UnitOnWall& unit : units_on_wall(f, groups, wall)) {
    const Unit& facts = unit.facts(f.room);
    if (facts.kind != UnitKind::wall || !unit.top) continue;
    Unknown height;
    if (const auto drop = f.room.runs[unit.run].furniture.wall_unit.rail_drop)
      height = *unit.top - *drop;
    Rail* last = out.empty() ? nullptr : &out.back();
    if (last && last->run == unit.run && unit.left - last->right < one_line &&
        std::abs(*unit.top - last->top) < one_line) {
      last->right = unit.right;
      last->underside = std::min(last->underside, *unit.underside);
      last->last = facts.id;
      continue;
    }
    out.push_back({unit.run, wall, unit.left, unit.right, height, *unit.underside, *unit.top,
                   facts.id, facts.id});
  }
  return out;
}

// A point that a cable leads to and that shows where the cable runs.
bool shows_a_cable(ServiceKind kind) {
  return kind == ServiceKind::socket || kind == ServiceKind::fused_spur ||
         kind == ServiceKind::cooker_outlet || kind == ServiceKind::switch_ ||
         kind == ServiceKind::consumer_unit;
}

std::string range(double from, double to) {
  return decimal(from, 0) + " to " + decimal(to, 0) + " along";
}

// "; "-separated crossings of the rail with zones; empty: none.
std::string crossings(const RoomFacts& f, const Rail& rail) {
  std::string out;
  const auto add = [&](const std::string& what, double from, double to) {
    from = std::max(from, rail.left);
    to = std::min(to, rail.right);
    if (from < to) out += (out.empty() ? "" : "; ") + what + " " + range(from, to);
  };
  const double zone = published_limit("cable zone").value;
  const double length = f.plan.walls[rail.wall].length;
  const auto place = f.plan.at(Place{rail.wall, (rail.left + rail.right) / 2, 0, 0, 0, 0});
  if (const auto top = place ? ceiling_over(f, *place) : std::nullopt; top && rail.height)
    if (at_least({top->value - *rail.height, top->sd}, zone) != Verdict::within)
      add("within " + millimetres(zone) + " of the wall's top (" +
              difference_sum(top->value - *rail.height, {*rail.height}) + ")",
          rail.left, rail.right);
  add("within " + millimetres(zone) + " of the left corner", 0, zone);
  add("within " + millimetres(zone) + " of the right corner", length - zone, length);
  for (Index s = 0; s < f.room.services.size(); ++s) {
    const Service& service = f.room.services[s];
    const auto point = service_on_wall(f, s);
    if (!point || service.place.wall != rail.wall || !shows_a_cable(service.kind)) continue;
    const double band = band95 * point->sd;
    if (rail.height && point->middle &&
        std::abs(*rail.height - point->middle->value) <
            point->half_height.value_or(single_plate / 2) + band95 * point->middle->sd)
      add("sideways of " + service.id, rail.left, rail.right);
    else
      add("in line with " + service.id, point->left - band, point->right + band);
  }
  return out;
}

Finding start(const char* code, Severity severity, std::string id, std::string at) {
  Finding finding;
  finding.code = code;
  finding.severity = severity;
  finding.id = std::move(id);
  finding.at = std::move(at);
  finding.safety = true;
  return finding;
}

void cable_zones(const RoomFacts& f, const Rail& rail, std::vector<Finding>& out) {
  const std::string found = crossings(f, rail);
  if (found.empty() && rail.height) return;
  const PublishedLimit& zone = published_limit("cable zone");
  Finding finding =
      start("rail where cables may run", Severity::note,
            f.room.runs[rail.run].id + "/" + rail.first, pointer(f.index, "runs", rail.run));
  finding.source = zone.source;
  finding.says = "The rail of " + rail.units() +
                 (rail.height ? ", " + decimal(*rail.height) + " above the benchmark,"
                              : " (height not known: rail_drop is not given)") +
                 (found.empty() ? " may lie where cables run" : " crosses where cables may run: ") +
                 found + ". Points on the other face of a wall up to " +
                 millimetres(published_limit("cable zone thin wall").value) +
                 " thick count too; cables may lie less than " +
                 millimetres(published_limit("cable zone depth").value) + " deep.";
  finding.remedy =
      "Find cables and pipes before drilling, with the circuits off." + std::string(decides);
  out.push_back(std::move(finding));
}

std::string reason(const NoDrill& zone) { return zone.why.empty() ? "" : " (" + zone.why + ")"; }

// How deep the rail lies inside the rectangle; negative: how far it misses it.
struct Inside {
  Estimate depth;
  double edge = 0;  // of the rectangle in height, nearest the rail
};

Inside rail_inside(const Rail& rail, const NoDrill& zone, Estimate bottom) {
  const double top = bottom.value + zone.height_of;
  const double height = rail.height.value_or((rail.underside + rail.top) / 2);
  const double across = overlap(rail.left, rail.right, zone.along, zone.along + zone.width);
  const double up = rail.height ? std::min(height - bottom.value, top - height)
                                : overlap(rail.underside, rail.top, bottom.value, top);
  const double edge = height - bottom.value < top - height ? bottom.value : top;
  return {across < up ? Estimate{across, rectangle_sd} : Estimate{up, bottom.sd}, edge};
}

void no_drill_rail(const RoomFacts& f, const Rail& rail, Index index, std::vector<Finding>& out) {
  const NoDrill& zone = f.room.no_drill[index];
  Place middle{zone.wall, zone.along + zone.width / 2, 0, 0, 0, 0};
  auto bottom = height_above_benchmark(f, MeasuredHeight{zone.height, {}}, middle);
  if (!bottom) return;
  bottom->sd = std::hypot(bottom->sd, tape_sd);
  const Inside inside = rail_inside(rail, zone, *bottom);
  const Verdict verdict = at_most(inside.depth, 0);
  if (verdict == Verdict::within) return;
  const bool sure = verdict == Verdict::outside && rail.height;
  Finding finding =
      start("rail in a no-drill area", sure ? Severity::hold : Severity::query,
            f.room.runs[rail.run].id + "/" + rail.first, pointer(f.index, "no_drill", index));
  finding.measured = rail.height;
  if (rail.height) finding.limit = inside.edge;
  finding.unit = "mm";
  finding.source = "no-drill area of this survey";
  finding.safety = false;
  finding.says = "The rail of " + rail.units() +
                 (rail.height ? ", " + decimal(*rail.height) + " above the benchmark, "
                              : " (height not known: rail_drop is not given) ") +
                 (sure ? "goes" : "may go") + " through the no-drill area" + reason(zone) + " at " +
                 range(zone.along, zone.along + zone.width) + ", " + decimal(bottom->value) +
                 " to " + decimal(bottom->value + zone.height_of) + " high.";
  finding.remedy = "Fix beside the area, raise or lower the units, or have what is there moved." +
                   std::string(decides);
  out.push_back(std::move(finding));
}

void no_drill_units(const RoomFacts& f, const std::vector<UnitOnWall>& units, Index index,
                    std::vector<Finding>& out) {
  const NoDrill& zone = f.room.no_drill[index];
  const auto bottom =
      height_above_benchmark(f, MeasuredHeight{zone.height, {}},
                             Place{zone.wall, zone.along + zone.width / 2, 0, 0, 0, 0});
  if (!bottom) return;
  std::string names;
  for (const UnitOnWall& unit : units) {
    const Unit& facts = unit.facts(f.room);
    if (facts.kind != UnitKind::base && facts.kind != UnitKind::tall) continue;
    if (!unit.underside ||
        overlap(unit.left, unit.right, zone.along, zone.along + zone.width) <= 0 ||
        overlap(*unit.underside, *unit.top, bottom->value, bottom->value + zone.height_of) <= 0)
      continue;
    names += (names.empty() ? "" : ", ") + facts.id;
  }
  if (names.empty()) return;
  Finding finding =
      start("units before a no-drill area", Severity::note, "no_drill/" + std::to_string(index + 1),
            pointer(f.index, "no_drill", index));
  finding.source = "no-drill area of this survey";
  finding.says = names + " before the no-drill area" + reason(zone) + " at " +
                 range(zone.along, zone.along + zone.width) + ".";
  finding.remedy = "Put their wall fixings elsewhere." + std::string(decides);
  out.push_back(std::move(finding));
}

bool lies_over(std::span<const PlanPoint> footprint, std::span<const PlanPoint> line) {
  for (const PlanPoint& p : line)
    if (inside(footprint, p)) return true;
  const auto side = [](PlanPoint a, PlanPoint b, PlanPoint p) {
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
  };
  for (Index i = 0; i + 1 < line.size(); ++i)
    for (Index k = 0; k < footprint.size(); ++k) {
      const PlanPoint a = footprint[k], b = footprint[(k + 1) % footprint.size()];
      if (side(a, b, line[i]) * side(a, b, line[i + 1]) < 0 &&
          side(line[i], line[i + 1], a) * side(line[i], line[i + 1], b) < 0)
        return true;
    }
  return false;
}

std::vector<PlanPoint> footprint_of(const PlacedRun& run) {
  double back = std::numeric_limits<double>::infinity(), front = -back;
  for (const PlacedUnit& unit : run.units) {
    back = std::min(back, unit.back);
    front = std::max(front, unit.front);
  }
  return {run.frame.at(0, back), run.frame.at(run.length, back), run.frame.at(run.length, front),
          run.frame.at(0, front)};
}

void island(const RoomFacts& f, Index r, std::vector<Finding>& out) {
  const std::vector<PlanPoint> footprint = footprint_of(*f.runs[r]);
  std::string what;
  const auto add = [&](const std::string& one) { what += (what.empty() ? "" : ", ") + one; };
  for (const NoDrill& zone : f.room.no_drill) {
    if (zone.wall) continue;
    std::vector<PlanPoint> outline;
    for (const Place& place : zone.outline)
      if (const auto at = f.plan.at(place)) outline.push_back(*at);
    if (outline.size() < 3) continue;
    const bool holds_it = inside(outline, footprint[0]);
    outline.push_back(outline[0]);
    if (holds_it || lies_over(footprint, outline)) add("a no-drill area" + reason(zone));
  }
  for (const Service& service : f.room.services) {
    if (service.kind != ServiceKind::underfloor_heating || service.action == ServiceAction::cap)
      continue;
    std::vector<PlanPoint> line;
    if (const auto at = f.plan.at(service.place)) line.push_back(*at);
    for (const RoutePoint& point : service.route)
      if (const auto at = f.plan.at(point.place)) line.push_back(*at);
    if (service.route.empty())
      add("underfloor heating " + service.id + ", whose route was not recorded");
    else if (lies_over(footprint, line))
      add("underfloor heating " + service.id);
  }
  if (what.empty()) return;
  Finding finding = start("island over what must not be drilled", Severity::query,
                          f.room.runs[r].id, pointer(f.index, "runs", r));
  finding.source = "this survey";
  finding.says = "Island " + f.room.runs[r].id + " may stand over " + what + ".";
  finding.remedy =
      "Do not fix it through the floor: say how it is held, by glue or by its worktop for one." +
      std::string(decides);
  out.push_back(std::move(finding));
}

}  // namespace

std::vector<Finding> fixing_zones(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  std::vector<Finding> out;
  for (Index w = 0; f.plan.known && w < f.room.walls.size(); ++w) {
    const std::vector<Rail> here = rails(f, groups, w);
    for (const Rail& rail : here) cable_zones(f, rail, out);
    for (Index z = 0; z < f.room.no_drill.size(); ++z) {
      if (f.room.no_drill[z].wall != w) continue;
      for (const Rail& rail : here) no_drill_rail(f, rail, z, out);
      no_drill_units(f, units_on_wall(f, groups, w), z, out);
    }
  }
  for (Index r = 0; r < f.runs.size(); ++r)
    if (f.runs[r] && !f.room.runs[r].wall && !f.room.runs[r].units.empty()) island(f, r, out);
  return out;
}

}  // namespace levelrun
