#include <doctest/doctest.h>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// A level floor; a waste pipe of a bore that runs `length` along x and drops by `drop`.
Survey with_waste(double length, double drop, double diameter = 40) {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 4000, 1200, 400, [](double, double) { return 0.0; });
  add_run(survey, "R", 2);
  Service waste;
  waste.id = "W";
  waste.kind = ServiceKind::waste;
  waste.place = Place{{}, 0, 0, 100, -50, 20};
  waste.height = MeasuredHeight{400, {}};
  waste.diameter = diameter;
  // Round one corner: the length counts along the route.
  waste.route = {{Place{{}, 0, 0, 100 + length - 300, -50, 20}, {400 - drop / 2, {}}}};
  waste.connects_at = RoutePoint{Place{{}, 0, 0, 100 + length - 300, -350, 20}, {400 - drop, {}}};
  survey.rooms[0].services = {waste};
  return survey;
}

FallResult fall(const Survey& survey) {
  const Results results = solve(survey);
  REQUIRE(results.rooms[0].services.size() == 1);
  REQUIRE(results.rooms[0].services[0].fall);
  return *results.rooms[0].services[0].fall;
}

}  // namespace

// Published: Approved Document H (England), table 2, seen second hand: 18 to 90 mm/m, 40 mm bore
// up to 3.0 m, 50 mm up to 4.0 m. The arithmetic is by hand.
TEST_CASE("the fall is the drop over the length of the route, against the published range") {
  const FallResult f = fall(with_waste(2000, 80));
  CHECK(f.length == doctest::Approx(2000).epsilon(1e-9));
  CHECK(f.available == doctest::Approx(40).epsilon(1e-6));
  CHECK(*f.least == 18);
  CHECK(*f.most == 90);
  CHECK(*f.longest == 3000);
  CHECK(f.verdict == Verdict::within);
}

TEST_CASE("too flat, too steep and too long are asked about, each with its source") {
  const struct {
    double length, drop, diameter;
    const char* code;
  } cases[] = {{2000, 20, 40, "waste falls too little"},  // 10 mm/m
               {1000, 120, 40, "waste falls too much"},   // 120 mm/m
               {3400, 100, 40, "waste runs too far"},     // over 3.0 m
               {1900, 60, 32, "waste runs too far"}};     // over 1.7 m
  for (const auto& c : cases) {
    CAPTURE(c.code);
    const Results results = solve(with_waste(c.length, c.drop, c.diameter));
    const Finding* query = finding(results, c.code);
    REQUIRE(query);
    CHECK(query->severity == Severity::query);
    CHECK(query->source.find("Approved Document H") != std::string::npos);
    CHECK(query->remedy.find("local code") != std::string::npos);
  }
  CHECK_FALSE(finding(solve(with_waste(3400, 100, 50)), "waste runs too far"));
}

TEST_CASE("a bore that no row gives has a fall and no verdict") {
  const FallResult f = fall(with_waste(2000, 80, 110));
  CHECK(f.available == doctest::Approx(40).epsilon(1e-6));
  CHECK_FALSE(f.verdict);
  CHECK_FALSE(f.least);
}

TEST_CASE("a waste without a place to connect to has no fall") {
  Survey survey = with_waste(2000, 80);
  survey.rooms[0].services[0].connects_at.reset();
  CHECK_FALSE(solve(survey).rooms[0].services[0].fall);
}

// Approved Document H (England), table 2, seen second hand.
TEST_CASE("each bore has its published longest branch, and all the same range of falls") {
  const struct { double diameter, longest; } rows[] = {{32, 1700}, {40, 3000}, {50, 4000}};
  for (const auto& [diameter, longest] : rows) {
    const auto& diameter_of_case = diameter;
    CAPTURE(diameter_of_case);
    const FallResult f = fall(with_waste(1500, 60, diameter));
    CHECK(f.longest == longest);
    CHECK(f.least == 18);  // 1 in 55.6
    CHECK(f.most == 90);   // 1 in 11.1
    CHECK_FALSE(finding(solve(with_waste(longest - 100, 120, diameter)), "waste runs too far"));
    CHECK(finding(solve(with_waste(longest + 100, 120, diameter)), "waste runs too far"));
  }
}

TEST_CASE("falls well inside the published range pass, falls well beyond it do not") {
  const struct {
    double drop;  // over 1,500
    Verdict verdict;
  } rows[] = {{15, Verdict::outside},    // 10 mm/m
              {36, Verdict::within},     // 24: 18 and three sds of 1.9
              {120, Verdict::within},    // 80
              {150, Verdict::outside}};  // 100
  for (const auto& [drop, verdict] : rows) {
    const auto& drop_of_case = drop;
    CAPTURE(drop_of_case);
    CHECK(fall(with_waste(1500, drop)).verdict == verdict);
  }
}
