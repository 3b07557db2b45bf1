#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/run_in_room.h"

using namespace levelrun;

namespace {

// A base run and a run of one wall unit over it; U set at 150. The wall unit ends at
// 150 + 720 + 38 + 450 + 720 = 2078.
Survey room_with_wall_unit() {
  Survey survey = room_with_run(40, {600, 600});
  survey.rooms[0].runs[0].ends_at = RunEnd::open;
  survey.furniture.wall_unit.rail_drop = 60;
  Run& run = add_run(survey, "H", 1);
  run.wall = 0;
  run.from_along = 40;
  run.ends_at = RunEnd::open;
  run.units[0].kind = UnitKind::wall;
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{150, "A. Fitter", ""};
  survey.rooms[0].level_groups = {group};
  return survey;
}

Survey with_tall_unit(double height) {
  Survey survey = room_with_wall_unit();
  Run& run = survey.rooms[0].runs[0];
  run.units[1].kind = UnitKind::tall;
  run.units[1].height = height;
  return survey;
}

}  // namespace

// 2078 - 60 = 2018 above the floor at 0; the level plane of S is at 1000.
TEST_CASE("a rail's height is told from the floor and from the level line") {
  const Results results = solve(room_with_wall_unit());
  const ClearanceResult* rail = clearance(results, "rail height");
  REQUIRE(rail);
  CHECK(std::abs(*rail->clear - 2018) < 0.5);
  CHECK_FALSE(rail->verdict);
  CHECK(rail->sum.find("1018.0 above the level line of S") != std::string::npos);
}

TEST_CASE("a wall unit hangs under the ceiling with its cornice") {
  Survey survey = room_with_wall_unit();
  CHECK_FALSE(clearance(solve(survey), "under the ceiling"));
  measure_ceiling(survey, 500, -500, 2100);
  CHECK(std::abs(*clearance(solve(survey), "under the ceiling")->clear - 22) < 0.5);
  survey.rooms[0].runs[1].furniture.cornice = 40;
  CHECK(clearance(solve(survey), "under the ceiling")->verdict == Verdict::outside);
}

TEST_CASE("one with a bottom of its own is a hold where it does not fit under the ceiling") {
  Survey survey = room_with_wall_unit();
  measure_ceiling(survey, 500, -500, 2100);
  survey.rooms[0].runs[1].units[0].bottom = 1350;  // ends at 2070
  CHECK_FALSE(finding(solve(survey), "wall unit too high for the ceiling"));
  survey.rooms[0].runs[1].units[0].bottom = 1400;  // ends at 2120
  const Results results = solve(survey);
  const Finding* hold = finding(results, "wall unit too high for the ceiling");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(std::abs(*hold->measured + 20) < 0.5);
}

TEST_CASE("a coving is asked about where a wall unit ends in it") {
  Survey survey = room_with_wall_unit();
  measure_ceiling(survey, 500, -500, 2200);
  survey.rooms[0].walls[0].coving_drop = 100;  // 22 left
  CHECK(clearance(solve(survey), "clear of the coving")->verdict == Verdict::within);
  survey.rooms[0].walls[0].coving_drop = 140;  // 18 short
  CHECK(finding(solve(survey), "wall unit into the coving")->severity == Severity::query);
}

// Tall units end at 150 + height.
TEST_CASE("tops that nearly line up are asked about, tops far apart are meant so") {
  struct {
    double height;
    std::optional<double> apart;
    bool asked;
  } const cases[] = {{1928, 0, false}, {1940, 12, true}, {1900, 28, true}, {2100, {}, false}};
  for (const auto& c : cases) {
    CAPTURE(c.height);
    const Results results = solve(with_tall_unit(c.height));
    const ClearanceResult* line = clearance(results, "tops in line");
    REQUIRE(bool(line) == c.apart.has_value());
    if (line) CHECK(*line->clear == doctest::Approx(*c.apart));
    if (line) CHECK(line->most);
    const Finding* query = finding(results, "tops not in line");
    REQUIRE(bool(query) == c.asked);
    if (query) CHECK(query->severity == Severity::query);
  }
}
