#include "checks/survey_gaps.h"

#include <algorithm>
#include <set>

#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double wrong_place = 3;  // sds of a booked place, each way; common practice, no source
constexpr double by_a_door = 300;  // mm: a benchmark or a point may lie in an opening's threshold;
                                   // common practice, no source

std::string listed(const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
  return out;
}

Finding start(const char* code, Severity severity, std::string at, std::string id) {
  Finding f;
  f.code = code;
  f.severity = severity;
  f.at = std::move(at);
  f.id = std::move(id);
  f.source = "this survey";
  return f;
}

void legs_not_named(const RoomFacts& f, std::vector<Finding>& out) {
  for (Index r = 0; r < f.room.runs.size(); ++r) {
    const Run& run = f.room.runs[r];
    if (!run.furniture.legs.empty()) continue;
    std::vector<std::string> names;
    for (const Unit& unit : run.units)
      if (stands_on_legs(unit)) names.push_back(unit.id);
    if (names.empty()) continue;
    Finding finding =
        start("no leg type named", Severity::hold, pointer(f.index, "runs", r), run.id);
    finding.measured = 0;
    finding.limit = 1;
    finding.unit = "leg types";
    finding.says = listed(names) + " stand on legs, but furniture.legs is empty: no leg heights.";
    finding.remedy = "Enter the leg types that will be delivered.";
    out.push_back(std::move(finding));
  }
}

void points_not_read(const RoomFacts& f, std::vector<Finding>& out) {
  std::set<Index> read;
  for (const LevelReading& reading : f.levels.readings) read.insert(reading.point);
  for (const KnownHeight& known : f.room.levels.known) read.insert(known.point);
  if (f.room.levels.benchmark) read.insert(f.room.levels.benchmark->point);
  std::vector<std::string> names;
  for (Index p = 0; p < f.room.levels.points.size(); ++p)
    if (!read.contains(p)) names.push_back(f.room.levels.points[p].id);
  if (names.empty()) return;
  Finding finding = start("points without a reading", Severity::query,
                          pointer(f.index) + "/levels/points", "levels");
  finding.measured = double(names.size());
  finding.limit = 0;
  finding.unit = "points";
  finding.says = listed(names) + " booked with a place but never read.";
  finding.remedy = "Read them, or take them out if they were given up.";
  out.push_back(std::move(finding));
}

void points_outside(const RoomFacts& f, std::vector<Finding>& out) {
  if (!f.plan.known) return;
  for (Index p = 0; p < f.room.levels.points.size(); ++p) {
    const LevelPoint& point = f.room.levels.points[p];
    if (point.off_floor || !point.place) continue;
    const auto at = f.plan.at(*point.place);
    if (!at) continue;
    const double outside = distance_outside(f.plan.corners, *at);
    const double allowed = std::max(by_a_door, wrong_place * point.place->sd);
    if (outside <= allowed) continue;
    Finding finding = start("floor point outside the room", Severity::query,
                            pointer(f.index) + "/levels/points/" + std::to_string(p), point.id);
    finding.measured = outside;
    finding.limit = allowed;
    finding.unit = "mm";
    finding.source = "common practice, no source";
    finding.says =
        "Point " + point.id + " is booked " + decimal(outside, 0) + " outside the room's walls.";
    finding.remedy = "Correct its place: along from the wall's left end, out into the room.";
    out.push_back(std::move(finding));
  }
}

}  // namespace

std::vector<Finding> survey_gaps(const RoomFacts& f) {
  std::vector<Finding> out;
  legs_not_named(f, out);
  points_not_read(f, out);
  points_outside(f, out);
  return out;
}

}  // namespace levelrun
