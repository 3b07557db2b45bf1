#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "checks/profile.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

Survey level_floor(double width = 6000, double depth = 3000) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, width, depth, 600, [](double, double) { return 0.0; });
  return survey;
}

PlinthResult face(const Results& results, const std::string& run, const std::string& name,
                  int piece = 1) {
  for (const PlinthResult& p : results.rooms[0].plinths)
    if (p.run == run && p.face == name && p.piece == piece) return p;
  FAIL("no such face: " << run << " " << name << " " << piece);
  return results.rooms[0].plinths[0];
}

// A rectangular room with its four walls measured exactly: 4,000 along x, 3,000 down.
void add_walls(Survey& survey) {
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  for (Index i = 0; i < 4; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    WallLength length;
    length.length = i % 2 ? 3000 : 4000;
    wall.lengths = {length};
    room.walls.push_back(wall);
  }
  for (const auto& [from, to] : {std::pair<Index, Index>{0, 2}, {1, 3}}) {
    Diagonal diagonal;
    diagonal.from = from;
    diagonal.to = to;
    diagonal.length = 5000;  // 3-4-5
    room.diagonals.push_back(diagonal);
  }
}

Run& add_wall_run(Survey& survey, const char* id, Index wall, double from, int units) {
  Run& run = add_run(survey, id, units);
  run.wall = wall;
  run.from_along = from;
  return run;
}

}  // namespace

TEST_CASE("a level floor with a board that fits leaves it whole") {
  Survey survey = level_floor();
  add_run(survey, "R", 4);
  const Results results = solve(survey);
  const PlinthResult& front = face(results, "R", "front");
  CHECK(front.length == doctest::Approx(2400));
  CHECK(front.top == TopCut::none);
  CHECK(front.bottom == BottomCut::none);
  CHECK(front.height_left == 150);
  CHECK(front.top_gap_least == doctest::Approx(3).epsilon(1e-6));
}

TEST_CASE("the board is cut at its top where the floor is high, and never at its sealed edge") {
  Survey survey = level_floor();
  add_run(survey, "R", 4);
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{140, "k.r.", ""};
  survey.rooms[0].level_groups = {group};
  const Results results = solve(survey);
  const PlinthResult& front = face(results, "R", "front");
  CHECK(front.top == TopCut::parallel);
  CHECK(front.height_left == doctest::Approx(137).epsilon(1e-6));  // 140 - 0 - 3
  CHECK(front.bottom == BottomCut::none);
  CHECK(front.sealed_edge_down);
}

TEST_CASE("a hollow over the limit is scribed, said to be, and its ordinates follow the floor") {
  Survey survey = simple_survey(0.05);
  survey.furniture.legs = {leg_type("A", 60, 250)};
  // A hollow 8 deep in the middle of a 2,400 run, the same across.
  const auto floor = [](double x, double) { return -8 * (1 - std::abs(x - 1200) / 1200.0); };
  read_grid(survey, 2400, 600, 150, floor, 0.5);
  add_run(survey, "R", 4);
  const Results results = solve(survey);
  const PlinthResult& front = face(results, "R", "front");
  CHECK(front.bottom == BottomCut::scribe);
  CHECK_FALSE(front.sealed_edge_down);
  CHECK(front.floor_gap == doctest::Approx(8).epsilon(0.05));
  const Finding* query = finding(results, "sealed edge would be cut");
  REQUIRE(query);
  CHECK(query->severity == Severity::query);
  CHECK(query->remedy.find("compound") != std::string::npos);
  // As high as it was in the hollow's middle, less by the hollow's depth at the ends.
  const auto at = [&](double along) {
    return std::min_element(front.ordinates.begin(), front.ordinates.end(),
                            [&](const PlinthOrdinate& a, const PlinthOrdinate& b) {
                              return std::abs(a.along - along) < std::abs(b.along - along);
                            })
        ->height;
  };
  CHECK(at(1200) - at(0) == doctest::Approx(8).epsilon(0.1));
  CHECK(front.ordinates.size() >= 25);
}

TEST_CASE("a board too low for the floor asks for a taller one that is stocked") {
  Survey survey = simple_survey();
  LegType leg = leg_type("A", 60, 250);
  survey.furniture.legs = {leg};
  survey.furniture.plinth.other_heights = {165, 180};
  read_grid(survey, 3000, 600, 300, [](double x, double) { return -25 * x / 3000; });
  add_run(survey, "R", 5);
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{168, "k.r.", ""};
  survey.rooms[0].level_groups = {group};
  const Results results = solve(survey);
  const Finding* hold = finding(results, "plinth too short");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(hold->remedy.find("180 high") != std::string::npos);
}

TEST_CASE("an island has four faces, its returns between front and back") {
  Survey survey = level_floor();
  Run& run = add_run(survey, "I", 3, 600, 1000, -1000);
  run.starts_at = run.ends_at = RunEnd::open;
  const Results results = solve(survey);
  CHECK(results.rooms[0].plinths.size() == 4);
  // 1800 less a setback of 50 at both ends; 560 deep less 50 + 50 and two boards of 16.
  CHECK(face(results, "I", "front").length == doctest::Approx(1700));
  CHECK(face(results, "I", "back").length == doctest::Approx(1700));
  CHECK(face(results, "I", "left").length == doctest::Approx(560 - 100 - 32));
  CHECK(face(results, "I", "right").length == doctest::Approx(560 - 100 - 32));
}

TEST_CASE("a run that stands clear of a side wall gets a return, one near it reaches the wall") {
  Survey survey = level_floor();
  add_walls(survey);
  Run& run = add_wall_run(survey, "R", 0, 60, 4);  // 60 of infill at the left wall
  run.ends_at = RunEnd::open;
  const Results results = solve(survey);
  // From the wall: 60 + 2400 - 50 of setback at the open end.
  CHECK(face(results, "R", "front").length == doctest::Approx(2410).epsilon(1e-6));
  // The return: wall to the back of the front board, 560 - 50 - 16.
  CHECK(face(results, "R", "right").length == doctest::Approx(494).epsilon(1e-6));
}

TEST_CASE("at an inside corner one board passes behind the other") {
  Survey survey = level_floor();
  add_walls(survey);
  Run& first = add_wall_run(survey, "R", 0, 1600, 4);  // ends in the corner of W1 and W2
  first.ends_at = RunEnd::corner;
  Run& second = add_wall_run(survey, "S", 1, 580, 3);  // starts beyond it
  second.starts_at = RunEnd::corner;
  const Results results = solve(survey);
  // R's face meets S's at 4000 - 510; it starts at 1600 (no wall near) and passes 16 behind.
  CHECK(face(results, "R", "front").length ==
        doctest::Approx(4000 - 510 - 1600 + 16).epsilon(1e-6));
  // S starts at R's face, 510 out of W1, and ends with its units at 580 + 1800.
  CHECK(face(results, "S", "front").length == doctest::Approx(580 + 1800 - 510).epsilon(1e-6));
}

TEST_CASE("a face longer than the stock is jointed clear of a niche, whole boards first") {
  Survey survey = level_floor();
  Run& run = add_run(survey, "R", 7);  // 4,200
  const Results plain = solve(survey);
  CHECK(face(plain, "R", "front", 1).length == doctest::Approx(3000));
  CHECK(face(plain, "R", "front", 2).length == doctest::Approx(1200));
  run.units[4].kind = UnitKind::appliance;  // 2,400 to 3,000: no joint from 2,250 to 3,150
  run.units[4].niche = Niche{600, 1200, 3};
  const Results results = solve(survey);
  CHECK(face(results, "R", "front", 1).length == doctest::Approx(2250));
  CHECK(face(results, "R", "front", 2).length == doctest::Approx(1950));
  CHECK(results.rooms[0].boards.size() == 2);
  CHECK(results.rooms[0].boards_bound == 2);
}

TEST_CASE("spaces and end panels break the front") {
  Survey survey = level_floor();
  Run& run = add_run(survey, "R", 5);
  run.units[2].kind = UnitKind::space;
  const Results results = solve(survey);
  CHECK(face(results, "R", "front").length == doctest::Approx(1200));
  CHECK(face(results, "R", "front_2").length == doctest::Approx(1200));
}

TEST_CASE("boards of two heights are cut from two stocks") {
  Survey survey = level_floor();
  add_run(survey, "R", 3);
  Run& low = add_run(survey, "L", 3, 600, 3000);
  low.furniture.plinth.height = 100;
  const Results results = solve(survey);
  CHECK(results.rooms[0].boards.size() == 2);
  CHECK(results.rooms[0].boards_bound == 2);
}

TEST_CASE("an end panel is as high as the floors under its front and back edges ask") {
  Survey survey = level_floor();
  survey.rooms[0].flooring.laid = {laid_layer(18, LaidTo::front_legs), laid_layer(6, LaidTo::wall)};
  Run& run = add_run(survey, "R", 3);
  run.units[2] = unit_of("EP", 18, UnitKind::end_panel);
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{160, "k.r.", ""};
  survey.rooms[0].level_groups = {group};
  const Results results = solve(survey);
  REQUIRE(results.rooms[0].end_panels.size() == 1);
  const EndPanelResult& panel = results.rooms[0].end_panels[0];
  CHECK(*panel.front == doctest::Approx(160 + 720 - 24).epsilon(1e-9));
  CHECK(*panel.back == doctest::Approx(160 + 720 - 6).epsilon(1e-9));
}
