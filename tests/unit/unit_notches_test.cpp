#include <doctest/doctest.h>

#include "checks/results_json.h"
#include "tests/unit/services_room.h"

using namespace levelrun;

namespace {

const NotchResult* notch(const ServiceResult& s, const std::string& unit, const std::string& part) {
  for (const NotchResult& n : s.notches)
    if (n.unit == unit && n.part == part) return &n;
  return nullptr;
}

bool clashes(const ServiceResult& s, const std::string& what) {
  for (const std::string& clash : s.clashes)
    if (clash == what) return true;
  return false;
}

Service long_pipe(double height = 500, double projection = 30) {
  Service pipe = service_on(300, height, projection);
  pipe.diameter = 22;
  pipe.route = {route_point(1500, height)};
  return pipe;
}

}  // namespace

// A pipe of 22, middle 500 high, 30 off the wall, from the middle of R1 to the middle of R3. The
// void of 42 is deep enough, but recessed sides go back to the wall: 30 + 5 in from their back
// edge, from 500 − 11 − 5 − 150 = 334 to 500 + 11 + 5 − 150 = 366 above the underside.
TEST_CASE("a pipe along three recessed units cuts the four sides that it crosses") {
  const Results results = solved_with(services_room(), long_pipe());
  const ServiceResult& s = results.rooms[0].services[0];
  CHECK(s.verdict == Verdict::within);
  REQUIRE(s.notches.size() == 4);
  const char* expected[][2] = {
      {"R1", "right_side"}, {"R2", "left_side"}, {"R2", "right_side"}, {"R3", "left_side"}};
  for (const auto& [unit, part] : expected) {
    const auto& unit_of_case = unit;
    CAPTURE(unit_of_case);
    const auto& part_of_case = part;
    CAPTURE(part_of_case);
    const NotchResult* n = notch(s, unit, part);
    REQUIRE(n);
    CHECK(n->from == 0);
    CHECK(n->to == doctest::Approx(35));
    CHECK(n->depth == doctest::Approx(35));
    CHECK(n->height_from == doctest::Approx(334).epsilon(1e-4));
    CHECK(n->height_to == doctest::Approx(366).epsilon(1e-4));
    CHECK(clashes(s, std::string(unit) + " " + part));
  }
  int notes = 0;
  for (const Finding& f : results.findings)
    if (f.code == "notch needed") {
      ++notes;
      CHECK(f.severity == Severity::note);
      CHECK_FALSE(f.safety);
      CHECK(f.remedy.find("35 in from its back edge") != std::string::npos);
    }
  CHECK(notes == 3);
  CHECK_FALSE(finding(results, "void too shallow"));
}

TEST_CASE("the same pipe passes units that stand off without a cut, up to the void") {
  for (const double projection : {30.0, 40.0}) {
    CAPTURE(projection);
    const Results results =
        solved_with(services_room(BackKind::standing_off), long_pipe(500, projection));
    CHECK(results.rooms[0].services[0].notches.empty());
    CHECK(results.rooms[0].services[0].clashes.empty());
    CHECK_FALSE(finding(results, "notch needed"));
  }
}

// 52 off the wall: 10 past the void. Of a carcass that stands off, back and sides are cut 10 + 5.
TEST_CASE("deeper than the void, it cuts the back and the sides of a carcass that stands off") {
  const Results results = solved_with(services_room(BackKind::standing_off), long_pipe(500, 52));
  const ServiceResult& s = results.rooms[0].services[0];
  CHECK(s.verdict == Verdict::outside);
  const NotchResult* back = notch(s, "R2", "back");
  REQUIRE(back);
  CHECK(back->from == 0);
  CHECK(back->to == 600);
  CHECK(back->depth == doctest::Approx(15));
  REQUIRE(notch(s, "R2", "left_side"));
  CHECK(notch(s, "R2", "left_side")->depth == doctest::Approx(15));
  CHECK_FALSE(finding(results, "notch needed"));  // the hold says it
  const Finding* hold = finding(results, "void too shallow");
  REQUIRE(hold);
  CHECK(hold->remedy.find("the back, ") != std::string::npos);
}

// Recessed: its back is cut 10 + 5, its sides 52 + 5.
TEST_CASE("deeper than the void, it cuts a recessed back less than the sides") {
  const ServiceResult s = service_result(services_room(), long_pipe(500, 52));
  REQUIRE(notch(s, "R2", "back"));
  CHECK(notch(s, "R2", "back")->depth == doctest::Approx(15));
  REQUIRE(notch(s, "R2", "left_side"));
  CHECK(notch(s, "R2", "left_side")->depth == doctest::Approx(57));
}

// Box 146 by 86 at 300: 227 to 373 from the left of R1, cut 222 to 378; 300 − 43 − 5 = 252 to 348.
TEST_CASE("a box cuts the back behind it, with 5 clear all round") {
  Service box = service_on(300, 450, 60, ServiceKind::socket);
  box.width = 146;
  box.height_of = 86;
  const ServiceResult s = service_result(services_room(), box);
  REQUIRE(s.notches.size() == 1);
  const NotchResult& n = s.notches[0];
  CHECK(n.part == "back");
  CHECK(n.from == doctest::Approx(222));
  CHECK(n.to == doctest::Approx(378));
  CHECK(n.height_from == doctest::Approx(252).epsilon(1e-4));
  CHECK(n.height_to == doctest::Approx(348).epsilon(1e-4));
  CHECK(n.depth == doctest::Approx(60 - 42 + 5));
}

// Top 870, so the cross-rail is 620 to 720 above the underside. Middles 700, 770, 800 with 22 lie
// below it, across its lower edge (cut 604 to 636), and within it.
TEST_CASE("a service in the top 100 behind a carcass that stands off cuts the cross-rail") {
  struct Row {
    double height;
    bool back, rail;
  };
  for (const Row& row : {Row{700, true, false}, Row{770, true, true}, Row{800, false, true}}) {
    CAPTURE(row.height);
    Service pipe = service_on(300, row.height, 60);
    pipe.diameter = 22;
    const ServiceResult s = service_result(services_room(BackKind::standing_off), pipe);
    CHECK(bool(notch(s, "R1", "back")) == row.back);
    CHECK(bool(notch(s, "R1", "cross_rail")) == row.rail);
    const ServiceResult recessed = service_result(services_room(), pipe);
    CHECK(notch(recessed, "R1", "back"));
    CHECK_FALSE(notch(recessed, "R1", "cross_rail"));
  }
}

TEST_CASE("a pipe that lies within a hollow cuts no side") {
  Survey survey = services_room();
  survey.rooms[0].walls[0].offsets = {{0, 500, 60, 1}, {600, 500, 100, 1}, {1800, 500, 60, 1}};
  Service pipe = service_on(600, 500, 25);
  pipe.diameter = 22;
  CHECK(service_result(survey, pipe).notches.empty());
  pipe.projection = 50;  // 40 behind the line there, less at its edges
  CHECK(notch(service_result(survey, pipe), "R1", "right_side"));
}

TEST_CASE("a pipe in the room's end panel cuts it, and has no void to fit") {
  Survey survey = services_room();
  Unit panel = unit_of("E", 18, UnitKind::end_panel);
  survey.rooms[0].runs[0].units.push_back(panel);
  Service pipe = service_on(1500, 100, 30);
  pipe.diameter = 22;
  pipe.route = {route_point(2200, 100)};
  const ServiceResult s = service_result(survey, pipe);
  REQUIRE(s.notches.size() == 1);
  CHECK(s.notches[0].part == "end_panel");
  CHECK(s.notches[0].depth == doctest::Approx(35));
  CHECK(s.notches[0].height_from == doctest::Approx(-66).epsilon(1e-4));  // 100 − 11 − 5 − 150
  CHECK_FALSE(s.verdict);
}

TEST_CASE("an infill is in front only, so nothing of it is cut") {
  Survey survey = services_room();
  survey.rooms[0].runs[0].units[1].kind = UnitKind::infill;
  const ServiceResult s = service_result(survey, service_on(900, 500, 60));
  CHECK(s.units == std::vector<std::string>{"R2"});
  CHECK(s.notches.empty());
  CHECK_FALSE(s.verdict);
}

TEST_CASE("a place known less well than the clearance is to be cut on site") {
  Service pipe = service_on(300, 500, 60);
  const auto remedy = [&] {
    return finding(solved_with(services_room(), pipe), "void too shallow")->remedy;
  };
  CHECK(remedy().find("cut on site") == std::string::npos);
  pipe.place.sd = 20;  // ±39
  CHECK(remedy().find("±39 only: cut on site") != std::string::npos);
}

// Void 42 + back 18 = 60, known to 1: within up to 58.04, outside from 61.96.
TEST_CASE("drawers foul a service that stands past the back panel") {
  struct Row {
    double projection;
    Verdict verdict;
  };
  Survey survey = services_room();
  survey.rooms[0].runs[0].units[0].drawers = true;
  for (const Row& row : {Row{50, Verdict::within}, Row{58, Verdict::within},
                         Row{60, Verdict::doubtful}, Row{62, Verdict::outside}}) {
    CAPTURE(row.projection);
    const Results results = solved_with(survey, service_on(300, 500, row.projection));
    const Finding* found = finding(results, "drawers foul a service");
    REQUIRE(bool(found) == (row.verdict != Verdict::within));
    CHECK(clashes(results.rooms[0].services[0], "R1 drawers") == bool(found));
    if (!found) continue;
    CHECK((found->severity == Severity::hold) == (row.verdict == Verdict::outside));
    CHECK(*found->limit == doctest::Approx(60));
    CHECK(*found->measured == row.projection);
  }
  CHECK_FALSE(finding(solved_with(survey, service_on(900, 500, 70)), "drawers foul a service"));
}

// The bowl hangs in the top 200 of a carcass whose top is at 870.
TEST_CASE("a socket or gas pipe past the back panel fouls the bowl, water and waste do not") {
  struct Row {
    ServiceKind kind;
    double height, projection;
    bool fouls;
  };
  Survey survey = services_room();
  survey.rooms[0].runs[0].units[0].houses = "sink";
  for (const Row& row :
       {Row{ServiceKind::socket, 750, 70, true}, Row{ServiceKind::gas, 750, 70, true},
        Row{ServiceKind::stopcock, 750, 70, true}, Row{ServiceKind::socket, 750, 50, false},
        Row{ServiceKind::socket, 650, 70, false}, Row{ServiceKind::waste, 750, 70, false},
        Row{ServiceKind::cold_water, 750, 70, false}}) {
    CAPTURE(int(row.kind));
    CAPTURE(row.height);
    CAPTURE(row.projection);
    const Results results =
        solved_with(survey, service_on(300, row.height, row.projection, row.kind));
    const Finding* found = finding(results, "sink fouls a service");
    REQUIRE(bool(found) == row.fouls);
    CHECK(clashes(results.rooms[0].services[0], "R1 sink") == row.fouls);
    if (found) CHECK(found->severity == Severity::hold);
    if (found && row.kind == ServiceKind::gas) CHECK(found->safety);
  }
}

TEST_CASE("waste that runs inside the sink's own unit cuts no back there, and is no trouble") {
  Survey survey = services_room();
  survey.rooms[0].runs[0].units[1].houses = "sink";
  Service waste = service_on(0, 0, 0, ServiceKind::waste);
  waste.place = Place{{}, 0, 0, 900, -1500, 1};
  waste.height.reset();
  waste.diameter = 40;
  waste.route = {route_point(800, 400, 200), route_point(1000, 400, 200)};
  CHECK_FALSE(service_result(survey, waste).verdict);
  survey.rooms[0].runs[0].units[1].houses = "";
  CHECK(service_result(survey, waste).verdict == Verdict::outside);
}

TEST_CASE("behind a built-in appliance a service goes to the neighbouring unit without drawers") {
  for (const char* houses : {"oven", "dishwasher", "fridge", "freezer", "washing_machine", ""}) {
    CAPTURE(houses);
    Survey survey = services_room();
    auto& units = survey.rooms[0].runs[0].units;
    units[1].houses = houses;
    if (houses == std::string()) units[1].kind = UnitKind::appliance;
    units[0].drawers = true;
    const Results results = solved_with(survey, service_on(700, 500, 60, ServiceKind::socket));
    const ServiceResult& s = results.rooms[0].services[0];
    CHECK(s.clashes == std::vector<std::string>{"R2 appliance"});
    CHECK(s.verdict == Verdict::outside);
    CHECK(s.notches.empty());
    const Finding* hold = finding(results, "void too shallow");
    REQUIRE(hold);
    CHECK(hold->remedy.find("behind the neighbouring unit R3") != std::string::npos);
  }
}

TEST_CASE("a gas pipe's notch is a safety note") {
  Service gas = long_pipe();
  gas.kind = ServiceKind::gas;
  const Results results = solved_with(services_room(), gas);
  const Finding* note = finding(results, "notch needed");
  REQUIRE(note);
  CHECK(note->severity == Severity::note);
  CHECK(note->safety);
  CHECK(note->remedy.ends_with("by a licensed person, to the local code."));
}

TEST_CASE("the results file has notches only where there are some, and a null need where none") {
  const std::string with = results_json(solved_with(services_room(), long_pipe()));
  CHECK(with.find("\"notches\"") != std::string::npos);
  const std::string without = results_json(solve(services_room()));
  CHECK(without.find("\"notches\"") == std::string::npos);
  CHECK(without.find("\"run_voids\"") != std::string::npos);
}
