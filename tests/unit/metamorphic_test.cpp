// Laws that hold whatever the numbers are.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "checks/results_json.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

double uneven(double x, double y) {
  return 5 * std::sin(x / 600) + 3 * std::cos(y / 400) - x / 400;
}

// Two runs, two set-ups that share points, a new floor; turned about the origin by `turn`.
Survey kitchen(double turn = 0) {
  Survey survey = simple_survey(0.7);
  survey.furniture.legs = {leg_type("A", 60, 250)};
  const double c = std::cos(turn), s = std::sin(turn);
  SetUp other;
  other.id = "B";
  other.instrument = 0;
  Levels& levels = survey.rooms[0].levels;
  for (double y = -100; y > -2000; y -= 400)
    for (double x = 100; x < 3600; x += 450) {
      read_floor(survey, x * c - y * s, x * s + y * c, uneven(x, y), 20);
      const Index point = levels.points.size() - 1;
      if (point % 3 == 0) other.readings.push_back({point, 1300 - uneven(x, y) + 0.4, {}});
    }
  levels.setups.push_back(other);
  survey.rooms[0].flooring.laid = {laid_layer(15, LaidTo::wall), laid_layer(8, LaidTo::front_legs)};
  add_run(survey, "R", 5, 600, 100 * c, 100 * s, turn * 180 / std::numbers::pi);
  return survey;
}

void same_legs(const Results& a, const Results& b, double longer = 0) {
  REQUIRE(a.rooms[0].legs.size() == b.rooms[0].legs.size());
  for (Index i = 0; i < a.rooms[0].legs.size(); ++i) {
    REQUIRE(a.rooms[0].legs[i].height);
    REQUIRE(b.rooms[0].legs[i].height);
    CHECK(std::abs(*b.rooms[0].legs[i].height - *a.rooms[0].legs[i].height - longer) < 1e-6);
    CHECK(std::abs(*b.rooms[0].legs[i].sd - *a.rooms[0].legs[i].sd) < 1e-6);
  }
}

void same_cuts(const Results& a, const Results& b) {
  REQUIRE(!a.rooms[0].plinths.empty());
  REQUIRE(a.rooms[0].plinths.size() == b.rooms[0].plinths.size());
  for (Index i = 0; i < a.rooms[0].plinths.size(); ++i) {
    const PlinthResult &p = a.rooms[0].plinths[i], &q = b.rooms[0].plinths[i];
    CHECK(std::abs(p.length - q.length) < 1e-6);
    CHECK(std::abs(p.height_left - q.height_left) < 1e-6);
    CHECK(std::abs(p.height_right - q.height_right) < 1e-6);
    CHECK(p.top == q.top);
    CHECK(p.bottom == q.bottom);
    CHECK(p.verdict == q.verdict);
  }
}

void set_underside(Survey& survey, double value) {
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{value, "k.r.", ""};
  survey.rooms[0].level_groups = {group};
}

}  // namespace

TEST_CASE("raise the instrument and nothing changes") {
  const Results before = solve(kitchen());
  Survey raised = kitchen();
  for (StaffReading& reading : raised.rooms[0].levels.setups[1].readings) reading.staff += 137;
  const Results after = solve(raised);
  same_legs(before, after);
  same_cuts(before, after);
}

TEST_CASE("turn the room and no leg or cut changes") {
  const Results before = solve(kitchen());
  for (const double turn : {0.3, 1.5707963267948966, 2.9}) {
    CAPTURE(turn);
    const Results after = solve(kitchen(turn));
    same_legs(before, after);
    same_cuts(before, after);
  }
}

TEST_CASE("with U set, a thicker floor under the units shortens legs by exactly that") {
  Survey survey = kitchen();
  set_underside(survey, 190);
  const Results before = solve(survey);
  survey.rooms[0].flooring.laid[0].thickness += 4.5;
  same_legs(before, solve(survey), -4.5);
}

TEST_CASE("with U set, a thicker floor that stops at the front legs leaves the legs") {
  Survey survey = kitchen();
  set_underside(survey, 160);
  const Results before = solve(survey);
  survey.rooms[0].flooring.laid[1].thickness += 4.5;
  const Results after = solve(survey);
  same_legs(before, after);
  // But the plinth stands on it.
  CHECK(after.rooms[0].plinths[0].height_left ==
        doctest::Approx(before.rooms[0].plinths[0].height_left - 4.5));
}

TEST_CASE("the order of readings and of rooms changes no leg") {
  const Results before = solve(kitchen());
  Survey shuffled = kitchen();
  // An order that keeps the first reading first (the spread subset starts there).
  for (SetUp& setup : shuffled.rooms[0].levels.setups)
    std::reverse(setup.readings.begin() + 1, setup.readings.end());
  same_cuts(before, solve(shuffled));

  Survey two = kitchen();
  Room other = two.rooms[0];
  other.id = "K2";
  two.rooms.insert(two.rooms.begin(), other);
  Results after = solve(two);
  after.rooms.erase(after.rooms.begin());
  same_legs(before, after);
}

TEST_CASE("the same survey gives the same bytes") {
  CHECK(results_json(solve(kitchen())) == results_json(solve(kitchen())));
}
