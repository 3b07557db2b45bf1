// What drawings of a room need and results do not carry: its adjusted plan, where units stand, and
// the floor on a grid. Worked out once a change, not once a frame.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/drawing/contours.h"
#include "checks/placing.h"
#include "checks/room_plan.h"
#include "survey/survey.h"

namespace levelrun {

struct RoomToDraw {
  Index room = 0;
  RoomPlan plan;
  // The outline to draw: adjusted, or as good a guess as the lengths at hand and the nominal angles
  // allow while the plan is not known.
  std::vector<PlanPoint> corners;
  std::vector<WallLine> walls;   // as room.walls, along that outline
  std::vector<double> stripped;  // as walls: mm that will be stripped from the floor at their foot
  bool guessed = false;
  std::vector<std::optional<PlacedRun>> runs;
  struct Point {
    std::optional<PlanPoint> at;
    std::optional<Estimate> height;
    bool booked = false;
    double stripped = 0;  // mm of layers that it was read on and that will be stripped
  };
  std::vector<Point> points;                    // as room.levels.points
  std::vector<std::optional<Estimate>> planes;  // level plane of each set-up
  HeightGrid floor;                             // inside the room
  // Where two floor areas meet inside the room: how far the bare floor falls there, at the middle,
  // from the left of from → to down to the right; negative: the right is the higher.
  struct Step {
    PlanPoint from, to;
    double fall = 0;
  };
  std::vector<Step> steps;
};

RoomToDraw room_to_draw(const Survey&, Index room);

}  // namespace levelrun
