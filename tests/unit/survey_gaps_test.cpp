#include <doctest/doctest.h>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

Survey kitchen() {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 3000, 1200, 400, [](double, double) { return 0.0; });
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
  room.diagonals = {{0, 2, 5000, 900, {}}, {1, 3, 5000, 900, {}}};
  Run& run = add_run(survey, "R", 4);
  run.wall = 0;
  run.from_along = 40;
  run.ends_at = RunEnd::open;
  return survey;
}

}  // namespace

TEST_CASE("base units without any leg type are a hold, not silence") {
  Survey survey = kitchen();
  CHECK_FALSE(finding(solve(survey), "no leg type named"));
  survey.rooms[0].runs[0].furniture.legs.clear();
  const Results results = solve(survey);
  const Finding* hold = finding(results, "no leg type named");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(hold->says.starts_with("R1, R2, R3, R4"));
}

TEST_CASE("points that were placed and never read are named") {
  Survey survey = kitchen();
  survey.rooms[0].levels.setups[0].readings.pop_back();
  const Results results = solve(survey);
  const Finding* query = finding(results, "points without a reading");
  REQUIRE(query);
  CHECK(query->says.find(survey.rooms[0].levels.points.back().id) != std::string::npos);
}

TEST_CASE("a floor point far outside the walls is asked about, one in a threshold is not") {
  Survey survey = kitchen();
  survey.rooms[0].levels.points[5].place = Place{{}, 0, 0, 16500, -400, 20};
  const Results far = solve(survey);
  REQUIRE(finding(far, "floor point outside the room"));
  survey.rooms[0].levels.points[5].place = Place{{}, 0, 0, 500, 150, 20};
  CHECK_FALSE(finding(solve(survey), "floor point outside the room"));
}

TEST_CASE("a run that leaves its wall is a hold") {
  Survey survey = kitchen();
  CHECK_FALSE(finding(solve(survey), "run longer than its wall"));
  for (int i = 5; i <= 7; ++i)
    survey.rooms[0].runs[0].units.push_back(unit_of("R" + std::to_string(i), 600));
  const Results results = solve(survey);  // 40 + 4,200 on a wall of 4,000
  const Finding* hold = finding(results, "run longer than its wall");
  REQUIRE(hold);
  CHECK(*hold->measured == doctest::Approx(4240));
  CHECK(*hold->limit == doctest::Approx(4000).epsilon(1e-6));
}

TEST_CASE("a leg's sum adds up to the last digit that is printed") {
  Survey survey = kitchen();
  survey.rooms[0].flooring.laid = {laid_layer(12.3, LaidTo::wall), laid_layer(4.6, LaidTo::wall)};
  for (Index i = 0; i < survey.rooms[0].levels.setups[0].readings.size(); ++i)
    survey.rooms[0].levels.setups[0].readings[i].staff += 0.37 * double(i % 7);
  const Results results = solve(survey);
  const auto tenths = [](std::string text) {
    double sign = 1;
    std::string digits;
    if (text.find("−") != std::string::npos) sign = -1;
    for (const char c : text)
      if (c >= '0' && c <= '9') digits += c;
    return sign * std::stod(digits);
  };
  for (const LegResult& leg : results.rooms[0].legs) {
    CAPTURE(leg.sum);
    // "U − bare − a − b = height": terms stand between " − " and " = ".
    std::string left = leg.sum.substr(0, leg.sum.find(" = "));
    const double right = tenths(leg.sum.substr(leg.sum.find(" = ") + 3));
    double total = 0;
    bool first = true;
    for (std::size_t at = 0; at != std::string::npos;) {
      const std::size_t next = left.find(" − ", at);
      const double t = tenths(left.substr(at, next - at));
      total += first ? t : -t;
      first = false;
      at = next == std::string::npos ? next : next + std::string(" − ").size();
    }
    CHECK(total == right);
  }
}
