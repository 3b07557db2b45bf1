#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "checks/words.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// Floor falls 0 to -25 over 3,000; legs 135-170; board 150; top gap 2-15.
Survey falling_floor() {
  Survey survey = simple_survey();
  survey.furniture.plinth.top_gap_min = 2;
  LegType leg = leg_type("A", 135, 170);
  leg.side_inset = 0;
  survey.furniture.legs = {leg};
  read_grid(survey, 3000, 600, 300, [](double x, double) { return -25 * x / 3000; });
  add_run(survey, "R", 5);
  return survey;
}

// Level screed, 25 of new floor to the front legs, a machine's niche.
Survey niche_survey() {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 160)};
  read_grid(survey, 3000, 1200, 300, [](double, double) { return 0.0; });
  survey.rooms[0].flooring.laid = {laid_layer(25, LaidTo::front_legs, false)};
  Run& run = add_run(survey, "R", 5);
  run.units[2].kind = UnitKind::appliance;
  run.units[2].niche = Niche{815, 875, 3};
  return survey;
}

void set_underside(Survey& survey, double value) {
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{value, "k.r.", "2026-03-02T10:00:00+00:00"};
  survey.rooms[0].level_groups = {group};
}

const Bound* bound(const GroupResult& group, BoundKind kind, bool lower) {
  for (const Bound& b : group.bounds)
    if (b.kind == kind && b.lower == lower) return &b;
  return nullptr;
}

}  // namespace

// Hand-worked, exact geometry.
TEST_CASE("a floor that falls 25 over 3,000 gives U 140, legs 140 to 165 and a tapered board") {
  const Results results = solve(falling_floor());
  const RoomResult& room = results.rooms[0];
  REQUIRE(room.groups.size() == 1);
  CHECK(room.groups[0].underside == doctest::Approx(140).epsilon(1e-9));
  CHECK(room.groups[0].feasible);
  double least = 1e9, most = 0;
  for (const LegResult& leg : room.legs) {
    least = std::min(least, *leg.height);
    most = std::max(most, *leg.height);
  }
  CHECK(least == doctest::Approx(140).epsilon(1e-9));
  CHECK(most == doctest::Approx(165).epsilon(1e-9));

  REQUIRE(room.plinths.size() == 1);
  const PlinthResult& board = room.plinths[0];
  CHECK(board.top == TopCut::taper);
  CHECK(board.bottom == BottomCut::none);
  CHECK(board.sealed_edge_down);
  CHECK(board.height_left == doctest::Approx(138).epsilon(1e-9));
  CHECK(board.height_right == doctest::Approx(150).epsilon(1e-9));
  CHECK(board.top_gap_greatest == doctest::Approx(15).epsilon(1e-9));
  bool begins = false;  // whole from 1,440
  for (const PlinthOrdinate& o : board.ordinates) {
    if (o.along < 1440 - 1e-6)
      CHECK(o.height < 150);
    else
      CHECK(o.height == doctest::Approx(150).epsilon(1e-9));
    begins = begins || std::abs(o.along - 1440) < 1e-6;
  }
  CHECK(begins);
}

TEST_CASE("a machine that would be trapped by the new floor is a hold, 5 short, U at least 123") {
  Survey survey = niche_survey();
  set_underside(survey, 118);
  const Results results = solve(survey);
  const GroupResult& group = results.rooms[0].groups[0];
  CHECK(group.underside == 118);
  CHECK(group.set);
  CHECK_FALSE(group.feasible);
  REQUIRE(group.conflict);
  CHECK(group.conflict->lower == "slide_in R3");
  CHECK(group.conflict->upper == "set group A");
  CHECK(group.conflict->by == doctest::Approx(5).epsilon(1e-9));
  CHECK(bound(group, BoundKind::slide_in, true)->value == doctest::Approx(123).epsilon(1e-9));
  // The niche itself is 838 high and passes: 118 + 720 - 838 ... >= 815.
  CHECK(bound(group, BoundKind::niche, true)->value == doctest::Approx(95).epsilon(1e-9));
  const Finding* hold = finding(results, "no level suits all");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK_FALSE(results.manufacture.open);
  bool moves = false;
  for (const WayOut& way : group.ways_out) moves = moves || way.kind == "move underside";
  CHECK(moves);
}

TEST_CASE("once the underside may move, the machine goes in") {
  const Results results = solve(niche_survey());
  const GroupResult& group = results.rooms[0].groups[0];
  CHECK(group.feasible);
  CHECK(group.underside >= 123);
  CHECK(finding(results, "no level suits all") == nullptr);
}

TEST_CASE("hard bounds are tightened by 1.96 sd, soft ones are not") {
  const Results results = solve(niche_survey());
  for (const Bound& b : results.rooms[0].groups[0].bounds) {
    CAPTURE(b.at);
    const double tightened = b.value + (b.lower ? 1.96 : -1.96) * b.sd;
    CHECK(b.applied == doctest::Approx(b.hard ? tightened : b.value).epsilon(1e-12));
  }
}

TEST_CASE("when no U suits all, U halves the violation and ways out are computed") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("short", 120, 150), leg_type("long", 145, 200)};
  // 45 of fall: 30 of travel cannot take it up.
  read_grid(survey, 3600, 600, 300, [](double x, double) { return -45 * x / 3600; });
  add_run(survey, "R", 6);
  const Results results = solve(survey);
  const GroupResult& group = results.rooms[0].groups[0];
  CHECK_FALSE(group.feasible);
  CHECK(group.underside == doctest::Approx((*group.lowest + *group.highest) / 2));
  REQUIRE(group.conflict);
  CHECK(group.conflict->lower.starts_with("leg_min R1"));
  CHECK(group.conflict->upper.starts_with("leg_max R6"));
  // What is said has both numbers of each side, for the ways out count with the tightened ones.
  const Finding* told = finding(results, "no level suits all");
  REQUIRE(told);
  CHECK(told->says.find("(" + decimal(*group.lowest) + " with its band)") != std::string::npos);
  CHECK(told->says.find("(" + decimal(*group.highest) + " with its band)") != std::string::npos);
  std::string kinds;
  for (const WayOut& way : group.ways_out) kinds += way.kind + ";";
  CHECK(kinds.find("leg type") != std::string::npos);
  CHECK(kinds.find("compound") != std::string::npos);
  CHECK(kinds.find("split") != std::string::npos);

  // Each way is computed: with the other legs the survey does solve.
  for (const WayOut& way : group.ways_out) {
    if (way.kind != "leg type") continue;
    Survey other = survey;
    for (Unit& unit : other.rooms[0].runs[0].units)
      if (way.what.find("at " + unit.id) != std::string::npos) unit.leg = 1;
    const Results then = solve(other);
    const GroupResult& stands = then.rooms[0].groups[0];
    CHECK(stands.feasible);
    // Its tightest leg is that of the solve, at the underside that the way names.
    REQUIRE(way.tightest);
    CHECK(way.tightest->verdict == Verdict::within);
    const double underside = std::stod(way.sum.substr(way.sum.find(' ')));
    double least_spare = 1e9, height = 0;
    for (const LegResult& leg : then.rooms[0].legs) {
      const double now = *leg.height + underside - stands.underside;
      const bool longer = leg.type == "long";
      const double spare = std::min(now - (longer ? 145 : 120), (longer ? 200 : 150) - now);
      if (spare < least_spare) height = now;
      least_spare = std::min(spare, least_spare);
    }
    CHECK(way.tightest->value == doctest::Approx(height).epsilon(0.001));
  }
  for (const WayOut& way : group.ways_out) {
    CAPTURE(way.what);
    if (way.kind == "plinth height") continue;
    REQUIRE(way.tightest);
    CHECK(way.tightest->verdict == Verdict::within);
  }
}

TEST_CASE("the asked height is taken when the bounds let it be, else the nearest end") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 200)};
  survey.furniture.plinth.top_gap_max = 40;
  read_grid(survey, 3000, 600, 300, [](double, double) { return 0.0; });
  add_run(survey, "R", 5);
  const struct {
    double asked, underside;
  } cases[] = {
      {915, 157},  // 915 - 38 - 720 = 157: board whole (153) and reaches (190)
      {900, 152},  // 142 asked, 152 the tolerance's end: the board stays 1 short of whole
      {1000, 0},   // 242 asked: beyond the legs, so as high as they let it be
  };
  for (const auto& c : cases) {
    CAPTURE(c.asked);
    LevelGroup group;
    group.id = "A";
    group.asked_height = c.asked;
    survey.rooms[0].level_groups = {group};
    const GroupResult result = solve(survey).rooms[0].groups[0];
    if (c.asked == 1000)
      CHECK(result.underside == doctest::Approx(*result.highest));
    else
      CHECK(result.underside == doctest::Approx(c.underside));
  }
}

TEST_CASE("the order of the soft bounds decides which one gives way") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 200)};
  read_grid(survey, 3000, 600, 300, [](double, double) { return 0.0; });
  add_run(survey, "R", 5);
  LevelGroup group;
  group.id = "A";
  group.asked_height = 888;  // U 130 ± 10; a whole board needs 153
  survey.rooms[0].level_groups = {group};
  CHECK(solve(survey).rooms[0].groups[0].underside == doctest::Approx(140));
  survey.rooms[0].level_groups[0].order = {"board_whole", "asked_height"};
  CHECK(solve(survey).rooms[0].groups[0].underside == doctest::Approx(153));
}

TEST_CASE("room to spare is where the hard bounds run out, thicker and thinner") {
  Survey survey = niche_survey();
  const GroupResult before = solve(survey).rooms[0].groups[0];
  REQUIRE(before.spare.flooring_up);
  const double up = *before.spare.flooring_up;
  CHECK(up > 0);
  for (const double beyond : {-0.01, 0.01}) {
    CAPTURE(beyond);
    Survey thicker = survey;
    thicker.rooms[0].flooring.laid[0].thickness += up + beyond;
    CHECK(solve(thicker).rooms[0].groups[0].feasible == (beyond < 0));
  }
}

TEST_CASE("a run with a thinner worktop hangs higher, so that the tops are flush") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 250)};
  read_grid(survey, 3000, 1200, 300, [](double, double) { return 0.0; });
  add_run(survey, "R", 2);
  Run& thin = add_run(survey, "T", 2, 600, 1500);
  thin.furniture.worktop.thickness = 20;
  Run& low = add_run(survey, "L", 1, 600, 0, -600);
  low.units[0].height = 600;  // a shorter unit under the same worktop
  const Results results = solve(survey);
  const RoomResult& room = results.rooms[0];
  const double u = room.groups[0].underside;
  for (const LegResult& leg : room.legs) {
    CAPTURE(leg.unit);
    const double expected = leg.unit[0] == 'R' ? u : leg.unit[0] == 'T' ? u + 18 : u + 120;
    CHECK(*leg.height == doctest::Approx(expected).epsilon(1e-9));
  }
}

TEST_CASE("sills and ceilings bound U from above") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 60, 200)};
  survey.furniture.tall_height = 2100;
  read_grid(survey, 3000, 600, 300, [](double, double) { return 0.0; });
  Run& run = add_run(survey, "R", 3);
  run.units[0].kind = UnitKind::tall;
  CeilingReading ceiling;
  ceiling.place = Place{{}, 0, 0, 300, -300, 20};
  ceiling.height = {2240, {}};
  survey.rooms[0].ceilings = {ceiling};
  const Results results = solve(survey);
  const Bound* top = bound(results.rooms[0].groups[0], BoundKind::ceiling, false);
  REQUIRE(top);
  CHECK(top->value == doctest::Approx(140).epsilon(1e-9));  // 2240 - 2100
  CHECK(results.rooms[0].groups[0].underside <= top->applied);
}

TEST_CASE("without any floor reading a level group gives no U and a hold") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 200)};
  add_run(survey, "R", 2);
  const Results results = solve(survey);
  CHECK(results.rooms[0].groups.empty());
  for (const LegResult& leg : results.rooms[0].legs) CHECK_FALSE(leg.height);
  const Finding* hold = finding(results, "floor not read");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
}
