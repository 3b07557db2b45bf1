#include "app/entry/run_lines.h"

#include <doctest/doctest.h>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// A run of 600 + 300 from 40 along W1.
Survey two_units() {
  Survey survey = simple_survey();
  Room& room = survey.rooms[0];
  room.corners = {{"C1"}, {"C2"}, {"C3"}, {"C4"}};
  room.walls.resize(4);
  for (Index w = 0; w < 4; ++w) {
    room.walls[w].id = "W" + std::to_string(w + 1);
    room.walls[w].from = w;
    room.walls[w].to = (w + 1) % 4;
  }
  Run run;
  run.id = "S";
  run.wall = 0;
  run.from_along = 40;
  run.furniture.legs.push_back(leg_type("M", 100, 160));
  for (const double width : {600., 300.}) {
    Unit unit;
    unit.id = "S" + std::to_string(run.units.size() + 1);
    unit.width = width;
    run.units.push_back(unit);
  }
  room.runs.push_back(run);
  return survey;
}

const RunRow* line(const std::vector<RunRow>& lines, const std::string& name) {
  for (const RunRow& one : lines)
    if (one.name == name) return &one;
  return nullptr;
}

RoomResult solved() {
  RoomResult room;
  LegResult leg;
  leg.unit = "S1";
  leg.type = "M";
  leg.sd = 0.5;
  leg.verdict = Verdict::within;
  for (const double height : {141.0, 143.5}) {
    leg.height = height;
    room.legs.push_back(leg);
  }
  ServiceResult pipe;
  pipe.service = "W";
  pipe.units = {"S2"};
  pipe.void_here = 40;
  pipe.void_needed = 45;
  pipe.verdict = Verdict::outside;
  room.services.push_back(pipe);
  return room;
}

}  // namespace

TEST_CASE("what is left to the next wall is said before anything is solved") {
  // 2000 - 40 - (600 + 300) = 1060; the band is 1.96 x 1.5 = 2.9
  const Survey survey = two_units();
  const auto lines = run_lines(survey, 0, 0, nullptr, Estimate{2000, 1.5});
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].name == "Left to W2");
  CHECK(lines[0].value == "1060.0 ±2.9");
  CHECK(lines[0].words == "900 in 2 units");
  CHECK_FALSE(lines[0].needs_a_person);
}

TEST_CASE("a run past its wall needs a person") {
  // 930 - 40 - 900 = -10
  const auto lines = run_lines(two_units(), 0, 0, nullptr, Estimate{930, 1});
  CHECK(lines[0].value.starts_with("−10.0"));
  CHECK(lines[0].needs_a_person);
}

TEST_CASE("an island has its width and no wall to reach") {
  Survey survey = two_units();
  survey.rooms[0].runs[0].wall.reset();
  const auto lines = run_lines(survey, 0, 0, nullptr, std::nullopt);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].name == "Units");
  CHECK(lines[0].value == "900 in 2 units");
}

TEST_CASE("of two infills the tighter carries the fit's verdict") {
  RoomResult room;
  FitResult fit;
  fit.run = "S";
  fit.clear = 1025;
  fit.sd = 1;
  fit.units = 900;
  fit.left_over = 125;
  fit.infill_left = 20.5;  // of 20 to 100: 0.5 to spare, and the band is 2
  fit.infill_right = 60;
  fit.verdict = Verdict::doubtful;
  room.fits.push_back(fit);
  const auto lines = run_lines(two_units(), 0, 0, &room, Estimate{2000, 1});
  REQUIRE(line(lines, "Left over"));
  CHECK(line(lines, "Left over")->value == "125.0 ±2.0");
  REQUIRE(line(lines, "Infill left"));
  CHECK(line(lines, "Infill left")->judged->verdict == Verdict::doubtful);
  CHECK(line(lines, "Infill left")->needs_a_person);
  CHECK(line(lines, "Infill right")->judged->verdict == Verdict::within);
  CHECK_FALSE(line(lines, "Left to W2"));
}

TEST_CASE("a plinth is said between its heights as cut, with its worst verdict") {
  RoomResult room;
  PlinthResult piece;
  piece.run = "S";
  piece.height_left = 142.6;
  piece.height_right = 150;
  piece.top = TopCut::taper;
  room.plinths.push_back(piece);
  piece.top = TopCut::none;
  piece.height_left = 150;
  piece.verdict = Verdict::doubtful;
  room.plinths.push_back(piece);
  const auto lines = run_lines(two_units(), 0, 0, &room, std::nullopt);
  REQUIRE(line(lines, "Plinth"));
  CHECK(line(lines, "Plinth")->value == "142.6 to 150");
  CHECK(line(lines, "Plinth")->words == "cut at the top");
  CHECK(line(lines, "Plinth")->judged->verdict == Verdict::doubtful);
}

TEST_CASE("a unit's row has its legs from least to greatest and the void at its services") {
  const RoomResult room = solved();
  const auto rows = unit_rows(two_units(), 0, 0, &room);
  REQUIRE(rows.size() == 2);
  // 1.96 x 0.5 = 1.0
  CHECK(rows[0].legs == "141.0–143.5 ±1.0");
  CHECK(rows[0].judged->verdict == Verdict::within);
  CHECK(rows[0].void_here.empty());
  CHECK(rows[1].legs.empty());
  CHECK(rows[1].void_here == "40 of 45");
  CHECK(rows[1].void_needs_a_person);
  CHECK(rows[1].judged->verdict == Verdict::outside);
}

TEST_CASE("a row says in words what its unit is") {
  Survey survey = two_units();
  Unit& unit = survey.rooms[0].runs[0].units[0];
  unit.drawers = true;
  unit.houses = "hob";
  survey.rooms[0].runs[0].units[1].kind = UnitKind::corner_post;
  const auto rows = unit_rows(survey, 0, 0, nullptr);
  CHECK(rows[0].what == "base, drawers, hob");
  CHECK(rows[1].what == "corner post");
}

TEST_CASE("the next run starts where what stands on the wall ends; wall units hang above it") {
  Survey survey = two_units();
  CHECK(free_along(survey, 0, 0) == 940);  // 40 + 600 + 300
  CHECK(free_along(survey, 0, 1) == 0);
  for (Unit& unit : survey.rooms[0].runs[0].units) unit.kind = UnitKind::wall;
  CHECK(free_along(survey, 0, 0) == 0);
}
