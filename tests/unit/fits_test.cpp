#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "tests/unit/run_in_room.h"

using namespace levelrun;

namespace {

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

// 3,000 between the walls, the run from 90 with 2,900 of units: 90 at the left, 10 at the right.
TEST_CASE("what is left for an infill is said with its sum, and where the limit comes from") {
  Survey survey = room_with_run(90, {600, 600, 600, 600, 500});
  const Results usual = solve(survey);
  const Finding* narrow = finding(usual, "no room for an infill");
  REQUIRE(narrow);
  CHECK(narrow->says.find("(3000.0 − 2990.0 = 10.0); it needs 20, usual for an infill.") !=
        std::string::npos);
  CHECK(narrow->source == "the usual infill; common practice, no source");
  survey.rooms[0].runs[0].furniture.infill = {25, 80};
  const Results stated = solve(survey);
  narrow = finding(stated, "no room for an infill");
  REQUIRE(narrow);
  CHECK(narrow->says.find("it needs 25, as this job says.") != std::string::npos);
  CHECK(narrow->source == "infill of this job");
  const Finding* wide = finding(stated, "gap too wide for an infill");
  REQUIRE(wide);
  CHECK(wide->says.find("(90.0 − 0.0 = 90.0); an infill covers 80, as this job says.") !=
        std::string::npos);
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

TEST_CASE("the sum of a fit is what is left over, or the gap at its one wall") {
  CHECK(fit(room_with_run(40, {600, 600, 600, 600, 500})).sum == "3000.0 − 2900.0 = 100.0");
  CHECK(fit(room_with_run(40, {600, 600})).sum == "40.0 − 0.0 = 40.0");
}

// The right wall's top comes in 10 between 900 and 2,000. Base units end at 150 + 720 + 38 = 908.
TEST_CASE("a wall that leans in takes width from tall units, not from base units") {
  Survey survey = room_with_run(40, {600, 600, 600, 600, 500});
  Wall& right = survey.rooms[0].walls[1];
  right.offsets = {{50, 900, 60, 1}, {1950, 900, 60, 1}, {50, 2000, 50, 1}, {1950, 2000, 50, 1}};
  CHECK(*fit(survey).infill_right == doctest::Approx(60 - 10 * 8 / 1100.0).epsilon(1e-5));
  Unit& last = survey.rooms[0].runs[0].units.back();
  last.kind = UnitKind::tall;
  last.height = 2100;
  CHECK(*fit(survey).infill_right == doctest::Approx(50).epsilon(1e-5));
  CHECK(*fit(survey).infill_left == doctest::Approx(40).epsilon(1e-5));
}

// 10 less over 1,200: −8.33 mm/m as read; with 0 ± 4 mm/m before, each reading ± 0.5:
// 24 / (2.88 + 1 / 16) = 8.16. Tall units end at 150 + 2,100: 1.35 m above 900, so 11.0 less.
TEST_CASE("without offsets the lean of the side walls is what lengths lose with height") {
  Survey survey = room_with_run(40, {600, 600, 600, 600, 500});
  survey.rooms[0].walls[0].lengths.push_back({2100, 0, 2990, 1});
  CHECK(*fit(survey).clear == doctest::Approx(3000).epsilon(2e-4));
  for (Unit& unit : survey.rooms[0].runs[0].units) {
    unit.kind = UnitKind::tall;
    unit.height = 2100;
  }
  CHECK(std::abs(*fit(survey).clear - 2989) < 0.3);
  // Once the left wall's own offsets say that it does not lean, the right one has it all.
  survey.rooms[0].walls[3].offsets = {
      {50, 900, 60, 1}, {1950, 900, 60, 1}, {50, 2000, 60, 1}, {1950, 2000, 60, 1}};
  CHECK(std::abs(*fit(survey).infill_left - 40) < 0.1);
  CHECK(std::abs(*fit(survey).infill_right - 49) < 0.3);
}

TEST_CASE("finishes and boards take width only at their own heights and places") {
  Survey survey = room_with_run(40, {600, 600, 600, 600, 500});
  Room& room = survey.rooms[0];
  room.walls[1].finish = {{"tile", 10, {}, 1000, {}}};
  CHECK(*fit(survey).infill_right == doctest::Approx(60).epsilon(1e-5));
  room.walls[1].finish[0].from_height = 900;
  CHECK(*fit(survey).infill_right == doctest::Approx(50).epsilon(1e-5));
  Opening window;
  window.id = "side window";
  window.wall = 1;
  window.kind = OpeningKind::window;
  window.width = 600;
  window.left = 300;
  window.sill.value = 850;
  window.height = 1000;
  window.board = Opening::Board{35, 22};
  room.openings = {window};
  CHECK(*fit(survey).infill_right == doctest::Approx(60 - 35).epsilon(1e-5));
  // Beyond the units' depth it is in nobody's way there.
  room.openings[0].left = 600;
  CHECK(*fit(survey).infill_right == doctest::Approx(50).epsilon(1e-5));
}

TEST_CASE("an infill that is a unit of the run is the infill") {
  Survey survey = room_with_run(2, {45, 600, 600, 600, 600, 493});
  survey.rooms[0].runs[0].units[0].kind = UnitKind::infill;
  const FitResult f = fit(survey);
  CHECK(*f.infill_left == doctest::Approx(47).epsilon(1e-5));
  CHECK(f.verdict == Verdict::within);
  survey.rooms[0].runs[0].units[0].kind = UnitKind::base;
  CHECK(fit(survey).verdict == Verdict::outside);
}

// Closing in 40 over 2,000: 11.2 where a depth of 560 ends, 22.4 a depth further out. Inside are
// 2,988.8, the way in is 2,977.6 wide.
TEST_CASE("the last unit must pass the walls that close in before it") {
  struct {
    double from, width;
    Verdict verdict;
  } const cases[] = {{10, 2970, Verdict::within}, {4, 2980, Verdict::outside}};
  for (const auto& c : cases) {
    CAPTURE(c.width);
    Survey survey = room_with_run(c.from, {c.width}, 40);
    survey.rooms[0].runs[0].furniture.infill.min = 0;
    CHECK(fit(survey).verdict == Verdict::within);
    const Results results = solve(survey);
    const ClearanceResult* way = clearance(results, "last unit's way in");
    REQUIRE(way);
    CHECK(*way->clear == doctest::Approx(2977.6).epsilon(1e-5));
    CHECK(way->needed == c.width + 2);  // mm of play: common practice, no source
    CHECK(way->verdict == c.verdict);
    CHECK(bool(finding(results, "last unit does not go in")) == (c.verdict == Verdict::outside));
  }
}

Service radiator(const char* id, Index wall, double along) {
  Service service;
  service.id = id;
  service.kind = ServiceKind::radiator;
  service.place = Place{wall, along, 0, 0, 0, 5};
  service.height = MeasuredHeight{400, {}};
  service.width = 300;
  service.height_of = 500;
  service.projection = 90;
  return service;
}

// Radiators 90 out on both side walls, 800 from the corners: before the units, 560 deep.
TEST_CASE("with a middle one last, what stands before the ends is passed first") {
  Survey survey = room_with_run(40, {600, 600, 600, 600, 500});
  survey.rooms[0].services = {radiator("H1", 1, 800), radiator("H2", 3, 1200)};
  Results results = solve(survey);
  CHECK(*clearance(results, "last unit's way in")->clear == doctest::Approx(700).epsilon(1e-5));
  const Finding* note = finding(results, "set the end units first");
  CHECK_FALSE(note);  // 100 to spare, 90 in the way
  for (Service& each : survey.rooms[0].services) each.projection = 130;
  results = solve(survey);
  note = finding(results, "set the end units first");
  REQUIRE(note);
  CHECK(note->severity == Severity::note);
  CHECK(note->says.find("H") != std::string::npos);
  // Two units have no middle one.
  survey.rooms[0].runs[0].units = {unit_of("U1", 1500), unit_of("U2", 1400)};
  results = solve(survey);
  CHECK(clearance(results, "last unit's way in")->verdict == Verdict::outside);
  CHECK(finding(results, "last unit does not go in")->severity == Severity::hold);
}

TEST_CASE("drawers and doors at the end must clear what stands on the side wall before them") {
  Survey survey = room_with_run(40, {600, 600, 600, 600, 500});
  survey.rooms[0].services = {radiator("H1", 1, 800)};
  CHECK_FALSE(clearance(solve(survey), "opening beside the wall"));
  survey.rooms[0].runs[0].units.back().drawers = true;
  const Results drawers = solve(survey);
  CHECK(*clearance(drawers, "opening beside the wall")->clear ==
        doctest::Approx(60 - 90).epsilon(1e-4));
  CHECK(finding(drawers, "drawers strike the side wall")->severity == Severity::hold);
  survey.rooms[0].services[0].projection = 30;  // leaves 30: drawers pass, a door's handle does not
  CHECK(clearance(solve(survey), "opening beside the wall")->verdict == Verdict::within);
  survey.rooms[0].runs[0].units.back().hinge = Hinge::right;
  CHECK(finding(solve(survey), "door strikes the side wall"));
}

// R runs through the corner; its fronts stand at 560 + 18 = 578 from W1.
TEST_CASE("at an inside corner drawers need a post as wide as the handles stand out") {
  struct {
    double from, post;
    Verdict verdict;
    std::optional<Severity> finding;
  } const cases[] = {{578, 0, Verdict::outside, Severity::query},
                     {560, 0, Verdict::outside, Severity::hold},
                     {578, 40, Verdict::within, {}},
                     {618, 0, Verdict::within, {}}};
  for (const auto& c : cases) {
    CAPTURE(c.from);
    CAPTURE(c.post);
    Survey survey = room_with_run(40, {600, 600, 600, 600, 500});
    survey.rooms[0].runs[0].ends_at = RunEnd::corner;
    Run& other = add_run(survey, "T", 2);
    other.wall = 1;
    other.from_along = c.from;
    other.starts_at = RunEnd::corner;
    other.ends_at = RunEnd::open;
    other.units[0].drawers = true;
    if (c.post > 0)
      other.units.insert(other.units.begin(), unit_of("TP", c.post, UnitKind::corner_post));
    const Results results = solve(survey);
    const ClearanceResult* corner = clearance(results, "clear of the other run's fronts");
    REQUIRE(corner);
    CHECK(*corner->clear == doctest::Approx(c.from + c.post - 578).epsilon(1e-4));
    CHECK(corner->needed == 35);  // the handle
    CHECK(corner->verdict == c.verdict);
    const Finding* f = finding(results, "no room for a corner post");
    REQUIRE(bool(f) == c.finding.has_value());
    if (f) CHECK(f->severity == *c.finding);
    // R passes behind: it is not asked.
    const auto& all = results.rooms[0].clearances;
    CHECK(std::count_if(all.begin(), all.end(), [](const ClearanceResult& one) {
            return one.what == "clear of the other run's fronts";
          }) == 1);
  }
}

TEST_CASE("units keep clear of doors on their own wall and of architraves") {
  Survey survey = room_with_run(40, {600, 600, 600});  // 40 to 1,840
  survey.rooms[0].runs[0].ends_at = RunEnd::open;
  Opening door;
  door.id = "door";
  door.left = 1940;
  door.width = 800;
  door.height = 2000;
  door.architrave = 60;
  survey.rooms[0].openings = {door};
  {
    const Results results = solve(survey);
    const ClearanceResult* c = clearance(results, "clear of the architrave of door");
    REQUIRE(c);
    CHECK(*c->clear == 40);
    CHECK(c->verdict == Verdict::within);
    CHECK(c->at == "/rooms/0/runs/0/units/2");
  }
  survey.rooms[0].openings[0].left = 1880;
  CHECK(finding(solve(survey), "unit over an architrave")->severity == Severity::query);
  survey.rooms[0].openings[0].left = 1640;
  const Results over = solve(survey);
  CHECK(finding(over, "unit over an opening")->severity == Severity::hold);
  CHECK(*finding(over, "unit over an opening")->measured == 200);
  // Under a window base units stand well; tall ones do not.
  survey.rooms[0].openings[0].kind = OpeningKind::window;
  survey.rooms[0].openings[0].sill.value = 1100;
  CHECK_FALSE(finding(solve(survey), "unit over an opening"));
  survey.rooms[0].runs[0].units[2].kind = UnitKind::tall;
  survey.rooms[0].runs[0].units[2].height = 2000;
  CHECK(finding(solve(survey), "unit over an opening"));
}
