#include <doctest/doctest.h>

#include <algorithm>

#include "checks/round_numbers.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// 4,000 by 3,000 true to the millimetre, run S of six base units along W1, everything measured.
Survey kitchen() {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 250)};
  read_grid(survey, 3900, 1200, 300, [](double, double) { return 0.0; });
  survey.rooms[0].levels.setups[0].readings.push_back({0, 1000, {}});  // the benchmark at the end
  Room& room = survey.rooms[0];
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  for (Index i = 0; i < 4; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    for (const double height : {100.0, 900.0, 2000.0})
      wall.lengths.push_back({height, 0, i % 2 ? 3000.0 : 4000.0, {}});
    for (const double height : {100.0, 900.0, 2000.0})
      for (double along = 100; along < 3000; along += 400)
        wall.offsets.push_back({along, height, 60, {}});
    room.walls.push_back(wall);
  }
  for (int twice = 0; twice < 2; ++twice) {
    room.diagonals.push_back({0, 2, 5000, 900, {}});
    room.diagonals.push_back({1, 3, 5000, 900, {}});
  }
  room.ceilings.push_back({Place{{}, 0, 0, 2000, -300, 20}, {2400, {}}, {}});
  Run& run = add_run(survey, "S", 6);
  run.wall = 0;
  run.from_along = 40;
  run.ends_at = RunEnd::open;
  return survey;
}

const MissingResult* missing(const Results& results, const std::string& what) {
  for (const MissingResult& m : results.rooms[0].missing)
    if (m.what == what) return &m;
  return nullptr;
}

struct Loss {
  const char* what;  // is then asked for
  void (*lose)(Survey&);
  bool query;
};

}  // namespace

TEST_CASE("a room that was measured in full misses nothing") {
  const Results results = solve(kitchen());
  for (const MissingResult& m : results.rooms[0].missing) FAIL_CHECK(m.what << ": " << m.why);
  CHECK_FALSE(finding(results, "still to measure"));
}

TEST_CASE("what is taken out of the survey is asked for by its name") {
  const Loss losses[] = {
      {"length of W3", [](Survey& s) { s.rooms[0].walls[2].lengths.clear(); }, true},
      {"length of W3",
       [](Survey& s) {
         s.rooms[0].walls[2].lengths.clear();
         s.rooms[0].walls[2].furnished = false;
       },
       false},
      {"length of W1 at another height",
       [](Survey& s) {
         s.rooms[0].walls[0].lengths.resize(1);
         s.rooms[0].walls[3].offsets.clear();
       },
       false},
      {"offsets of W1 behind run S", [](Survey& s) { s.rooms[0].walls[0].offsets.clear(); }, true},
      {"offsets of W1 at a second height",
       [](Survey& s) {
         s.rooms[0].walls[0].offsets.resize(8);
         s.rooms[0].runs[0].units[0].kind = UnitKind::tall;
       },
       true},
      {"offsets of W1 from a plumb plane",
       [](Survey& s) {
         s.rooms[0].walls[0].offsets_from = OffsetsFrom::line;
         s.rooms[0].runs[0].units[0].kind = UnitKind::wall;
       },
       true},
      {"angle of C2, or a diagonal",
       [](Survey& s) {
         s.rooms[0].diagonals.clear();
         Run& run = add_run(s, "T", 2);
         run.wall = 1;
         run.from_along = 620;
       },
       true},
      {"ceiling over run S",
       [](Survey& s) {
         s.rooms[0].runs[0].units[0].kind = UnitKind::tall;
         s.rooms[0].ceilings.clear();
       },
       true},
      {"ceiling over S1",  // 300 along, and the reading at 2,600: further than 2,000
       [](Survey& s) {
         s.rooms[0].runs[0].units[0].kind = UnitKind::tall;
         s.rooms[0].ceilings[0].place.x = 2600;
       },
       false},
      {"benchmark again from set-up S",
       [](Survey& s) { s.rooms[0].levels.setups[0].readings.pop_back(); }, false},
      {"way that D opens",
       [](Survey& s) {
         s.rooms[0].openings.push_back(
             {"D", 2, OpeningKind::door, 900, 800, {}, 2040, 360, 60, {}, {}, {}});
       },
       false},
      {"height from the head of F to the ceiling",
       [](Survey& s) {
         s.rooms[0].openings.push_back(
             {"F", 0, OpeningKind::window, 900, 800, {1000, {}}, 1000, {}, 0, {}, {}, {}});
       },
       false},
      {"architrave of D",
       [](Survey& s) {
         s.rooms[0].openings.push_back(
             {"D", 0, OpeningKind::door, 3700, 250, {}, 2040, 360, 0, {}, Opens::out, {}});
       },
       false},
      {"height of service P",
       [](Survey& s) {
         Service pipe;
         pipe.id = "P";
         pipe.kind = ServiceKind::waste;
         pipe.place = Place{Index{0}, 900, 0, 0, 0, 20};
         pipe.projection = 30;
         s.rooms[0].services.push_back(pipe);
       },
       true},
      {"projection of service P",
       [](Survey& s) {
         Service pipe;
         pipe.id = "P";
         pipe.kind = ServiceKind::waste;
         pipe.place = Place{Index{0}, 900, 0, 0, 0, 20};
         pipe.height = MeasuredHeight{400, {}};
         s.rooms[0].services.push_back(pipe);
       },
       true},
  };
  for (const Loss& loss : losses) {
    CAPTURE(loss.what);
    Survey survey = kitchen();
    loss.lose(survey);
    const Results results = solve(survey);
    const MissingResult* found = missing(results, loss.what);
    REQUIRE(found);
    CHECK(found->at.starts_with("/rooms/0/"));
    CHECK(!found->why.empty());
    const Finding* summary = finding(results, "still to measure");
    REQUIRE(summary);
    CHECK(summary->severity == (loss.query ? Severity::query : Severity::note));
    CHECK(summary->says.find(loss.what) != std::string::npos);
    CHECK(*summary->measured == 1);
    CHECK(results.rooms[0].missing.size() == 1);
  }
}

TEST_CASE("a length that the plan cannot do without is listed, and said once") {
  Survey survey = kitchen();
  survey.rooms[0].diagonals.clear();
  survey.rooms[0].walls[0].lengths.clear();
  survey.rooms[0].walls[2].lengths.clear();
  const Results results = solve(survey);
  CHECK(missing(results, "length of W1"));
  CHECK(missing(results, "length of W3"));
  CHECK(finding(results, "plan cannot be computed"));
  const Finding* summary = finding(results, "still to measure");
  CHECK((!summary || summary->says.find("length of") == std::string::npos));
}

TEST_CASE("floor far from any reading is missing under the units that stand there") {
  Survey survey = kitchen();
  Levels& levels = survey.rooms[0].levels;
  std::erase_if(levels.setups[0].readings, [&](const StaffReading& r) {
    const auto& place = levels.points[r.point].place;
    return place && place->x > 1500;
  });
  const Results results = solve(survey);  // S5 and S6 stand at 2,440 to 3,640
  const auto& list = results.rooms[0].missing;
  CHECK(std::any_of(list.begin(), list.end(), [](const MissingResult& m) {
    return m.what.starts_with("floor under") && m.what.ends_with("S5, S6");
  }));
}

TEST_CASE("what was skipped stays asked about, with the time when it can be measured") {
  Survey survey = kitchen();
  survey.rooms[0].skipped = {{"floor behind the range", "old kitchen still in"},
                             {"height of the meter", "locked"}};
  const Results results = solve(survey);
  REQUIRE(missing(results, "floor behind the range"));
  CHECK(missing(results, "floor behind the range")->why == "old kitchen still in");
  CHECK(missing(results, "floor behind the range")->at == "/rooms/0/skipped/0");
  std::vector<const Finding*> skipped;
  for (const Finding& f : results.findings)
    if (f.code == "skipped") skipped.push_back(&f);
  REQUIRE(skipped.size() == 2);
  CHECK(skipped[0]->severity == Severity::query);
  CHECK(skipped[0]->remedy.find("after strip-out") != std::string::npos);
  CHECK(skipped[1]->remedy == "Measure it before manufacture.");
  CHECK_FALSE(finding(results, "still to measure"));
}

// The ceiling is 2,400 everywhere. Three tape readings of sd 2, the ceiling's 2, the floor's at two
// places (well below 1 each) and a ceiling that may fall 3 mm/m over some 700: 3 sd is about 14.
TEST_CASE("sill, window and head are held against the ceiling") {
  struct Sum {
    double sill, height, above;
    bool closes;
  };
  const Sum sums[] = {{1050, 1100, 250, true},  {1050, 1100, 245, true},
                      {1050, 1100, 205, false},  // 2,355: 45 missing
                      {1050, 1100, 295, false},  // 45 too much
                      {0, 2040, 360, true},      // a door
                      {0, 2040, 306, false}};    // 2,346: 54 missing
  for (const Sum& sum : sums) {
    CAPTURE(sum.above);
    Survey survey = kitchen();
    survey.rooms[0].openings.push_back({"F",
                                        0,
                                        OpeningKind::window,
                                        900,
                                        800,
                                        {sum.sill, {}},
                                        sum.height,
                                        sum.above,
                                        0,
                                        {},
                                        {},
                                        {}});
    const Results results = solve(survey);
    const Finding* query = finding(results, "heights do not add up");
    CHECK(!query == sum.closes);
    if (!query) continue;
    CHECK(query->severity == Severity::query);
    CHECK(*query->measured ==
          doctest::Approx(std::abs(2400 - sum.sill - sum.height - sum.above)).epsilon(0.02));
    CHECK(query->says.find(" = ") != std::string::npos);
  }
}

TEST_CASE("an opening stays inside its wall and out of the others") {
  struct Pair {
    double left, width, other_left, other_sill;
    bool outside, overlap;
  };
  const Pair pairs[] = {
      {100, 800, 1000, 0, false, false},   {3500, 490, 1000, 0, false, false},
      {3500, 560, 1000, 0, true, false},                                     // 4,060 on 4,000
      {-40, 800, 1000, 0, true, false},    {100, 800, 850, 0, false, true},  // 50 in each other
      {100, 800, 850, 2100, false, false},                                   // a fanlight
      {100, 800, 895, 0, false, false}};  // 5: no more than they are known to
  for (const Pair& pair : pairs) {
    CAPTURE(pair.left);
    CAPTURE(pair.width);
    CAPTURE(pair.other_left);
    Survey survey = kitchen();
    auto& openings = survey.rooms[0].openings;
    openings.push_back(
        {"A", 0, OpeningKind::window, pair.left, pair.width, {}, 2040, {}, 0, {}, {}, {}});
    openings.push_back({"B",
                        0,
                        OpeningKind::window,
                        pair.other_left,
                        600,
                        {pair.other_sill, {}},
                        200,
                        {},
                        0,
                        {},
                        {},
                        {}});
    const Results results = solve(survey);
    CHECK(bool(finding(results, "opening outside its wall")) == pair.outside);
    CHECK(bool(finding(results, "openings overlap")) == pair.overlap);
  }
}

TEST_CASE("numbers that all end in 0 or 5 were rounded, unless chance or the sd explains it") {
  struct Set {
    std::vector<double> lengths;
    double sd;
    const char* says;  // in the finding; empty: none
  };
  // Four different tens by chance: 1 in 10,000; four different fives: 1 in 625, five: 1 in 3,125.
  const Set sets[] = {{{3120, 4210, 2980, 3650}, 1, "end in 0:"},
                      {{3120, 4210, 2980}, 1, ""},
                      {{3120, 4210, 3120, 4210, 3120, 4210}, 1, ""},  // two walls, three heights
                      {{3120, 4210, 2985, 3650}, 1, ""},
                      {{3120, 4210, 2985, 3650, 1805}, 1, "end in 0 or 5:"},
                      {{3120, 4210, 2985, 3650, 1805}, 1.5, ""},  // 5/√12 = 1.44 is booked
                      {{3120, 4210, 2980, 3650}, 3, ""},          // 10/√12 = 2.89 is booked
                      {{3120, 4211, 2980, 3650, 1800, 2600}, 1, ""},
                      {{3120, 4210.5, 2980, 3650, 1800, 2600}, 1, ""}};
  for (const Set& set : sets) {
    CAPTURE(set.lengths.size());
    CAPTURE(set.sd);
    Survey survey;
    survey.instruments.push_back({"DM", InstrumentKind::distance_meter, set.sd, {}, 0});
    survey.rooms.emplace_back();
    survey.rooms[0].walls.emplace_back();
    for (const double length : set.lengths)
      survey.rooms[0].walls[0].lengths.push_back({900, 0, length, Index{0}});
    const auto findings = round_numbers(survey, 0);
    REQUIRE(findings.size() == (*set.says ? 1 : 0));
    if (findings.empty()) continue;
    CHECK(findings[0].severity == Severity::note);
    CHECK(findings[0].says.find("wall lengths of DM") != std::string::npos);
    CHECK(findings[0].says.find(set.says) != std::string::npos);
  }
}
