#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// A room 3,000 wide at its first wall, whose right wall leans inwards in plan by `splay` over its
// 2,000; a run of units on the first wall.
Survey room_with_run(double from_along, std::vector<double> widths, double splay = 0) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 3000, 1200, 400, [](double, double) { return 0.0; });
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  const double x[] = {0, 3000, 3000 - splay, 0}, y[] = {0, 0, -2000, -2000};
  Instrument meter;
  meter.id = "DM";
  meter.kind = InstrumentKind::distance_meter;
  meter.sd = 0.5;
  survey.instruments.push_back(meter);
  for (Index i = 0; i < 4; ++i) {
    const Index k = (i + 1) % 4;
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = k;
    wall.lengths = {{900, 0, std::hypot(x[k] - x[i], y[k] - y[i]), 1}};
    room.walls.push_back(wall);
  }
  room.diagonals = {{0, 2, std::hypot(x[2], y[2]), 900, 1}, {1, 3, std::hypot(3000, 2000), 900, 1}};
  Run& run = add_run(survey, "R", 0);
  run.wall = 0;
  run.from_along = from_along;
  for (Index i = 0; i < widths.size(); ++i)
    run.units.push_back(unit_of("U" + std::to_string(i + 1), widths[i]));
  return survey;
}

FitResult fit(const Survey& survey) {
  const Results results = solve(survey);
  REQUIRE(results.rooms[0].fits.size() == 1);
  return results.rooms[0].fits[0];
}

}  // namespace

// Hand-worked: 3,000 between the walls, units 2,900, 40 at the left leave 60 at the right.
TEST_CASE("what is left between square walls goes to the two infills") {
  const FitResult f = fit(room_with_run(40, {600, 600, 600, 600, 500}));
  CHECK(*f.clear == doctest::Approx(3000).epsilon(1e-6));
  CHECK(f.units == 2900);
  CHECK(*f.left_over == doctest::Approx(100).epsilon(1e-6));
  CHECK(*f.infill_left == doctest::Approx(40).epsilon(1e-6));
  CHECK(*f.infill_right == doctest::Approx(60).epsilon(1e-6));
  CHECK(*f.taper == doctest::Approx(0).epsilon(1e-6));
  CHECK(f.verdict == Verdict::within);
}

// The right wall comes in 40 over 2,000, so 40 * 560 / 2000 = 11.2 over the units' depth.
TEST_CASE("a side wall out of square narrows the room over the units' depth") {
  const FitResult f = fit(room_with_run(40, {600, 600, 600, 600, 500}, 40));
  CHECK(*f.infill_right == doctest::Approx(60 - 11.2).epsilon(1e-4));
  CHECK(*f.clear == doctest::Approx(3000 - 11.2).epsilon(1e-5));
  CHECK(*f.taper == doctest::Approx(11.2).epsilon(1e-3));
}

TEST_CASE("a proud side wall, its finish to come and a skirting that stays all take width") {
  Survey survey = room_with_run(40, {600, 600, 600, 600, 500});
  Wall& right = survey.rooms[0].walls[1];
  right.finish = {{"skim", 3, {}, {}, {}}};
  right.skirting = Wall::Skirting{100, 15, true};
  Instrument gauge;
  gauge.id = "GA";
  gauge.sd = 0.5;
  survey.instruments.push_back(gauge);
  // Chord 60 to 60, proud by 4 at 400 along.
  right.offsets = {{50, 900, 60, 2}, {400, 900, 56, 2}, {1950, 900, 60, 2}};
  CHECK(*fit(survey).infill_right == doctest::Approx(60 - 3 - 15 - 4).epsilon(1e-4));
}

TEST_CASE("a run too long for its walls is a hold, with numbers") {
  const Survey survey = room_with_run(40, {600, 600, 600, 600, 600});
  CHECK(fit(survey).verdict == Verdict::outside);
  const Results results = solve(survey);
  const Finding* hold = finding(results, "no room for an infill");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(*hold->measured == doctest::Approx(-40).epsilon(1e-5));
  CHECK(*hold->limit == 20);
}

TEST_CASE("a door hinged at the wall needs room for its handle") {
  Survey survey = room_with_run(28, {600, 600, 600, 600, 500});
  CHECK(fit(survey).verdict == Verdict::within);
  survey.rooms[0].runs[0].units[0].hinge = Hinge::left;
  CHECK(fit(survey).verdict == Verdict::outside);
  const Results results = solve(survey);
  CHECK(finding(results, "no room for an infill")->source == "handle of this job");
}

TEST_CASE("open ends and ends far from a wall need no infill") {
  Survey survey = room_with_run(40, {600, 600});
  const FitResult f = fit(survey);
  CHECK(f.infill_left);
  CHECK_FALSE(f.infill_right);
  CHECK_FALSE(f.clear);
  survey.rooms[0].runs[0].starts_at = RunEnd::open;
  CHECK_FALSE(fit(survey).verdict);
}
