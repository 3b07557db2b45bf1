// A rectangular room whose right wall may splay inwards, and one run of units on its first wall.
#pragma once

#include <cmath>

#include "tests/unit/simple_survey.h"

namespace levelrun {

// 3,000 wide at its first wall, 2,000 deep; lengths and diagonals fit without residuals.
inline Survey room_with_run(double from_along, const std::vector<double>& widths,
                            double splay = 0) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 3000, 1200, 400, [](double, double) { return 0.0; });
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  const double x[] = {0, 3000, 3000 - splay, 0}, y[] = {0, 0, -2000, -2000};
  Instrument meter;
  meter.id = "DM";
  meter.kind = InstrumentKind::distance_meter;
  meter.sd = 0.5;
  survey.instruments.push_back(meter);
  for (Index i = 0; i < 4; ++i) {
    const Index k = (i + 1) % 4;
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = k;
    wall.lengths = {{900, 0, std::hypot(x[k] - x[i], y[k] - y[i]), 1}};
    room.walls.push_back(wall);
  }
  room.diagonals = {{0, 2, std::hypot(x[2], y[2]), 900, 1}, {1, 3, std::hypot(3000, 2000), 900, 1}};
  Run& run = add_run(survey, "R", 0);
  run.wall = 0;
  run.from_along = from_along;
  for (Index i = 0; i < widths.size(); ++i)
    run.units.push_back(unit_of("U" + std::to_string(i + 1), widths[i]));
  return survey;
}

inline const ClearanceResult* clearance(const Results& results, const std::string& what) {
  for (const ClearanceResult& c : results.rooms[0].clearances)
    if (c.what == what) return &c;
  return nullptr;
}

inline void measure_ceiling(Survey& survey, double x, double y, double clear) {
  CeilingReading reading;
  reading.place = Place{{}, 0, 0, x, y, 20};
  reading.height.value = clear;
  reading.instrument = 1;
  survey.rooms[0].ceilings.push_back(reading);
}

}  // namespace levelrun
