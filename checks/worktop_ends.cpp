#include "checks/worktop_ends.h"

#include <algorithm>
#include <cmath>

namespace levelrun {
namespace {

constexpr double square_enough = 0.5;  // sine of 30 degrees: a wall met more slantwise is no end
constexpr double corner_reach = 1500;  // mm; how far from a corner a run that meets another there
                                       // may start: common practice, no source

bool carries(UnitKind kind) { return kind == UnitKind::base || kind == UnitKind::appliance; }
bool lies_under(UnitKind kind) {
  return carries(kind) || kind == UnitKind::infill || kind == UnitKind::corner_post ||
         kind == UnitKind::end_panel || kind == UnitKind::space;
}

double finishes_at(const Wall& wall, double height) {
  double sum = 0;
  for (const Finish& finish : wall.finish)
    if (finish.from_height.value_or(0) < height && finish.to_height.value_or(1e6) > height)
      sum += finish.thickness;
  return sum;
}

// u where a line of the plan crosses v = `v` of a frame; empty: it runs beside it.
std::optional<double> crossing(const RunFrame& frame, double v, PlanPoint on, PlanPoint along) {
  const PlanPoint a = frame.at(0, v);
  const double cross = frame.along.x * along.y - frame.along.y * along.x;
  if (std::abs(cross) < square_enough) return std::nullopt;
  return ((on.x - a.x) * along.y - (on.y - a.y) * along.x) / cross;
}

// The worktop at a run's start, or at its end.
UnderTop end_top(const Run& run, bool start) {
  const auto tops = under_worktops(run);
  return start ? tops.front() : tops.back();
}

// The other run whose worktop reaches this corner.
std::optional<Index> run_at_corner(const RoomFacts& f, Index run, Index corner, bool right) {
  for (Index o = 0; o < f.runs.size(); ++o) {
    const Run& other = f.room.runs[o];
    if (o == run || !f.runs[o] || !other.wall) continue;
    const Wall& wall = f.room.walls[*other.wall];
    if ((right ? wall.from : wall.to) != corner) continue;
    if ((right ? other.starts_at : other.ends_at) != RunEnd::corner) continue;
    const double off =
        right ? other.from_along
              : f.plan.walls[*other.wall].length - other.from_along - f.runs[o]->length;
    const auto tops = under_worktops(other);
    if (off > corner_reach || tops.empty()) continue;
    if (right ? tops.front().first == 0 : tops.back().last + 1 == other.units.size()) return o;
  }
  return std::nullopt;
}

}  // namespace

std::vector<UnderTop> under_worktops(const Run& run) {
  std::vector<UnderTop> out;
  const auto kind = [&](Index i) { return run.units[i].kind; };
  for (Index i = 0; i < run.units.size();) {
    if (!lies_under(kind(i))) {
      ++i;
      continue;
    }
    UnderTop top{i, i};
    while (i < run.units.size() && lies_under(kind(i))) top.last = i++;
    // A space at an end stays open; a panel beside a tall unit belongs to that.
    const auto dropped = [&](Index k, bool at_run_end) {
      return kind(k) == UnitKind::space || (kind(k) == UnitKind::end_panel && !at_run_end);
    };
    while (top.first < top.last && dropped(top.first, top.first == 0)) ++top.first;
    while (top.first < top.last && dropped(top.last, top.last + 1 == run.units.size())) --top.last;
    for (Index k = top.first; k <= top.last; ++k)
      if (carries(kind(k))) {
        out.push_back(top);
        break;
      }
  }
  return out;
}

WorktopEnd worktop_end(const RoomFacts& f, Index r, const UnderTop& top, bool right) {
  const Run& run = f.room.runs[r];
  const PlacedRun& placed = *f.runs[r];
  const Furniture& furniture = run.furniture;
  WorktopEnd out;
  const bool at_run_end = right ? top.last + 1 == run.units.size() : top.first == 0;
  if (!at_run_end) {
    const Unit& neighbour = run.units[right ? top.last + 1 : top.first - 1];
    if (neighbour.kind == UnitKind::space) out.beyond = furniture.worktop.overhang;
    return out;
  }
  const RunEnd end = right ? run.ends_at : run.starts_at;
  if (end == RunEnd::open || end == RunEnd::end_panel) {
    out.beyond = furniture.worktop.overhang;
    return out;
  }
  if (!run.wall) return out;
  const Wall& own = f.room.walls[*run.wall];
  const Index corner = right ? own.to : own.from;
  const double sign = right ? 1 : -1, from = right ? placed.length : 0;
  // A run is set out from its wall's left corner, so only the right one's place is in doubt.
  const double sd = right ? f.plan.walls[*run.wall].length_sd : 0;
  if (end == RunEnd::corner) {
    const auto other = run_at_corner(f, r, corner, right);
    if (!other) return out;
    const RunFrame& frame = f.runs[*other]->frame;
    if (const auto u = crossing(placed.frame, 0, frame.origin, frame.along))
      out = {sign * (*u - from), sd, other, end_top(f.room.runs[*other], right), corner};
    return out;
  }
  for (Index w = 0; w < f.room.walls.size(); ++w) {
    const Wall& side = f.room.walls[w];
    if (w == *run.wall || (right ? side.from : side.to) != corner) continue;
    const WallLine& line = f.plan.walls[w];
    const double front = placed.units.front().front + furniture.front_thickness;
    const auto at_back = crossing(placed.frame, 0, line.from, line.along);
    const auto at_front = crossing(placed.frame, front, line.from, line.along);
    if (!at_back || !at_front) return out;
    const double height =
        furniture.plinth.height + furniture.base_height + furniture.worktop.thickness / 2;
    const double beyond =
        std::max(sign * (*at_back - from), sign * (*at_front - from)) - finishes_at(side, height);
    if (beyond > 3 * furniture.infill.max)
      out.beyond = furniture.worktop.overhang;
    else
      out = {beyond, sd, {}, {}, {}};
    return out;
  }
  return out;
}

}  // namespace levelrun
