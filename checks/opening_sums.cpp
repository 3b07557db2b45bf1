#include "checks/opening_sums.h"

#include <algorithm>
#include <cmath>

#include "checks/measured_heights.h"
#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// All common practice, no source.
constexpr double closes_to = 5;          // mm
constexpr double sure = 3;               // sds
constexpr double tape_sd = 2;            // mm
constexpr double ceiling_near = 1500;    // mm
constexpr double ceiling_falls = 0.003;  // sd of a ceiling's slope

double squared(double x) { return x * x; }
double tenth(double mm) { return std::round(mm * 10) / 10; }  // as printed, so that sums add

Finding query(const char* code, const RoomFacts& f, Index opening) {
  Finding out;
  out.code = code;
  out.severity = Severity::query;
  out.id = f.room.openings[opening].id;
  out.at = pointer(f.index, "openings", opening);
  out.unit = "mm";
  out.source = "three sd of the measurements, at least 5 (common practice, no source)";
  return out;
}

struct Ceiling {
  double clear = 0;  // above the surveyed floor at the opening
  double sd = 0;
};

// From the nearest reading of the ceiling.
std::optional<Ceiling> ceiling_at(const RoomFacts& f, const Place& opening) {
  const auto at = f.plan.at(opening);
  if (!at) return std::nullopt;
  std::optional<Ceiling> out;
  double nearest = ceiling_near;
  for (const CeilingReading& reading : f.room.ceilings) {
    const auto there = f.plan.at(reading.place);
    if (!there || distance(*there, *at) > nearest) continue;
    const double away = distance(*there, *at);
    const double own = reading.instrument ? f.survey.instruments[*reading.instrument].sd : tape_sd;
    const double falls = ceiling_falls * away;
    const auto above = height_above_benchmark(f, reading.height, reading.place);
    const auto floor = height_above_benchmark(f, {}, opening);
    if (above && floor)
      out = Ceiling{
          tenth(above->value - floor->value),
          std::sqrt(squared(own) + squared(falls) + squared(above->sd) + squared(floor->sd))};
    else if (!reading.height.setup)
      out = Ceiling{reading.height.value, std::hypot(own, falls)};
    else
      continue;
    nearest = away;
  }
  return out;
}

void upwards(const RoomFacts& f, Index o, std::vector<Finding>& out) {
  const Opening& opening = f.room.openings[o];
  if (!opening.above) return;
  const Place middle{opening.wall, opening.left + opening.width / 2, 0, 0, 0, 0};
  const auto ceiling = ceiling_at(f, middle);
  if (!ceiling) return;
  double sill = opening.sill.value;
  if (opening.sill.setup) {  // from a level plane: brought down to the floor below
    const auto above = height_above_benchmark(f, opening.sill, middle);
    const auto floor = height_above_benchmark(f, {}, middle);
    if (!above || !floor) return;
    sill = tenth(above->value - floor->value);
  }
  const double sum = sill + opening.height + *opening.above;
  const int parts = sill == 0 ? 2 : 3;
  const double limit =
      std::max(closes_to, sure * std::sqrt(parts * squared(tape_sd) + squared(ceiling->sd)));
  if (std::abs(sum - ceiling->clear) <= limit) return;
  Finding finding = query("heights do not add up", f, o);
  finding.measured = std::abs(sum - ceiling->clear);
  finding.limit = limit;
  finding.says = "Opening " + opening.id + ": " + (parts == 3 ? millimetres(sill) + " + " : "") +
                 millimetres(opening.height) + " + " + millimetres(*opening.above) + " = " +
                 millimetres(sum) + ", but the ceiling there is " + millimetres(ceiling->clear) +
                 ": " + millimetres(*finding.measured) +
                 (sum > ceiling->clear ? " too much." : " missing.");
  finding.remedy = parts == 3 ? "Measure sill, height, head to ceiling and the ceiling again."
                              : "Measure height, head to ceiling and the ceiling again.";
  out.push_back(std::move(finding));
}

void along(const RoomFacts& f, Index o, std::vector<Finding>& out) {
  if (!f.plan.known) return;
  const Opening& opening = f.room.openings[o];
  const WallLine& wall = f.plan.walls[opening.wall];
  const double right = opening.left + opening.width;
  const double limit =
      std::max(closes_to, sure * std::sqrt(2 * squared(tape_sd) + squared(wall.length_sd)));
  const bool at_left = opening.left < -limit;
  if (!at_left && right <= wall.length + limit) return;
  Finding finding = query("opening outside its wall", f, o);
  finding.measured = at_left ? -opening.left : right - wall.length;
  finding.limit = limit;
  finding.says = "Opening " + opening.id + ": " + millimetres(opening.left) + " + " +
                 millimetres(opening.width) + " = " + millimetres(right) + ", but " +
                 f.room.walls[opening.wall].id + " runs from 0 to " + millimetres(wall.length) +
                 ".";
  finding.remedy = "Measure where it starts, its width, or name the wall that it is in.";
  out.push_back(std::move(finding));
}

// Straight above each other is no overlap, a fanlight over a door, say.
bool one_over_the_other(const Opening& a, const Opening& b) {
  if (a.sill.setup != b.sill.setup) return false;
  return a.sill.value + a.height <= b.sill.value + closes_to ||
         b.sill.value + b.height <= a.sill.value + closes_to;
}

void overlaps(const RoomFacts& f, std::vector<Finding>& out) {
  const double limit = std::max(closes_to, sure * tape_sd * std::sqrt(3));  // left, width, left
  for (Index b = 0; b < f.room.openings.size(); ++b)
    for (Index a = 0; a < b; ++a) {
      const Opening &first = f.room.openings[a], &second = f.room.openings[b];
      if (first.wall != second.wall || one_over_the_other(first, second)) continue;
      const double shared = std::min(first.left + first.width, second.left + second.width) -
                            std::max(first.left, second.left);
      if (shared <= limit) continue;
      Finding finding = query("openings overlap", f, b);
      finding.measured = shared;
      finding.limit = limit;
      finding.says = "Openings " + first.id + " (" + millimetres(first.left) + " to " +
                     millimetres(first.left + first.width) + ") and " + second.id + " (" +
                     millimetres(second.left) + " to " + millimetres(second.left + second.width) +
                     ") of " + f.room.walls[first.wall].id + " are " + millimetres(shared) +
                     " in each other.";
      finding.remedy = "Measure both from the wall's left end again.";
      out.push_back(std::move(finding));
    }
}

}  // namespace

std::vector<Finding> opening_sums(const RoomFacts& f) {
  std::vector<Finding> out;
  for (Index o = 0; o < f.room.openings.size(); ++o) {
    upwards(f, o, out);
    along(f, o, out);
  }
  overlaps(f, out);
  return out;
}

}  // namespace levelrun
