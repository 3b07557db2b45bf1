// Rooms that are not a rectangle with two diagonals, and slips where they are hard to find.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "checks/room_net.h"
#include "checks/room_plan.h"
#include "checks/solve.h"
#include "tests/simulate/random.h"
#include "tests/unit/true_rooms.h"

using namespace levelrun;
using doctest::Approx;

namespace {

const std::vector<PlanPoint> breast_room{{0, 0},     {1500, 0},  {1496, -410},  {2890, -404},
                                         {2894, -3}, {4603, -6}, {4611, -3503}, {9, -3488}};

// Down a staircase on the right: 2 steps + 2 corners, treads 700, rises 600.
std::vector<PlanPoint> stairs(int steps) {
  std::vector<PlanPoint> out{{0, 0}};
  for (int k = 0; k < steps; ++k) {
    out.push_back({1500.0 + 700 * k, -600.0 * k});
    out.push_back({1504.0 + 700 * k, -600.0 * k - 597});
  }
  out[1].y = 0;
  out.push_back({6, -600.0 * steps});
  return out;
}

// Each wall again at other heights, leaning, and every length with its error.
void book(Survey& s, std::initializer_list<double> heights, double sd, double lean_sd,
          Random& random) {
  for (Wall& w : s.rooms[0].walls) {
    const double length = w.lengths[0].length, lean = random.normal(lean_sd);
    w.lengths.clear();
    for (double height : heights)
      w.lengths.push_back(
          {height, 0, std::round(length + (height - 900) / 1000 * lean + random.normal(sd)), {}});
  }
  for (Diagonal& d : s.rooms[0].diagonals) d.length = std::round(d.length + random.normal(sd));
}

void square_corner(Survey& s, Index corner, double degrees) {
  CornerAngle a;
  a.corner = corner;
  a.degrees = degrees;
  s.rooms[0].angles.push_back(a);
}

}  // namespace

TEST_CASE("a metre out at one of three heights harms nothing else") {
  Random random(5);
  for (Index wall = 0; wall < 4; ++wall)
    for (Index height = 0; height < 3; ++height)
      for (double slip : {1000.0, -1000.0}) {
        CAPTURE(wall);
        CAPTURE(height);
        CAPTURE(slip);
        Survey s = room_of(skew_room);
        add_diagonals(s, skew_room, {{0, 2}, {1, 3}});
        book(s, {150, 900, 2000}, 1, 3, random);
        s.rooms[0].walls[wall].lengths[height].length += slip;
        const RoomPlan plan = adjust_room(s, 0);
        CHECK(plan.summary.global_test == GlobalTest::cured);
        check_corners(plan, skew_room, 6);  // 3 of their sds
        for (const ObservationResult& o : plan.observations)
          CHECK((o.verdict == Agreement::rejected) ==
                (o.at ==
                 "/rooms/0/walls/" + std::to_string(wall) + "/lengths/" + std::to_string(height)));
      }
}

TEST_CASE("a chimney breast is a room like any other") {
  Survey s = room_of(breast_room);
  CHECK(s.rooms[0].corners[2].angle == 270);
  CHECK(s.rooms[0].corners[3].angle == 270);
  add_diagonals(s, breast_room, {{1, 6}, {5, 7}, {4, 7}, {2, 7}, {3, 6}, {2, 6}, {3, 7}, {0, 5}});
  check_corners(adjust_room(s, 0), breast_room, 1e-6);

  for (Diagonal& d : s.rooms[0].diagonals) d.length = std::round(d.length);
  for (Wall& w : s.rooms[0].walls) w.lengths[0].length = std::round(w.lengths[0].length);
  s.rooms[0].walls[5].lengths[0].length = 3947;  // 3497
  const RoomPlan plan = adjust_room(s, 0);
  CHECK(plan.summary.global_test == GlobalTest::cured);
  CHECK(reading(plan, "/rooms/0/walls/5/lengths/0").verdict == Agreement::rejected);
  REQUIRE(!plan.summary.suspects.empty());
  CHECK(plan.summary.suspects[0].kind == "digits swapped");
  CHECK(plan.summary.suspects[0].value == 3497);
  check_corners(plan, breast_room, 3);
}

TEST_CASE("forty corners are placed, and a slip among them is found and named") {
  const std::vector<PlanPoint> truth = stairs(19);
  REQUIRE(truth.size() == 40);
  Survey s = room_of(truth);
  for (Index c = 0; c < 40; ++c) square_corner(s, c, interior(truth, c));
  for (Index c = 3; c < 38; c += 4) add_diagonals(s, truth, {{0, c}, {c, 39}});
  check_corners(adjust_room(s, 0), truth, 1e-5);

  for (Wall& w : s.rooms[0].walls) w.lengths[0].length = std::round(w.lengths[0].length);
  s.rooms[0].walls[10].lengths[0].length += 1000;  // a rise of 597 to 1597
  const RoomPlan plan = adjust_room(s, 0);
  CHECK(plan.summary.global_test == GlobalTest::cured);
  CHECK(reading(plan, "/rooms/0/walls/10/lengths/0").verdict == Agreement::rejected);
  REQUIRE(!plan.summary.suspects.empty());
  CHECK(plan.summary.suspects[0].at == "/rooms/0/walls/10/lengths/0");
  check_corners(plan, truth, 10);
}

TEST_CASE("one diagonal places a rectangle and checks nothing") {
  Survey s = room_of(skew_room);
  add_diagonals(s, skew_room, {{1, 3}});
  const RoomPlan plan = adjust_room(s, 0);
  check_corners(plan, skew_room, 1e-6);
  CHECK(plan.summary.dof == 0);
  CHECK_FALSE(plan.summary.global_test);
  for (const CornerResult& c : plan.corner_results) CHECK_FALSE(c.assumed);
  for (const ObservationResult& o : plan.observations) CHECK(o.verdict == Agreement::unchecked);
  REQUIRE(plan.summary.measure_next.size() == 1);
  CHECK(plan.summary.measure_next[0].what == "diagonal A to C");
}

TEST_CASE("three tapes alone give the corner they are set out in") {
  // Cosine law (exact geometry).
  const struct {
    double a, b, across, degrees;
  } cases[] = {{600, 800, 1000, 90},
               {600, 800, 998, 89.76151},
               {3000, 4000, 5000, 90},
               {3000, 4000, 5003, 90.07164}};
  for (const auto& c : cases) {
    CAPTURE(c.across);
    std::vector<PlanPoint> truth = square_room;
    const double turn = std::acos((c.a * c.a + c.b * c.b - c.across * c.across) / (2 * c.a * c.b));
    truth[3] = {3100 * std::cos(turn), -3100 * std::sin(turn)};
    Survey s = room_of(truth);
    CornerAngle a;
    a.corner = 0;
    a.triangle = {c.a, c.b, c.across};
    s.rooms[0].angles.push_back(a);
    const RoomPlan plan = adjust_room(s, 0);
    REQUIRE(plan.known);
    CHECK(std::abs(*plan.corner_results[0].angle - c.degrees) < 0.000006);
    CHECK_FALSE(plan.corner_results[0].assumed);
    CHECK(plan.summary.dof == 0);
  }
}

TEST_CASE("two squares that contradict each other are both asked for, in a checked room one goes") {
  Survey s = room_of(square_room);
  square_corner(s, 0, 90);
  square_corner(s, 0, 93);
  const RoomPlan both = adjust_room(s, 0);
  REQUIRE(both.known);
  CHECK(both.summary.global_test == GlobalTest::fail);
  REQUIRE(both.summary.one_of);
  CHECK(both.summary.one_of->set ==
        std::vector<std::string>{"/rooms/0/angles/0", "/rooms/0/angles/1"});

  add_diagonals(s, square_room, {{0, 2}, {1, 3}});
  const RoomPlan checked = adjust_room(s, 0);
  CHECK(checked.summary.global_test == GlobalTest::cured);
  CHECK(reading(checked, "/rooms/0/angles/0").verdict != Agreement::rejected);
  CHECK(reading(checked, "/rooms/0/angles/1").verdict == Agreement::rejected);
  check_corners(checked, square_room, 1e-6);
}

TEST_CASE("a meter's scale error comes out where a tape fixes the lengths") {
  Survey s = checked_l_room();
  s.instruments.push_back({"D", InstrumentKind::distance_meter, 1, {}, 2});
  s.instruments.push_back({"T", InstrumentKind::tape, 0.01, {}, 0});
  for (Wall& w : s.rooms[0].walls) {
    w.lengths[0].instrument = 1;
    const double booked = w.lengths[0].length / (1 - 0.0015);  // 1.5 mm too much in a booked metre
    w.lengths.push_back({900, 0, booked, 0});
  }
  for (Diagonal& d : s.rooms[0].diagonals) d.instrument = 1;
  RoomNet net(s, 0);
  REQUIRE(net.solve(net.all_used()) == NetState::solved);
  // Metres squared, 63 together, at sd 1 against its own 0 +- 2: it keeps all but 0.4 % of 1.5.
  CHECK(std::abs(net.plan().scale(0) - 1.5) < 0.02);
  check_corners(adjust_room(s, 0), l_room, 0.01);
}

TEST_CASE("shares of all measurements, assumed or not, sum to the degrees of freedom") {
  Random random(9);
  for (const bool diagonals : {false, true}) {
    CAPTURE(diagonals);
    Survey s = room_of(l_room);
    s.instruments.push_back({"D", InstrumentKind::distance_meter, 1, {}, 0.5});
    if (diagonals) add_diagonals(s, l_room, {{0, 2}, {0, 3}, {0, 4}, {1, 3}, {2, 5}, {3, 5}});
    book(s, {150, 900, 2000}, 2, 3, random);
    for (Wall& w : s.rooms[0].walls) w.lengths[0].instrument = 0;
    RoomNet net(s, 0);
    net.assume(!diagonals);
    const std::vector<char> used = net.all_used();
    REQUIRE(net.solve(used) == NetState::solved);
    const PlanAdjustment& plan = net.plan();
    double sum = 0;
    for (Index i = 0; i < used.size(); ++i)
      if (used[i]) sum += plan.redundancy(i);
    // A term's own share: its variance is that of a length that it alone makes.
    const double much = 1e6;
    const auto share = [&](NetObservation o, double sd) {
      const double term_sd = plan.predict(o).sd / much;
      return 1 - term_sd * term_sd / (sd * sd);
    };
    const PlanNet& given = plan.net();
    for (Index k = 0; k < given.leans.size(); ++k) {
      NetObservation o;
      o.to = 1;
      o.lean = NetTerm{k, much};
      sum += share(o, given.leans[k]);
    }
    REQUIRE(given.scales.size() == 1);
    NetObservation o;
    o.to = 1;
    o.scale = NetTerm{0, much};
    sum += share(o, given.scales[0]);
    CHECK(sum == Approx(plan.dof()).epsilon(1e-5));
  }
}

TEST_CASE("a room measured over and over is judged by its likeliest readings") {
  Survey s = checked_l_room();
  Random random(11);
  for (Wall& w : s.rooms[0].walls)
    for (int k = 0; k < 40; ++k)
      w.lengths.push_back({900, 0, std::round(w.lengths[0].length + random.normal(2)), {}});
  s.rooms[0].walls[3].lengths[17].length += 270;
  const RoomPlan plan = adjust_room(s, 0);
  CHECK(plan.summary.global_test == GlobalTest::cured);
  CHECK(reading(plan, "/rooms/0/walls/3/lengths/17").verdict == Agreement::rejected);
  check_corners(plan, l_room, 3);
}

TEST_CASE("findings are known by the ids of walls and corners, each by its own") {
  Survey s = checked_l_room();
  s.rooms[0].walls[1].lengths[0].length += 270;
  add_diagonals(s, l_room, {{2, 5}});
  s.rooms[0].diagonals.back().length -= 100;
  const RoomPlan two = adjust_room(s, 0);
  std::set<std::string> ids;
  for (const Finding& f : two.findings)
    if (f.code == "wall lengths do not close") ids.insert(f.id);
  CHECK(ids == std::set<std::string>{"W2/lengths/0", "C-F/diagonals/1"});

  // The same wall listed elsewhere keeps its name.
  std::swap(s.rooms[0].walls[1], s.rooms[0].walls[4]);
  const RoomPlan swapped = adjust_room(s, 0);
  std::set<std::string> again;
  for (const Finding& f : swapped.findings)
    if (f.code == "wall lengths do not close") again.insert(f.id);
  CHECK(again == ids);

  Survey one = room_of(square_room);
  add_diagonals(one, square_room, {{0, 2}, {1, 3}});
  one.rooms[0].walls[2].lengths[0].length = 4020;
  const RoomPlan of = adjust_room(one, 0);
  const Finding* f = finding(of, "wall lengths do not close");
  REQUIRE(f);
  CHECK(f->id == "one of/W1/lengths/0");
}

TEST_CASE("a room that cannot close is refused with what to measure, and places nothing") {
  Survey s = room_of(square_room);  // 4,200 cannot be reached back over three walls of 1,300
  for (Index w : {1, 2, 3}) s.rooms[0].walls[w].lengths[0].length = 1300;
  const Results results = solve(s);
  const auto hold =
      std::find_if(results.findings.begin(), results.findings.end(),
                   [](const Finding& f) { return f.code == "plan cannot be computed"; });
  REQUIRE(hold != results.findings.end());
  CHECK(hold->severity == Severity::hold);
  CHECK(hold->remedy.find("easure") != std::string::npos);
  for (const CornerResult& c : results.rooms[0].corners) CHECK_FALSE(c.x);
}

TEST_CASE("two walls alone are no room, and are told so") {
  Survey s = room_of(square_room);
  s.rooms[0].corners.resize(2);
  s.rooms[0].walls.resize(2);
  s.rooms[0].walls[1].to = 0;
  const RoomPlan plan = adjust_room(s, 0);
  CHECK_FALSE(plan.known);
  const Finding* hold = finding(plan, "plan cannot be computed");
  REQUIRE(hold);
  CHECK(hold->severity == Severity::hold);
  CHECK(hold->remedy ==
        "Enter each corner, clockwise seen from above, and the wall between each two.");
}

TEST_CASE(
    "a rectangle of two walls measured rests on square corners, and the others are asked for") {
  Survey s = room_of(square_room);
  for (Index w : {2, 3}) s.rooms[0].walls[w].lengths.clear();
  const Results results = solve(s);
  for (const CornerResult& c : results.rooms[0].corners) CHECK(c.assumed);
  for (const ObservationResult& o : results.rooms[0].observations)
    CHECK(o.verdict == Agreement::unchecked);
  CHECK(std::any_of(results.findings.begin(), results.findings.end(), [](const Finding& f) {
    return f.severity == Severity::query && f.says.find("length of W3") != std::string::npos &&
           f.says.find("length of W4") != std::string::npos;
  }));
}

TEST_CASE("with two walls measured of eight, the others' lengths are asked for") {
  Survey s = room_of(breast_room);
  for (Index w : {0, 1, 2, 3, 4, 5}) s.rooms[0].walls[w].lengths.clear();
  const RoomPlan plan = adjust_room(s, 0);
  CHECK_FALSE(plan.known);
  const Finding* hold = finding(plan, "plan cannot be computed");
  REQUIRE(hold);
  CHECK(hold->remedy ==
        "Measure the length of W1, length of W2, length of W3, length of W4, "
        "length of W5 and 1 more.");
}

TEST_CASE("measured angles that do not add up to a room are asked for, not averaged away") {
  Survey s = room_of(square_room);  // 90 + 90 + 90 + 97 make 367, not 360
  for (Index c : {0, 1, 2}) square_corner(s, c, 90);
  square_corner(s, 3, 97);
  const RoomPlan plan = adjust_room(s, 0);
  CHECK(plan.summary.global_test != GlobalTest::pass);
  const Finding* query = finding(plan, "wall lengths do not close");
  REQUIRE(query);
  CHECK(query->severity != Severity::note);
  CHECK(query->remedy.find("easure") != std::string::npos);
  CHECK(query->says.find("ngle at ") != std::string::npos);
}
