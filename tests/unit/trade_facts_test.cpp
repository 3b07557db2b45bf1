// Facts of the trade as check values. All: common practice, no source.
#include <doctest/doctest.h>

#include "survey/survey_file.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

TEST_CASE("furniture that a job does not describe is the trade's usual") {
  const Furniture usual;
  CHECK(usual.void_depth == 42);
  CHECK(usual.back_thickness == 18);
  CHECK(usual.plinth.height == 150);
  CHECK(usual.wall_unit.height == 720);
  CHECK(usual.wall_unit.depth == 300);
}

TEST_CASE("a wall unit 300 deep with a 9 back and a 14 void has 277 inside, not the 275 stated") {
  Survey survey = simple_survey();
  survey.furniture.wall_unit.back_thickness = 9;
  survey.furniture.wall_unit.void_depth = 14;
  for (const double height : {575.0, 720.0, 900.0}) {
    survey.furniture.wall_unit.height = height;
    survey.furniture.wall_unit.inside_depth = 275;
    const Results wrong = solve(survey);
    const Finding* query = finding(wrong, "stated parts do not add up");
    REQUIRE(query);
    CHECK(*query->limit == 277);
    CHECK(query->says == "Wall unit: 300 − 9 − 14 = 277, but 275 inside is stated.");
    survey.furniture.wall_unit.inside_depth = 277;
    CHECK_FALSE(finding(solve(survey), "stated parts do not add up"));
  }
}

TEST_CASE("machined joints keep to 0.2, so parts that differ by less add up") {
  Survey survey = simple_survey();
  survey.furniture.wall_unit.back_thickness = 9;
  survey.furniture.wall_unit.void_depth = 14;
  survey.furniture.wall_unit.inside_depth = 276.9;
  CHECK_FALSE(finding(solve(survey), "stated parts do not add up"));
  survey.furniture.wall_unit.inside_depth = 276.6;  // an edging of 0.4 forgotten
  CHECK(finding(solve(survey), "stated parts do not add up"));
}

TEST_CASE("a pipe that needs 42 passes a 42 void, one that needs 60 does not") {
  const Result<SurveyFile> file = read_survey(R"json({
    "format": "levelrun-survey", "version": 1, "job": {"reference": "V-1"},
    "furniture": {"legs": [{"id": "A", "min": 100, "max": 200}]},
    "rooms": [{"id": "K",
      "corners": [{"id": "C1"}, {"id": "C2"}, {"id": "C3"}, {"id": "C4"}],
      "walls": [
        {"id": "W1", "from": "C1", "to": "C2", "lengths": [{"height": 900, "length": 4000}]},
        {"id": "W2", "from": "C2", "to": "C3", "lengths": [{"height": 900, "length": 3000}]},
        {"id": "W3", "from": "C3", "to": "C4", "lengths": [{"height": 900, "length": 4000}]},
        {"id": "W4", "from": "C4", "to": "C1", "lengths": [{"height": 900, "length": 3000}]}],
      "diagonals": [{"from": "C1", "to": "C3", "length": 5000}],
      "levels": {"benchmark": {"point": "BM"},
        "points": [{"id": "BM", "off_floor": true},
          {"id": "P1", "place": {"wall": "W1", "along": 100, "out": 100}},
          {"id": "P2", "place": {"wall": "W1", "along": 1200, "out": 500}},
          {"id": "P3", "place": {"wall": "W1", "along": 2400, "out": 100}},
          {"id": "P4", "place": {"wall": "W1", "along": 3600, "out": 500}}],
        "setups": [{"id": "S", "readings": [{"point": "BM", "staff": 1000},
          {"point": "P1", "staff": 1000}, {"point": "P2", "staff": 1000},
          {"point": "P3", "staff": 1000}, {"point": "P4", "staff": 1000}]}]},
      "services": [
        {"id": "CW", "kind": "cold_water", "wall": "W1", "along": 300, "height": 500,
         "projection": 30},
        {"id": "WA", "kind": "waste", "wall": "W1", "along": 900, "height": 500,
         "projection": 60, "diameter": 40},
        {"id": "SO", "kind": "socket", "wall": "W1", "along": 900, "height": 1150,
         "projection": 60}],
      "runs": [{"id": "R", "wall": "W1", "from_along": 0, "units": [
        {"id": "U1", "kind": "base", "width": 600}, {"id": "U2", "kind": "base", "width": 600}]}]
    }]})json");
  REQUIRE(file.ok());
  const Results results = solve(file.value().survey);
  const auto& services = results.rooms[0].services;
  REQUIRE(services.size() == 3);
  CHECK(services[0].verdict == Verdict::within);
  CHECK(services[0].units == std::vector<std::string>{"U1"});
  CHECK(services[1].verdict == Verdict::outside);
  CHECK(*services[1].void_here == doctest::Approx(42));
  CHECK(*services[1].void_needed == 60);
  CHECK(services[2].units.empty());
  CHECK(services[2].height_zone == "above the units");
  const Finding* hold = finding(results, "void too shallow");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(hold->says.find("WA") != std::string::npos);
}
