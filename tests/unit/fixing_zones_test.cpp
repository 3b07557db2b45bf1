#include <doctest/doctest.h>

#include <string>

#include "checks/published_limits.h"
#include "tests/unit/fitted_room.h"

using namespace levelrun;

namespace {

const char* const cables = "rail where cables may run";
const char* const no_drill = "rail in a no-drill area";

// Wall units V1 and V2, tops at 908 + 450 + 720 = 2078, their rail 60 lower at 2018.
Survey with_rail(double from_along, bool drop_given = true) {
  Survey survey = fitted_room(3);
  Run& run = add_wall_units(survey, 2, from_along);
  if (drop_given) run.furniture.wall_unit.rail_drop = 60;
  return survey;
}

std::string says(const Survey& survey, const char* code) {
  const Results results = solve(survey);
  const Finding* found = finding(results, code);
  return found ? found->says : "";
}

bool has(const std::string& text, const char* part) { return text.find(part) != std::string::npos; }

void add_ceiling(Survey& survey, double clear) {
  survey.rooms[0].ceilings = {{Place{{}, 0, 0, 1000, -1000, 20}, {clear, {}}, {}}};
}

NoDrill rectangle(double along, double height, double width, double height_of) {
  NoDrill zone;
  zone.wall = 0;
  zone.along = along;
  zone.height = height;
  zone.width = width;
  zone.height_of = height_of;
  zone.why = "pipes";
  return zone;
}

}  // namespace

// BS 7671, 522.6.202, seen second hand.
TEST_CASE("the cable zones are 150 wide, 50 deep, and go through walls up to 100 thick") {
  CHECK(published_limit("cable zone").value == 150);
  CHECK(published_limit("cable zone depth").value == 50);
  CHECK(published_limit("cable zone thin wall").value == 100);
}

TEST_CASE("a rail that crosses no zone is not mentioned") {
  Survey survey = with_rail(1000);
  add_ceiling(survey, 2400);
  CHECK(says(survey, cables).empty());
}

TEST_CASE("a rail close under the ceiling crosses the zone at the wall's top") {
  const struct {
    double ceiling;
    bool inside;
  } cases[] = {{2150, true}, {2171, true}, {2180, false}};  // within 7 of 2168: in doubt
  for (const auto& c : cases) {
    CAPTURE(c.ceiling);
    Survey survey = with_rail(1000);
    add_ceiling(survey, c.ceiling);
    CHECK(has(says(survey, cables), "of the wall's top") == c.inside);
  }
  Survey survey = with_rail(1000);
  add_ceiling(survey, 2150);
  CHECK(has(says(survey, cables), "(2150.0 − 2018.0 = 132.0) 1000 to 2200 along"));
}

TEST_CASE("a rail that starts near a corner crosses the zone there") {
  CHECK(has(says(with_rail(40), cables), "within 150 of the left corner 40 to 150 along"));
  CHECK(has(says(with_rail(2760), cables), "within 150 of the right corner 3850 to 3960 along"));
  CHECK(says(with_rail(150), cables).empty());
}

// The plate is 146 wide and known to ±1.96: 800 ± 74.96.
TEST_CASE("a rail over a socket crosses its strip, even where the socket is moved or capped") {
  for (const ServiceAction action :
       {ServiceAction::stay, ServiceAction::move, ServiceAction::cap, ServiceAction::new_}) {
    Survey survey = with_rail(500);
    add_socket(survey, "SO", 0, 800, 1130).action = action;
    CHECK(has(says(survey, cables), "in line with SO 725 to 875 along"));
  }
  Survey survey = with_rail(500);
  add_socket(survey, "SO", 0, 1900, 1130);
  CHECK(says(survey, cables).empty());
  survey.rooms[0].services[0].place = Place{Index(1), 800, 0, 0, 0, 1};
  CHECK(says(survey, cables).empty());
}

TEST_CASE("a socket as high as the rail has its cable along the whole rail") {
  Survey survey = with_rail(500);
  add_socket(survey, "SO", 0, 3500, 2000);
  CHECK(has(says(survey, cables), "sideways of SO 500 to 1700 along"));
  survey.rooms[0].services[0].height->value = 1900;
  CHECK(says(survey, cables).empty());
}

TEST_CASE("all crossings of a rail are one note, a safety one, with its source") {
  Survey survey = with_rail(40);
  add_ceiling(survey, 2150);
  add_socket(survey, "SO", 0, 800, 1130);
  const Results results = solve(survey);
  int notes = 0;
  for (const Finding& f : results.findings) {
    if (f.code != cables) continue;
    ++notes;
    CHECK(f.severity == Severity::note);
    CHECK(f.safety);
    CHECK(has(f.source, "BS 7671"));
    CHECK(has(f.says, "V1 to V2"));
  }
  CHECK(notes == 1);
}

TEST_CASE("a rail whose drop is not given is said to be unknown") {
  const std::string said = says(with_rail(1000, false), cables);
  CHECK(has(said, "height not known"));
  CHECK(has(said, "rail_drop"));
}

// The rail at 2018: 118 above the lower edge at 1900, 82 below the upper one at 2100.
TEST_CASE("a rail through a no-drill area is a hold, near its edge a query, off it nothing") {
  const struct {
    double along, height;
    std::optional<Severity> severity;
  } cases[] = {
      {700, 1900, Severity::hold}, {700, 2016, Severity::query}, {700, 1000, {}}, {2500, 1900, {}}};
  for (const auto& c : cases) {
    CAPTURE(c.along);
    CAPTURE(c.height);
    Survey survey = with_rail(500);
    survey.rooms[0].no_drill = {rectangle(c.along, c.height, 300, 200)};
    const Results results = solve(survey);
    const Finding* found = finding(results, no_drill);
    REQUIRE((found != nullptr) == c.severity.has_value());
    if (!found) continue;
    CHECK(found->severity == *c.severity);
    CHECK(*found->measured == doctest::Approx(2018).epsilon(1e-6));
    CHECK(found->at == "/rooms/0/no_drill/0");
    if (c.severity == Severity::hold) CHECK(*found->limit == doctest::Approx(2100).epsilon(1e-6));
  }
}

TEST_CASE("without a rail_drop a no-drill area behind wall units is a query") {
  Survey survey = with_rail(500, false);
  survey.rooms[0].no_drill = {rectangle(700, 1500, 300, 200)};
  const Results results = solve(survey);
  REQUIRE(finding(results, no_drill));
  CHECK(finding(results, no_drill)->severity == Severity::query);
}

TEST_CASE("base units before a no-drill area are told to be fixed elsewhere") {
  Survey survey = fitted_room(3);
  survey.rooms[0].no_drill = {rectangle(700, 300, 300, 200)};
  const Results results = solve(survey);
  const Finding* note = finding(results, "units before a no-drill area");
  REQUIRE(note);
  CHECK(note->severity == Severity::note);
  CHECK(has(note->says, "U2 before the no-drill area (pipes)"));
  CHECK_FALSE(finding(results, no_drill));
}

// The island covers 1000 to 2200 by −1500 to −2060.
TEST_CASE("an island over a no-drill outline or heating pipes is not fixed through the floor") {
  const auto corner = [](double x, double y) { return Place{{}, 0, 0, x, y, 20}; };
  const auto outline = [&](double x, double y, double size) {
    NoDrill zone;
    zone.outline = {corner(x, y), corner(x + size, y), corner(x + size, y - size),
                    corner(x, y - size)};
    return zone;
  };
  const char* const code = "island over what must not be drilled";
  const struct {
    double x, y, size;
    bool asked;
  } cases[] = {{1200, -1600, 100, true},    // inside the island
               {500, -500, 2400, true},     // all round it
               {1900, -1000, 3000, true},   // over a corner
               {2500, -2200, 300, false}};  // beside it
  for (const auto& c : cases) {
    CAPTURE(c.x);
    Survey survey = fitted_room(1);
    add_run(survey, "I", 2, 600, 1000, -1500);
    survey.rooms[0].no_drill = {outline(c.x, c.y, c.size)};
    const Results results = solve(survey);
    CHECK((finding(results, code) != nullptr) == c.asked);
    if (c.asked) CHECK(finding(results, code)->severity == Severity::query);
  }
  // Heating whose route passes under it from side to side, and beside it.
  for (const double y : {-1700.0, -2500.0}) {
    CAPTURE(y);
    Survey survey = fitted_room(1);
    add_run(survey, "I", 2, 600, 1000, -1500);
    Service heating;
    heating.id = "UH";
    heating.kind = ServiceKind::underfloor_heating;
    heating.place = corner(500, y);
    heating.route = {{corner(3000, y), {}}};
    survey.rooms[0].services = {heating};
    CHECK((finding(solve(survey), code) != nullptr) == (y > -2000));
    survey.rooms[0].services[0].route.clear();
    CHECK(has(says(survey, code), "route was not recorded"));
  }
}
