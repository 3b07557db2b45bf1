#include <doctest/doctest.h>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// A hold that is about the fit (a leg type that cannot reach) and a query (an unknown word).
Survey troubled() {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 150)};
  read_grid(survey, 3000, 600, 300, [](double x, double) { return -x / 30; });
  add_run(survey, "R", 4);
  survey.unknown_words = {{"/rooms/0/walls/0/build", "cob", "masonry"}};
  return survey;
}

void answer(Survey& survey, const std::string& finding, const std::string& by, bool releases) {
  survey.install.answers.push_back(
      {finding, "so be it", by, "2026-04-01T09:00:00+00:00", releases});
}

}  // namespace

TEST_CASE("nothing may be made while a hold stands or a query has no name under its answer") {
  Survey survey = troubled();
  const Results before = solve(survey);
  CHECK(before.manufacture.holds > 0);
  CHECK(before.manufacture.queries_open > 0);
  CHECK_FALSE(before.manufacture.open);

  // Every finding answered, but without a name: nothing changes.
  for (const Finding& f : before.findings) answer(survey, f.id, "", true);
  CHECK(solve(survey).manufacture.holds == before.manufacture.holds);

  // With a name, but not released: the queries are closed, the holds stand.
  survey.install.answers.clear();
  for (const Finding& f : before.findings) answer(survey, f.id, "k.r.", false);
  const Results answered = solve(survey);
  CHECK(answered.manufacture.queries_open == 0);
  CHECK(answered.manufacture.holds == before.manufacture.holds);
  CHECK_FALSE(answered.manufacture.open);

  survey.install.answers.clear();
  for (const Finding& f : before.findings) answer(survey, f.id, "k.r.", true);
  CHECK(solve(survey).manufacture.open);
}

TEST_CASE("a hold about gas is a safety one, which no answer releases") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 200)};
  read_grid(survey, 4000, 1200, 400, [](double, double) { return 0.0; });
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  for (Index i = 0; i < 4; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    wall.lengths = {{900, 0, i % 2 ? 3000.0 : 4000.0, {}}};
    room.walls.push_back(wall);
  }
  room.diagonals = {{0, 2, 5000, 900, {}}};  // 3-4-5
  Run& run = add_run(survey, "R", 3);
  run.wall = 0;
  run.from_along = 50;
  Service gas;
  gas.id = "G";
  gas.kind = ServiceKind::gas;
  gas.place = Place{0, 700, 0, 0, 0, 20};
  gas.height = MeasuredHeight{500, {}};
  gas.projection = 70;
  room.services = {gas};
  const Results before = solve(survey);
  const Finding* hold = finding(before, "void too shallow");
  REQUIRE(hold);
  CHECK(hold->safety);
  CHECK(hold->remedy.find("licensed person") != std::string::npos);
  answer(survey, hold->id, "k.r.", true);
  CHECK(solve(survey).manufacture.holds == before.manufacture.holds);
}
