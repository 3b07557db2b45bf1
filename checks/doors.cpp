// Question: do the doors swing past the units and over the new floor?
// Method: obstacles in the hinge's own coordinates (x along the closed leaf, y into the room), cut
// to the quarter that the leaf passes and to its reach: seen from the hinge the bearing changes
// one way along an edge, so the first contact is at an end of what is left of an edge.
#include "checks/doors.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "checks/flooring.h"
#include "checks/footprints.h"
#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double stands_off = 50;       // mm; less than this off a wall does not stop a door
constexpr double least_under_leaf = 3;  // mm
constexpr double undercut_sd = 1;       // mm; a gap read with a rule or wedge
// All common practice, no source.

struct Leaf {
  PlanPoint hinge, closed, into;  // unit vectors: along the closed leaf, into the room
  double width = 0;

  PlanPoint local(PlanPoint p) const {
    const double x = p.x - hinge.x, y = p.y - hinge.y;
    return {x * closed.x + y * closed.y, x * into.x + y * into.y};
  }
  PlanPoint at(double radius, double angle) const {
    const double x = radius * std::cos(angle), y = radius * std::sin(angle);
    return {hinge.x + x * closed.x + y * into.x, hinge.y + x * closed.y + y * into.y};
  }
};

Leaf leaf_of(const Opening& door, const WallLine& wall, bool hinged_left) {
  const double along = door.left + (hinged_left ? 0 : door.width);
  const double sign = hinged_left ? 1 : -1;
  return {{wall.from.x + along * wall.along.x, wall.from.y + along * wall.along.y},
          {sign * wall.along.x, sign * wall.along.y},
          wall.out,
          door.width};
}

struct Obstacle {
  std::string name;
  std::vector<PlanPoint> outline;
  std::optional<Index> wall;  // that it stands against
};

// The edge a-b cut to the quarter x >= 0, y >= 0; false: nothing is left.
bool cut_to_quarter(PlanPoint& a, PlanPoint& b) {
  for (double PlanPoint::*c : {&PlanPoint::x, &PlanPoint::y}) {
    if (a.*c < 0 && b.*c < 0) return false;
    if (a.*c >= 0 && b.*c >= 0) continue;
    const double t = a.*c / (a.*c - b.*c);
    const PlanPoint cut{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
    PlanPoint& beyond = a.*c < 0 ? a : b;
    beyond = cut;
    beyond.*c = 0;
  }
  return true;
}

// Where a-b crosses the circle about the hinge, if it does.
std::vector<PlanPoint> on_circle(PlanPoint a, PlanPoint b, double radius) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double qa = dx * dx + dy * dy, qb = a.x * dx + a.y * dy;
  const double qc = a.x * a.x + a.y * a.y - radius * radius;
  const double root = qb * qb - qa * qc;
  std::vector<PlanPoint> out;
  if (qa <= 0 || root < 0) return out;
  for (const double sign : {-1.0, 1.0}) {
    const double t = (-qb + sign * std::sqrt(root)) / qa;
    if (t >= 0 && t <= 1) out.push_back({a.x + t * dx, a.y + t * dy});
  }
  return out;
}

struct Strike {
  double distance = std::numeric_limits<double>::infinity();  // from the hinge
  double opens_to = 90;                                       // degrees
};

// Empty: nothing of it in the quarter.
std::optional<Strike> strike(const Leaf& leaf, const std::vector<PlanPoint>& outline) {
  Strike out;
  std::vector<PlanPoint> local;
  for (const PlanPoint& p : outline) local.push_back(leaf.local(p));
  const PlanPoint hinge{};
  if (inside(local, hinge)) return Strike{0, 0};
  for (Index i = 0, k = local.size() - 1; i < local.size(); k = i++) {
    PlanPoint a = local[k], b = local[i];
    if (!cut_to_quarter(a, b)) continue;
    out.distance = std::min(out.distance, distance_to_segment(hinge, a, b));
    std::vector<PlanPoint> contacts = on_circle(a, b, leaf.width);
    for (const PlanPoint& end : {a, b})
      if (distance(end, hinge) < leaf.width) contacts.push_back(end);
    for (const PlanPoint& p : contacts)
      out.opens_to = std::min(out.opens_to, std::atan2(p.y, p.x) * 180 / std::numbers::pi);
  }
  if (std::isinf(out.distance)) return std::nullopt;
  return out;
}

std::vector<Obstacle> obstacles(const RoomFacts& f, const Opening& door) {
  std::vector<Obstacle> out;
  for (const Footprint& p : footprints(f)) {
    const Run& run = f.room.runs[p.run];
    const Furniture& furniture = run.furniture;
    const double hangs_at = furniture.plinth.height + furniture.base_height +
                            furniture.worktop.thickness + furniture.wall_unit.above_worktop;
    if (run.units[p.unit].kind == UnitKind::wall && hangs_at > door.height) continue;
    out.push_back({run.units[p.unit].id, {p.outline.begin(), p.outline.end()}, run.wall});
  }
  for (const Service& s : f.room.services) {
    const double width = s.width.value_or(s.diameter.value_or(0));
    if (!s.place.wall || s.projection < stands_off || width <= 0) continue;
    if (s.action != ServiceAction::stay && s.action != ServiceAction::new_) continue;
    const WallLine& wall = f.plan.walls[*s.place.wall];
    const auto at = [&](double along, double off) {
      return PlanPoint{wall.from.x + along * wall.along.x + off * wall.out.x,
                       wall.from.y + along * wall.along.y + off * wall.out.y};
    };
    const double left = s.place.along - width / 2, right = s.place.along + width / 2;
    out.push_back({s.id,
                   {at(left, 0), at(right, 0), at(right, s.projection), at(left, s.projection)},
                   s.place.wall});
  }
  return out;
}

std::string door_at(const RoomFacts& f, Index o) { return pointer(f.index, "openings", o); }

double place_sd(const RoomFacts& f, const Opening& door, const std::optional<Index>& wall) {
  if (!wall) return std::hypot(opening_sd, setting_out_sd);
  if (*wall == door.wall) return opening_sd;
  return std::hypot(opening_sd, plan_sd(f, f.plan.walls[door.wall].along));
}

void judge_swing(const RoomFacts& f, Index o, Clearances& out) {
  const Opening& door = f.room.openings[o];
  const bool hinged_left = door.opens == Opens::in_left;
  const WallLine& wall = f.plan.walls[door.wall];
  const Leaf leaf = leaf_of(door, wall, hinged_left), other = leaf_of(door, wall, !hinged_left);
  const Obstacle *nearest = nullptr, *first = nullptr;
  double least = std::numeric_limits<double>::infinity(), opens_to = 90;
  bool other_side_free = true;
  const std::vector<Obstacle> all = obstacles(f, door);
  for (const Obstacle& obstacle : all) {
    if (const auto s = strike(other, obstacle.outline))
      other_side_free = other_side_free && s->distance > door.width;
    const auto s = strike(leaf, obstacle.outline);
    if (!s) continue;
    if (s->distance < least) least = s->distance, nearest = &obstacle;
    if (s->opens_to < opens_to) opens_to = s->opens_to, first = &obstacle;
  }
  if (!nearest) return;
  const Estimate clear{least - door.width, place_sd(f, door, nearest->wall)};
  ClearanceResult& c = out.clearances.emplace_back();
  c.what = "door swing";
  c.at = door_at(f, o);
  c.clear = clear.value;
  c.sd = clear.sd;
  c.verdict = verdict_of(clear, 0);
  c.source = "the leaf as wide as its opening";
  c.sum = door.id + ": " + decimal(least) + " from the hinge to " + nearest->name + " − " +
          millimetres(door.width) + " leaf = " + decimal(least - door.width);
  if (c.verdict == Verdict::within) return;
  Finding finding;
  finding.code = "door strikes a unit";
  finding.severity = c.verdict == Verdict::outside ? Severity::hold : Severity::query;
  finding.id = door.id;
  finding.at = c.at;
  finding.measured = clear.value;
  finding.limit = 0;
  finding.unit = "mm";
  finding.source = c.source;
  finding.says = first ? door.id + " opens to " + decimal(opens_to, 0) + "° and strikes " +
                             first->name + ", " + decimal(-clear.value) + " within its swing."
                       : door.id + " passes " + nearest->name + " by " + decimal(clear.value) +
                             " ±" + decimal(band95 * clear.sd) + ".";
  finding.remedy =
      c.verdict == Verdict::doubtful
          ? "Too near to say: measure from the hinge, and the leaf's own width."
          : "Hang it to open out" +
                std::string(other_side_free ? ", or on its other side, where it is free" : "") +
                "; or move or narrow " + (first ? first : nearest)->name + ".";
  out.findings.push_back(std::move(finding));
}

// Places that the lower edge of the leaf passes: nothing but the opening for one that slides.
std::vector<PlanPoint> passed_by(const Leaf& leaf, bool slides) {
  constexpr int radii = 6, angles = 6;
  std::vector<PlanPoint> out;
  for (int a = 0; a <= (slides ? 0 : angles); ++a)
    for (int r = 1; r <= radii; ++r)
      out.push_back(leaf.at(leaf.width * r / radii, a * std::numbers::pi / 2 / angles));
  return out;
}

struct Raise {  // of a finished floor over the floor surveyed at the door
  Estimate by;
  std::string sum;
};

Raise highest_raise(const RoomFacts& f, const Leaf& leaf, bool slides) {
  const std::vector<PlanPoint> places = passed_by(leaf, slides);
  const PlanPoint middle = leaf.at(leaf.width / 2, 0);
  const Index home = f.floor.area_at(middle);
  double stripped = 0, variance = 0;
  for (const ExistingLayer& layer : f.room.flooring.existing)
    if (layer.strip && (!layer.area || *layer.area == home)) {
      stripped += layer.thickness;
      variance += layer.sd * layer.sd;
    }
  const std::array<PlanPoint, 1> at_door{middle};
  const auto floor_there = f.floor.estimates(places);
  const auto floor_here = f.floor.estimates(at_door)[0];
  Raise highest;
  highest.by.value = -std::numeric_limits<double>::infinity();
  for (Index i = 0; i < places.size(); ++i) {
    const LaidOver laid = laid_over_bare(f.room, Floor::finished, f.floor.area_at(places[i]));
    const bool read = floor_here && floor_there[i];
    const double higher = read ? floor_there[i]->value - floor_here->value : 0;
    const double by = laid.thickness.value - stripped + higher;
    if (by <= highest.by.value) continue;
    const double floors = read ? std::hypot(floor_there[i]->sd, floor_here->sd) : 0;
    highest.by = {by,
                  std::sqrt(variance + laid.thickness.sd * laid.thickness.sd + floors * floors)};
    highest.sum = millimetres(laid.thickness.value) + " laid − " + millimetres(stripped) +
                  " stripped + " + term(by - laid.thickness.value + stripped) +
                  (read ? " higher floor" : " (floor not read)");
  }
  return highest;
}

void judge_undercut(const RoomFacts& f, Index o, Clearances& out) {
  const Opening& door = f.room.openings[o];
  const bool slides = door.opens == Opens::slide;
  const Leaf leaf = leaf_of(door, f.plan.walls[door.wall], door.opens != Opens::in_right);
  const Raise raise = highest_raise(f, leaf, slides);
  const Estimate clear{*door.undercut - raise.by.value, std::hypot(raise.by.sd, undercut_sd)};
  ClearanceResult& c = out.clearances.emplace_back();
  c.what = "door over the finished floor";
  c.at = door_at(f, o);
  c.clear = clear.value;
  c.sd = clear.sd;
  c.needed = least_under_leaf;
  c.verdict = verdict_of(clear, least_under_leaf);
  c.source = "common practice, no source";
  c.sum = door.id + ": " + millimetres(*door.undercut) + " − (" + raise.sum +
          ") = " + decimal(clear.value);
  if (c.verdict == Verdict::within) return;
  Finding finding;
  finding.code = "door needs shortening";
  finding.severity = Severity::query;
  finding.id = door.id;
  finding.at = c.at;
  finding.measured = clear.value;
  finding.limit = least_under_leaf;
  finding.unit = "mm";
  finding.source = c.source;
  const double by = std::ceil(least_under_leaf - clear.value + band95 * clear.sd);
  finding.says = "Over the finished floor " + door.id + " keeps " + decimal(clear.value) + " ±" +
                 decimal(band95 * clear.sd) + " below its leaf; it needs " +
                 millimetres(least_under_leaf) + ".";
  finding.remedy = (c.verdict == Verdict::outside ? "Shorten the door by "
                                                  : "It may need shortening by up to ") +
                   millimetres(by) + "; a fire door only as its maker allows.";
  out.findings.push_back(std::move(finding));
}

}  // namespace

Clearances doors(const RoomFacts& f) {
  Clearances out;
  if (!f.plan.known) return out;
  for (Index o = 0; o < f.room.openings.size(); ++o) {
    const Opening& door = f.room.openings[o];
    if (door.kind != OpeningKind::door || !door.opens) continue;
    const bool opens_in = door.opens == Opens::in_left || door.opens == Opens::in_right;
    if (opens_in) judge_swing(f, o, out);
    if (door.undercut && (opens_in || door.opens == Opens::slide)) judge_undercut(f, o, out);
  }
  return out;
}

}  // namespace levelrun
