#include "checks/worktops.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/square_room.h"

using namespace levelrun;

namespace {

constexpr Index gauge = 2;  // instrument

// A room 3,000 wide with 4 units of 600 and one of 500 on W1 from 40 along: 60 are left at the
// right. The wall is `hollow` deep at its middle, read with a gauge.
Survey kitchen(double hollow = 0, double depth = 2500) {
  Survey survey = square_room(3000, depth);
  Instrument by_gauge;
  by_gauge.id = "GA";
  by_gauge.sd = 0.5;
  survey.instruments.push_back(by_gauge);
  survey.rooms[0].walls[0].offsets = {
      {40, 900, 60, gauge}, {1490, 900, 60 + hollow, gauge}, {2940, 900, 60, gauge}};
  add_wall_run(survey, "S", 0, 40, 4).units.push_back(unit_of("S5", 500));
  return survey;
}

WorktopResult top(const Survey& survey) {
  const Results results = solve(survey);
  REQUIRE(results.rooms[0].worktops.size() == 1);
  return results.rooms[0].worktops[0];
}

}  // namespace

// 40 + 2,900 + 60 from wall to wall; 600 deep on fronts that stand 560 + 18 = 578 out.
TEST_CASE("a worktop between two flat walls is as long as the room and loses no depth") {
  const WorktopResult t = top(kitchen());
  CHECK(*t.length == doctest::Approx(3000).epsilon(1e-6));
  CHECK(*t.depth_left == doctest::Approx(600).epsilon(1e-9));
  CHECK(*t.overhang == doctest::Approx(22).epsilon(1e-6));
  CHECK(*t.needed == 588);
  CHECK(*t.scribe == 0);
  CHECK(t.verdict == Verdict::within);
  CHECK_FALSE(t.pieces);
  CHECK(t.sum ==
        "long 40.0 + 2900 + 60.0 = 3000.0; deep 600 − 0.0 = 600.0, needs 560 + 18 + 10 = 588");
}

// Of 600 a hollow of h leaves 600 - h; 588 are needed. Its sd: the middle's 0.5 and half of each
// end's: √(0.5² + 2 · 0.25²) = 0.61, so 586 is outside by more than 1.2 and 587.5 doubtful.
TEST_CASE("a hollow wall takes depth from the worktop") {
  struct Case {
    double hollow;
    Verdict verdict;
  };
  const Case cases[] = {{6, Verdict::within}, {12.5, Verdict::doubtful}, {14, Verdict::outside}};
  for (const Case& c : cases) {
    CAPTURE(c.hollow);
    const Survey survey = kitchen(c.hollow);
    const WorktopResult t = top(survey);
    CHECK(*t.scribe == doctest::Approx(c.hollow).epsilon(1e-6));
    CHECK(*t.depth_left == doctest::Approx(600 - c.hollow).epsilon(1e-9));
    CHECK(*t.depth_sd == doctest::Approx(std::sqrt(0.25 + 2 * 0.0625)).epsilon(1e-6));
    CHECK(t.verdict == c.verdict);
    const Results results = solve(survey);
    const Finding* f = finding(results, "worktop too shallow after scribing");
    CHECK((f != nullptr) == (c.verdict != Verdict::within));
    if (f) CHECK(f->severity == (c.hollow > 13 ? Severity::hold : Severity::query));
    const ClearanceResult* entry = clearance(results.rooms[0], "worktop depth after scribing");
    REQUIRE(entry);
    CHECK(*entry->clear == *t.depth_left);
    CHECK(entry->needed == 588);
  }
}

TEST_CASE("an upstand or a splash back thicker than the gap saves the scribe") {
  for (const bool splash : {false, true}) {
    CAPTURE(splash);
    Survey survey = kitchen(14);
    if (splash)
      survey.rooms[0].walls[0].finish = {{"splash back", 20, {}, 908, {}}};
    else
      survey.rooms[0].runs[0].furniture.worktop.upstand = Furniture::Worktop::Upstand{60, 20};
    const WorktopResult t = top(survey);
    CHECK(t.covered);
    CHECK(*t.scribe == 0);
    CHECK(*t.depth_left == doctest::Approx(600).epsilon(1e-9));
    CHECK(t.verdict == Verdict::within);
  }
  // One of 12 hides no gap of 14.
  Survey survey = kitchen(14);
  survey.rooms[0].runs[0].furniture.worktop.upstand = Furniture::Worktop::Upstand{60, 12};
  CHECK_FALSE(top(survey).covered);
  CHECK(*top(survey).scribe == doctest::Approx(14).epsilon(1e-6));
}

// Units that touch the wall lower down stand off it at worktop height, all along.
TEST_CASE("a wall that leans away takes depth though there is nothing to scribe") {
  Survey survey = kitchen();
  auto& offsets = survey.rooms[0].walls[0].offsets;
  for (const double along : {40.0, 1490.0, 2940.0}) offsets.push_back({along, 100, 55, gauge});
  const WorktopResult t = top(survey);
  CHECK(*t.scribe == doctest::Approx(0).epsilon(1e-6));
  CHECK(*t.depth_left == doctest::Approx(595).epsilon(1e-6));
}

TEST_CASE("a wall that was not read leaves the depth unknown") {
  Survey survey = kitchen();
  survey.rooms[0].walls[0].offsets.clear();
  const WorktopResult t = top(survey);
  CHECK(t.length);
  CHECK_FALSE(t.depth_left);
  CHECK_FALSE(t.scribe);
  CHECK_FALSE(t.verdict);
}

// 20 + 1,800 + 20; a free top loses nothing.
TEST_CASE("an island's worktop overhangs both open ends as it does its fronts") {
  Survey survey = square_room(3000, 4000);
  Run& island = add_run(survey, "I", 3, 600, 500, -1700);
  island.starts_at = island.ends_at = RunEnd::open;
  const WorktopResult t = top(survey);
  CHECK(*t.length == 1840);
  CHECK(*t.length_sd == 0);
  CHECK(*t.depth_left == 600);
  CHECK(*t.needed == 588);
  CHECK(t.verdict == Verdict::within);
}

TEST_CASE("a tall unit parts the worktop, and what stands beyond it has its own") {
  Survey survey = kitchen();
  Unit& tall = survey.rooms[0].runs[0].units[2];
  tall.kind = UnitKind::tall;
  tall.height = 2100;
  const Results results = solve(survey);
  const auto& tops = results.rooms[0].worktops;
  REQUIRE(tops.size() == 2);
  CHECK(*tops[0].length == doctest::Approx(40 + 1200).epsilon(1e-6));  // flush at the tall unit
  CHECK(*tops[1].length == doctest::Approx(1100 + 60).epsilon(1e-6));
  CHECK(tops[1].from == 1800);
  CHECK(tops[1].piece == 2);
}

TEST_CASE("stone and the like get no cutting sizes but a template") {
  struct Case {
    const char* material;
    bool by_template;
  };
  const Case cases[] = {{"Granite", true},
                        {"quartz composite", true},
                        {"SOLID SURFACE", true},
                        {"sintered slab", true},
                        {"limestone", true},
                        {"oak", false},
                        {"laminate", false},
                        {"stone-effect laminate", false},
                        {"", false}};
  for (const Case& c : cases) {
    CAPTURE(c.material);
    CHECK(cut_by_template(c.material) == c.by_template);
  }
  Survey survey = kitchen(14);
  survey.rooms[0].runs[0].furniture.worktop.material = "granite";
  const Results results = solve(survey);
  const WorktopResult& t = results.rooms[0].worktops[0];
  CHECK(t.by_template);
  CHECK_FALSE(t.length);
  CHECK_FALSE(t.scribe);
  CHECK_FALSE(t.depth_left);
  CHECK(t.joints.empty());
  CHECK_FALSE(finding(results, "worktop too shallow after scribing"));
  CHECK(finding(results, "worktop by template")->severity == Severity::note);
}

// Both tops reach the back of the corner: 3,000 along W1, and 620 + 1,200 + 20 along W2.
TEST_CASE("two worktops that meet in a corner have its angle between them and half of it each") {
  Survey survey = square_room(3000, 2500);
  add_wall_run(survey, "S", 0, 40, 4).ends_at = RunEnd::corner;
  Run& t_run = add_wall_run(survey, "T", 1, 620, 2);
  t_run.starts_at = RunEnd::corner;
  t_run.ends_at = RunEnd::open;
  const Results results = solve(survey);
  const auto& tops = results.rooms[0].worktops;
  REQUIRE(tops.size() == 2);
  CHECK(*tops[0].length == doctest::Approx(3000).epsilon(1e-6));
  CHECK(*tops[1].length == doctest::Approx(620 + 1200 + 20).epsilon(1e-6));
  const CornerResult& corner = results.rooms[0].corners[1];
  for (const WorktopResult& t : tops) {
    REQUIRE(t.joints.size() == 1);
    CHECK(t.joints[0].kind == "corner");
    CHECK(*t.joints[0].angle == *corner.angle);
    CHECK(*t.joints[0].sd == *corner.sd_angle);
    CHECK(*t.joints[0].mitre == doctest::Approx(45).epsilon(1e-6));
  }
  CHECK(tops[0].joints[0].with == "T");
  CHECK(tops[0].joints[0].along == *tops[0].length);
  CHECK(tops[1].joints[0].along == 0);

  // Where W2 is 8 hollow, T's top is pushed 8 further back before it is scribed.
  survey.rooms[0].walls[1].offsets = {{620, 900, 60, 1}, {1220, 900, 68, 1}, {1820, 900, 60, 1}};
  const Results hollow = solve(survey);
  CHECK(*hollow.rooms[0].worktops[0].length == doctest::Approx(3008).epsilon(1e-6));
  CHECK(*hollow.rooms[0].worktops[1].length == *tops[1].length);
}

// 3,000 of stock 2,000: two pieces, jointed at 2,000 from the left, that is at 1,960 of the
// units: over S4 (1,800 to 2,400). S2 and S3 part at 40 + 1,200, and 1,760 are left to the right.
TEST_CASE("a worktop longer than its stock is jointed, but not over a hob") {
  Survey survey = kitchen();
  Run& run = survey.rooms[0].runs[0];
  run.furniture.worktop.stock_length = 2000;
  CHECK(top(survey).pieces == 2);
  REQUIRE(top(survey).joints.size() == 1);
  CHECK(top(survey).joints[0].along == 2000);
  CHECK_FALSE(finding(solve(survey), "joint over an appliance"));
  run.units[3].houses = "hob";
  const Results results = solve(survey);
  const Finding* note = finding(results, "joint over an appliance");
  REQUIRE(note);
  CHECK(note->severity == Severity::note);
  CHECK(note->says.find("over S4") != std::string::npos);
  CHECK(note->remedy.find("at 1240.") != std::string::npos);
  run.furniture.worktop.stock_length = 3001;
  CHECK(top(survey).pieces == 1);
}

// 560 + 42 void + 18 + 10 = 630.
TEST_CASE("units that stand off the wall need a deeper worktop") {
  Survey survey = kitchen();
  survey.rooms[0].runs[0].furniture.back = BackKind::standing_off;
  CHECK(*top(survey).needed == 630);
  CHECK(top(survey).verdict == Verdict::outside);
  survey.rooms[0].runs[0].furniture.worktop.depth = 650;
  CHECK(top(survey).verdict == Verdict::within);
}
