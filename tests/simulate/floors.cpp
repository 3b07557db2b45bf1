// Are the bands of the leg heights true? Rooms with a known floor are surveyed by a simulated
// surveyor, solved, and every leg is compared with what it would really need.
//
// The truth is not drawn from the model that solves it. A floor is a tilted plane (each slope
// N(0, 3 mm/m)) plus either five plane waves of 1.5 to 6 m, or eight round bumps and hollows of
// 0.4 to 1.2 m radius, scaled to a departure of 0.5 to 3 mm sd over the room. Room 4,200 × 3,300,
// readings every 450 (or n of them), each 20 mm sd off its booked place and 0.7 mm sd off in
// level; two set-ups, each reading the benchmark first and last, as levelling is booked; a laid
// layer that reaches the wall, 0.5 mm sd off its nominal thickness. Two runs of twelve units.
//
// Exit 1 when the bands cover less than 93 or more than 98 % with a full grid, or less than 90 %
// with few readings.
//
//   simulate_floors [rooms] [seed]
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "checks/solve.h"
#include "tests/simulate/random.h"
#include "tests/simulate/true_floor.h"

using namespace levelrun;

namespace {

constexpr double width = 4200, depth = 3300;  // mm
constexpr double reading_sd = 0.7, layer_sd = 0.5, place_sd = 20, laid = 15;

struct Tally {
  long legs = 0, covered = 0;
  double square = 0, relative_square = 0, band = 0;
  void print(const std::string& what, int rooms) const {
    std::printf(
        "%-28s %5d rooms %6ld legs  cover %5.1f %%  rms %.2f  rms in one room %.2f  "
        "mean sd %.2f\n",
        what.c_str(), rooms, legs, 100.0 * double(covered) / double(legs),
        std::sqrt(square / double(legs)), std::sqrt(relative_square / double(legs)),
        band / double(legs));
  }
};

Run run_of(const char* id, double x, double y, double bearing, int units,
           const Furniture& furniture) {
  Run run;
  run.id = id;
  run.origin_x = x;
  run.origin_y = y;
  run.bearing = bearing;
  run.furniture = furniture;
  for (int i = 0; i < units; ++i) {
    Unit unit;
    unit.id = std::string(id) + std::to_string(i + 1);
    unit.width = i % 2 ? 400 : 300;
    run.units.push_back(unit);
  }
  return run;
}

// readings = 0: a grid every 450.
void simulate(Random& random, int readings, Tally& tally) {
  const TrueFloor floor(random, width, depth);
  Survey survey;
  survey.job.reference = "SIM";
  Instrument level;
  level.id = "L";
  level.kind = InstrumentKind::laser_level;
  level.sd = reading_sd;
  survey.instruments.push_back(level);
  LegType leg;
  leg.id = "any";
  leg.min = 50;
  leg.max = 300;
  survey.furniture.legs.push_back(leg);
  Room room;
  room.id = "K";
  LaidLayer layer;
  layer.name = "tile and bed";
  layer.thickness = laid;
  layer.sd = layer_sd;
  room.flooring.laid.push_back(layer);
  const double laid_really = laid + random.normal(layer_sd);

  LevelPoint benchmark;
  benchmark.id = "BM";
  benchmark.off_floor = true;
  room.levels.points.push_back(benchmark);
  room.levels.benchmark = Levels::Benchmark{0, 0};
  std::vector<std::pair<double, double>> booked;
  if (readings == 0) {
    for (double y = -75; y >= -depth; y -= 450)
      for (double x = 75; x <= width; x += 450) booked.push_back({x, y});
  } else {
    for (int i = 0; i < readings; ++i)
      booked.push_back({random.uniform(0, width), random.uniform(-depth, 0)});
  }
  for (int s = 0; s < 2; ++s) {
    SetUp setup;
    setup.id = s == 0 ? "A" : "B";
    setup.instrument = 0;
    const double plane = random.uniform(900, 1400);
    const auto read = [&](Index point, double height) {
      setup.readings.push_back({point, plane - height + random.normal(reading_sd), {}});
    };
    read(0, 0);
    for (Index i = s; i < booked.size(); i += 2) {
      const auto [x, y] = booked[i];
      LevelPoint point;
      point.id = "P" + std::to_string(i);
      point.place = Place{{}, 0, 0, x, y, place_sd};
      room.levels.points.push_back(point);
      read(room.levels.points.size() - 1,
           floor.height(x + random.normal(place_sd), y + random.normal(place_sd)));
    }
    read(0, 0);
    room.levels.setups.push_back(std::move(setup));
  }
  room.runs.push_back(run_of("S", 0, 0, 0, 12, survey.furniture));
  room.runs.push_back(run_of("T", width, -600, -90, 7, survey.furniture));
  survey.rooms.push_back(std::move(room));

  const Results results = solve(survey);
  const RoomResult& solved = results.rooms[0];
  double mean = 0;
  std::vector<double> errors;
  for (const LegResult& l : solved.legs) {
    if (!l.height || !l.sd) std::abort();
    const double needed = solved.groups[0].underside - floor.height(l.x, l.y) - laid_really;
    errors.push_back(*l.height - needed);
    mean += errors.back() / double(solved.legs.size());
    tally.covered += std::abs(errors.back()) <= band95 * *l.sd;
    tally.band += *l.sd;
    ++tally.legs;
  }
  for (const double e : errors) {
    tally.square += e * e;
    tally.relative_square += (e - mean) * (e - mean);
  }
}

}  // namespace

int main(int count, char** words) {
  const int rooms = count > 1 ? std::atoi(words[1]) : 400;
  const int seed = count > 2 ? std::atoi(words[2]) : 1;
  std::printf("Leg heights against the truth (%g mm reading noise, %g mm layer error)\n",
              reading_sd, layer_sd);
  bool true_bands = true;
  for (const int readings : {0, 4, 6, 10, 20}) {
    Random random(std::uint64_t(seed) * 1000 + std::uint64_t(readings));
    Tally tally;
    for (int i = 0; i < rooms; ++i) simulate(random, readings, tally);
    tally.print(readings ? std::to_string(readings) + " readings anywhere" : "readings every 450",
                rooms);
    const double cover = double(tally.covered) / double(tally.legs);
    true_bands = true_bands && (readings ? cover >= 0.90 : cover >= 0.93 && cover <= 0.98);
  }
  return true_bands ? 0 : 1;
}
