#include "checks/placing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "checks/run_line.h"

namespace levelrun {
namespace {

double radians(double degrees) { return degrees * std::numbers::pi / 180; }

double thickness_still_to_come(const Wall& wall) {
  double total = 0;
  for (const Finish& finish : wall.finish)
    if (finish.from_height.value_or(0) < 1000) total += finish.thickness;
  return total;
}

std::optional<RunFrame> frame_of(const Survey& survey, const Room& room, const Run& run,
                                 const RoomPlan& plan) {
  RunFrame frame;
  if (run.wall) {
    if (!plan.known) return std::nullopt;
    const WallLine& line = plan.walls[*run.wall];
    const Wall& wall = room.walls[*run.wall];
    double length = 0;
    for (const Unit& unit : run.units) length += unit.width;
    frame.wall = run.wall;
    frame.along = line.along;
    frame.out = line.out;
    const auto proud =
        RunLine(survey, wall, run.from_along, run.from_along + length, height_in_use(run))
            .proudest();
    frame.line = (proud ? proud->value : 0) + thickness_still_to_come(wall);
    frame.origin = {line.from.x + run.from_along * line.along.x + frame.line * line.out.x,
                    line.from.y + run.from_along * line.along.y + frame.line * line.out.y};
  } else {
    const double angle = radians(run.bearing);
    frame.origin = {run.origin_x, run.origin_y};
    frame.along = {std::cos(angle), std::sin(angle)};
    frame.out = {frame.along.y, -frame.along.x};
  }
  // All worktops of a level group are flush on top, whatever carries them.
  const Furniture& ours = run.furniture;
  const Furniture& job = survey.furniture;
  frame.offset =
      (job.base_height + job.worktop.thickness) - (ours.base_height + ours.worktop.thickness);
  return frame;
}

void add_leg(PlacedUnit& unit, const RunFrame& frame, std::string position, double u, double v) {
  unit.legs.push_back({std::move(position), u, v, frame.at(u, v)});
}

void add_legs(PlacedUnit& placed, const Unit& unit, const LegType& type, const RunFrame& frame) {
  if (!unit.feet.empty()) {
    for (Index i = 0; i < unit.feet.size(); ++i)
      add_leg(placed, frame, "foot_" + std::to_string(i + 1), placed.left + unit.feet[i].from_left,
              placed.front - unit.feet[i].from_front);
    return;
  }
  const int columns = 1 + std::max(1, int(std::ceil((unit.width - 1e-9) / type.span)));
  const double first = placed.left + type.side_inset;
  const double step = (unit.width - 2 * type.side_inset) / (columns - 1);
  for (const bool front : {true, false})
    for (int c = 0; c < columns; ++c) {
      const std::string column = c == 0             ? "left"
                                 : c == columns - 1 ? "right"
                                 : columns == 3     ? "middle"
                                                    : std::to_string(c + 1);
      add_leg(placed, frame, (front ? "front_" : "back_") + column, first + c * step,
              front ? placed.front - type.front_inset : placed.back + type.back_inset);
    }
}

double depth_of(const Unit& unit, const Furniture& furniture) {
  return unit.depth.value_or(unit.kind == UnitKind::wall ? furniture.wall_unit.depth
                                                         : furniture.base_depth);
}

// Its underside and top above U.
void hang(PlacedUnit& placed, const Unit& unit, const Furniture& furniture, double run_offset) {
  const double carcass_top = run_offset + furniture.base_height;
  switch (unit.kind) {
    case UnitKind::wall:
      placed.offset = carcass_top + furniture.worktop.thickness + furniture.wall_unit.above_worktop;
      placed.top_offset = placed.offset + unit.height.value_or(furniture.wall_unit.height);
      break;
    case UnitKind::tall:
      placed.offset = run_offset;
      placed.top_offset = run_offset + unit.height.value_or(furniture.tall_height.value_or(0));
      break;
    default:
      placed.offset = carcass_top - unit.height.value_or(furniture.base_height);
      placed.top_offset = carcass_top;
  }
}

}  // namespace

double height_in_use(const Run& run) {
  for (const Unit& unit : run.units)
    if (unit.kind == UnitKind::wall || unit.kind == UnitKind::tall) return 1e6;
  const Furniture& furniture = run.furniture;
  return furniture.plinth.height + furniture.base_height + furniture.worktop.thickness;
}

bool stands_on_legs(const Unit& unit) {
  return unit.kind == UnitKind::base || unit.kind == UnitKind::tall;
}

std::vector<std::optional<PlacedRun>> placed_runs(const Survey& survey, Index room_index,
                                                  const RoomPlan& plan) {
  const Room& room = survey.rooms[room_index];
  std::vector<std::optional<PlacedRun>> out;
  for (Index r = 0; r < room.runs.size(); ++r) {
    const Run& run = room.runs[r];
    const auto frame = frame_of(survey, room, run, plan);
    if (!frame) {
      out.push_back(std::nullopt);
      continue;
    }
    PlacedRun placed_run{*frame, 0, {}};
    for (Index i = 0; i < run.units.size(); ++i) {
      const Unit& unit = run.units[i];
      PlacedUnit placed;
      placed.run = r;
      placed.unit = i;
      placed.left = placed_run.length;
      placed.right = placed_run.length += unit.width;
      const bool stands_off =
          run.furniture.back == BackKind::standing_off && unit.kind != UnitKind::wall;
      placed.back = stands_off ? run.furniture.void_depth : 0;
      placed.front = placed.back + depth_of(unit, run.furniture);
      hang(placed, unit, run.furniture, frame->offset);
      if (stands_on_legs(unit) && !run.furniture.legs.empty()) {
        placed.leg_type = unit.leg.value_or(0);
        add_legs(placed, unit, run.furniture.legs[*placed.leg_type], *frame);
      }
      placed_run.units.push_back(std::move(placed));
    }
    out.push_back(std::move(placed_run));
  }
  return out;
}

}  // namespace levelrun
