// Corners and walls that can be a room, and those that cannot.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "survey/survey_file.h"
#include "survey_texts.h"

using namespace levelrun;

namespace {

struct Side {
  double angle;   // at the corner it starts from
  double length;  // 0: not measured
};

Json survey_of(const std::vector<Side>& sides) {
  Json room = {{"id", "R"}, {"corners", Json::array()}, {"walls", Json::array()}};
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const std::string from = "C" + std::to_string(i),
                      to = "C" + std::to_string((i + 1) % sides.size());
    room["corners"].push_back({{"id", from}, {"angle", sides[i].angle}});
    Json wall = {{"id", "W" + std::to_string(i)}, {"from", from}, {"to", to}};
    if (sides[i].length > 0) wall["lengths"] = {{{"height", 900}, {"length", sides[i].length}}};
    room["walls"].push_back(wall);
  }
  Json document = {{"format", "levelrun-survey"}, {"version", 1}, {"job", {{"reference", "S"}}}};
  document["rooms"] = Json::array({room});
  return document;
}

// A room with a bay of that depth let into its first side; the room is 3,000 deep.
std::vector<Side> bay(double depth) {
  return {{90, 1000}, {90, depth}, {270, 2000}, {270, depth},
          {90, 1000}, {90, 3000},  {90, 4000},  {90, 3000}};
}

void check_refused(const Json& document, const std::string& at, const std::string& found,
                   const std::string& expected) {
  const auto survey = survey_from(document);
  REQUIRE_FALSE(survey.ok());
  CHECK(survey.problems().size() == 1);
  CHECK(survey.problems()[0].at == at);
  CHECK(survey.problems()[0].found == found);
  CHECK(survey.problems()[0].expected == expected);
}

const std::vector<Side> l_room = {{90, 4000},  {90, 1500}, {90, 2500},
                                  {270, 1500}, {90, 1500}, {90, 3000}};

}  // namespace

TEST_CASE("ordinary rooms are accepted: triangle, L, a bay, no corners at all") {
  CHECK(survey_from(survey_of({{60, 3000}, {60, 3000}, {60, 3000}})).ok());
  CHECK(survey_from(survey_of(l_room)).ok());
  CHECK(survey_from(survey_of(bay(2000))).ok());
  CHECK(survey_from(survey_of({})).ok());
}

TEST_CASE("walls that cross are refused and named") {
  // The bay is let in 3,500 deep, through the far wall W6 at 3,000.
  check_refused(survey_of(bay(3500)), "/rooms/0/corners", "walls that cross: \"W1\" and \"W6\"",
                "walls that meet only at their corners");
}

TEST_CASE("walls may be listed in any order") {
  Json document = survey_of(bay(3500));
  Json& walls = document["rooms"][0]["walls"];
  std::swap(walls[0], walls[6]);
  std::swap(walls[1], walls[3]);
  check_refused(document, "/rooms/0/corners", "walls that cross: \"W1\" and \"W6\"",
                "walls that meet only at their corners");
}

TEST_CASE("a walk that does not close, or that cannot be walked, is left to the checks") {
  std::vector<Side> slip = bay(3500);
  slip[6].length = 4900;  // 4,000 with a digit misread
  CHECK(survey_from(survey_of(slip)).ok());
  std::vector<Side> unmeasured = bay(3500);
  unmeasured[2].length = 0;
  CHECK(survey_from(survey_of(unmeasured)).ok());
  // Only a length taken out from the wall: not the wall's own.
  Json document = survey_of(bay(3500));
  document["rooms"][0]["walls"][1]["lengths"][0]["out"] = 600;
  CHECK(survey_from(document).ok());
}

TEST_CASE("a walk that closes nearly, with angles nearly right, is judged as closed") {
  std::vector<Side> sides = bay(3500);
  sides[0].angle = 94;
  sides[6].length = 4100;
  check_refused(survey_of(sides), "/rooms/0/corners", "walls that cross: \"W1\" and \"W6\"",
                "walls that meet only at their corners");
}

TEST_CASE("corner angles must add up to a room") {
  std::vector<Side> forgotten = l_room;
  forgotten[3].angle = 90;
  check_refused(survey_of(forgotten), "/rooms/0/corners", "angles that add up to 540.0 degrees",
                "about 720 degrees for 6 corners");
  std::vector<Side> nearly = l_room;
  nearly[3].angle = 241;
  CHECK(survey_from(survey_of(nearly)).ok());
}

TEST_CASE("a room has no corner or at least three") {
  check_refused(survey_of({{90, 3000}, {90, 3000}}), "/rooms/0/corners", "2 corners",
                "none, or at least 3 corners");
}

TEST_CASE("one wall runs from each corner to the next") {
  Json document = survey_of(l_room);
  Json& walls = document["rooms"][0]["walls"];
  walls[2]["to"] = "C4";
  check_refused(document, "/rooms/0/walls/2/to", "\"C4\"", "\"C3\", the corner after \"C2\"");
  walls[2]["to"] = "C3";
  walls[4]["from"] = "C2";
  walls[4]["to"] = "C3";
  check_refused(document, "/rooms/0/walls/4/from", "\"C2\"",
                "a corner that no other wall starts from (\"W2\" does)");
  walls.erase(4);
  check_refused(document, "/rooms/0/walls", "5 walls", "6, one from each corner to the next");
}

TEST_CASE("a room with a thousand corners is judged in bounded time, more are refused") {
  const auto round_room = [](std::size_t n) {
    const double angle = 180 - 360 / static_cast<double>(n);
    return survey_of(std::vector<Side>(n, Side{angle, 10}));
  };
  CHECK(survey_from(round_room(1000)).ok());
  check_refused(round_room(1001), "/rooms/0/corners", "1001 corners", "up to 1000 corners");
}
