#include "checks/wall_resting.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "tests/unit/offset_walls.h"

namespace levelrun {
namespace {

Unit unit_of(UnitKind kind, double width) {
  Unit unit;
  unit.kind = kind;
  unit.width = width;
  return unit;
}

Run& add_run(Survey& survey, std::vector<Unit> units, double from_along = 0) {
  Run& run = survey.rooms[0].runs.emplace_back();
  run.wall = 0;
  run.from_along = from_along;
  run.units = std::move(units);
  return run;
}

const RestResult* rest_of(const WallResult& wall, const char* of) {
  const auto found = std::find_if(wall.rests.begin(), wall.rests.end(),
                                  [&](const RestResult& r) { return r.of == of; });
  return found == wall.rests.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("a worktop rests on its own stretch of wall, the whole line stays as it was") {
  Survey survey = survey_of(waisted);
  add_run(survey, {unit_of(UnitKind::base, 900), unit_of(UnitKind::base, 900)}, 1800);
  const WallResult wall = only_wall(survey);
  CHECK(*wall.scribe == doctest::Approx(7.0));
  const RestResult* top = rest_of(wall, "worktop");
  REQUIRE(top);
  CHECK(top->line == "at 900 high");
  CHECK(top->from == 1800);
  CHECK(top->to == 3600);
  // Proudest are 2400 (0) and 3000 (1.5); the top's middle, 2700, lies between them. Their line
  // at 1800 is -1.5, the face 3.5: 5.0. At 3600 it is 3.0, the face 1.5 + 5.5 x 600 / 620 = 6.82.
  CHECK(top->resting == std::vector<double>{2400, 3000});
  CHECK(*top->gap == doctest::Approx(5.0));
  CHECK(*top->scribe == doctest::Approx(5.0));
}

TEST_CASE("a rail rests at its own height, and only where its drop is given") {
  // Worktop top 150 + 720 + 38 = 908; rail 908 + 450 + 720 - 60 = 2018.
  std::vector<WallOffset> offsets = waisted;
  for (const double along : {0.0, 1000.0, 2000.0}) offsets.push_back({along, 2050, 5, {}});
  offsets[offsets.size() - 2].offset = 9;
  Survey survey = survey_of(offsets);
  Run& run = add_run(survey, {unit_of(UnitKind::wall, 1000), unit_of(UnitKind::wall, 1000)});
  CHECK_FALSE(rest_of(only_wall(survey), "rail"));
  run.furniture.wall_unit.rail_drop = 60;
  const WallResult wall = only_wall(survey);
  const RestResult* rail = rest_of(wall, "rail");
  REQUIRE(rail);
  CHECK(rail->line == "at 2050 high");
  CHECK(rail->resting == std::vector<double>{0, 2000});
  CHECK(*rail->gap == doctest::Approx(4));
  CHECK_FALSE(rail->rocks);
  run.furniture.wall_unit.rail_drop = 300;  // 1778: 272 from any line
  CHECK_FALSE(rest_of(only_wall(survey), "rail"));
}

TEST_CASE(
    "an end panel stands plumb against a wall that leans: it touches once, the rest is scribed") {
  // 10 mm/m away from the room: from 100 to 870 high 7.7.
  Survey survey = survey_of(grid(0.01, 0));
  Run& run = add_run(survey, {unit_of(UnitKind::base, 600)}, 200);
  run.ends_at = RunEnd::end_panel;
  const WallResult wall = only_wall(survey);
  const RestResult* panel = rest_of(wall, "end_panel");
  REQUIRE(panel);
  CHECK(panel->line == "at 1100 along");  // the run ends at 800
  CHECK(panel->from == 100);
  CHECK(panel->to == 870);
  CHECK(panel->resting == std::vector<double>{100});
  CHECK(*panel->scribe == doctest::Approx(7.7));
  // The left end meets a side wall: nothing stands free there.
  CHECK(std::count_if(wall.rests.begin(), wall.rests.end(),
                      [](const RestResult& r) { return r.of == "end_panel"; }) == 1);
  // No plumb line within 600.
  survey.rooms[0].runs[0].from_along = 4000;
  CHECK_FALSE(rest_of(only_wall(survey), "end_panel"));
}

TEST_CASE("a tile that ends between bottom and top of a panel makes a step to scribe") {
  Survey survey = survey_of(grid(0, 0));
  Run& run = add_run(survey, {unit_of(UnitKind::base, 900), unit_of(UnitKind::tall, 600)});
  run.furniture.tall_height = 2000;
  run.ends_at = RunEnd::open;
  const auto scribe = [&] { return rest_of(only_wall(survey), "end_panel")->scribe; };
  CHECK(scribe() == 0);
  wall_of(survey).finish = {{"skim", 3, {}, {}, {}}};  // over all of it: no step
  CHECK(scribe() == 0);
  wall_of(survey).finish.push_back({"tile", 9, {}, 900, 1500});
  CHECK(*scribe() == doctest::Approx(9));
  wall_of(survey).finish.back() = {"tile", 9, {}, 2200, {}};  // above its top: 2150, and 2100 read
  CHECK(scribe() == 0);
}

TEST_CASE("an infill is scribed to the side wall at the carcass front") {
  Survey survey = survey_of(grid(-0.01, 0));
  Room& room = survey.rooms[0];
  Wall back;
  back.id = "W2";
  back.from = 1;
  back.to = 2;
  room.walls[0].from = 0;
  room.walls[0].to = 1;
  room.walls[0].lengths = {{900, 0, 3200, {}}};
  room.walls.push_back(back);
  Run& run = add_run(survey, {unit_of(UnitKind::base, 600)});
  run.wall = 1;
  const WallResult side = only_wall(survey);
  const RestResult* infill = rest_of(side, "infill");
  REQUIRE(infill);
  CHECK(infill->line == "at 3100 along");              // the front stands at 3200 - 560 = 2640
  CHECK(infill->resting == std::vector<double>{870});  // it leans into the room
  CHECK(*infill->scribe == doctest::Approx(7.7));
  room.runs[0].starts_at = RunEnd::open;
  CHECK_FALSE(rest_of(only_wall(survey), "infill"));
}

}  // namespace levelrun
