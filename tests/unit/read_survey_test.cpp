// Documents to surveys: what version 1 means, and what is refused with which words.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "survey/survey_file.h"
#include "survey/words.h"
#include "survey_texts.h"

using namespace levelrun;

namespace {

using Pointer = Json::json_pointer;

// change: JSON text, or nullptr to leave the member out.
Json changed(const char* text, const std::string& at, const char* change) {
  Json document = document_of(text);
  const Pointer pointer(at);
  if (change) {
    document[pointer] = Json::parse(change);
  } else {
    Json& parent = document[pointer.parent_pointer()];
    if (parent.is_array()) {
      parent.erase(std::stoul(pointer.back()));
    } else {
      parent.erase(pointer.back());
    }
  }
  return document;
}

struct Refusal {
  const char* at;
  const char* change;
  const char* found;
  const char* expected;
  const char* problem_at = nullptr;  // if not where the change is
};

// Each change to text gives one problem, these words.
template <std::size_t n>
void check_refusals(const char* text, const Refusal (&refusals)[n]) {
  for (const Refusal& r : refusals) {
    CAPTURE(r.at);
    CAPTURE(r.change);
    const auto survey = survey_from(changed(text, r.at, r.change));
    REQUIRE_FALSE(survey.ok());
    CHECK(survey.problems().size() == 1);
    CHECK(survey.problems()[0].at == (r.problem_at ? r.problem_at : r.at));
    CHECK(survey.problems()[0].found == r.found);
    CHECK(survey.problems()[0].expected == r.expected);
  }
}

Survey read(const Json& document) {
  const auto survey = survey_from(document);
  if (!survey.ok()) {
    const Problem& problem = survey.problems().front();
    FAIL(problem.at << ": found " << problem.found << ", expected " << problem.expected);
  }
  return survey.value();
}

}  // namespace

TEST_CASE("every field of a survey is read") {
  const Survey s = read(document_of(every_field));
  CHECK(s.unknown_words.empty());
  CHECK(s.job.reference == "K-104");
  CHECK(s.job.revision == 2);
  CHECK(s.job.new_build);
  CHECK(s.job.show_inch);
  CHECK(s.job.decimal == ',');
  REQUIRE(s.job.table_overrides.size() == 1);
  CHECK(s.job.table_overrides[0].limit == 9);
  REQUIRE(s.instruments.size() == 4);
  CHECK(s.instruments[1].kind == InstrumentKind::distance_meter);
  CHECK(s.instruments[1].sd_per_m == 0.05);
  CHECK(s.instruments[3].sd_deg == 0.2);
  CHECK(s.furniture.back == BackKind::standing_off);
  CHECK(s.furniture.tall_height == 2100);
  CHECK(s.furniture.wall_unit.rail_drop == 60);
  CHECK(s.furniture.worktop.upstand->height == 100);
  CHECK(s.furniture.plinth.other_heights == std::vector<double>{150, 200});
  CHECK(s.furniture.plinth.sealed_edges == SealedEdges::all);
  CHECK(s.furniture.legs[0].pitch == 2);

  REQUIRE(s.rooms.size() == 1);
  const Room& room = s.rooms[0];
  CHECK(room.corners[1].angle == 91);
  CHECK(room.walls[3].from == 3);
  CHECK(room.walls[3].to == 0);
  CHECK(room.walls[0].build == WallBuild::stud);
  CHECK(room.walls[0].finish[0].to_height == 2400);
  CHECK_FALSE(room.walls[0].skirting->stays);
  CHECK(room.walls[0].coving_drop == 90);
  CHECK(room.walls[0].lengths[0].instrument == 1);
  CHECK(room.walls[0].lengths[1].out == 560);
  CHECK(room.walls[0].offsets_from == OffsetsFrom::line);
  CHECK_FALSE(room.walls[1].furnished);
  CHECK(room.diagonals[0].to == 2);
  CHECK(room.angles[0].degrees == 90.4);
  CHECK_FALSE(room.angles[1].degrees);
  CHECK(room.angles[1].triangle.across == 1002);
  CHECK(room.openings[0].sill.value == -120);
  CHECK(room.openings[0].sill.setup == 0);
  CHECK(room.openings[0].board->projection == 40);
  CHECK(room.openings[1].opens == Opens::out);
  CHECK(room.ceilings[0].height.value == 2391);
  CHECK(room.ceilings[1].height.setup == 0);
  CHECK(room.ceilings[1].place.wall == 0);
  CHECK(room.levels.benchmark->height == 10);
  CHECK(room.levels.known[0].point == 1);
  CHECK(room.levels.points[0].off_floor);
  CHECK_FALSE(room.levels.points[0].place);
  CHECK(room.levels.points[1].on == 0);
  CHECK(room.levels.points[1].area == 0);
  CHECK(room.levels.setups[0].readings[2].staff == 1031);
  CHECK(room.levels.setups[0].readings[0].distance_m == 3.2);
  CHECK_FALSE(room.flooring.existing[1].strip);
  CHECK(room.flooring.laid[0].to == LaidTo::front_legs);
  CHECK_FALSE(room.flooring.laid[0].into_niches);
  CHECK(room.flooring.laid[0].floating);
  CHECK(room.no_drill[0].outline.size() == 3);
  CHECK(room.no_drill[1].height_of == 900);
  CHECK(room.services[0].place.wall == 0);
  CHECK(room.services[0].place.along == 1200);
  CHECK(room.services[0].height->setup == 0);
  CHECK(room.services[0].connects_at->height.value == 180);
  CHECK(room.services[1].kind == ServiceKind::switch_);
  CHECK(room.services[1].action == ServiceAction::new_);
  CHECK_FALSE(room.services[2].height);
  CHECK(room.runs[0].ends_at == RunEnd::end_panel);
  CHECK(room.runs[0].units[0].leg == 1);
  CHECK(room.runs[0].units[0].hinge == Hinge::none);
  CHECK(room.runs[0].units[1].niche->slide_in == 4);
  CHECK(room.runs[1].bearing == 180);
  CHECK(room.runs[1].units[0].leg == 0);
  CHECK(room.level_groups[0].order == std::vector<std::string>{"board_whole", "asked_height"});
  CHECK(room.level_groups[0].underside_set->value == 152);
  CHECK(room.skipped[0].why == "cooker in the way");
  CHECK(room.photos[0].file == "one.jpg");

  CHECK(s.install.finished_floor[0].thickness == 19);
  CHECK(s.install.finished_floor[1].setup == "J1");
  CHECK(s.install.finished_floor[1].room == "");
  CHECK(s.install.setups[0].readings[0].point == 2);
  CHECK(s.install.set_legs[0].height == 155);
  CHECK(s.install.unit_levels[0].corner == "back_right");
  CHECK(s.install.tasks[0].state == "done");
  CHECK(s.install.snags[0].place->wall == 1);
  CHECK(s.install.answers[0].releases);
  CHECK(s.install.sign_off->role == "fitter");
}

TEST_CASE("what is left out takes the format's default") {
  const Survey s = read(document_of(small_job));
  CHECK(s.job.revision == 1);
  CHECK(s.job.tolerance_table == "din18202");
  CHECK(s.job.decimal == '.');
  CHECK(s.furniture.base_height == 720);
  CHECK(s.furniture.plinth.top_gap_max == 15);
  CHECK(s.furniture.legs[0].foot_radius == 30);
  CHECK(s.rooms[0].corners[0].angle == 90);
  CHECK(s.rooms[0].walls[0].furnished);
  CHECK(s.rooms[0].levels.points[0].place->sd == 20);
  CHECK(s.rooms[0].runs[0].level_group == "A");
  CHECK(s.rooms[0].runs[0].units[0].kind == UnitKind::base);
  CHECK_FALSE(s.rooms[0].runs[0].units[1].leg);

  const char* const least = R"({"format":"levelrun-survey","version":1,"job":{"reference":""}})";
  const Survey empty = read(document_of(least));
  CHECK(empty.rooms.empty());
  CHECK(empty.furniture.legs.empty());
}

TEST_CASE("a run's own furniture lies over the job's, lists replaced whole") {
  const Survey s = read(document_of(every_field));
  const Furniture& first = s.rooms[0].runs[0].furniture;
  CHECK(first.plinth.height == 200);
  CHECK(first.plinth.thickness == 15);
  CHECK(first.worktop.upstand->height == 60);
  CHECK(first.worktop.upstand->thickness == 12);
  CHECK(first.legs.size() == 2);
  const Furniture& second = s.rooms[0].runs[1].furniture;
  CHECK(second.legs.size() == 1);
  CHECK(second.legs[0].max == 90);
  CHECK(second.base_height == 715);
}

TEST_CASE("a field of the wrong type or out of range is named with what was expected") {
  const Refusal refusals[] = {
      {"/rooms/0/walls/2/lengths/0/length", "\"2.4m\"", "\"2.4m\"", "a number of mm"},
      {"/rooms/0/walls/2/lengths/0/length", nullptr, "nothing", "a number of mm"},
      {"/rooms/0/walls/2/lengths/0/length", "null", "null", "a number of mm"},
      {"/rooms/0/walls/2/lengths/0/length", "900000", "900000",
       "a length over 0 and up to 100000 mm"},
      {"/rooms/0/walls/2/lengths/0/length", "0", "0", "a length over 0 and up to 100000 mm"},
      {"/rooms/0/walls/2/lengths/0/height", "[1]", "a list", "a number of mm"},
      {"/rooms/0/walls/2/lengths/0", "3000", "3000", "an object"},
      {"/rooms/0/walls/2/lengths", "{}", "an object", "a list"},
      {"/rooms/0/walls/0/furnished", "1", "1", "true or false"},
      {"/rooms/0/walls/0/build", "null", "null",
       "one of masonry, stud, metal_stud, lath_and_plaster, dot_and_dab"},
      {"/rooms/0/corners/0/angle", "360", "360", "an angle over 0 and under 360 degrees"},
      {"/format", "\"levelrun-results\"", "\"levelrun-results\"", "\"levelrun-survey\""},
      {"/version", "2", "2", "1"},
      {"/version", nullptr, "nothing", "1"},
      {"/job/reference", nullptr, "nothing", "a text"},
      {"/job/revision", "0", "0", "a whole number from 1 up"},
      {"/job/revision", "1.5", "1.5", "a whole number from 1 up"},
      {"/job/tolerance_overrides", R"([{"row": "a", "span": 1, "limit": 2, "reason": ""}])",
       "an empty text", "the reason", "/job/tolerance_overrides/0/reason"},
      {"/instruments", R"([{"id": "T", "sd": 0}])", "0", "a standard deviation over 0 mm",
       "/instruments/0/sd"},
      {"/instruments", R"([{"id": "T", "sd": 1, "sd_deg": 0}])", "0",
       "a standard deviation over 0 degrees", "/instruments/0/sd_deg"},
      {"/instruments", R"([{"id": "T", "sd": 1, "sd_per_m": -1}])", "-1",
       "a standard deviation of 0 or more mm/m", "/instruments/0/sd_per_m"},
      {"/furniture/legs/0/max", "100", "100.0", "at least min (135.0)"},
      {"/furniture/infill", R"({"min": 120})", "100.0", "at least min (120.0)",
       "/furniture/infill/max"},
      {"/furniture/plinth", R"({"other_heights": [150, "x"]})", "\"x\"", "a number of mm",
       "/furniture/plinth/other_heights/1"},
      {"/rooms/0/runs/0/units/1/niche", R"({"min_height": 875, "max_height": 815})", "815.0",
       "at least min_height (875.0)", "/rooms/0/runs/0/units/1/niche/max_height"},
      {"/rooms/0/levels/benchmark", nullptr, "nothing", "an object"},
      {"/rooms/0/levels/points/1/place", nullptr, "nothing", "an object"},
      {"/rooms/0/levels/points/1/place", R"({"x": 1, "y": 2, "wall": "W1"})",
       "a place on a wall and in the plan at once", "{wall, along, out} or {x, y}"},
      {"/rooms/0/levels/points/1/place", "{}", "neither a wall nor x and y",
       "{wall, along, out} or {x, y}"},
      {"/rooms/0/levels/points/1/place", R"({"wall": "W1", "along": 1})", "nothing",
       "a number of mm", "/rooms/0/levels/points/1/place/out"},
      {"/later", R"({"deep": [0, 1000001]})", "1000001", "a number up to 1000000 in size",
       "/later/deep/1"},
      {"/later", "123456789012345678901234567890", "1.2345678901234568e+29",
       "a number up to 1000000 in size"},
  };
  check_refusals(small_job, refusals);
}

TEST_CASE("ids are short, and unique in their list; unit ids in the room") {
  const std::string forty(40, 'x');
  const std::string umlauts = [] {
    std::string text;
    for (int i = 0; i < 40; ++i) text += "\xC3\xBC";
    return text;
  }();
  for (const std::string& id : {forty, umlauts, std::string("1")}) {
    CAPTURE(id);
    CHECK(survey_from(changed(small_job, "/rooms/0/runs/0/id", ('"' + id + '"').c_str())).ok());
  }
  const std::string too_long = '"' + forty + "y\"", shown = '"' + forty + "...\"";
  const Refusal refusals[] = {
      {"/rooms/0/runs/0/id", too_long.c_str(), shown.c_str(), "an id of 1 to 40 characters"},
      {"/rooms/0/runs/0/id", "\"\"", "\"\"", "an id of 1 to 40 characters"},
      {"/rooms/0/runs/0/id", "7", "7", "an id of 1 to 40 characters"},
      {"/rooms/0/runs/0/id", nullptr, "nothing", "an id of 1 to 40 characters"},
      {"/rooms/0/levels/points/1/id", "\"P1\"", "\"P1\"",
       "an id that no other of levels.points has"},
      {"/rooms/0/runs/1", R"({"id": "N1", "wall": "W1", "from_along": 0})", "\"N1\"",
       "an id that no other of runs has", "/rooms/0/runs/1/id"},
      {"/rooms/0/runs/1",
       R"({"id": "N2", "wall": "W1", "from_along": 0, "units": [{"id": "U1", "width": 1}]})",
       "\"U1\"", "an id that no other of the room's units has", "/rooms/0/runs/1/units/0/id"},
      {"/rooms/1", R"({"id": "R1"})", "\"R1\"", "an id that no other of rooms has", "/rooms/1/id"},
      {"/furniture/legs/1", R"({"id": "M", "min": 1, "max": 2})", "\"M\"",
       "an id that no other of furniture.legs has", "/furniture/legs/1/id"},
  };
  // A second point P1 leaves the set-up without its P2, so that case has another problem too.
  for (const Refusal& r : refusals) {
    CAPTURE(r.at);
    const auto survey = survey_from(changed(small_job, r.at, r.change));
    REQUIRE_FALSE(survey.ok());
    CHECK(survey.problems()[0].at == (r.problem_at ? r.problem_at : r.at));
    CHECK(survey.problems()[0].found == r.found);
    CHECK(survey.problems()[0].expected == r.expected);
  }
}

TEST_CASE("a reference to nothing is refused") {
  const Refusal refusals[] = {
      {"/rooms/0/levels/setups/0/readings/1/point", "\"P9\"", "\"P9\"",
       "the id of one of levels.points"},
      {"/rooms/0/levels/benchmark/point", "\"P9\"", "\"P9\"", "the id of one of levels.points"},
      {"/rooms/0/levels/setups/0/instrument", "\"L1\"", "\"L1\"", "the id of one of instruments"},
      {"/rooms/0/levels/points/0/area", "\"F9\"", "\"F9\"", "the id of one of floor_areas"},
      {"/rooms/0/levels/points/0/on", "\"tiles\"", "\"tiles\"",
       "the name of one of flooring.existing"},
      {"/rooms/0/levels/points/0/on", "3", "3", "a text"},
      {"/rooms/0/flooring", R"({"laid": [{"name": "a", "thickness": 1, "area": "F9"}]})", "\"F9\"",
       "the id of one of floor_areas", "/rooms/0/flooring/laid/0/area"},
      {"/rooms/0/walls/1/lengths/0/instrument", "\"D1\"", "\"D1\"", "the id of one of instruments"},
      {"/rooms/0/walls/1/from", "\"Z\"", "\"Z\"", "the id of one of corners"},
      {"/rooms/0/runs/0/wall", "\"W9\"", "\"W9\"", "the id of one of walls"},
      {"/rooms/0/runs/0/wall", "1", "1", "the id of one of walls"},
      {"/rooms/0/runs/0/units/0/leg", "\"H\"", "\"H\"", "the id of one of furniture.legs"},
      {"/rooms/0/runs/0/furniture", R"({"legs": []})", "\"M\"", "the id of one of furniture.legs",
       "/rooms/0/runs/0/units/0/leg"},
      {"/rooms/0/runs/0/level_group", "\"C\"", "\"C\"", "the id of one of level_groups"},
      {"/rooms/0/openings",
       R"([{"id": "O", "wall": "W1", "left": 0, "width": 1, "height": 1, "from": "I9"}])", "\"I9\"",
       "\"floor\" or the id of one of levels.setups", "/rooms/0/openings/0/from"},
      {"/rooms/0/diagonals", R"([{"from": "A", "to": "A", "length": 1}])",
       "the corner that it starts from", "another corner", "/rooms/0/diagonals/0/to"},
      {"/install/set_legs",
       R"([{"unit": "U9", "position": "left", "height": 1, "at": "", "by": ""}])", "\"U9\"",
       "the id of one of the rooms' units", "/install/set_legs/0/unit"},
      {"/install/unit_levels", R"([{"unit": "U1", "staff": 1, "setup": "I1"}])", "\"I1\"",
       "the id of one of install.setups", "/install/unit_levels/0/setup"},
      {"/install/setups", R"([{"id": "J", "readings": [{"point": "P9", "staff": 1}]}])", "\"P9\"",
       "the id of one of the rooms' levels.points", "/install/setups/0/readings/0/point"},
      {"/install/finished_floor", R"([{"place": {"x": 0, "y": 0}, "thickness": 1, "room": "R9"}])",
       "\"R9\"", "the id of one of rooms", "/install/finished_floor/0/room"},
  };
  for (const Refusal& r : refusals) {
    CAPTURE(r.at);
    Json document = document_of(small_job);
    document["rooms"][0]["level_groups"] = Json::parse(R"([{"id": "A"}])");
    document[Pointer(r.at)] = Json::parse(r.change);
    const auto survey = survey_from(document);
    REQUIRE_FALSE(survey.ok());
    CHECK(survey.problems().size() == 1);
    CHECK(survey.problems()[0].at == (r.problem_at ? r.problem_at : r.at));
    CHECK(survey.problems()[0].found == r.found);
    CHECK(survey.problems()[0].expected == r.expected);
  }
}

TEST_CASE("a run may name a level group that no list describes, while there is no list") {
  CHECK(read(changed(small_job, "/rooms/0/runs/0/level_group", "\"B\""))
            .rooms[0]
            .runs[0]
            .level_group == "B");
}

TEST_CASE("the layer that the staff stood on is the one of that name at the point") {
  Json document = document_of(small_job);
  Json& room = document["rooms"][0];
  room["floor_areas"] = Json::parse(R"([{"id": "F1"}, {"id": "F2"}])");
  room["flooring"]["existing"] = Json::parse(
      R"([{"name": "tiles", "thickness": 9, "area": "F1"}, {"name": "tiles", "thickness": 12, "area": "F2"},
          {"name": "screed", "thickness": 60}])");
  room["levels"]["points"][0]["area"] = "F2";
  room["levels"]["points"][0]["on"] = "tiles";
  room["levels"]["points"][1]["on"] = "tiles";
  const Levels levels = read(document).rooms[0].levels;
  CHECK(levels.points[0].on == 1);
  CHECK(levels.points[1].on == 0);  // area not told: the first of that name
}

TEST_CASE("an install finds its rooms, and asks where a wall could be in two") {
  Json document = document_of(small_job);
  Json second = document["rooms"][0];
  second["id"] = "R2";
  second["levels"]["points"].push_back(Json::parse(R"({"id": "P3", "place": {"x": 5, "y": -5}})"));
  document["rooms"].push_back(second);
  document["install"] = Json::parse(R"({
    "setups": [{"id": "J1", "readings": [{"point": "P1", "staff": 1}]},
               {"id": "J2", "readings": [{"point": "P1", "staff": 1}, {"point": "P3", "staff": 2}]}],
    "finished_floor": [
      {"place": {"wall": "W2", "along": 0, "out": 0}, "thickness": 9, "room": "R2"},
      {"place": {"wall": "W2", "along": 0, "out": 0}, "staff": 9, "setup": "J2"},
      {"place": {"x": 0, "y": 0}, "thickness": 9}]})");
  const Install install = read(document).install;
  CHECK(install.setups[0].readings[0].room == 0);
  CHECK(install.setups[1].readings[0].room == 1);
  CHECK(install.setups[1].readings[1].room == 1);
  CHECK(install.setups[1].readings[1].point == 2);
  CHECK(install.finished_floor[0].room == "R2");
  CHECK(install.finished_floor[1].room == "R2");
  CHECK(install.finished_floor[2].room == "R1");

  document["install"]["finished_floor"][0].erase("room");
  const auto survey = survey_from(document);
  REQUIRE_FALSE(survey.ok());
  REQUIRE(survey.problems().size() == 1);
  CHECK(survey.problems()[0].at == "/install/finished_floor/0/room");
  CHECK(survey.problems()[0].found == "nothing");
}

TEST_CASE("all problems are listed at once, up to a hundred") {
  Json document = document_of(small_job);
  document["job"].erase("reference");
  document["rooms"][0]["walls"][0]["lengths"][0]["length"] = "3m";
  document["rooms"][0]["levels"]["setups"][0]["readings"][0]["point"] = "P9";
  document["rooms"][0]["runs"][0]["units"][1]["width"] = -400;
  document["later"] = 2e6;
  const auto survey = survey_from(document);
  REQUIRE_FALSE(survey.ok());
  std::vector<std::string> at;
  for (const Problem& problem : survey.problems()) at.push_back(problem.at);
  CHECK(at == std::vector<std::string>{"/job/reference", "/rooms/0/walls/0/lengths/0/length",
                                       "/rooms/0/levels/setups/0/readings/0/point",
                                       "/rooms/0/runs/0/units/1/width", "/later"});

  Json& lengths = document["rooms"][0]["walls"][0]["lengths"];
  for (int i = 0; i < 500; ++i) lengths.push_back("no");
  CHECK(survey_from(document).problems().size() == 100);

  const auto both =
      read_survey(R"({"format": "levelrun-survey", "version": 1, "version": 1, "job": 3})");
  REQUIRE_FALSE(both.ok());
  REQUIRE(both.problems().size() == 2);
  CHECK(both.problems()[0].at == "/version");
  CHECK(both.problems()[1].at == "/job");
}

TEST_CASE("lists that would cost more than their text are bounded") {
  const struct {
    const char* list;
    const char* item;
  } cases[] = {{"/furniture/legs", R"({"min": 1, "max": 2})"},
               {"/rooms/0/runs", R"({"origin": {"x": 0, "y": 0}, "bearing": 0})"},
               {"/rooms", "{}"}};
  for (const auto& c : cases) {
    CAPTURE(c.list);
    Json document = document_of(small_job);
    Json& list = document[Pointer(c.list)];
    while (list.size() < 100) {
      list.push_back(Json::parse(c.item));
      list.back()["id"] = "more " + std::to_string(list.size());
    }
    CHECK(survey_from(document).ok());
    list.push_back(list.back());
    const auto survey = survey_from(document);
    REQUIRE_FALSE(survey.ok());
    CHECK(survey.problems()[0].at == c.list);
    CHECK(survey.problems()[0].found == "101 items");
    CHECK(survey.problems()[0].expected == "up to 100");
  }
  Json document = document_of(small_job);
  document["furniture"]["worktop"]["material"] = std::string(201, 'x');
  const auto survey = survey_from(document);
  REQUIRE_FALSE(survey.ok());
  CHECK(survey.problems()[0].at == "/furniture/worktop/material");
  CHECK(survey.problems()[0].expected == "a text of up to 200 characters");
}

TEST_CASE(
    "what is set in a unit is of the room told, else of the first room that has such a unit") {
  Json document = document_of(small_job);
  Json other = document["rooms"][0];
  other["id"] = "R2";
  document["rooms"].push_back(other);
  const std::string unit = document["rooms"][0]["runs"][0]["units"][0]["id"];
  const Json leg = {
      {"unit", unit}, {"position", "front_left"}, {"height", 150}, {"at", ""}, {"by", ""}};
  Json told = leg;
  told["room"] = "R2";
  document["install"]["set_legs"] = {leg, told};
  const auto set = read(document).install.set_legs;
  REQUIRE(set.size() == 2);
  CHECK(set[0].room == document["rooms"][0]["id"]);
  CHECK(set[1].room == "R2");
  document["rooms"][1]["runs"] = Json::array();
  CHECK_FALSE(survey_from(document).ok());
}

TEST_CASE("unknown words are noted up to a thousand") {
  Json document = document_of(small_job);
  Json& units = document["rooms"][0]["runs"][0]["units"];
  for (int i = 0; i < 1200; ++i) {
    units.push_back({{"id", "X" + std::to_string(i)}, {"width", 1}, {"kind", "later"}});
  }
  CHECK(read(document).unknown_words.size() == 1000);
}

TEST_CASE("a word of a later version is kept, and noted") {
  Json document = changed(small_job, "/rooms/0/runs/0/units/0/kind", "\"pull_out\"");
  document["rooms"][0]["level_groups"] =
      Json::parse(R"([{"id": "A", "order": ["later", "board_whole"]}])");
  const Survey s = read(document);
  CHECK(s.rooms[0].runs[0].units[0].kind == UnitKind::unknown);
  CHECK(s.rooms[0].level_groups[0].order == std::vector<std::string>{"board_whole"});
  REQUIRE(s.unknown_words.size() == 2);
  CHECK(s.unknown_words[0].at == "/rooms/0/level_groups/0/order/0");
  CHECK(s.unknown_words[1].at == "/rooms/0/runs/0/units/0/kind");
  CHECK(s.unknown_words[1].word == "pull_out");
  CHECK(s.unknown_words[1].expected.substr(0, 17) == "one of base, tall");
}

TEST_CASE("each word is the enum's value of that place") {
  CHECK(instrument_words[static_cast<Index>(InstrumentKind::gauge)] == "gauge");
  CHECK(build_words[static_cast<Index>(WallBuild::lath_and_plaster)] == "lath_and_plaster");
  CHECK(opens_words[static_cast<Index>(Opens::slide)] == "slide");
  CHECK(service_words[static_cast<Index>(ServiceKind::socket)] == "socket");
  CHECK(service_words[static_cast<Index>(ServiceKind::data)] == "data");
  CHECK(service_words[static_cast<Index>(ServiceKind::other)] == "other");
  CHECK(unit_words[static_cast<Index>(UnitKind::corner_post)] == "corner_post");
  CHECK(unit_words[static_cast<Index>(UnitKind::space)] == "space");
}

TEST_CASE("unknown fields and the numbers as written survive a save") {
  Json document = document_of(every_field);
  document["later"] =
      Json::parse(R"({"z": [1, 1.0, 2.50, 0.1, 1e-7, -0.0, "\u00e9\n\u0007"], "a": null})");
  document["rooms"][0]["walls"][0]["later"] = true;
  const std::string once = write_survey(document);
  CHECK(once.back() == '\n');
  CHECK(once.find("\"length\": 3602,") != std::string::npos);
  const auto file = read_survey(once);
  REQUIRE(file.ok());
  CHECK(file.value().document == document);
  const std::string twice = write_survey(file.value().document);
  CHECK(twice == once);
  CHECK(once.find("\"later\": true") != std::string::npos);
  CHECK(once.find("\xC3\xA9\\n\\u0007") != std::string::npos);
}

TEST_CASE("a document edited into something no file could hold is refused, not thrown over") {
  Json document = document_of(small_job);
  document["later"] = std::numeric_limits<double>::quiet_NaN();
  document["job"]["notes"] = "caf\xE9";
  document["rooms"][0]["walls"][0]["lengths"][0]["length"] =
      std::numeric_limits<double>::infinity();
  Json deep = 1;
  for (int i = 0; i < 40; ++i) deep = Json::array({deep});
  document["deep"] = deep;
  const auto survey = survey_from(document);
  REQUIRE_FALSE(survey.ok());
  REQUIRE(survey.problems().size() == 4);
  CHECK(survey.problems()[0].at == "/rooms/0/walls/0/lengths/0/length");
  CHECK(survey.problems()[0].found == "a number that is not finite");
  CHECK(survey.problems()[1].at == "/job/notes");
  CHECK(survey.problems()[1].expected == "well-formed UTF-8");
  CHECK(survey.problems()[2].at == "/later");
  CHECK(survey.problems()[3].expected == "at most 32 levels of nesting");

  for (const Json& other : {Json(), Json(3), Json("x"), Json::array()}) {
    const auto refused = survey_from(other);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problems()[0].at == "");
    CHECK(refused.problems()[0].expected == "an object with format, version and job");
  }
}

TEST_CASE("any field given any kind of value is refused or read, never a crash") {
  const Json whole = document_of(every_field);
  const Json flat = whole.flatten();
  int refused = 0, fields = 0;
  for (const auto& entry : flat.items()) {
    ++fields;
    for (const Json& value : {Json(nullptr), Json(-1), Json(""), Json(true), Json::array({1}),
                              Json::object({{"x", 1}})}) {
      Json document = whole;
      document[Pointer(entry.key())] = value;
      const auto survey = survey_from(document);
      refused += survey.ok() ? 0 : 1;
    }
  }
  CHECK(fields > 300);
  CHECK(refused > 4 * fields);  // of six values, a field takes one or two
}
