#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "checks/floor_surface.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// A run of eight base units; the floor read under its left half alone.
Survey half_read(double step = 400) {
  Survey survey = simple_survey(0.7);
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(
      survey, 2400, 600, step, [](double x, double y) { return x / 1000 - y / 500; }, 20);
  survey.rooms[0].levels.setups[0].readings.push_back({0, 1000, {}});
  add_run(survey, "S", 8);
  return survey;
}

double rms_sd(const RoomResult& room) {
  double sum = 0;
  for (const LegResult& leg : room.legs) sum += *leg.sd * *leg.sd;
  return std::sqrt(sum / double(room.legs.size()));
}

std::string results_text(const NextMinute& next) {
  std::string out;
  for (const auto& step : next.measure) out += step.what + "; ";
  return out;
}

}  // namespace

TEST_CASE("the first reading asked for is at legs that no reading is near") {
  const Survey survey = half_read();
  const Results results = solve(survey);
  const NextMinute& next = results.rooms[0].next_minute;
  CAPTURE(results_text(next));
  REQUIRE(!next.measure.empty());
  CHECK(!next.stop);
  const NextMinute::Step& first = next.measure[0];
  CHECK(first.what.starts_with("floor at S"));
  REQUIRE(first.x);
  CHECK(*first.x > 3000);
  CHECK(*first.before == doctest::Approx(rms_sd(results.rooms[0])).epsilon(1e-9));
  CHECK(*first.gain == doctest::Approx(*first.before - *first.after).epsilon(1e-9));
  CHECK(next.says == "Next: " + first.what + ".");
}

TEST_CASE(
    "each step starts from what the one before leaves, and none is worth more than the last") {
  const Results results = solve(half_read());
  const auto& steps = results.rooms[0].next_minute.measure;
  REQUIRE(steps.size() >= 2);
  for (Index i = 1; i < steps.size(); ++i) {
    CHECK(*steps[i].before == doctest::Approx(*steps[i - 1].after).epsilon(1e-9));
    CHECK(*steps[i].gain <= *steps[i - 1].gain * 1.05);
    CHECK(*steps[i].gain >= 0.02);
  }
}

// Beyond 24 readings one node of the parameter grid holds. While it stays the same, the surface's
// own bands after the reading must be those before, less cov² / var: two ways to one number. (A
// floor reading moves the general slope that place errors are multiplied by, a little.)
TEST_CASE("what is foreseen of a reading is what the surface says once it was read") {
  const Survey survey = half_read(240);
  const NewReading readings[] = {{PlanPoint{3000, -300}, 0, 0.7, 1}, {{}, 0, 0.7, 0}};
  const PlanPoint targets[] = {{100, -60}, {2300, -400}, {3100, -200}, {4700, -500}};
  const auto surface_of = [](const Survey& s) {
    return FloorSurface(s, 0, adjust_room(s, 0), adjust_room_levels(s, 0));
  };
  const FloorSurface before = surface_of(survey);
  const auto foreseen = before.foreseen(readings, targets);
  REQUIRE(foreseen.size() == 1);
  REQUIRE(foreseen[0].width() == 6);
  const auto was = before.estimates(targets);
  for (const Index r : {Index{0}, Index{1}}) {
    CAPTURE(r);
    Survey read = survey;
    if (r == 0)
      read_floor(read, 3000, -300, 3 + 0.6, 1);  // on the plane that the others lie on
    else
      read.rooms[0].levels.setups[0].readings.push_back({0, 1000, {}});
    const FloorSurface after = surface_of(read);
    REQUIRE(after.results()[0].model->sd == before.results()[0].model->sd);
    REQUIRE(after.results()[0].model->range == before.results()[0].model->range);
    const auto is = after.estimates(targets);
    for (Index t = 0; t < 4; ++t) {
      CAPTURE(t);
      const double shared = foreseen[0].covariances[r * 6 + 2 + t];
      const double own = foreseen[0].covariances[r * 6 + r];
      CHECK(std::sqrt(was[t]->sd * was[t]->sd - shared * shared / own) ==
            doctest::Approx(is[t]->sd).epsilon(r == 0 ? 1e-3 : 1e-9));
    }
  }
}

TEST_CASE("the legs come out as foreseen, whatever the reading says") {
  Survey survey = half_read(240);  // 11 by 3 readings
  Results before = solve(survey);
  const NextMinute::Step step = before.rooms[0].next_minute.measure[0];
  REQUIRE(step.x);
  bool same_model = false;
  for (const double off : {-1.0, 0.0, 1.0}) {
    Survey read = survey;
    const double floor = *step.x / 1000 - *step.y / 500;
    read_floor(read, *step.x, *step.y, floor + off, 20);
    const Results after = solve(read);
    const FloorModel& was = *before.rooms[0].floor[0].model;
    const FloorModel& is = *after.rooms[0].floor[0].model;
    if (was.sd != is.sd || was.range != is.range) continue;
    same_model = true;
    CHECK(rms_sd(after.rooms[0]) == doctest::Approx(*step.after).epsilon(0.01));
  }
  CHECK(same_model);
}

TEST_CASE("a benchmark that was read once is asked for again before a floor that is well known") {
  Survey survey = simple_survey(0.7);
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 2400, 600, 200, [](double, double) { return 0.0; });
  add_run(survey, "S", 4);
  const Results results = solve(survey);
  const NextMinute& next = results.rooms[0].next_minute;
  REQUIRE(!next.measure.empty());
  CHECK(next.measure[0].what == "benchmark BM again, from set-up S");
  CHECK(next.measure[0].at == "/rooms/0/levels/benchmark");
  // One reading of sd 0.7 ties everything: a second halves that variance.
  const double gain = std::pow(*next.measure[0].before, 2) - std::pow(*next.measure[0].after, 2);
  CHECK(gain == doctest::Approx(0.7 * 0.7 / 2).epsilon(0.02));
}

TEST_CASE("with everything well known it is time to stop, and with something missing it is not") {
  Survey survey = simple_survey(0.05);
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 2400, 600, 200, [](double, double) { return 0.0; });
  survey.rooms[0].levels.setups[0].readings.push_back({0, 1000, {}});
  add_run(survey, "S", 4);
  const Results done = solve(survey);
  CAPTURE(results_text(done.rooms[0].next_minute));
  CHECK(done.rooms[0].next_minute.stop);
  CHECK(done.rooms[0].next_minute.says.starts_with("Stop"));
  survey.rooms[0].levels.setups[0].readings.pop_back();
  CHECK_FALSE(solve(survey).rooms[0].next_minute.stop);
}

TEST_CASE("a plan that nothing checks comes before the floor") {
  Survey survey = half_read();
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  for (Index i = 0; i < 4; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    wall.lengths = {{900, 0, i % 2 ? 3000.0 : 5000.0, {}}};
    room.walls.push_back(wall);
  }
  const Results results = solve(survey);
  const auto& steps = results.rooms[0].next_minute.measure;
  REQUIRE(!steps.empty());
  CHECK(steps[0].what.starts_with("diagonal C"));
  CHECK(steps[0].after);
  CHECK((!steps[0].before || *steps[0].after < *steps[0].before));
}

TEST_CASE("rooms without legs, levels or a benchmark ask for nothing and do not fall over") {
  for (const int without : {0, 1, 2}) {
    CAPTURE(without);
    Survey survey = half_read();
    Room& room = survey.rooms[0];
    if (without == 0) room.runs.clear();
    if (without == 1) room.levels = {};
    if (without == 2) room.levels.benchmark.reset();
    const Results results = solve(survey);
    CHECK(results.rooms[0].next_minute.measure.empty());
  }
}

TEST_CASE("floors with a step are foreseen each from its own readings") {
  Survey survey = half_read();
  Room& room = survey.rooms[0];
  room.floor_areas = {{"left", {}}, {"right", {}}};
  for (const auto& [area, from, to] :
       {std::tuple{0, -500.0, 2500.0}, std::tuple{1, 2500.0, 6000.0}})
    for (const auto& [x, y] : {std::pair{from, 500.0}, {to, 500.0}, {to, -2000.0}, {from, -2000.0}})
      room.floor_areas[std::size_t(area)].outline.push_back(Place{{}, 0, 0, x, y, 20});
  for (const double x : {2600.0, 3500.0, 4600.0})
    for (const double y : {0.0, -600.0}) read_floor(survey, x, y, 30, 20);
  const RoomPlan plan = adjust_room(survey, 0);
  const RoomLevels levels = adjust_room_levels(survey, 0);
  const FloorSurface floor(survey, 0, plan, levels);
  const NewReading readings[] = {
      {PlanPoint{1000, -300}, 0, 0.7, 20}, {PlanPoint{4000, -300}, 0, 0.7, 20}, {{}, 0, 0.7, 0}};
  const PlanPoint targets[] = {{1000, -300}, {3000, -300}, {4000, -300}};
  const auto areas = floor.foreseen(readings, targets);
  REQUIRE(areas.size() == 2);
  CHECK(areas[0].readings == std::vector<Index>{0, 2});
  CHECK(areas[0].targets == std::vector<Index>{0});
  CHECK(areas[1].readings == std::vector<Index>{1, 2});
  CHECK(areas[1].targets == std::vector<Index>{1, 2});
  // A reading at a target shares the floor there, less what its plane shares with it.
  const double own = areas[0].covariances[0], shared = areas[0].covariances[2];
  CHECK(own > shared);
  CHECK(shared > 0);
}
