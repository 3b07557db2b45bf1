#include "checks/doors.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/unit/square_room.h"

using namespace levelrun;

namespace {

// A room 3,000 x 2,000 with a run on W1 from 500 along, and a door of 800 in W4, which runs from
// (0, -2000) to (0, 0).
Survey with_door(double left, Opens opens, const FloorHeight& floor = nullptr) {
  Survey survey = square_room(3000, 2000, floor);
  Opening door;
  door.id = "hall door";
  door.wall = 3;
  door.left = left;
  door.width = 800;
  door.height = 2000;
  door.opens = opens;
  survey.rooms[0].openings.push_back(door);
  add_wall_run(survey, "S", 0, 500, 3);
  return survey;
}

// Degrees to which a leaf of 800, hinged at (0, hinge_y) and closed towards +y, turns before it
// meets the units at x >= 500, y >= -613: turned in steps, tried along its length.
double opens_by_turning(double hinge_y) {
  for (double degrees = 0; degrees <= 90; degrees += 0.01)
    for (double r = 0; r <= 800; r += 0.5) {
      const double a = degrees * std::numbers::pi / 180;
      if (r * std::sin(a) >= 500 && hinge_y + r * std::cos(a) >= -613) return degrees;
    }
  return 90;
}

}  // namespace

// Hinge at y = -2,000 + 700 = -1,300; the units' nearest corner, handles counted, is (500, -613):
// the root of 500² + 687² = 849.7, so 49.7 clear of a leaf of 800. At 800 along: 500² + 587² ->
// 771.1, 28.9 within it.
TEST_CASE("a door clears a unit by its corner's distance from the hinge less the leaf") {
  struct Case {
    double left, clear;
    Verdict verdict;
  };
  const Case cases[] = {{700, std::hypot(500, 687) - 800, Verdict::within},
                        {800, std::hypot(500, 587) - 800, Verdict::outside}};
  for (const Case& c : cases) {
    CAPTURE(c.left);
    const Survey survey = with_door(c.left, Opens::in_left);
    const RoomResult room = solve(survey).rooms[0];
    const ClearanceResult* swing = clearance(room, "door swing");
    REQUIRE(swing);
    CHECK(*swing->clear == doctest::Approx(c.clear).epsilon(1e-4));
    CHECK(swing->verdict == c.verdict);
    CHECK(swing->at == "/rooms/0/openings/0");
  }
}

TEST_CASE("a strike is a hold that says how far the door opens") {
  for (const double left : {800.0, 900.0, 1000.0, 1150.0}) {
    CAPTURE(left);
    const Survey survey = with_door(left, Opens::in_left);
    const Results results = solve(survey);
    const Finding* hold = finding(results, "door strikes a unit");
    REQUIRE(hold);
    CHECK(hold->severity == Severity::hold);
    const double opens = std::stod(hold->says.substr(hold->says.find("opens to ") + 9));
    CHECK(std::abs(opens - opens_by_turning(-2000 + left)) <= 0.55);
    CHECK(hold->says.find("S1") != std::string::npos);
  }
}

TEST_CASE("a door that opens away from the units, outwards or aside strikes none") {
  for (const Opens opens : {Opens::in_right, Opens::out, Opens::slide, Opens::fixed}) {
    const Survey survey =
        with_door(300, opens);  // hinged right at y = -900, it turns to y = -1,700
    const Results results = solve(survey);
    CHECK_FALSE(clearance(results.rooms[0], "door swing"));
    CHECK_FALSE(finding(results, "door strikes a unit"));
  }
}

// Seen in a mirror: a door in W2 at the same distance from W1, hinged at its right.
TEST_CASE("a room and its mirror image answer alike") {
  Survey survey = with_door(2000 - 800 - 800, Opens::in_right);
  survey.rooms[0].openings[0].wall = 1;
  survey.rooms[0].runs[0].from_along = 3000 - 500 - 1800;
  const RoomResult room = solve(survey).rooms[0];
  CHECK(*clearance(room, "door swing")->clear ==
        doctest::Approx(std::hypot(500, 587) - 800).epsilon(1e-4));
}

TEST_CASE("a radiator stands in a door's way as a unit does") {
  Survey survey = with_door(100, Opens::in_right);
  Service radiator;
  radiator.id = "RAD";
  radiator.kind = ServiceKind::radiator;
  radiator.place.wall = 2;  // runs from (3000, -2000) to (0, -2000)
  radiator.place.along = 2600;
  radiator.width = 600;
  radiator.projection = 120;
  survey.rooms[0].services.push_back(radiator);
  // Hinge at y = -1,100; its corners reach from (100, -1880) to (700, -1880).
  const RoomResult room = solve(survey).rooms[0];
  CHECK(*clearance(room, "door swing")->clear ==
        doctest::Approx(std::hypot(100, 780) - 800).epsilon(1e-3));
}

TEST_CASE("new layers less what is stripped come off the gap below a door") {
  struct Case {
    double undercut, laid, stripped, clear;
    Verdict verdict;
  };
  // 30 - 16 = 14; 18 - (16 - 22) = 24; 18 - 25 = -7.
  const Case cases[] = {{30, 16, 0, 14, Verdict::within},
                        {18, 16, 22, 24, Verdict::within},
                        {18, 25, 0, -7, Verdict::outside}};
  for (const Case& c : cases) {
    CAPTURE(c.clear);
    Survey survey = with_door(100, Opens::in_left);
    Room& room = survey.rooms[0];
    room.openings[0].undercut = c.undercut;
    room.flooring.laid = {laid_layer(c.laid, LaidTo::front_legs)};
    if (c.stripped > 0) room.flooring.existing = {{"old tiles", c.stripped, 0.5, true, {}}};
    const Results results = solve(survey);
    const ClearanceResult* over = clearance(results.rooms[0], "door over the finished floor");
    REQUIRE(over);
    CHECK(*over->clear == doctest::Approx(c.clear).epsilon(0.02));
    CHECK(over->needed == 3);  // common practice, no source
    CHECK(over->verdict == c.verdict);
    const Finding* shorten = finding(results, "door needs shortening");
    CHECK((shorten != nullptr) == (c.verdict != Verdict::within));
    // 10 short, and its band of about 3 on top.
    if (!shorten) continue;
    CHECK(shorten->severity == Severity::query);
    const double by = std::stod(shorten->remedy.substr(shorten->remedy.find(" by ") + 4));
    CHECK(by >= 10);
    CHECK(by <= 16);
  }
}

// The floor rises 10 a metre from the door, so the leaf's tip of 800 passes 8 more than at the
// wall.
TEST_CASE(
    "a floor that rises within the swing takes from the gap, a sliding door does not meet it") {
  const auto rises = [](double x, double) { return 0.01 * x; };
  for (const bool slides : {false, true}) {
    Survey survey = with_door(100, slides ? Opens::slide : Opens::in_left, rises);
    survey.rooms[0].openings[0].undercut = 30;
    survey.rooms[0].flooring.laid = {laid_layer(10, LaidTo::wall)};
    const RoomResult room = solve(survey).rooms[0];
    CHECK(*clearance(room, "door over the finished floor")->clear ==
          doctest::Approx(slides ? 20 : 12).epsilon(0.02));
  }
}

TEST_CASE("a door that opens out, or whose undercut was not measured, is not judged by the floor") {
  Survey survey = with_door(100, Opens::out);
  survey.rooms[0].openings[0].undercut = 2;
  survey.rooms[0].flooring.laid = {laid_layer(10, LaidTo::wall)};
  CHECK_FALSE(clearance(solve(survey).rooms[0], "door over the finished floor"));
  survey.rooms[0].openings[0].opens = Opens::in_left;
  survey.rooms[0].openings[0].undercut.reset();
  CHECK_FALSE(clearance(solve(survey).rooms[0], "door over the finished floor"));
}
