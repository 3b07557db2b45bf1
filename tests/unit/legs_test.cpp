#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

Survey one_run(int units, double width = 600) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 4800, 1200, 600, [](double, double) { return 0.0; });
  add_run(survey, "R", units, width);
  return survey;
}

std::map<std::string, LegResult> by_position(const Results& results, const std::string& unit) {
  std::map<std::string, LegResult> out;
  for (const LegResult& leg : results.rooms[0].legs)
    if (leg.unit == unit) out[leg.position] = leg;
  return out;
}

}  // namespace

TEST_CASE("legs stand at the type's insets, front from the front edge, back from the back") {
  const auto legs = by_position(solve(one_run(2)), "R2");
  REQUIRE(legs.size() == 4);
  // Unit 2 spans 600 to 1200; depth 560; insets front 100, back 60, side 50.
  CHECK(legs.at("front_left").x == doctest::Approx(650));
  CHECK(legs.at("front_right").x == doctest::Approx(1150));
  CHECK(legs.at("front_left").y == doctest::Approx(-460));
  CHECK(legs.at("back_left").y == doctest::Approx(-60));
}

TEST_CASE("a standing-off carcass stands void_depth in front of the run's line") {
  Survey survey = one_run(1);
  survey.rooms[0].runs[0].furniture.back = BackKind::standing_off;
  const auto legs = by_position(solve(survey), "R1");
  CHECK(legs.at("back_left").y == doctest::Approx(-102));
  CHECK(legs.at("front_left").y == doctest::Approx(-502));
}

TEST_CASE("a unit wider than the span gets a third pair of legs, its own feet replace them all") {
  Survey survey = one_run(1, 1200);
  const auto six = by_position(solve(survey), "R1");
  CHECK(six.size() == 6);
  CHECK(six.at("front_middle").x == doctest::Approx(600));
  survey.rooms[0].runs[0].units[0].feet = {{100, 80}, {1100, 80}, {600, 500}};
  const auto three = by_position(solve(survey), "R1");
  REQUIRE(three.size() == 3);
  CHECK(three.at("foot_3").x == doctest::Approx(600));
  CHECK(three.at("foot_3").y == doctest::Approx(-60));
}

TEST_CASE("the height is underside less bare floor less what reaches the wall, and says so") {
  Survey survey = one_run(1);
  survey.rooms[0].flooring.laid = {laid_layer(12, LaidTo::wall), laid_layer(9, LaidTo::front_legs)};
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{158, "k.r.", ""};
  survey.rooms[0].level_groups = {group};
  const Results results = solve(survey);
  for (const LegResult& leg : results.rooms[0].legs) {
    CHECK(*leg.height == doctest::Approx(146).epsilon(1e-9));
    CHECK(leg.sum == "158.0 − 0.0 − 12.0 = 146.0");
  }
}

TEST_CASE("turns are counted from the height as supplied") {
  Survey survey = one_run(1);
  LegType& type = survey.rooms[0].runs[0].furniture.legs[0];
  type.supplied = 150;
  type.pitch = 1.5;
  const Results results = solve(survey);
  for (const LegResult& leg : results.rooms[0].legs)
    CHECK(*leg.turns == doctest::Approx((*leg.height - 150) / 1.5));
}

TEST_CASE("a stripped layer comes off where the staff stood on it and only there") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  Room& room = survey.rooms[0];
  room.flooring.existing = {{"old tile", 22, 0.5, true, {}}, {"screed", 0, 0.5, false, {}}};
  // Bare floor level at 0: tile in the room, screed under the old units.
  for (double x = 0; x <= 3000; x += 500)
    for (double y : {-100.0, -500.0, -900.0, -1300.0}) {
      const bool tiled = y < -600;
      read_floor(survey, x, y, tiled ? 22 : 0);
      room.levels.points.back().on = tiled ? 0 : 1;
    }
  add_run(survey, "R", 4);
  const Results results = solve(survey);
  for (const LegResult& leg : results.rooms[0].legs)
    CHECK(*leg.bearing_floor == doctest::Approx(0).epsilon(1e-9));
}

TEST_CASE("a foot over a pipe is a clash, with the shift that clears it") {
  Survey survey = one_run(1);
  Service waste;
  waste.id = "W1";
  waste.kind = ServiceKind::waste;
  waste.place = Place{{}, 0, 0, 60, -700, 20};
  waste.diameter = 40;
  // Along the floor, 60 to the right of the run's start: 10 from the left legs' centres.
  waste.route = {{Place{{}, 0, 0, 60, -700, 20}, {20, {}}}, {Place{{}, 0, 0, 60, 0, 20}, {20, {}}}};
  survey.rooms[0].services = {waste};
  const Results results = solve(survey);
  const auto legs = by_position(results, "R1");
  REQUIRE(legs.at("front_left").foot_clear);
  CHECK(*legs.at("front_left").foot_clear == doctest::Approx(10 - 20 - 30));
  CHECK_FALSE(legs.at("front_right").foot_clear);
  const Finding* clash = finding(results, "foot over an obstacle");
  REQUIRE(clash);
  CHECK(clash->severity == Severity::hold);
  CHECK(clash->remedy == "Move the foot 45 to the left.");
}

TEST_CASE("areas with a step between them never mix") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  Room& room = survey.rooms[0];
  const auto rectangle = [](double x1, double x2) {
    std::vector<Place> out;
    for (const auto& [x, y] : {std::pair{x1, 0.0}, {x2, 0.0}, {x2, -1200.0}, {x1, -1200.0}})
      out.push_back(Place{{}, 0, 0, x, y, 20});
    return out;
  };
  room.floor_areas = {{"low", rectangle(0, 2000)}, {"high", rectangle(2000, 4000)}};
  for (double x = 110; x < 4000; x += 380)
    for (double y = -100; y > -1200; y -= 350) read_floor(survey, x, y, x < 2000 ? 0 : 34);
  add_run(survey, "R", 3, 600, 100);
  add_run(survey, "S", 3, 600, 2100).level_group = "B";
  const Results results = solve(survey);
  for (const LegResult& leg : results.rooms[0].legs)
    CHECK(*leg.bearing_floor == doctest::Approx(leg.unit[0] == 'R' ? 0 : 34).epsilon(1e-6));
  CHECK(results.rooms[0].floor.size() == 2);
}

TEST_CASE("setting starts at the inside corner, else at the highest floor") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 3600, 1200, 600, [](double x, double) { return x / 300; });
  add_run(survey, "R", 5);
  const auto first = [](const Results& results) {
    for (const LegResult& leg : results.rooms[0].legs)
      if (leg.order == 1) return leg.unit;
    return std::string();
  };
  CHECK(first(solve(survey)) == "R5");
  survey.rooms[0].runs[0].starts_at = RunEnd::corner;
  CHECK(first(solve(survey)) == "R1");
}

TEST_CASE("a set-up tied to nothing is named and left out, and the rest is solved") {
  Survey survey = one_run(2);
  Levels& levels = survey.rooms[0].levels;
  LevelPoint loose;
  loose.id = "X1";
  loose.place = Place{{}, 0, 0, 300, -300, 1};
  levels.points.push_back(loose);
  SetUp other;
  other.id = "B";
  other.instrument = 0;
  other.readings.push_back({levels.points.size() - 1, 500, {}});
  levels.setups.push_back(other);
  const Results results = solve(survey);
  const Finding* hold = finding(results, "set-up tied to nothing");
  REQUIRE(hold);
  CHECK(hold->says.find("Set-up B") != std::string::npos);
  CHECK(results.rooms[0].levels.back().left_out);
  CHECK_FALSE(results.rooms[0].levels.back().height);
  for (const LegResult& leg : results.rooms[0].legs)
    CHECK(*leg.bearing_floor == doctest::Approx(0).epsilon(1e-9));
}

TEST_CASE("a reading that its neighbours contradict is asked about") {
  Survey survey = simple_survey(0.5);
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 3600, 2400, 450, [](double x, double y) { return x / 500 + y / 700; });
  survey.rooms[0].levels.setups[0].readings[20].staff += 27;  // two digits swapped
  add_run(survey, "R", 5);
  const Results results = solve(survey);
  const Finding* query = finding(results, "reading against its neighbours");
  REQUIRE(query);
  CHECK(query->id == "reading-against-its-neighbours/K/" + survey.rooms[0].levels.points[20].id);
  CHECK(*query->measured < -20);
}

TEST_CASE("flooring that would pin, trap or outrun the legs is asked about") {
  Survey survey = one_run(1);
  LaidLayer floating = laid_layer(14, LaidTo::wall);
  floating.floating = true;
  survey.rooms[0].flooring.laid = {floating};
  CHECK(finding(solve(survey), "cabinets on a floating floor"));
  survey.rooms[0].flooring.laid[0].to = LaidTo::plinth_face;
  CHECK(finding(solve(survey), "expansion gap not covered"));
  survey.rooms[0].flooring.laid = {laid_layer(200, LaidTo::wall)};
  CHECK(finding(solve(survey), "laid floor thicker than the leg's travel"));
}

TEST_CASE("the underside is given down from each set-up's level line too") {
  const Results results = solve(one_run(1));
  const GroupResult& group = results.rooms[0].groups[0];
  REQUIRE(group.level_lines.size() == 1);
  // The set-up reads 1000 on the benchmark at 0.
  CHECK(group.level_lines[0].down == doctest::Approx(1000 - group.underside));
}
