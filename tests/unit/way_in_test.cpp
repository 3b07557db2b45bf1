#include "checks/way_in.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/unit/square_room.h"

using namespace levelrun;

namespace {

Survey with_door(double width, double height, OpeningKind kind = OpeningKind::door) {
  Survey survey = square_room(3000, 2000);
  Opening door;
  door.id = "hall door";
  door.wall = 3;
  door.kind = kind;
  door.left = 600;
  door.width = width;
  door.height = height;
  survey.rooms[0].openings.push_back(door);
  add_wall_run(survey, "S", 0, 40, 1);
  return survey;
}

// The most that any turn of a box leaves on the tighter side, turned in steps.
double play_by_turning(double a, double b, double width, double height) {
  double best = -1e9;
  for (int i = 0; i <= 90000; ++i) {
    const double turn = i * std::numbers::pi / 180000;
    best = std::max(best, std::min(width - a * std::cos(turn) - b * std::sin(turn),
                                   height - a * std::sin(turn) - b * std::cos(turn)));
  }
  return best;
}

}  // namespace

TEST_CASE("a box passes an opening just where some turn of it does") {
  struct Case {
    double a, b, width, height;
    bool passes;
  };
  // The third goes through tilted alone: 2,100 x 100 in 2,000 x 800, where the formula needs
  // (2·2100·100·2000 + (2100² − 100²)·√(2100² + 100² − 2000²)) / (2100² + 100²) = 837.7. So 840
  // wide passes and 830 does not.
  const Case cases[] = {{560, 720, 800, 2000, true},     {900, 720, 700, 2000, false},
                        {2100, 100, 840, 2000, true},    {2100, 100, 830, 2000, false},
                        {2100, 100, 2000, 840, true},    {100, 2100, 840, 2000, true},
                        {2100, 1900, 2000, 1950, false}, {700, 2000, 700, 2000, true}};
  for (const Case& c : cases) {
    CAPTURE(c.a);
    CAPTURE(c.width);
    CHECK((play_in_opening(c.a, c.b, c.width, c.height) >= 0) == c.passes);
    CHECK((play_by_turning(c.a, c.b, c.width, c.height) >= -1e-6) == c.passes);
  }
}

// 600 x 720 x 560 goes end on as 560 x 600: 760 - 560 = 200 of play in the width.
TEST_CASE("a base unit goes through a door end on") {
  const Survey survey = with_door(760, 1980);
  const RoomResult room = solve(survey).rooms[0];
  const ClearanceResult* c = clearance(room, "largest carcass through the doorway");
  REQUIRE(c);
  CHECK(*c->clear == 200);
  CHECK(c->needed == 0);
  CHECK(c->verdict == Verdict::within);
  CHECK(c->at == "/rooms/0/runs/0/units/0");
}

// A corner unit of 900 x 900 x 720: 720 x 900 end on, 20 more than a door of 700; an opening
// window of 1,200 x 1,000 takes it.
TEST_CASE("a carcass wider than every doorway is a hold, and the window that takes it is named") {
  Survey survey = with_door(700, 1980);
  Unit& corner = survey.rooms[0].runs[0].units[0];
  corner.width = corner.depth.emplace(900);
  Opening window;
  window.id = "window";
  window.kind = OpeningKind::window;
  window.width = 1200;
  window.height = 1000;
  survey.rooms[0].openings.push_back(window);
  const Results results = solve(survey);
  CHECK(*clearance(results.rooms[0], "largest carcass through the doorway")->clear == -20);
  const Finding* hold = finding(results, "carcass too large for the doorway");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(*hold->measured == -20);
  CHECK(hold->remedy.find("window (1200 × 1000)") != std::string::npos);
}

TEST_CASE("the carcass with least play is the largest, through the opening that leaves it most") {
  Survey survey = with_door(560, 1980);
  Opening arch = survey.rooms[0].openings[0];
  arch.id = "arch";
  arch.kind = OpeningKind::archway;
  arch.wall = 2;
  arch.width = 900;
  survey.rooms[0].openings.push_back(arch);
  Unit tall = unit_of("T1", 600, UnitKind::tall);
  tall.height = 2100;
  tall.depth = 650;
  survey.rooms[0].runs[0].units.push_back(tall);
  const RoomResult room = solve(survey).rooms[0];
  const ClearanceResult* c = clearance(room, "largest carcass through the doorway");
  // 600 x 650 end on through 900: 300, where the base unit has 340.
  CHECK(*c->clear == 300);
  CHECK(c->at == "/rooms/0/runs/0/units/1");
  CHECK(c->source.find("arch") != std::string::npos);
}

TEST_CASE("within the tape's band of a doorway is a query, without a doorway there is no answer") {
  const Survey tight = with_door(562, 1980);
  const Results results = solve(tight);
  REQUIRE(finding(results, "carcass too large for the doorway"));
  CHECK(finding(results, "carcass too large for the doorway")->severity == Severity::query);
  const Survey window_only = with_door(1200, 1000, OpeningKind::window);
  CHECK_FALSE(clearance(solve(window_only).rooms[0], "largest carcass through the doorway"));
}
