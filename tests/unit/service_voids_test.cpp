#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/services_room.h"

using namespace levelrun;

// Void 42, projection known to 1: within up to 42 − 1.96 = 40.04, outside from 42 + 1.96 = 43.96.
TEST_CASE("a projection is within, doubtful or outside the void by its 95 % band, for both backs") {
  struct Row {
    double projection;
    Verdict verdict;
    const char* severity;
  };
  for (const BackKind back : {BackKind::recessed, BackKind::standing_off})
    for (const Row& row :
         {Row{30, Verdict::within, ""}, Row{40, Verdict::within, ""},
          Row{40.1, Verdict::doubtful, "query"}, Row{43.9, Verdict::doubtful, "query"},
          Row{44, Verdict::outside, "hold"}}) {
      CAPTURE(row.projection);
      CAPTURE(int(back));
      const Results results =
          solved_with(services_room(back), service_on(300, 500, row.projection));
      const ServiceResult& s = results.rooms[0].services[0];
      CHECK(s.verdict == row.verdict);
      CHECK(*s.void_here == doctest::Approx(42));
      CHECK(*s.void_needed == row.projection);
      CHECK(s.height_zone == "behind a unit");
      CHECK(s.units == std::vector<std::string>{"R1"});
      CHECK(s.clashes.empty() == (row.verdict == Verdict::within));
      const Finding* found = finding(results, "void too shallow");
      REQUIRE(bool(found) == (row.verdict != Verdict::within));
      if (!found) continue;
      CHECK(found->id == "void-too-shallow/K/S/R1");
      CHECK((found->severity == Severity::hold) == (row.severity == std::string("hold")));
      CHECK(*found->measured == row.projection);
      CHECK(*found->limit == doctest::Approx(42));
    }
  CHECK(service_result(services_room(), service_on(300, 500, 40)).sum == "42.0 − 40.0 = 2.0");
}

// The wall bows 8 back at 1,500 of 3,000; the run's line touches it at its left end. At 700, the
// near edge of a box 100 wide at 750, it lies 8 · 700 / 1,500 = 3.733 behind the line; at its
// middle 4.0. Weights of the three readings there: −0.2333, 0.4667, −0.2333, so the sd is
// 0.5 · 0.5715 = 0.286, and with the tape's 1 it is 1.040.
TEST_CASE("a bowed wall adds its hollow to the void, least at the edge of a box") {
  Survey survey = services_room();
  survey.rooms[0].walls[0].offsets = {{0, 500, 60, 1}, {1500, 500, 68, 1}, {3000, 500, 60, 1}};
  Service box = service_on(750, 500, 45, ServiceKind::socket);
  box.width = 100;
  box.height_of = 86;
  const ServiceResult s = service_result(survey, box);
  CHECK(*s.void_here == doctest::Approx(45.7333).epsilon(1e-5));
  CHECK(*s.void_sd == doctest::Approx(1.0400).epsilon(1e-3));
  CHECK(s.verdict == Verdict::doubtful);
  CHECK(s.sum == "42.0 + 3.7 hollow − 45.0 = 0.7");
  CHECK(*service_result(survey, service_on(750, 500, 45)).void_here == doctest::Approx(46));
}

// Proud at 900 between two hollows: the edges at 800 and 1,100 lie 2.667 and 5.333 back, 900 not.
TEST_CASE("a proud place between the edges of a wide box counts") {
  Survey survey = services_room();
  survey.rooms[0].walls[0].offsets = {{0, 500, 60, 1},
                                      {600, 500, 68, 1},
                                      {900, 500, 60, 1},
                                      {1200, 500, 68, 1},
                                      {3000, 500, 60, 1}};
  Service box = service_on(950, 500, 30, ServiceKind::meter);
  box.width = 300;
  box.height_of = 200;
  CHECK(*service_result(survey, box).void_here == doctest::Approx(42));
}

// Level lines 0 and 10 back at 300 and 700 high (a plumb plane): at 600, the top of a box 200 tall
// at 500, the face is 7.5 back, at its underside 2.5.
TEST_CASE("a leaning wall is looked at over the height of a box") {
  Survey survey = services_room();
  Wall& wall = survey.rooms[0].walls[0];
  for (const double along : {0.0, 3000.0}) {
    wall.offsets.push_back({along, 300, 60, 1});
    wall.offsets.push_back({along, 700, 70, 1});
  }
  Service box = service_on(900, 500, 30, ServiceKind::consumer_unit);
  box.width = 300;
  box.height_of = 200;
  CHECK(*service_result(survey, box).void_here == doctest::Approx(44.5));
}

TEST_CASE("a service of no width at the joint of two units is behind both") {
  const ServiceResult s = service_result(services_room(), service_on(600, 500, 50));
  CHECK(s.units == std::vector<std::string>{"R1", "R2"});
  CHECK(s.verdict == Verdict::outside);
}

TEST_CASE("below and above the units there is no void and no verdict") {
  const ServiceResult below = service_result(services_room(), service_on(300, 100, 60));
  CHECK(below.height_zone == "below the underside");
  CHECK_FALSE(below.verdict);
  CHECK(below.sum.empty());
  const ServiceResult above = service_result(services_room(), service_on(300, 1100, 60));
  CHECK(above.height_zone == "above the units");
  CHECK_FALSE(above.verdict);
  const ServiceResult beside = service_result(services_room(), service_on(2500, 500, 60));
  CHECK(beside.height_zone.empty());
  CHECK(beside.units.empty());
}

TEST_CASE("a service to be moved, and one whose projection is not known, have no verdict") {
  Service service = service_on(300, 500, 60);
  service.action = ServiceAction::move;
  for (const double projection : {60.0, 0.0}) {
    service.projection = projection;
    const ServiceResult s = service_result(services_room(), service);
    CHECK(s.units == std::vector<std::string>{"R1"});
    CHECK(s.height_zone == "behind a unit");
    CHECK_FALSE(s.verdict);
    CHECK_FALSE(s.void_needed);
    CHECK(s.clashes.empty());
    CHECK(s.notches.empty());
    service.action = ServiceAction::stay;
  }
}

TEST_CASE("a wall unit's own void counts behind it") {
  Survey survey = services_room();
  Run& run = survey.rooms[0].runs[0];
  for (Unit& unit : run.units) unit.kind = UnitKind::wall;
  // Underside 150 + 720 + 38 + 450 = 1,358.
  const Service data = service_on(300, 1500, 20, ServiceKind::data);
  CHECK(*service_result(survey, data).void_here == doctest::Approx(42));
  run.furniture.wall_unit.void_depth = 14;
  const ServiceResult s = service_result(survey, data);
  CHECK(s.height_zone == "behind a wall unit");
  CHECK(*s.void_here == doctest::Approx(14));
  CHECK(s.verdict == Verdict::outside);
}

// From 30 off the face at 300 to a pipe of 22 whose middle is 40 out at 900: its far face goes from
// 30 to 51. R1 ends at 600; the pipe is still behind it where its middle is at 611, where it
// reaches 30 + 21 · 311/600 = 40.885: doubtful. R2 and R3: 51, outside.
TEST_CASE("a route is judged behind each unit it runs behind") {
  Service pipe = service_on(300, 500, 30);
  pipe.diameter = 22;
  pipe.route = {route_point(900, 500, 40), route_point(1500, 500, 40)};
  const Results results = solved_with(services_room(BackKind::standing_off), pipe);
  const ServiceResult& s = results.rooms[0].services[0];
  CHECK(s.units == std::vector<std::string>{"R1", "R2", "R3"});
  CHECK(s.verdict == Verdict::outside);
  CHECK(*s.void_needed == doctest::Approx(51));
  CHECK(s.sum == "42.0 − 51.0 = −9.0");
  double measured[3] = {0, 0, 0};
  for (const Finding& f : results.findings)
    if (f.code == "void too shallow") {
      const int unit = f.id.back() - '1';
      measured[unit] = *f.measured;
      CHECK(f.severity == (unit == 0 ? Severity::query : Severity::hold));
    }
  CHECK(measured[0] == doctest::Approx(40.885).epsilon(1e-6));
  CHECK(measured[1] == doctest::Approx(51));
  CHECK(measured[2] == doctest::Approx(51));
}

// Proud by 8 at 600, the run's line stands 8 in front of the wall's line, so a pipe 37 out
// reaches 48 of 42 + 8 = 50.
TEST_CASE("where a route says how far out it is, the wall's line is what counts") {
  Survey survey = services_room();
  survey.rooms[0].walls[0].offsets = {{0, 500, 60, 1}, {600, 500, 52, 1}, {3000, 500, 60, 1}};
  Service pipe = service_on(300, 500, 0);
  pipe.diameter = 22;
  pipe.route = {route_point(700, 500, 37), route_point(1000, 500, 37)};
  const ServiceResult s = service_result(survey, pipe);
  CHECK(*s.void_here == doctest::Approx(50));
  CHECK(*s.void_needed == doctest::Approx(48));
  CHECK(s.sum == "42.0 + 8.0 proud − 48.0 = 2.0");
}

TEST_CASE("a route in x and y is known to its place, and judged so") {
  Service pipe = service_on(300, 500, 0);
  pipe.height.reset();
  pipe.place = Place{{}, 0, 0, 100, -1500, 5};
  pipe.diameter = 20;
  RoutePoint a{Place{{}, 0, 0, 700, -25, 5}, MeasuredHeight{500, {}}}, b = a;
  b.place.x = 1000;
  pipe.route = {a, b};
  const ServiceResult s = service_result(services_room(), pipe);
  CHECK(s.units == std::vector<std::string>{"R2"});
  CHECK(*s.void_needed == doctest::Approx(35).epsilon(1e-6));
  CHECK(*s.void_sd == doctest::Approx(std::hypot(5, 1)));
  CHECK(s.verdict == Verdict::doubtful);
}

// The room's walls are 3,000 and 2,000; five units fill the first from end to end.
TEST_CASE("a route round a corner keeps to its walls") {
  Survey survey = services_room(BackKind::standing_off, 5);
  Service pipe = service_on(2000, 500, 30);
  pipe.diameter = 22;
  pipe.route = {route_point(500, 300, 0, 1)};
  const ServiceResult s = service_result(survey, pipe);
  CHECK(s.units == std::vector<std::string>{"R4", "R5"});
  CHECK(s.verdict == Verdict::within);
}

TEST_CASE("a pipe that dives under the units passes only what it is behind") {
  Service pipe = service_on(300, 500, 50);
  pipe.diameter = 22;
  pipe.route = {route_point(300, 60), route_point(1500, 60)};
  const ServiceResult s = service_result(services_room(), pipe);
  CHECK(s.units == std::vector<std::string>{"R1"});
}

TEST_CASE("the void that a run needs is the void with which everything passes") {
  Survey survey = services_room(BackKind::standing_off);
  Room& room = survey.rooms[0];
  room.walls[0].offsets = {{0, 500, 60, 1}, {1500, 500, 68, 1}, {3000, 500, 60, 1}};
  CHECK_FALSE(solve(survey).rooms[0].run_voids.at(0).needed);
  room.services = {service_on(300, 500, 45), service_on(1500, 500, 50)};
  room.services[1].id = "T";
  const Results before = solve(survey);
  const RunVoidResult& run = before.rooms[0].run_voids.at(0);
  CHECK(run.run == "R");
  // S: 45 − 1.6 hollow, T: 50 − 8 hollow; S asks for more. Readings' weights at 300: −0.1, 0.2,
  // −0.1, sd 0.5 · 0.245 = 0.122, with the tape's 1: 1.0075; 1.96 of it is 1.975.
  CHECK(run.service == "S");
  CHECK(*run.needed == doctest::Approx(45.375).epsilon(1e-4));
  CHECK(run.here == 42);
  CHECK(run.verdict == Verdict::doubtful);
  CHECK(run.sum == "45.0 − 1.6 hollow + 2.0 band = 45.4");
  room.runs[0].furniture.void_depth = *run.needed + 1e-9;
  const Results within = solve(survey);
  for (const ServiceResult& s : within.rooms[0].services) CHECK(s.verdict == Verdict::within);
}

// 3 sd of a place known to 5: 15 right of the wall's 3,000, and a little for the wall's own length.
TEST_CASE("a service booked outside its wall is asked about and not judged") {
  for (const auto& [along, asked] :
       {std::pair{-1.0, true}, {0.0, false}, {3010.0, false}, {3050.0, true}}) {
    const auto& along_of_case = along;
    CAPTURE(along_of_case);
    Service service = service_on(along, 500, 60);
    service.place.sd = 5;
    const Results results = solved_with(services_room(BackKind::recessed, 6), service);
    const Finding* query = finding(results, "service outside its wall");
    REQUIRE(bool(query) == asked);
    if (!asked) continue;
    CHECK(query->severity == Severity::query);
    CHECK(*query->measured == along);
    CHECK(*query->limit == doctest::Approx(along < 0 ? 0 : 3000));
    CHECK_FALSE(query->remedy.empty());
    CHECK_FALSE(results.rooms[0].services[0].verdict);
    CHECK_FALSE(finding(results, "void too shallow"));
  }
}

// 3 sd of two heights by tape (2 each): 8.5 above the ceiling's 2,400.
TEST_CASE("a service booked above the ceiling is asked about") {
  Survey survey = services_room();
  survey.rooms[0].ceilings = {{Place{{}, 0, 0, 300, -300, 20}, MeasuredHeight{2400, {}}, {}}};
  CHECK_FALSE(finding(solved_with(survey, service_on(300, 2405, 20)), "service outside its wall"));
  const Results results = solved_with(survey, service_on(300, 2450, 20));
  const Finding* query = finding(results, "service outside its wall");
  REQUIRE(query);
  CHECK(*query->limit == doctest::Approx(2400).epsilon(1e-4));
  CHECK(*query->measured == doctest::Approx(2450).epsilon(1e-4));
}

TEST_CASE("gas, meters, consumer units and soil stacks are safety; all moving is deferred") {
  struct Row {
    ServiceKind kind;
    bool safety;
  };
  for (const Row& row : {Row{ServiceKind::gas, true}, Row{ServiceKind::meter, true},
                         Row{ServiceKind::consumer_unit, true}, Row{ServiceKind::soil_stack, true},
                         Row{ServiceKind::cold_water, false}, Row{ServiceKind::waste, false},
                         Row{ServiceKind::socket, false}}) {
    CAPTURE(int(row.kind));
    for (const double projection : {43.0, 70.0}) {
      const Results results =
          solved_with(services_room(), service_on(300, 500, projection, row.kind));
      const Finding* found = finding(results, "void too shallow");
      REQUIRE(found);
      CHECK(found->safety == row.safety);
      CHECK(found->remedy.ends_with(row.safety
                                        ? "by a licensed person, to the local code."
                                        : "by a licensed person where the local code asks it."));
    }
  }
}
