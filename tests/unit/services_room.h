// A room of 3,000 by 2,000 with a flat floor at 0 and three units R1 to R3, 600 wide, from the
// left end of its first wall; their undersides at 150, tops at 870. Default furniture: 720 high,
// void 42, back 18.
#pragma once

#include <string>

#include "tests/unit/simple_survey.h"

namespace levelrun {

inline Survey services_room(BackKind back = BackKind::recessed, int units = 3) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 200)};
  survey.furniture.back = back;
  read_grid(survey, 3000, 1200, 400, [](double, double) { return 0.0; });
  Instrument gauge;
  gauge.id = "GA";
  gauge.kind = InstrumentKind::gauge;
  gauge.sd = 0.5;
  survey.instruments.push_back(gauge);
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  for (Index i = 0; i < 4; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    wall.lengths = {{900, 0, i % 2 ? 2000.0 : 3000.0, {}}};
    room.walls.push_back(wall);
  }
  add_run(survey, "R", units).wall = 0;
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{150, "a.b.", "2024-05-01T10:00:00Z"};
  room.level_groups = {group};
  return survey;
}

// On the first wall; heights from the floor.
inline Service service_on(double along, double height, double projection,
                          ServiceKind kind = ServiceKind::cold_water) {
  Service service;
  service.id = "S";
  service.kind = kind;
  service.place = Place{0, along, 0, 0, 0, 1};
  service.height = MeasuredHeight{height, {}};
  service.projection = projection;
  return service;
}

inline RoutePoint route_point(double along, double height, double out = 0, Index wall = 0) {
  return {Place{wall, along, out, 0, 0, 1}, MeasuredHeight{height, {}}};
}

inline ServiceResult service_result(Survey survey, const Service& service) {
  survey.rooms[0].services = {service};
  return solve(survey).rooms[0].services.at(0);
}

inline Results solved_with(Survey survey, const Service& service) {
  survey.rooms[0].services = {service};
  return solve(survey);
}

}  // namespace levelrun
