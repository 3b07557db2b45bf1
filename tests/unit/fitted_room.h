// A square room, 4,000 by 3,000, on a level floor at 0: base units on its first wall, their
// underside set at 150, so that the worktop's top is at 150 + 720 + 38 = 908.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "tests/unit/simple_survey.h"

namespace levelrun {

inline constexpr double worktop_top = 908;

// Units U1, U2 … 600 wide from 40 along the first wall.
inline Survey fitted_room(int units) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 200)};
  read_grid(survey, 4000, 3000, 1000, [](double, double) { return 0.0; });
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  const double lengths[] = {4000, 3000, 4000, 3000};
  for (Index i = 0; i < 4; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    wall.lengths = {{900, 0, lengths[i], {}}};
    room.walls.push_back(wall);
  }
  room.diagonals = {{0, 2, 5000, 900, {}}};
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{150, "A fitter", ""};
  room.level_groups = {group};
  Run& run = add_run(survey, "U", units);
  run.wall = 0;
  run.from_along = 40;
  return survey;
}

// Wall units V1, V2 … 600 wide on the first wall.
inline Run& add_wall_units(Survey& survey, int units, double from_along) {
  Run& run = add_run(survey, "V", units);
  for (Unit& unit : run.units) unit.kind = UnitKind::wall;
  run.wall = 0;
  run.from_along = from_along;
  run.starts_at = run.ends_at = RunEnd::open;
  return run;
}

// Known to 1 mm along its wall.
inline Service& add_service(Survey& survey, const char* id, ServiceKind kind, Index wall,
                            double along, double height) {
  Service service;
  service.id = id;
  service.kind = kind;
  service.place = Place{wall, along, 0, 0, 0, 1};
  service.height = MeasuredHeight{height, {}};
  survey.rooms[0].services.push_back(service);
  return survey.rooms[0].services.back();
}

// A double socket, 146 by 86.
inline Service& add_socket(Survey& survey, const char* id, Index wall, double along,
                           double height) {
  Service& socket = add_service(survey, id, ServiceKind::socket, wall, along, height);
  socket.width = 146;
  socket.height_of = 86;
  return socket;
}

}  // namespace levelrun
