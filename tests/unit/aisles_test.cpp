#include "checks/aisles.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "tests/unit/square_room.h"

using namespace levelrun;

namespace {

// Two runs of three base units across a room 2,400 wide, on W1 and W3.
Survey galley(double depth) {
  Survey survey = square_room(2400, depth);
  add_wall_run(survey, "S", 0, 40, 3);
  add_wall_run(survey, "N", 2, 400, 3);
  return survey;
}

std::vector<ClearanceResult> all(const Survey& survey, const std::string& what) {
  const Results results = solve(survey);
  std::vector<ClearanceResult> out;
  for (const ClearanceResult& c : results.rooms[0].clearances)
    if (c.what == what) out.push_back(c);
  return out;
}

}  // namespace

// 2,500 - 2 x (560 carcass + 18 front + 35 handle) = 1,274.
TEST_CASE("an aisle is what two runs and their handles leave of the room") {
  const auto aisles = all(galley(2500), "aisle");
  REQUIRE(aisles.size() == 1);
  CHECK(*aisles[0].clear == doctest::Approx(1274).epsilon(1e-6));
  CHECK(aisles[0].needed == 1000);  // NHBC 2020, 9.4.3
  CHECK(aisles[0].verdict == Verdict::within);
  CHECK(*aisles[0].sd > 0);
  CHECK(*aisles[0].sd < 1);
}

// 2,200 - 1,226 = 974.
TEST_CASE("a narrow aisle is a query in a new home and a note in an old one") {
  for (const bool new_build : {false, true}) {
    Survey survey = galley(2200);
    survey.job.new_build = new_build;
    const Results results = solve(survey);
    const Finding* f = finding(results, "narrow aisle");
    REQUIRE(f);
    CHECK(f->severity == (new_build ? Severity::query : Severity::note));
    CHECK(*f->measured == doctest::Approx(974).epsilon(1e-6));
    CHECK(*f->limit == 1000);
    CHECK(f->source.find("9.4.3") != std::string::npos);
  }
}

TEST_CASE("a run that faces a bare wall has its aisle up to the finish to come") {
  Survey survey = square_room(2400, 2000);
  add_wall_run(survey, "S", 0, 40, 3);
  CHECK(*all(survey, "aisle")[0].clear == doctest::Approx(2000 - 613).epsilon(1e-6));
  survey.rooms[0].walls[2].finish = {{"lining", 25, {}, {}, {}}};
  CHECK(*all(survey, "aisle")[0].clear == doctest::Approx(2000 - 613 - 25).epsilon(1e-6));
}

// The island's back at y = -1,700; its worktop of 600 leaves 600 - 560 - 18 - 20 = 2 behind it. Its
// fronts look away, to W3 at y = -4,000: 4,000 - 1,700 - 613 = 1,687.
TEST_CASE("an island has an aisle behind and one in front") {
  Survey survey = square_room(3000, 4000);
  add_wall_run(survey, "S", 0, 40, 4);
  add_run(survey, "I", 3, 600, 500, -1700);
  const auto aisles = all(survey, "aisle");
  REQUIRE(aisles.size() == 2);
  CHECK(*aisles[0].clear == doctest::Approx(1700 - 613 - 2).epsilon(1e-6));
  CHECK(aisles[0].sum.starts_with("S to I"));
  CHECK(*aisles.back().clear == doctest::Approx(1687).epsilon(1e-6));
  CHECK(aisles.back().sum.starts_with("I to W3"));
}

TEST_CASE("two runs that meet in a corner make no aisle between them") {
  Survey survey = square_room(3000, 2500);
  add_wall_run(survey, "S", 0, 0, 5).ends_at = RunEnd::corner;
  add_wall_run(survey, "T", 1, 620, 2).starts_at = RunEnd::corner;
  for (const ClearanceResult& c : all(survey, "aisle")) CHECK(*c.clear > 1000);
}

// Backs 2,300 apart, less 2 x 613, however both are turned.
TEST_CASE("turning two islands together leaves their aisle alone") {
  for (const double turn : {0.0, 30.0, 90.0, 217.0}) {
    CAPTURE(turn);
    Survey survey = simple_survey();
    survey.furniture.legs = {leg_type("A", 60, 250)};
    read_grid(survey, 4000, 4000, 1000, [](double, double) { return 0.0; });
    const double a = turn * std::numbers::pi / 180;
    const double out_x = std::sin(a), out_y = -std::cos(a);
    add_run(survey, "A", 3, 600, 1000, -1000, turn);
    // Facing it: turned round, set out from the other end.
    add_run(survey, "B", 3, 600, 1000 + 1800 * std::cos(a) + 2300 * out_x,
            -1000 + 1800 * std::sin(a) + 2300 * out_y, turn + 180);
    const auto aisles = all(survey, "aisle");
    REQUIRE(aisles.size() == 1);
    CHECK(*aisles[0].clear == doctest::Approx(2300 - 2 * 613).epsilon(1e-6));
  }
}

// The dishwasher's door is taken as 720 high: 2,500 - 613 - 560 - 720 = 607.
TEST_CASE("a dishwasher's door opens into the aisle, as far as its unit is high") {
  Survey survey = galley(2500);
  survey.rooms[0].runs[0].units[1].kind = UnitKind::appliance;
  survey.rooms[0].runs[0].units[1].houses = "dishwasher";
  const auto open = all(survey, "aisle with the door open");
  REQUIRE(open.size() == 1);
  CHECK(*open[0].clear == doctest::Approx(607).epsilon(1e-6));
  CHECK(open[0].at == "/rooms/0/runs/0/units/1");
  CHECK(open[0].verdict == Verdict::within);
}

// 1,800 - 613 - 560 - 720 = -93.
TEST_CASE("a door that meets the fronts across the aisle is a hold") {
  Survey survey = galley(1800);
  survey.rooms[0].runs[0].units[1].kind = UnitKind::appliance;
  survey.rooms[0].runs[0].units[1].houses = "dishwasher";
  const Results results = solve(survey);
  const Finding* hold = finding(results, "appliance door does not open");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(*hold->measured == doctest::Approx(-93).epsilon(1e-5));
  // A fridge of 600 hinged at its side stands 120 less into it: 27 left.
  survey.rooms[0].runs[0].units[1].houses = "fridge";
  CHECK(*all(survey, "aisle with the door open")[0].clear == doctest::Approx(27).epsilon(1e-4));
}

TEST_CASE("an oven in a tall unit opens as far as it is wide") {
  Survey survey = galley(2500);
  Unit& tall = survey.rooms[0].runs[0].units[1];
  tall.kind = UnitKind::tall;
  tall.height = 2100;
  tall.houses = "oven";
  CHECK(*all(survey, "aisle with the door open")[0].clear ==
        doctest::Approx(2500 - 613 - 560 - 600).epsilon(1e-6));
}
