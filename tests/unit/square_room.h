// A rectangular room with every wall and both diagonals measured without error, W1 along +x at
// y = 0 and then clockwise, its floor read as level.
#pragma once

#include <cmath>

#include "tests/unit/simple_survey.h"

namespace levelrun {

inline Survey square_room(double width, double depth, const FloorHeight& floor = nullptr) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(
      survey, width, depth, 500, floor ? floor : [](double, double) { return 0.0; });
  Instrument meter;
  meter.id = "DM";
  meter.kind = InstrumentKind::distance_meter;
  meter.sd = 0.5;
  survey.instruments.push_back(meter);
  Room& room = survey.rooms[0];
  for (Index i = 0; i < 4; ++i) {
    room.corners.push_back({"C" + std::to_string(i + 1), 90});
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    wall.lengths = {{900, 0, i % 2 ? depth : width, 1}};
    room.walls.push_back(wall);
  }
  const double diagonal = std::hypot(width, depth);
  room.diagonals = {{0, 2, diagonal, 900, 1}, {1, 3, diagonal, 900, 1}};
  return survey;
}

// A run against a wall of base units, U1 of run "S" being "S1".
inline Run& add_wall_run(Survey& survey, const char* id, Index wall, double from_along, int units,
                         double width = 600) {
  Run& run = add_run(survey, id, units, width);
  run.wall = wall;
  run.from_along = from_along;
  return run;
}

inline const ClearanceResult* clearance(const RoomResult& room, const std::string& what) {
  for (const ClearanceResult& c : room.clearances)
    if (c.what == what) return &c;
  return nullptr;
}

}  // namespace levelrun
