#include "checks/way_in.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>

#include "checks/footprints.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double leaf_thickness = 40;  // mm; common practice, no source

struct Carcass {
  const Unit* unit = nullptr;
  std::string at;
  std::array<double, 3> sides{};  // smallest first
};

std::optional<double> height_of(const Unit& unit, const Furniture& furniture) {
  if (unit.height) return unit.height;
  if (unit.kind == UnitKind::tall) return furniture.tall_height;
  return unit.kind == UnitKind::wall ? furniture.wall_unit.height : furniture.base_height;
}

std::vector<Carcass> carcasses(const RoomFacts& f) {
  std::vector<Carcass> out;
  for (Index r = 0; r < f.room.runs.size(); ++r) {
    const Run& run = f.room.runs[r];
    for (Index i = 0; i < run.units.size(); ++i) {
      const Unit& unit = run.units[i];
      if (!stands_on_legs(unit) && unit.kind != UnitKind::wall) continue;
      const auto height = height_of(unit, run.furniture);
      if (!height) continue;
      const double depth = unit.depth.value_or(
          unit.kind == UnitKind::wall ? run.furniture.wall_unit.depth : run.furniture.base_depth);
      Carcass carcass{&unit,
                      pointer(f.index, "runs", r) + "/units/" + std::to_string(i),
                      {unit.width, *height, depth}};
      std::sort(carcass.sides.begin(), carcass.sides.end());
      out.push_back(std::move(carcass));
    }
  }
  return out;
}

bool is_way_in(const Opening& opening) {
  return (opening.kind == OpeningKind::door || opening.kind == OpeningKind::archway) &&
         opening.opens != Opens::fixed;
}

double play(const Carcass& carcass, const Opening& opening) {
  return play_in_opening(carcass.sides[0], carcass.sides[1], opening.width, opening.height);
}

std::string size(const Carcass& carcass) {
  return millimetres(carcass.sides[0]) + " × " + millimetres(carcass.sides[1]);
}

std::string size(const Opening& opening) {
  return millimetres(opening.width) + " × " + millimetres(opening.height);
}

Finding too_large(const RoomFacts& f, const Carcass& carcass, const Opening& door, double clear,
                  Verdict verdict) {
  Finding finding;
  finding.code = "carcass too large for the doorway";
  finding.severity = verdict == Verdict::outside ? Severity::hold : Severity::query;
  finding.id = carcass.unit->id;
  finding.at = carcass.at;
  finding.measured = clear;
  finding.limit = 0;
  finding.unit = "mm";
  finding.source = "the doorway's width and height, its leaf off";
  finding.says = carcass.unit->id + " is " + size(carcass) + " end on; the best way in, " +
                 door.id + ", is " + size(door) + " with its leaf off: " +
                 (clear < 0 ? decimal(-clear) + " too small." : decimal(clear) + " to spare.");
  finding.remedy = "Deliver it flat, or make it in two";
  for (const Opening& window : f.room.openings)
    if (window.kind == OpeningKind::window &&
        at_least({play(carcass, window), opening_sd}, 0) == Verdict::within) {
      finding.remedy +=
          ", or bring it in through " + window.id + " (" + size(window) + ") if that opens so far";
      break;
    }
  finding.remedy += verdict == Verdict::doubtful ? "; or measure the doorway again." : ".";
  return finding;
}

}  // namespace

double play_in_opening(double a, double b, double width, double height) {
  const double straight =
      std::max(std::min(width - a, height - b), std::min(width - b, height - a));
  if (straight >= 0) return straight;
  const double p = std::max(a, b), q = std::min(a, b);
  const double wide = std::max(width, height), narrow = std::min(width, height);
  if (p <= wide || q > narrow) return straight;
  const double needs =
      (2 * p * q * wide + (p * p - q * q) * std::sqrt(p * p + q * q - wide * wide)) /
      (p * p + q * q);
  return std::max(straight, narrow - needs);
}

Clearances way_in(const RoomFacts& f) {
  Clearances out;
  std::optional<ClearanceResult> least;
  for (const Carcass& carcass : carcasses(f)) {
    const Opening* best = nullptr;
    for (const Opening& opening : f.room.openings)
      if (is_way_in(opening) && (!best || play(carcass, opening) > play(carcass, *best)))
        best = &opening;
    if (!best) return out;
    const double clear = play(carcass, *best);
    const Verdict verdict = verdict_of({clear, opening_sd}, 0);
    if (verdict != Verdict::within)
      out.findings.push_back(too_large(f, carcass, *best, clear, verdict));
    if (least && clear >= *least->clear) continue;
    least.emplace();
    least->what = "largest carcass through the doorway";
    least->at = carcass.at;
    least->clear = clear;
    least->sd = opening_sd;
    least->verdict = verdict;
    least->source = "width and height of " + best->id + ", its leaf off";
    least->sum = carcass.unit->id + " " + size(carcass) + " through " + best->id + " " +
                 size(*best) + ": " + decimal(clear) + " of play" +
                 (best->kind == OpeningKind::door
                      ? "; the leaf left on takes about " + millimetres(leaf_thickness)
                      : "");
  }
  if (least) out.clearances.push_back(std::move(*least));
  return out;
}

}  // namespace levelrun
