#include "app/entry/rename.h"

#include <doctest/doctest.h>

#include "app/entry/set_patch.h"
#include "survey/json_patch.h"

using namespace levelrun;

namespace {

Json sample(const char* name) {
  const auto loaded = load_survey(std::string(SAMPLES) + "/" + name + ".levelrun.json");
  REQUIRE(loaded.ok());
  return loaded.value().document;
}

Json renamed(Json document, const std::string& at, const std::string& id) {
  REQUIRE(apply_patch(document, rename_patch(document, at, id)).empty());
  return document;
}

// How often a name stands in the text of a survey, as a whole word in quotes.
std::size_t count(const Json& document, const std::string& id) {
  const std::string text = document.dump(), word = "\"" + id + "\"";
  std::size_t n = 0;
  for (std::size_t at = 0; (at = text.find(word, at)) != text.npos; ++at) ++n;
  return n;
}

}  // namespace

TEST_CASE("an instrument has its new name wherever a reading was taken with it") {
  const Json before = sample("small-l-kitchen");
  const std::size_t uses = count(before, "DM");
  REQUIRE(uses > 10);
  const Json after = renamed(before, "/instruments/0", "laser tape");
  CHECK(count(after, "DM") == 0);
  CHECK(count(after, "laser tape") == uses);
  CHECK(survey_from(after).ok());
  CHECK(renamed(after, "/instruments/0", "DM") == before);
}

TEST_CASE("a point, a set-up, an opening and a leg type take what names them along") {
  const Json before = sample("u-shape-island");
  const std::string points = "/rooms/0/levels/points/";
  for (const std::string& at :
       {points + "0", points + "3", std::string("/rooms/0/levels/setups/1"),
        std::string("/rooms/0/openings/0"), std::string("/furniture/legs/0"),
        std::string("/rooms/0/services/0")}) {
    CAPTURE(at);
    const std::string id = value_at(before, at)->at("id");
    const Json after = renamed(before, at, "another name");
    CHECK(survey_from(after).ok());
    CHECK(renamed(after, at, id) == before);
  }
}

// A corner and a set-up may both be called A: walls and diagonals name corners.
TEST_CASE("a set-up that is called as a corner is renamed without moving a wall") {
  Json document = sample("small-l-kitchen");
  for (Json& corner : document["rooms"][0]["corners"])
    if (corner["id"] == "C1") corner["id"] = "A";
  for (Json& wall : document["rooms"][0]["walls"])
    for (const char* end : {"from", "to"})
      if (wall[end] == "C1") wall[end] = "A";
  for (Json& diagonal : document["rooms"][0]["diagonals"])
    if (diagonal["from"] == "C1") diagonal["from"] = "A";
  document["rooms"][0]["services"][0]["from"] = "A";
  document["rooms"][0]["services"][0]["height"] = -900;
  REQUIRE(survey_from(document).ok());
  const Json after = renamed(document, "/rooms/0/levels/setups/0", "B");
  REQUIRE(survey_from(after).ok());
  CHECK(after["rooms"][0]["walls"][0]["from"] == "A");
  CHECK(after["rooms"][0]["diagonals"][0]["from"] == "A");
  CHECK(after["rooms"][0]["services"][0]["from"] == "B");
}

TEST_CASE("a name that is taken is refused by the reader, and a free one is found") {
  Json document = sample("small-l-kitchen");
  const Json twice = renamed(document, "/instruments/0", "LL");
  CHECK_FALSE(survey_from(twice).ok());
  CHECK(free_id_in(document, "/rooms/0/levels/points", "P") == "P23");
  CHECK(free_id_in(document, "/rooms/0/nothing", "P") == "P1");
}
