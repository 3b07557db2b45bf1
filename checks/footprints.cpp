#include "checks/footprints.h"

#include <algorithm>
#include <cmath>

namespace levelrun {
namespace {

constexpr double along_enough = 0.866;  // cosine of 30 degrees

bool has_worktop(UnitKind kind) { return kind == UnitKind::base || kind == UnitKind::appliance; }

double in_front(const Furniture& furniture, UnitKind kind) {
  const double overhang = has_worktop(kind) ? furniture.worktop.overhang : 0;
  const bool opens = has_worktop(kind) || kind == UnitKind::tall || kind == UnitKind::wall;
  return furniture.front_thickness + std::max(opens ? furniture.handle : 0, overhang);
}

bool overhung(RunEnd end) { return end == RunEnd::open || end == RunEnd::end_panel; }

}  // namespace

std::vector<Footprint> footprints(const RoomFacts& f) {
  std::vector<Footprint> out;
  for (Index r = 0; r < f.runs.size(); ++r) {
    if (!f.runs[r]) continue;
    const Run& run = f.room.runs[r];
    const PlacedRun& placed = *f.runs[r];
    const Furniture& furniture = run.furniture;
    for (Index i = 0; i < placed.units.size(); ++i) {
      const PlacedUnit& unit = placed.units[i];
      const UnitKind kind = run.units[i].kind;
      if (kind == UnitKind::space) continue;
      double left = unit.left, right = unit.right, back = unit.back;
      if (has_worktop(kind)) {
        const Furniture::Worktop& top = furniture.worktop;
        if (i == 0 && overhung(run.starts_at)) left -= top.overhang;
        if (i + 1 == placed.units.size() && overhung(run.ends_at)) right += top.overhang;
        if (!run.wall)
          back -= std::max(
              0.0, top.depth - (unit.front - unit.back) - furniture.front_thickness - top.overhang);
      }
      const double front = unit.front + in_front(furniture, kind);
      const RunFrame& frame = placed.frame;
      out.push_back({r,
                     i,
                     front,
                     {frame.at(left, back), frame.at(right, back), frame.at(right, front),
                      frame.at(left, front)}});
    }
  }
  return out;
}

double plan_sd(const RoomFacts& f, PlanPoint direction) {
  double along = -1, any = 0;
  for (const WallLine& wall : f.plan.walls) {
    any = std::max(any, wall.length_sd);
    const double cosine = wall.along.x * direction.x + wall.along.y * direction.y;
    if (std::abs(cosine) >= along_enough) along = std::max(along, wall.length_sd);
  }
  return along < 0 ? any : along;
}

}  // namespace levelrun
