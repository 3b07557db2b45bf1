#include "app/entry/unit_edits.h"

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "app/entry/propose_points.h"
#include "app/entry/set_patch.h"
#include "survey/json_patch.h"

using namespace levelrun;

namespace {

struct Doc {
  Json document;
  Survey survey;
  void apply(const Json& patch) {
    REQUIRE(apply_patch(document, patch).empty());
    auto read = survey_from(document);
    REQUIRE(read.ok());
    survey = read.value();
  }
};

Doc sample() {
  std::ifstream file(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json");
  std::ostringstream text;
  text << file.rdbuf();
  auto read = read_survey(text.str());
  REQUIRE(read.ok());
  return {read.value().document, read.value().survey};
}

}  // namespace

TEST_CASE("units join a run at its right end with ids of their own") {
  Doc d = sample();
  const Index before = d.survey.rooms[0].runs[0].units.size();
  d.apply(add_unit_patch(d.survey, 0, 0, "base", 450));
  d.apply(add_unit_patch(d.survey, 0, 0, "end_panel", 18.5));
  const auto& units = d.survey.rooms[0].runs[0].units;
  REQUIRE(units.size() == before + 2);
  CHECK(units[before].width == 450);
  CHECK(units[before].id == "S7");
  CHECK(units[before + 1].kind == UnitKind::end_panel);
  CHECK(units[before + 1].width == 18.5);
}

TEST_CASE("a unit moves one place and stays itself; at the end it stays where it is") {
  Doc d = sample();
  const std::string first = d.survey.rooms[0].runs[0].units[0].id;
  d.apply(move_unit_patch(d.survey, 0, 0, 0, true));
  CHECK(d.survey.rooms[0].runs[0].units[1].id == first);
  CHECK(move_unit_patch(d.survey, 0, 0, 0, false).empty());
}

TEST_CASE("runs are added along a wall or as an island, with letters that are free") {
  Doc d = sample();
  d.apply(add_run_patch(d.document, d.survey, 0, 2, 40));
  d.apply(add_island_patch(d.document, d.survey, 0, 1500, -1500));
  const auto& runs = d.survey.rooms[0].runs;
  CHECK(runs[runs.size() - 2].wall == Index(2));
  CHECK(runs[runs.size() - 2].id == "U");
  CHECK(runs.back().id == "V");
  CHECK_FALSE(runs.back().wall);
  d.apply(delete_run_patch(0, runs.size() - 1));
  CHECK(d.survey.rooms[0].runs.back().id == "U");
}

TEST_CASE("a field is set where it is missing, changed where it is, taken out by null") {
  Doc d = sample();
  d.apply(unit_patch(d.document, 0, 0, 0, "houses", "oven"));
  CHECK(d.survey.rooms[0].runs[0].units[0].houses == "oven");
  d.apply(unit_patch(d.document, 0, 0, 0, "houses", nullptr));
  CHECK(d.survey.rooms[0].runs[0].units[0].houses.empty());
  d.apply(set_patch(d.document, "/furniture/wall_unit/rail_drop", 60));
  CHECK(d.survey.furniture.wall_unit.rail_drop == 60);
}

TEST_CASE("several widths are several units, each with an id of its own in the room") {
  Doc d = sample();
  const auto& units = d.survey.rooms[0].runs[0].units;
  const Index before = units.size();
  d.apply(delete_unit_patch(0, 0, 1));  // S2 is free again
  d.apply(add_units_patch(d.survey, 0, 0, "base", {600, 300}));
  REQUIRE(d.survey.rooms[0].runs[0].units.size() == before + 1);
  CHECK(d.survey.rooms[0].runs[0].units[before - 1].id == "S2");
  CHECK(d.survey.rooms[0].runs[0].units[before].id == "S7");
  CHECK(d.survey.rooms[0].runs[0].units[before].width == 300);
}

TEST_CASE("a niche has both of its ends whichever is given first, and they never cross") {
  Doc d = sample();
  d.apply(niche_patch(d.document, d.survey, 0, 0, 0, true, 870));
  const auto niche = [&] { return *d.survey.rooms[0].runs[0].units[0].niche; };
  CHECK(niche().min_height == 870);
  CHECK(niche().max_height == 870);
  d.apply(niche_patch(d.document, d.survey, 0, 0, 0, false, 820));
  CHECK(niche().min_height == 820);
  CHECK(niche().max_height == 870);
  d.apply(niche_patch(d.document, d.survey, 0, 0, 0, false, 900));
  CHECK(niche().max_height == 900);
}

TEST_CASE("a worktop height is asked of the group, which is made if it is not there") {
  Doc d = sample();
  d.apply(asked_height_patch(d.document, d.survey, 0, "A", 905));
  const auto asked = [&](const std::string& id) -> std::optional<double> {
    for (const LevelGroup& group : d.survey.rooms[0].level_groups)
      if (group.id == id) return group.asked_height;
    return std::nullopt;
  };
  CHECK(asked("A") == 905);
  d.apply(asked_height_patch(d.document, d.survey, 0, "B", 950.5));
  CHECK(asked("B") == 950.5);
  CHECK(asked("A") == 905);
}

TEST_CASE("points are proposed at legs without a reading near, and only there") {
  Doc d = sample();
  Json bare = d.document;
  bare["rooms"][0]["levels"] = Json::object();
  Doc e{bare, survey_from(bare).value()};
  const Json patch = propose_points_patch(e.document, e.survey, 0);
  CHECK(patch.size() > 12);
  e.apply(patch);
  const Levels& levels = e.survey.rooms[0].levels;
  CHECK(levels.benchmark);
  CHECK(levels.setups.size() == 1);
  CHECK(levels.points.size() >= 12);
  CHECK(propose_points_patch(e.document, e.survey, 0).empty());
}
