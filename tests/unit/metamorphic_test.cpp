// Laws that hold whatever the numbers are.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <string>

#include "checks/results_json.h"
#include "survey/survey_file.h"
#include "tests/unit/fitted_room.h"

using namespace levelrun;

namespace {

double uneven(double x, double y) {
  return 5 * std::sin(x / 600) + 3 * std::cos(y / 400) - x / 400;
}

// Two runs, two set-ups that share points, a new floor; turned about the origin by `turn`.
Survey kitchen(double turn = 0) {
  Survey survey = simple_survey(0.7);
  survey.furniture.legs = {leg_type("A", 60, 250)};
  const double c = std::cos(turn), s = std::sin(turn);
  SetUp other;
  other.id = "B";
  other.instrument = 0;
  Levels& levels = survey.rooms[0].levels;
  for (double y = -100; y > -2000; y -= 400)
    for (double x = 100; x < 3600; x += 450) {
      read_floor(survey, x * c - y * s, x * s + y * c, uneven(x, y), 20);
      const Index point = levels.points.size() - 1;
      if (point % 3 == 0) other.readings.push_back({point, 1300 - uneven(x, y) + 0.4, {}});
    }
  levels.setups.push_back(other);
  survey.rooms[0].flooring.laid = {laid_layer(15, LaidTo::wall), laid_layer(8, LaidTo::front_legs)};
  add_run(survey, "R", 5, 600, 100 * c, 100 * s, turn * 180 / std::numbers::pi);
  return survey;
}

void same_legs(const Results& a, const Results& b, double longer = 0) {
  REQUIRE(a.rooms[0].legs.size() == b.rooms[0].legs.size());
  for (Index i = 0; i < a.rooms[0].legs.size(); ++i) {
    REQUIRE(a.rooms[0].legs[i].height);
    REQUIRE(b.rooms[0].legs[i].height);
    CHECK(std::abs(*b.rooms[0].legs[i].height - *a.rooms[0].legs[i].height - longer) < 1e-6);
    CHECK(std::abs(*b.rooms[0].legs[i].sd - *a.rooms[0].legs[i].sd) < 1e-6);
  }
}

void same_cuts(const Results& a, const Results& b) {
  REQUIRE(!a.rooms[0].plinths.empty());
  REQUIRE(a.rooms[0].plinths.size() == b.rooms[0].plinths.size());
  for (Index i = 0; i < a.rooms[0].plinths.size(); ++i) {
    const PlinthResult &p = a.rooms[0].plinths[i], &q = b.rooms[0].plinths[i];
    CHECK(std::abs(p.length - q.length) < 1e-6);
    CHECK(std::abs(p.height_left - q.height_left) < 1e-6);
    CHECK(std::abs(p.height_right - q.height_right) < 1e-6);
    CHECK(p.top == q.top);
    CHECK(p.bottom == q.bottom);
    CHECK(p.verdict == q.verdict);
  }
}

void set_underside(Survey& survey, double value) {
  LevelGroup group;
  group.id = "A";
  group.underside_set = LevelGroup::SetUnderside{value, "k.r.", ""};
  survey.rooms[0].level_groups = {group};
}

// Base units on the first of four walls, on a floor that is nowhere level: every number turns with
// the room, for its readings are placed by x and y.
Survey uneven_room() {
  Survey survey = fitted_room(5);
  Levels& levels = survey.rooms[0].levels;
  for (StaffReading& reading : levels.setups[0].readings)
    if (const auto& place = levels.points[reading.point].place)
      reading.staff = 1000 - uneven(place->x, place->y);
  survey.rooms[0].level_groups.clear();
  survey.rooms[0].runs[0].furniture.plinth.stock_length = 4000;  // one piece
  survey.rooms[0].walls[0].offsets = {{200, 900, 52, {}}, {1900, 900, 55, {}}, {3800, 900, 50, {}}};
  return survey;
}

// The same room noted from its second corner on: that corner is at 0,0 then, the next wall along
// +x.
Survey from_next_corner(Survey survey) {
  Room& room = survey.rooms[0];
  const Index n = room.corners.size();
  const double first_wall = 4000;
  std::rotate(room.corners.begin(), room.corners.begin() + 1, room.corners.end());
  const auto before = [&](Index corner) { return (corner + n - 1) % n; };
  for (Wall& wall : room.walls) wall.from = before(wall.from), wall.to = before(wall.to);
  for (Diagonal& d : room.diagonals) d.from = before(d.from), d.to = before(d.to);
  for (LevelPoint& point : room.levels.points)
    if (point.place) {
      const double x = point.place->x, y = point.place->y;
      point.place->x = -y;
      point.place->y = x - first_wall;
    }
  return survey;
}

// As seen in a mirror on the side walls: left is right.
Survey mirrored(Survey survey) {
  Room& room = survey.rooms[0];
  const Index n = room.corners.size();
  const double width = 4000;
  const auto other = [&](Index corner) { return (n + 1 - corner) % n; };
  std::vector<Corner> corners(n);
  for (Index i = 0; i < n; ++i) corners[other(i)] = room.corners[i];
  room.corners = corners;
  for (Wall& wall : room.walls) {
    const Index from = wall.from;
    wall.from = other(wall.to);
    wall.to = other(from);
    for (WallOffset& offset : wall.offsets) offset.along = wall.lengths[0].length - offset.along;
  }
  for (Diagonal& d : room.diagonals) d.from = other(d.from), d.to = other(d.to);
  for (LevelPoint& point : room.levels.points)
    if (point.place) point.place->x = width - point.place->x;
  for (Run& run : room.runs) {
    double length = 0;
    for (const Unit& unit : run.units) length += unit.width;
    std::reverse(run.units.begin(), run.units.end());
    run.from_along = room.walls[*run.wall].lengths[0].length - run.from_along - length;
    std::swap(run.starts_at, run.ends_at);
  }
  return survey;
}

std::string in_mirror(std::string words) {
  for (const auto& [one, two] : {std::pair{"left", "right"}, {"right", "left"}})
    if (const std::size_t at = words.find(one); at != words.npos)
      return words.replace(at, std::string(one).size(), two);
  return words;
}

// What is set, cut and judged, by name: legs, plinths, fits, walls and findings.
using Outcome = std::map<std::string, std::pair<double, int>>;

int judged(const std::optional<Verdict>& verdict) { return verdict ? int(*verdict) : -1; }

Outcome outcome_of(const Results& results) {
  constexpr double unknown = -1e9;
  Outcome out;
  const auto put = [&](const std::string& name, std::optional<double> value, int verdict) {
    const bool fresh = out.insert({name, {value.value_or(unknown), verdict}}).second;
    CHECK_MESSAGE(fresh, name);
  };
  for (const RoomResult& room : results.rooms) {
    for (const LegResult& leg : room.legs)
      put(room.id + " leg " + leg.unit + " " + leg.position, leg.height, judged(leg.verdict));
    for (const PlinthResult& p : room.plinths) {
      const std::string name =
          room.id + " plinth " + p.run + " " + p.face + " " + std::to_string(p.piece);
      put(name + " length", p.length, judged(p.verdict));
      put(name + " left", p.height_left, judged(p.verdict));
      put(name + " right", p.height_right, judged(p.verdict));
    }
    for (const FitResult& fit : room.fits)
      put(room.id + " fit " + fit.run, fit.left_over, judged(fit.verdict));
    for (const WallResult& wall : room.walls)
      put(room.id + " wall " + wall.wall, wall.bow, judged(wall.verdict));
  }
  for (const Finding& finding : results.findings)
    if (finding.code != "word not known")  // known by its place in the file
      put(finding.id, finding.measured, int(finding.severity));
  return out;
}

void same_outcome(const Outcome& a, const Outcome& b) {
  CHECK(a.size() == b.size());
  for (const auto& [name, one] : a) {
    const auto& name_of_case = name;
    CAPTURE(name_of_case);
    const auto found = b.find(name);
    REQUIRE(found != b.end());
    CHECK(std::abs(one.first - found->second.first) < 1e-6);
    CHECK(one.second == found->second.second);
  }
}

Outcome outcome_of(const Json& document) {
  const auto survey = survey_from(document);
  REQUIRE(survey.ok());
  return outcome_of(solve(survey.value()));
}

const char* const samples[] = {"small-l-kitchen", "u-shape-island", "knocked-through",
                               "full-of-trouble"};

Json sample(const std::string& name) {
  const auto file = load_survey(std::string(SAMPLES) + "/" + name + ".levelrun.json");
  REQUIRE(file.ok());
  return file.value().document;
}

void reverse(Json& list) {
  if (list.is_array()) std::reverse(list.begin(), list.end());
}

}  // namespace

TEST_CASE("raise the instrument and nothing changes") {
  const Results before = solve(kitchen());
  Survey raised = kitchen();
  for (StaffReading& reading : raised.rooms[0].levels.setups[1].readings) reading.staff += 137;
  const Results after = solve(raised);
  same_legs(before, after);
  same_cuts(before, after);
}

TEST_CASE("turn the room and no leg or cut changes") {
  const Results before = solve(kitchen());
  for (const double turn : {0.3, 1.5707963267948966, 2.9}) {
    CAPTURE(turn);
    const Results after = solve(kitchen(turn));
    same_legs(before, after);
    same_cuts(before, after);
  }
}

TEST_CASE("with U set, a thicker floor under the units shortens legs by exactly that") {
  Survey survey = kitchen();
  set_underside(survey, 190);
  const Results before = solve(survey);
  survey.rooms[0].flooring.laid[0].thickness += 4.5;
  same_legs(before, solve(survey), -4.5);
}

TEST_CASE("with U set, a thicker floor that stops at the front legs leaves the legs") {
  Survey survey = kitchen();
  set_underside(survey, 160);
  const Results before = solve(survey);
  survey.rooms[0].flooring.laid[1].thickness += 4.5;
  const Results after = solve(survey);
  same_legs(before, after);
  // But the plinth stands on it.
  CHECK(after.rooms[0].plinths[0].height_left ==
        doctest::Approx(before.rooms[0].plinths[0].height_left - 4.5));
}

TEST_CASE("the order of readings and of rooms changes no leg") {
  const Results before = solve(kitchen());
  Survey shuffled = kitchen();
  for (SetUp& setup : shuffled.rooms[0].levels.setups)
    std::reverse(setup.readings.begin(), setup.readings.end());
  same_cuts(before, solve(shuffled));

  Survey two = kitchen();
  Room other = two.rooms[0];
  other.id = "K2";
  two.rooms.insert(two.rooms.begin(), other);
  Results after = solve(two);
  after.rooms.erase(after.rooms.begin());
  same_legs(before, after);
}

TEST_CASE("the same survey gives the same bytes") {
  CHECK(results_json(solve(kitchen())) == results_json(solve(kitchen())));
}

TEST_CASE("a room noted from its next corner on has the same legs and cuts") {
  same_outcome(outcome_of(solve(uneven_room())),
               outcome_of(solve(from_next_corner(uneven_room()))));
}

TEST_CASE("a room in the mirror has the same legs and cuts, left for right") {
  const Results before = solve(uneven_room()), after = solve(mirrored(uneven_room()));
  REQUIRE(before.rooms[0].legs.size() == 20);
  std::map<std::string, double> heights;
  for (const LegResult& leg : after.rooms[0].legs)
    heights[leg.unit + " " + leg.position] = leg.height.value();
  for (const LegResult& leg : before.rooms[0].legs) {
    CAPTURE(leg.position);
    CHECK(std::abs(heights.at(leg.unit + " " + in_mirror(leg.position)) - leg.height.value()) <
          1e-6);
  }
  REQUIRE(before.rooms[0].plinths.size() == 1);
  REQUIRE(after.rooms[0].plinths.size() == 1);
  const PlinthResult &p = before.rooms[0].plinths[0], &q = after.rooms[0].plinths[0];
  CHECK(std::abs(p.length - q.length) < 1e-6);
  CHECK(std::abs(p.height_left - q.height_right) < 1e-6);
  CHECK(std::abs(p.height_right - q.height_left) < 1e-6);
  CHECK(p.verdict == q.verdict);
}

TEST_CASE("the order in which walls and what is measured on them are listed changes nothing") {
  for (const char* name : samples) {
    CAPTURE(std::string(name));
    Json document = sample(name);
    const Outcome before = outcome_of(document);
    for (Json& room : document["rooms"]) {
      for (Json& wall : room["walls"])
        for (const char* list : {"lengths", "offsets"})
          if (wall.contains(list)) reverse(wall[list]);
      for (const char* list : {"walls", "diagonals", "angles"})
        if (room.contains(list)) reverse(room[list]);
    }
    same_outcome(before, outcome_of(document));
  }
}

TEST_CASE("the order of points and staff readings changes no leg, cut or verdict") {
  for (const char* name : samples) {
    CAPTURE(std::string(name));
    Json document = sample(name);
    const Outcome before = outcome_of(document);
    for (Json& room : document["rooms"]) {
      if (!room.contains("levels")) continue;
      reverse(room["levels"]["points"]);
      for (Json& setup : room["levels"]["setups"]) reverse(setup["readings"]);
    }
    same_outcome(before, outcome_of(document));
  }
}

TEST_CASE("the order of rooms, openings, services and ceilings changes no leg, cut or verdict") {
  Json document = sample("knocked-through");
  for (const char* name : {"small-l-kitchen", "u-shape-island"}) {
    Json room = sample(name)["rooms"][0];
    room["id"] = name;
    // Instruments are the survey's: each room brings its readings without naming one.
    for (Json& setup : room["levels"]["setups"]) setup.erase("instrument");
    for (const char* list : {"diagonals", "angles", "ceilings"})
      if (room.contains(list))
        for (Json& item : room[list]) item.erase("instrument");
    for (Json& wall : room["walls"])
      for (const char* list : {"lengths", "offsets"})
        if (wall.contains(list))
          for (Json& item : wall[list]) item.erase("instrument");
    for (Json& run : room["runs"])
      for (Json& unit : run["units"]) unit.erase("leg");
    document["rooms"].push_back(room);
  }
  document.erase("install");
  const Outcome before = outcome_of(document);
  reverse(document["rooms"]);
  same_outcome(before, outcome_of(document));
  for (Json& room : document["rooms"])
    for (const char* list : {"openings", "services", "ceilings"})
      if (room.contains(list)) reverse(room[list]);
  same_outcome(before, outcome_of(document));
}
