#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/run_in_room.h"

using namespace levelrun;

namespace {

Survey room_with_tall_unit(std::optional<double> ceiling) {
  Survey survey = room_with_run(40, {600, 600});
  Run& run = survey.rooms[0].runs[0];
  run.ends_at = RunEnd::open;
  run.units[0].kind = UnitKind::tall;
  run.units[0].height = 2100;
  run.units[0].depth = 580;
  if (ceiling) measure_ceiling(survey, 500, -500, *ceiling);
  return survey;
}

}  // namespace

// √(2100² + 580²) = √4746400 = 2178.6; on legs of 150 √(2250² + 580²) = √5398900 = 2323.6;
// lifted onto them 2100 + 150 + 10 = 2260.
TEST_CASE("a tall unit is tilted up along its diagonal, legs on or off") {
  struct {
    double ceiling;
    Verdict on, off, lift;
    std::optional<Severity> severity;
  } const cases[] = {
      {2340, Verdict::within, Verdict::within, Verdict::within, {}},
      {2300, Verdict::outside, Verdict::within, Verdict::within, Severity::note},
      {2262, Verdict::outside, Verdict::within, Verdict::doubtful, Severity::query},
      {2200, Verdict::outside, Verdict::within, Verdict::outside, Severity::hold},
      {2165, Verdict::outside, Verdict::outside, Verdict::outside, Severity::hold},
  };
  for (const auto& c : cases) {
    CAPTURE(c.ceiling);
    const Results results = solve(room_with_tall_unit(c.ceiling));
    const ClearanceResult* on = clearance(results, "tilting up with legs on");
    const ClearanceResult* off = clearance(results, "tilting up with legs off");
    const ClearanceResult* lift = clearance(results, "lifting onto its legs");
    REQUIRE((on && off && lift));
    CHECK(std::abs(on->needed - 2323.6) < 0.05);
    CHECK(std::abs(off->needed - 2178.6) < 0.05);
    CHECK(off->sum == "√(2100.0² + 580.0²) = 2178.6");
    CHECK(lift->needed == 2260);
    CHECK(std::abs(*on->clear - c.ceiling) < 0.5);
    CHECK(on->verdict == c.on);
    CHECK(off->verdict == c.off);
    CHECK(lift->verdict == c.lift);
    const Finding* f =
        finding(results, c.severity == Severity::note ? "tall unit tilts up with its legs off"
                                                      : "tall unit does not tilt up");
    REQUIRE(bool(f) == c.severity.has_value());
    if (f) CHECK(f->severity == *c.severity);
  }
}

TEST_CASE("legs as supplied count instead of the plinth") {
  Survey survey = room_with_tall_unit(2340);
  survey.rooms[0].runs[0].furniture.legs[0].supplied = 120;
  CHECK(clearance(solve(survey), "lifting onto its legs")->needed == 2230);
}

TEST_CASE("a new floor takes from the room to tilt, and not from the ceiling over the benchmark") {
  Survey survey = room_with_tall_unit(2340);
  survey.rooms[0].flooring.laid = {laid_layer(25, LaidTo::front_legs)};
  CHECK(std::abs(*clearance(solve(survey), "tilting up with legs on")->clear - 2315) < 0.5);
}

TEST_CASE("the lowest ceiling within 1.5 m counts, else the lowest of the room") {
  Survey survey = room_with_tall_unit(2400);
  measure_ceiling(survey, 900, -900, 2390);
  measure_ceiling(survey, 2900, -1100, 2350);  // 2.6 m off
  CHECK(std::abs(*clearance(solve(survey), "tilting up with legs on")->clear - 2390) < 0.5);
  survey.rooms[0].ceilings.erase(survey.rooms[0].ceilings.begin(),
                                 survey.rooms[0].ceilings.begin() + 2);
  CHECK(std::abs(*clearance(solve(survey), "tilting up with legs on")->clear - 2350) < 0.5);
}

TEST_CASE("without a ceiling there is no number, and a note asks for it") {
  const Results results = solve(room_with_tall_unit({}));
  const ClearanceResult* on = clearance(results, "tilting up with legs on");
  REQUIRE(on);
  CHECK_FALSE(on->clear);
  CHECK_FALSE(on->verdict);
  const Finding* note = finding(results, "ceiling not measured at tall units");
  REQUIRE(note);
  CHECK(note->severity == Severity::note);
  CHECK(note->says.find("U1") != std::string::npos);
}

TEST_CASE("standing height and coving count the cornice above U") {
  Survey survey = room_with_tall_unit(2400);
  survey.rooms[0].runs[0].furniture.cornice = 40;
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{150, "A. Fitter", ""};
  survey.rooms[0].level_groups = {group};
  survey.rooms[0].walls[0].coving_drop = 100;
  const Results results = solve(survey);
  CHECK(std::abs(clearance(results, "standing height")->needed - 2290) < 0.5);
  CHECK(clearance(results, "standing height")->verdict == Verdict::within);
  // 2400 - 100 - (150 + 2100 + 40) = 10
  CHECK(std::abs(*clearance(results, "clear of the coving")->clear - 10) < 0.5);
  survey.rooms[0].walls[0].coving_drop = 130;
  CHECK(finding(solve(survey), "tall unit into the coving")->severity == Severity::query);
}
