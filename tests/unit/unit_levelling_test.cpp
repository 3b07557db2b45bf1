// Turns of the legs under set cabinets: planes worked by hand, end stops, readings in other units.
#include "checks/unit_levelling.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/fitted_room.h"

using namespace levelrun;

namespace {

// 600 × 560, legs 50 from the sides, 100 from the front, 60 from the back.
std::vector<ReadCorner> corners(double front_left, double front_right, double back_left,
                                double back_right) {
  return {{0, 560, front_left, 1},
          {600, 560, front_right, 1},
          {0, 0, back_left, 1},
          {600, 0, back_right, 1}};
}
std::vector<TurnableLeg> legs(double lowest = -50, double highest = 50) {
  return {{50, 460, lowest, highest},
          {550, 460, lowest, highest},
          {50, 60, lowest, highest},
          {550, 60, lowest, highest}};
}

// Cabinets whose tops stand at 150 + 720, and a level of the day at 1,400.
Survey set_room(int units) {
  Survey survey = fitted_room(units);
  survey.rooms[0].runs[0].furniture.legs[0].pitch = 1.5;
  SetUp day;
  day.id = "D1";
  day.instrument = 0;
  day.readings.push_back({0, 1400, {}, 0});
  survey.install.setups.push_back(day);
  return survey;
}
void read_unit(Survey& survey, const std::string& unit, double fl, double fr, double bl,
               double br) {
  const std::pair<const char*, double> read[] = {
      {"front_left", fl}, {"front_right", fr}, {"back_left", bl}, {"back_right", br}};
  for (const auto& [corner, above] : read)
    survey.install.unit_levels.push_back(
        {unit, corner, "D1", 1400 - 870 - above, survey.rooms[0].id});
}
const UnitLevelResult& levelled(const Results& results, const std::string& unit) {
  for (const UnitLevelResult& u : results.install->unit_levels)
    if (u.unit == unit) return u;
  FAIL("no such unit");
  return results.install->unit_levels.front();
}

}  // namespace

TEST_CASE("a cabinet 3 high at the left is let down at the left by what its legs see of it") {
  // 3 - 3·50/600 = 2.75 at the left legs, 0.25 at the right ones.
  const Turned turn = turn_legs(corners(3, 0, 3, 0), legs());
  REQUIRE(turn.solved);
  CHECK(turn.raise[0] == doctest::Approx(-2.75));
  CHECK(turn.raise[1] == doctest::Approx(-0.25));
  CHECK(turn.raise[2] == doctest::Approx(-2.75));
  CHECK(turn.raise[3] == doctest::Approx(-0.25));
  for (const double r : turn.residual) CHECK(r == doctest::Approx(0).epsilon(1e-9));
}

TEST_CASE("a twisted carcass keeps a quarter of its twist at every corner") {
  const Turned turn = turn_legs(corners(4, 0, 0, 0), legs());
  REQUIRE(turn.solved);
  CHECK(turn.residual[0] == doctest::Approx(1));
  CHECK(turn.residual[1] == doctest::Approx(-1));
  CHECK(turn.residual[2] == doctest::Approx(-1));
  CHECK(turn.residual[3] == doctest::Approx(1));
}

TEST_CASE("a leg at its end stop: the rest does what it can, and it is said which") {
  // Left legs can go down by 1 only. With raise -1 + b(u - 50): least of (2 - 50 b)² +
  // (-1 + 550 b)², so b = 650 / 305000.
  const double b = 650.0 / 305000;
  const Turned turn = turn_legs(corners(3, 0, 3, 0), legs(-1, 50));
  REQUIRE(turn.solved);
  CHECK(turn.raise[0] == doctest::Approx(-1));
  CHECK(turn.raise[1] == doctest::Approx(-1 + 500 * b));
  CHECK(turn.residual[0] == doctest::Approx(2 - 50 * b));
  CHECK(turn.residual[1] == doctest::Approx(-1 + 550 * b));
  CHECK(turn.end_stop[0] == EndStop::shortest);
  CHECK(turn.end_stop[1] == EndStop::none);
}

TEST_CASE("two corners, or three in line, show no slope and give no turn") {
  const std::vector<ReadCorner> two = {{0, 560, 1, 1}, {600, 560, 0, 1}};
  CHECK_FALSE(turn_legs(two, legs()).solved);
  const std::vector<ReadCorner> line = {{0, 560, 1, 1}, {300, 560, 1, 1}, {600, 560, 0, 1}};
  CHECK_FALSE(turn_legs(line, legs()).solved);
}

TEST_CASE("readings on set cabinets give the turns that bring the run to U") {
  Survey survey = set_room(2);
  read_unit(survey, "U1", 3, 0, 3, 0);
  read_unit(survey, "U2", 0.3, 0.3, -0.4, -0.4);
  const Results results = solve(survey);
  const UnitLevelResult& first = levelled(results, "U1");
  CHECK_FALSE(first.level);
  CHECK(*first.worst == doctest::Approx(3));
  CHECK(*first.worst_after == doctest::Approx(0).epsilon(1e-9));
  CHECK(first.common == 0);
  for (const LegTurn& leg : first.legs)
    if (leg.position == "front_left") {
      CHECK(leg.raise == doctest::Approx(-2.75));
      CHECK(*leg.turns == doctest::Approx(-2.75 / 1.5));
      CHECK(leg.height == doctest::Approx(150 - 2.75));
      CHECK(leg.end_stop == EndStop::none);
    }
  CHECK(levelled(results, "U2").level);
  CHECK(levelled(results, "U2").says == "U2 is level at U, all corners within 0.5: leave it.");
}

TEST_CASE("where legs run out the whole run takes the nearest level that it can all reach") {
  Survey survey = set_room(2);
  survey.rooms[0].runs[0].furniture.legs[0].max = 152;
  read_unit(survey, "U1", -5, -5, -5, -5);  // can be raised by 2 of the 5
  read_unit(survey, "U2", 1, 1, 1, 1);
  const Results results = solve(survey);
  for (const char* unit : {"U1", "U2"}) {
    CAPTURE(unit);
    const UnitLevelResult& u = levelled(results, unit);
    CHECK(u.common == doctest::Approx(-3).epsilon(1e-4));
    CHECK(*u.worst_after < 1e-3);
  }
  CHECK(levelled(results, "U1").legs[0].raise == doctest::Approx(2).epsilon(1e-4));
  CHECK(levelled(results, "U2").legs[0].raise == doctest::Approx(-4).epsilon(1e-4));
  CHECK(levelled(results, "U2").says.find("The run can only be level 3.0 below U.") !=
        std::string::npos);
}

TEST_CASE("a leg counts as set to where it was last set") {
  Survey survey = set_room(1);
  for (const char* position : {"front_left", "front_right", "back_left", "back_right"})
    survey.install.set_legs.push_back(
        {"U1", position, "2026-04-01T10:00:00+00:00", "k.r.", 153, survey.rooms[0].id});
  read_unit(survey, "U1", 3, 3, 3, 3);
  const Results results = solve(survey);
  for (const LegTurn& leg : levelled(results, "U1").legs) CHECK(leg.height == doctest::Approx(150));
}

TEST_CASE("from a level that is tied to nothing a run is brought level in itself") {
  Survey survey = set_room(2);
  survey.install.setups[0].readings.clear();
  read_unit(survey, "U1", 3, 3, 3, 3);
  read_unit(survey, "U2", 1, 1, 1, 1);
  const Results results = solve(survey);
  CHECK(levelled(results, "U1").relative);
  CHECK(levelled(results, "U1").legs[0].raise == doctest::Approx(-1));
  CHECK(levelled(results, "U2").legs[0].raise == doctest::Approx(1));
}

TEST_CASE("a reading in centimetres is asked back and its cabinet left alone") {
  Survey survey = set_room(1);
  read_unit(survey, "U1", 0, 0, 0, 0);
  survey.install.unit_levels[1].staff /= 10;
  const Results results = solve(survey);
  const Finding* f = finding(results, "cabinet far off its level");
  REQUIRE(f);
  CHECK(f->severity == Severity::query);
  CHECK(*f->limit == doctest::Approx(530));
  CHECK(f->at == "/install/unit_levels/1");
  CHECK(levelled(results, "U1").legs.empty());
  CHECK_FALSE(levelled(results, "U1").level);
}

TEST_CASE("from a level tied to nothing a cabinet in other units does not turn the others") {
  Survey survey = set_room(3);
  survey.install.setups[0].readings.clear();
  read_unit(survey, "U1", 0.2, 0, 0, 0);
  read_unit(survey, "U2", 0, 0, 0, 0.2);
  read_unit(survey, "U3", 0, 0, 0, 0);
  for (Index i = 8; i < 12; ++i) survey.install.unit_levels[i].staff /= 10;  // 53 for 530
  const Results results = solve(survey);
  CHECK(levelled(results, "U1").level);
  CHECK(levelled(results, "U2").level);
  CHECK_FALSE(levelled(results, "U3").level);
  CHECK(levelled(results, "U3").legs.empty());
  const Finding* f = finding(results, "cabinet far off its level");
  REQUIRE(f);
  CHECK(f->at == "/install/unit_levels/8");
  CHECK(std::abs(*f->limit - 530) < 0.3);
  CHECK(f->says.find(" above the others") != std::string::npos);
}

TEST_CASE("of several readings of a corner the last counts") {
  Survey survey = set_room(1);
  read_unit(survey, "U1", 3, 0, 3, 0);
  read_unit(survey, "U1", 0, 0, 0, 0);
  const UnitLevelResult u = levelled(solve(survey), "U1");
  CHECK(u.level);
  CHECK(u.corners.size() == 4);
}

TEST_CASE(
    "a reading counts no more once the legs were turned, and the cabinet is to be read again") {
  Survey survey = set_room(1);
  read_unit(survey, "U1", 3, 3, 3, 3);
  for (UnitLevel& reading : survey.install.unit_levels)
    reading.turned = "2026-04-01T11:00:00+00:00";
  const Results turned = solve(survey);
  CHECK(levelled(turned, "U1").legs.empty());
  CHECK_FALSE(levelled(turned, "U1").level);
  CHECK(levelled(turned, "U1").says.find("read it again") != std::string::npos);
  read_unit(survey, "U1", 0, 0, 0, 0);
  const Results again = solve(survey);
  CHECK(levelled(again, "U1").level);
}

TEST_CASE("units of one id in two rooms are told apart by the room, else it is the first") {
  Survey survey = set_room(1);
  survey.rooms.push_back(survey.rooms[0]);
  survey.rooms[1].id = "other";
  read_unit(survey, "U1", 3, 3, 3, 3);
  for (UnitLevel& reading : survey.install.unit_levels) reading.room = "other";
  const Results results = solve(survey);
  REQUIRE(results.install->unit_levels.size() == 1);
  CHECK(results.install->unit_levels[0].room == "other");
}
