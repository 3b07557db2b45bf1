// A survey in as few facts as a check needs: one level, one set-up, floor points by x and y, and
// runs that stand free of walls.
#pragma once

#include <functional>
#include <string>

#include "checks/solve.h"

namespace levelrun {

using FloorHeight = std::function<double(double x, double y)>;

inline Survey simple_survey(double reading_sd = 0.3) {
  Survey survey;
  survey.job.reference = "T-1";
  Instrument level;
  level.id = "L";
  level.kind = InstrumentKind::optical_level;
  level.sd = reading_sd;
  survey.instruments.push_back(level);
  Room room;
  room.id = "K";
  LevelPoint benchmark;
  benchmark.id = "BM";
  benchmark.off_floor = true;
  room.levels.points.push_back(benchmark);
  room.levels.benchmark = Levels::Benchmark{0, 0};
  SetUp setup;
  setup.id = "S";
  setup.instrument = 0;
  setup.readings.push_back({0, 1000, {}});
  room.levels.setups.push_back(setup);
  survey.rooms.push_back(room);
  return survey;
}

inline LegType leg_type(const char* id, double min, double max) {
  LegType leg;
  leg.id = id;
  leg.min = min;
  leg.max = max;
  return leg;
}

// Reads the floor at (x, y) from set-up 0, whose plane is 1000 above the benchmark.
inline void read_floor(Survey& survey, double x, double y, double height, double place_sd = 1) {
  Levels& levels = survey.rooms[0].levels;
  LevelPoint point;
  point.id = "P" + std::to_string(levels.points.size());
  point.place = Place{{}, 0, 0, x, y, place_sd};
  levels.points.push_back(point);
  levels.setups[0].readings.push_back({levels.points.size() - 1, 1000 - height, {}});
}

// A grid of readings over 0..width, -depth..0.
inline void read_grid(Survey& survey, double width, double depth, double step,
                      const FloorHeight& floor, double place_sd = 1) {
  for (double y = 0; y >= -depth; y -= step)
    for (double x = 0; x <= width; x += step) read_floor(survey, x, y, floor(x, y), place_sd);
}

inline Unit unit_of(const std::string& id, double width, UnitKind kind = UnitKind::base) {
  Unit unit;
  unit.id = id;
  unit.width = width;
  unit.kind = kind;
  return unit;
}

// A run along +x from (x, y), its units in front of it (towards -y). Ends at walls.
inline Run& add_run(Survey& survey, const char* id, int units, double width = 600, double x = 0,
                    double y = 0, double bearing = 0) {
  Run run;
  run.id = id;
  run.origin_x = x;
  run.origin_y = y;
  run.bearing = bearing;
  run.furniture = survey.furniture;
  for (int i = 0; i < units; ++i)
    run.units.push_back(unit_of(std::string(id) + std::to_string(i + 1), width));
  survey.rooms[0].runs.push_back(run);
  return survey.rooms[0].runs.back();
}

inline LaidLayer laid_layer(double thickness, LaidTo to, bool into_niches = true, double sd = 0.5) {
  LaidLayer layer;
  layer.name = "new floor";
  layer.thickness = thickness;
  layer.sd = sd;
  layer.to = to;
  layer.into_niches = into_niches;
  return layer;
}

inline const Finding* finding(const Results& results, const std::string& code) {
  for (const Finding& f : results.findings)
    if (f.code == code) return &f;
  return nullptr;
}

}  // namespace levelrun
