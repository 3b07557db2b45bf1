#include "checks/wall_faces.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "checks/flatness.h"
#include "checks/line_fit.h"
#include "checks/run_line.h"
#include "tests/unit/offset_walls.h"

namespace levelrun {
namespace {

bool found(const Survey& survey, const char* code, Severity severity) {
  for (const Finding& f : wall_faces(survey, 0).findings)
    if (f.code == code)
      return f.severity == severity && f.room == "R" && f.at == "/rooms/0/walls/0";
  return false;
}

ToleranceRow straightedge(double length, double limit, FlatnessMethod method) {
  ToleranceRow row;
  row.methods = {method};
  row.entries = {{length, limit}};
  return row;
}

// American concrete floor test sheet, ASTM E1155M, test pad, May 2003 (scribd 307378825 and
// 382981185): heights every 300 mm. The derived values were computed again from these heights.
constexpr double step = 300;
struct PadLine {
  std::vector<double> heights;
  double neighbours;  // largest offset from the mean of two neighbours ...
  int neighbours_at;
  double gap;  // largest under a bar of six steps ...
  int gap_from, gap_to, gap_at;
  double slope;  // of the best fit, mm/m
};
const PadLine pad[] = {{{418.617, 419.938, 421.894, 423.748, 425.221, 424.739, 423.799, 424.307,
                         425.425, 424.688, 423.164, 422.758, 420.472, 416.738},
                        0.978,
                        4,
                        1.524,
                        4,
                        8,
                        6,
                        -0.1096},
                       {{418.592, 421.081, 422.072, 421.513, 420.040, 421.132, 420.675, 421.640,
                         421.894, 421.538, 421.183, 421.894, 419.684, 420.040, 417.982},
                        1.461,
                        11,
                        1.973,
                        2,
                        8,
                        4,
                        -0.1842},
                       {{418.338, 419.659, 419.227, 419.227, 418.668, 418.186, 418.973, 419.379,
                         420.141, 419.532, 418.643, 418.719, 416.763, 414.782},
                        1.016,
                        11,
                        1.498,
                        2,
                        8,
                        5,
                        -0.5579}};

std::vector<FacePoint> face_of(const PadLine& line) {
  std::vector<FacePoint> points;
  for (std::size_t i = 0; i < line.heights.size(); ++i)
    points.push_back({static_cast<double>(i) * step, -line.heights[i], 0.1});
  return points;
}

}  // namespace

// NIST StRD "Norris", certified values to 15 digits.
TEST_CASE("the line fit gives the certified values of NIST Norris") {
  const double x[] = {0.2,   337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6,
                      777.0, 558.2, 0.4,   0.6,   775.5, 666.9, 338.0, 447.5, 11.6,
                      556.0, 228.1, 995.8, 887.6, 120.2, 0.3,   0.3,   556.8, 339.1,
                      887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
  const double y[] = {0.1,   338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1,
                      778.9, 559.2, 0.3,   0.1,   778.1, 668.8, 339.3, 448.9, 10.8,
                      557.7, 228.3, 998.0, 888.8, 119.6, 0.3,   0.6,   557.6, 339.3,
                      888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};
  const LineFit fit = line_fit(x, y);
  const auto digits12 = [](double certified) { return doctest::Approx(certified).epsilon(1e-12); };
  CHECK(fit.intercept == digits12(-0.262323073774029).scale(0.26));
  CHECK(fit.slope == digits12(1.00211681802045));
  CHECK(fit.intercept_sd == digits12(0.232818234301152).scale(0.23));
  CHECK(fit.slope_sd == digits12(0.000429796848199937).scale(0.0004));
  CHECK(fit.residual_sd == digits12(0.884796396144373));
  CHECK(fit.r_squared == digits12(0.999993745883712));
}

TEST_CASE("the line fit of two points passes through both, of one it is level") {
  const double x[] = {100, 300}, y[] = {1, 5};
  CHECK(line_fit(x, y).slope == doctest::Approx(0.02));
  CHECK(line_fit(x, y).intercept == doctest::Approx(-1));
  CHECK(line_fit(x, y).slope_sd == 0);
  CHECK(line_fit({x, 1}, {y, 1}).slope == 0);
  CHECK(line_fit({x, 1}, {y, 1}).intercept == 1);
}

TEST_CASE("equal offsets over two steps find the published offsets from two neighbours") {
  const ToleranceRow row = straightedge(2 * step, 3, FlatnessMethod::equal_offsets);
  for (const PadLine& line : pad) {
    CAPTURE(line.neighbours_at);
    const auto worst = worst_flatness(face_of(line), RowInUse(&row, {}));
    REQUIRE(worst);
    CHECK(std::abs(worst->deviation) == doctest::Approx(line.neighbours).epsilon(0.0005));
    CHECK(worst->from == (line.neighbours_at - 1) * step);
    CHECK(worst->to == (line.neighbours_at + 1) * step);
    // Own sd 0.1, half of each block's.
    CHECK(worst->sd == doctest::Approx(0.1 * std::sqrt(1.5)));
  }
}

TEST_CASE("a resting bar of six steps finds the published gaps, between their contacts") {
  const ToleranceRow row = straightedge(6 * step, 3, FlatnessMethod::resting_bar);
  for (const PadLine& line : pad) {
    CAPTURE(line.gap_at);
    const auto worst = worst_flatness(face_of(line), RowInUse(&row, {}));
    REQUIRE(worst);
    CHECK(worst->deviation == doctest::Approx(line.gap).epsilon(0.0004));
    CHECK(worst->from == line.gap_from * step);
    CHECK(worst->to == line.gap_to * step);
    const double t = double(line.gap_at - line.gap_from) / (line.gap_to - line.gap_from);
    const auto at = [&](int i) { return line.heights[static_cast<std::size_t>(i)]; };
    CHECK((1 - t) * at(line.gap_from) + t * at(line.gap_to) - at(line.gap_at) ==
          doctest::Approx(worst->deviation));
  }
}

TEST_CASE("the best-fit slopes of the test pad are the published ones") {
  for (const PadLine& line : pad) {
    std::vector<double> along;
    for (std::size_t i = 0; i < line.heights.size(); ++i)
      along.push_back(static_cast<double>(i) * step / 1000);
    CAPTURE(line.slope);
    CHECK(std::abs(line_fit(along, line.heights).slope - line.slope) < 0.00006);
  }
}

TEST_CASE("the test pad passes DIN 18202 row 3 at 0.6 m, and SR1") {
  const RowInUse din(tolerance_table("din18202")->row("3"), {});
  REQUIRE(din.at(600) == 3);
  const RowInUse sr1(tolerance_table("bs8204")->row("SR1"), {});
  for (const PadLine& line : pad) {
    CHECK(line.neighbours <= *din.at(600));
    const auto worst = worst_flatness(face_of(line), sr1);
    REQUIRE(worst);
    CHECK(worst->limit == 3);
    CHECK(worst->deviation <= 3);
  }
}

TEST_CASE("the two flatness tests can disagree: a proud point is no hollow") {
  const std::vector<FacePoint> proud = {{0, 4, 0.1}, {600, 0, 0.1}, {1200, 4, 0.1}};
  const ToleranceRow bar = straightedge(2000, 3, FlatnessMethod::resting_bar);
  const ToleranceRow blocks = straightedge(2000, 3, FlatnessMethod::equal_offsets);
  CHECK_FALSE(worst_flatness(proud, RowInUse(&bar, {})));  // it rests on no two of them
  const auto worst = worst_flatness(proud, RowInUse(&blocks, {}));
  REQUIRE(worst);
  CHECK(worst->deviation == -4);
  CHECK(worst->method == FlatnessMethod::equal_offsets);
}

TEST_CASE("a line of many readings is judged in bounded time") {
  std::vector<FacePoint> line;
  for (int i = 0; i < 20000; ++i) line.push_back({i * 5.0, i == 10001 ? 2.0 : 0.0, 0.1});
  const ToleranceRow row = straightedge(2000, 3, FlatnessMethod::resting_bar);
  const auto worst = worst_flatness(line, RowInUse(&row, {}));
  REQUIRE(worst);
  CHECK(worst->deviation == 2);
}

TEST_CASE("a wall whose offsets grow upwards leans away from the room") {
  const WallResult wall = only_wall(survey_of(grid(0.003, 0)));
  CHECK(*wall.lean == doctest::Approx(7.2));  // 0.003 x 2400
  CHECK(*wall.lean_over == 2400);
  CHECK(*wall.lean_units == doctest::Approx(0.003 * 870));  // 720 + 150
  CHECK(*wall.twist == doctest::Approx(0).epsilon(1e-9));
  CHECK(*wall.bow == doctest::Approx(3));  // not mistaken for lean
  CHECK(*only_wall(survey_of(grid(-0.003, 0))).lean == doctest::Approx(-7.2));
}

TEST_CASE("the sd of lean is that of the readings over the heights they are at") {
  // Two heights 2000 apart at one place, sd 0.5 each: slope sd 0.5 sqrt 2 / 2000.
  const WallResult wall = only_wall(survey_of({{500, 100, 3, {}}, {500, 2100, 5, {}}}));
  CHECK(*wall.lean == doctest::Approx(2.4));
  CHECK(*wall.sd == doctest::Approx(0.5 * std::sqrt(2.0) / 2000 * 2400));
  CHECK_FALSE(wall.twist);
  // No instrument named: a tape, sd 2.
  Survey taped = survey_of({{500, 100, 3, {}}, {500, 2100, 5, {}}});
  for (WallOffset& o : wall_of(taped).offsets) o.instrument.reset();
  CHECK(*only_wall(taped).sd == doctest::Approx(2 * std::sqrt(2.0) / 2000 * 2400));
}

TEST_CASE("readings at different places and heights give the lean of their plane") {
  const WallResult wall = only_wall(
      survey_of({{0, 100, 1, {}}, {1000, 100, 3, {}}, {500, 2100, 12, {}}, {1500, 2100, 14, {}}}));
  CHECK(*wall.lean == doctest::Approx(0.005 * 2400));  // 2 mm/m along, 5 mm/m up
  // A single slanting line of readings cannot tell lean from the wall's direction.
  CHECK_FALSE(
      only_wall(survey_of({{0, 100, 1, {}}, {1000, 1100, 3, {}}, {2000, 2100, 5, {}}})).lean);
}

TEST_CASE("without a ceiling height lean is stated over the heights read") {
  Survey survey = survey_of(grid(0.003, 0));
  survey.rooms[0].ceilings.clear();
  CHECK(*only_wall(survey).lean_over == 2000);
  CHECK(*only_wall(survey).lean == doctest::Approx(6));
  // A ceiling height above a set-up's plane is no clear height.
  survey.rooms[0].ceilings.resize(1);
  survey.rooms[0].ceilings[0].height = {1400, Index{0}};
  CHECK(*only_wall(survey).lean_over == 2000);
}

TEST_CASE("readings within 20 mm of one height or one place are one line") {
  const WallResult wall = only_wall(
      survey_of({{100, 905, 0, {}}, {1000, 890, 2, {}}, {1900, 909, 0, {}}, {112, 2100, 12, {}}}));
  CHECK(*wall.bow == doctest::Approx(2));
  CHECK(wall.resting == std::vector<double>{100, 1900});
  CHECK(*wall.lean == doctest::Approx(12.0 / 1195 * 2400));
  // 21 apart they are two.
  CHECK_FALSE(
      only_wall(survey_of({{100, 900, 0, {}}, {1000, 921, 2, {}}, {1900, 900, 0, {}}})).bow);
}

TEST_CASE("lean over the units counts the tallest unit on that wall") {
  Survey survey = survey_of(grid(0.003, 0));
  Run& run = survey.rooms[0].runs.emplace_back();
  run.wall = 0;
  run.furniture.tall_height = 1950;
  Unit& unit = run.units.emplace_back();
  unit.kind = UnitKind::tall;
  CHECK(*only_wall(survey).lean_units == doctest::Approx(0.003 * 2100));  // 1950 + 150
  run.units[0].height = 2000;
  CHECK(*only_wall(survey).lean_units == doctest::Approx(0.003 * 2150));
}

TEST_CASE("twist is the lean at the right end less that at the left") {
  const WallResult wall = only_wall(survey_of(grid(0.001, 0.002)));
  CHECK(*wall.twist == doctest::Approx(0.002 * 2400));
}

TEST_CASE("seen in a mirror a wall keeps its lean and bow and its twist changes sign") {
  Survey survey = survey_of(grid(0.001, 0.002));
  const WallResult wall = only_wall(survey);
  for (WallOffset& o : wall_of(survey).offsets) o.along = 3200 - o.along;
  const WallResult mirror = only_wall(survey);
  CHECK(*mirror.lean == doctest::Approx(*wall.lean));
  CHECK(*mirror.twist == doctest::Approx(-*wall.twist));
  CHECK(*mirror.bow == doctest::Approx(*wall.bow));
  CHECK(*mirror.gap == doctest::Approx(*wall.gap));
  CHECK(mirror.worst->deviation == doctest::Approx(wall.worst->deviation));
}

TEST_CASE("setting the plumb plane further off changes nothing") {
  for (const auto& offsets : {waisted, grid(0.004, -0.001)}) {
    Survey survey = survey_of(offsets);
    const WallResult wall = only_wall(survey);
    const Estimate hollow = *RunLine(survey, wall_of(survey), 0, 3000, 900).hollow(2000, 500);
    for (WallOffset& o : wall_of(survey).offsets) o.offset += 137.3;
    const WallResult moved = only_wall(survey);
    CHECK(moved.lean.has_value() == wall.lean.has_value());
    if (wall.lean) CHECK(*moved.lean == doctest::Approx(*wall.lean));
    CHECK(*moved.bow == doctest::Approx(*wall.bow));
    CHECK(moved.worst->deviation == doctest::Approx(wall.worst->deviation));
    CHECK(moved.worst->from == wall.worst->from);
    CHECK(moved.worst->to == wall.worst->to);
    CHECK(moved.worst->method == wall.worst->method);
    CHECK(moved.resting == wall.resting);
    CHECK(*moved.gap == doctest::Approx(*wall.gap));
    CHECK(RunLine(survey, wall_of(survey), 0, 3000, 900).hollow(2000, 500)->value ==
          doctest::Approx(hollow.value));
  }
}

TEST_CASE("a worktop rests on the waisted wall at 1200 and 2400 with 7.0 to scribe") {
  const WallResult wall = only_wall(survey_of(waisted));
  CHECK(wall.resting == std::vector<double>{1200, 2400});
  CHECK(*wall.gap == doctest::Approx(7.0));
  CHECK(*wall.scribe == doctest::Approx(7.0));
  CHECK_FALSE(wall.rocks);
  CHECK(*wall.bow == doctest::Approx(-7.0));  // proud of the chord of its ends
}

TEST_CASE("a worktop's line too far from 900 high was not measured") {
  std::vector<WallOffset> low = waisted;
  for (WallOffset& o : low) o.height = 600;
  const WallResult wall = only_wall(survey_of(low));
  CHECK(wall.resting.empty());
  CHECK_FALSE(wall.gap);
  CHECK(wall.bow);
}

TEST_CASE("one height is not enough for lean, and a note says what to read") {
  const Survey survey = survey_of(waisted);
  CHECK_FALSE(only_wall(survey).lean);
  CHECK_FALSE(only_wall(survey).lean_over);
  CHECK(found(survey, "lean not measured", Severity::note));
}

TEST_CASE("offsets from lines tell no lean and are not compared between heights") {
  Survey survey = survey_of(grid(0.003, 0));
  wall_of(survey).offsets_from = OffsetsFrom::line;
  const WallResult wall = only_wall(survey);
  CHECK_FALSE(wall.lean);
  CHECK_FALSE(wall.twist);
  CHECK(*wall.bow == doctest::Approx(3));
  CHECK(wall.worst->line == "at 100 high");
  CHECK(found(survey, "lean not measured", Severity::note));
}

TEST_CASE("a wall without offsets has no figures and no findings") {
  const Survey survey = survey_of({});
  const WallFaces faces = wall_faces(survey, 0);
  REQUIRE(faces.walls.size() == 1);
  CHECK(faces.walls[0].wall == "W1");
  CHECK_FALSE(faces.walls[0].lean);
  CHECK_FALSE(faces.walls[0].worst);
  CHECK_FALSE(faces.walls[0].verdict);
  CHECK(faces.findings.empty());
}

TEST_CASE("an existing wall out of flat and plumb is a note; in a new build it is a hold") {
  std::vector<WallOffset> crooked = grid(0.008, 0);  // 19.2 over 2400; DIN 18202 Table 2: 8
  for (WallOffset& o : crooked)
    if (o.along == 1100) o.offset += 12;  // 15 over 2000; Table 3 row 6: 7
  Survey survey = survey_of(crooked);
  CHECK(only_wall(survey).verdict == Verdict::outside);
  CHECK(found(survey, "wall out of flat", Severity::note));
  CHECK(found(survey, "wall out of plumb", Severity::note));
  survey.job.new_build = true;
  CHECK(found(survey, "wall out of flat", Severity::hold));
  CHECK(found(survey, "wall out of plumb", Severity::hold));
  for (const Finding& f : wall_faces(survey, 0).findings) {
    CAPTURE(f.code);
    CHECK(f.source.starts_with("DIN 18202"));
    CHECK(f.unit == "mm");
    CHECK(*f.measured > *f.limit);
    CHECK_FALSE(f.remedy.empty());
  }
}

TEST_CASE("a wall that may be out of plumb is asked about in a new build only") {
  Survey survey = survey_of(grid(0.0033, 0));  // 7.9 over 2400 against 8
  CHECK(wall_faces(survey, 0).findings.empty());
  survey.job.new_build = true;
  CHECK(found(survey, "wall out of plumb", Severity::query));
}

TEST_CASE("the finding says where, how much, by which test and against what") {
  Survey survey = survey_of({{0, 900, 0, {}}, {600, 900, 12, {}}, {1000, 900, 0, {}}});
  for (const Finding& f : wall_faces(survey, 0).findings)
    if (f.code == "wall out of flat") {
      CHECK(f.says ==
            "W1 is 12.0 hollow between 0 and 1000, at 900 high, by a bar resting on the wall; "
            "limit 5 over 1000.");
      CHECK(*f.measured == 12);
      CHECK(*f.limit == 5);
      return;
    }
  FAIL("no finding");
}

TEST_CASE("with a finish still to come the wall is judged as unfinished") {
  Survey survey = survey_of({{0, 900, 0, {}}, {600, 900, 6, {}}, {1000, 900, 0, {}}});
  CHECK(only_wall(survey).worst->limit == 5);  // DIN 18202 row 6
  wall_of(survey).finish.push_back({"skim", 3, {}, {}, {}});
  CHECK(only_wall(survey).worst->limit == 10);  // row 5
  survey.job.tolerance_table = "nhbc2020";      // no number for it
  CHECK_FALSE(only_wall(survey).worst);
}

TEST_CASE("each table judges by its own test") {
  Survey survey = survey_of(waisted);
  survey.job.tolerance_table = "nhbc2020";
  REQUIRE(only_wall(survey).worst);
  CHECK(only_wall(survey).worst->method == FlatnessMethod::equal_offsets);
  CHECK(only_wall(survey).worst->span <= 2000);
  CHECK(only_wall(survey).worst->limit == 3);
  for (const char* name : {"bs8204", "no such table"}) {
    CAPTURE(name);
    survey.job.tolerance_table = name;
    CHECK_FALSE(only_wall(survey).worst);
    CHECK_FALSE(only_wall(survey).verdict);
  }
}

TEST_CASE("the job's own limit is what a finding cites") {
  Survey survey = survey_of({{0, 900, 0, {}}, {600, 900, 12, {}}, {1000, 900, 0, {}}});
  survey.job.table_overrides = {{"6", 1000, 2, "stone splashback"}};
  bool cited = false;
  for (const Finding& f : wall_faces(survey, 0).findings)
    cited |= f.source == "job: stone splashback" && f.limit == 2;
  CHECK(cited);
}

TEST_CASE("behind a run's straight line the waisted wall leaves its own hollows") {
  const Survey survey = survey_of(waisted);
  const Wall& wall = survey.rooms[0].walls[0];
  const RunLine run(survey, wall, 0, 3620, 870);
  CHECK(run.proudest()->value == doctest::Approx(7.0));
  struct {
    double along, hollow;
  } const places[] = {{0, 7.0},    {600, 2.5},   {1200, 0},  {1500, 1.75},
                      {1800, 3.5}, {2700, 0.75}, {3620, 7.0}};
  for (const auto& [along, hollow] : places) {
    const auto& along_of_case = along;
    CAPTURE(along_of_case);
    REQUIRE(run.hollow(along, 500));
    CHECK(run.hollow(along, 500)->value == doctest::Approx(hollow));
  }
  CHECK(run.hollow(1200, 500)->sd == doctest::Approx(0));  // it is where the run touches
  // Two readings, and the chord's direction over 600 of its 3,620.
  CHECK(run.hollow(1800, 500)->sd ==
        doctest::Approx(0.5 * std::sqrt(2.0) * std::hypot(1, 600.0 / 3620)));
  // A short run touches what is proudest along itself.
  const RunLine end(survey, wall, 3000, 3620, 870);
  CHECK(end.proudest()->value == doctest::Approx(5.5));
  CHECK(end.hollow(3620, 500)->value == doctest::Approx(5.5));
  CHECK(end.hollow(3310, 500)->value == doctest::Approx(2.75));
}

TEST_CASE("a plumb run touches the foot of a wall that leans away") {
  const Survey survey = survey_of(grid(0.01, 0));
  const Wall& wall = survey.rooms[0].walls[0];
  const RunLine run(survey, wall, 100, 3100, 900);
  CHECK(run.hollow(100, 100)->value == doctest::Approx(0));
  CHECK(run.hollow(100, 500)->value == doctest::Approx(4));
  CHECK(run.hollow(1100, 900)->value == doctest::Approx(8 + 3));
  // Leaning into the room, it touches at the top of the units and not above.
  const Survey inwards = survey_of(grid(-0.01, 0));
  const RunLine base(inwards, inwards.rooms[0].walls[0], 100, 3100, 870);
  CHECK(base.hollow(100, 870)->value == doctest::Approx(0));
  CHECK(base.hollow(100, 100)->value == doctest::Approx(7.7));
}

TEST_CASE("no hollow is known where the wall was not read") {
  const Survey survey = survey_of({{100, 900, 2, {}}, {900, 900, 2, {}}});
  const Wall& wall = survey.rooms[0].walls[0];
  const RunLine run(survey, wall, 0, 3000, 870);
  CHECK(run.hollow(1400, 300));
  CHECK_FALSE(run.hollow(2000, 300));
  const Survey single = survey_of({{100, 900, 2, {}}});
  CHECK_FALSE(RunLine(single, single.rooms[0].walls[0], 0, 3000, 870).hollow(100, 300));
  CHECK_FALSE(RunLine(single, single.rooms[0].walls[0], 0, 3000, 870).proudest());
  const Survey none = survey_of({});
  CHECK_FALSE(RunLine(none, none.rooms[0].walls[0], 0, 3000, 870).hollow(100, 300));
}

TEST_CASE("a wall read at one height only has its flatness there and no figure that needs two") {
  const Survey survey = survey_of(waisted);
  const WallFaces faces = wall_faces(survey, 0);
  const WallResult& wall = faces.walls[0];
  CHECK_FALSE(wall.lean);
  CHECK_FALSE(wall.lean_units);
  CHECK_FALSE(wall.twist);
  REQUIRE(wall.worst);
  CHECK(wall.worst->line == "at 900 high");
  const auto note = std::find_if(faces.findings.begin(), faces.findings.end(),
                                 [](const Finding& f) { return f.code == "lean not measured"; });
  REQUIRE(note != faces.findings.end());
  CHECK(note->remedy.find("second height") != std::string::npos);
}

}  // namespace levelrun
