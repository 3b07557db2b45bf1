// Surveys made to do harm: what would cost more than seconds is refused, at the list that is too
// long; and what fuzzers found. tests/faults/hostile_files.cpp measures time and memory.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "checks/results_json.h"
#include "checks/solve.h"
#include "crash_disk.h"
#include "survey/limits.h"
#include "survey/open_job.h"
#include "survey_texts.h"

using namespace levelrun;

namespace {

Json list_of(Index count, const std::function<Json(const std::string&)>& item) {
  Json list = Json::array();
  for (Index i = 0; i < count; ++i) list.push_back(item(std::to_string(i)));
  return list;
}

Json unit(const std::string& id) { return {{"id", "X" + id}, {"width", 10}}; }
Json service(const std::string& id) {
  return {{"id", id}, {"kind", "gas"}, {"wall", "W1"}, {"along", 100}, {"height", 300}};
}
Json opening(const std::string& id) {
  return {{"id", id}, {"wall", "W1"}, {"left", 0}, {"width", 900}, {"height", 2000}};
}
Json setup(const std::string& id) { return {{"id", "Q" + id}, {"readings", Json::array()}}; }

struct Limit {
  const char* list;  // JSON Pointer
  Index most;
  std::function<Json(const std::string&)> item;
};

const std::vector<Limit>& limits() {
  static const std::vector<Limit> all{
      {"/instruments", most_instruments,
       [](const std::string& id) {
         return Json{{"id", id}, {"kind", "tape"}, {"sd", 1}};
       }},
      {"/rooms/0/openings", most_openings, opening},
      {"/rooms/0/services", most_services, service},
      {"/rooms/0/ceilings", most_ceilings,
       [](const std::string&) {
         return Json{{"place", {{"x", 1}, {"y", -1}}}, {"clear", 2400}};
       }},
      {"/rooms/0/floor_areas", most_floor_areas,
       [](const std::string& id) {
         return Json{{"id", id}};
       }},
      {"/rooms/0/no_drill/0/outline", most_outline,
       [](const std::string& id) {
         return Json{{"x", std::stoi(id)}, {"y", -std::stoi(id) % 7}};
       }},
      {"/rooms/0/walls/0/finish", most_layers,
       [](const std::string& id) {
         return Json{{"name", id}, {"thickness", 1}};
       }},
      {"/rooms/0/flooring/laid", most_layers,
       [](const std::string& id) {
         return Json{{"name", id}, {"thickness", 1}};
       }},
      {"/rooms/0/flooring/existing", most_layers,
       [](const std::string& id) {
         return Json{{"name", id}, {"thickness", 1}};
       }},
      {"/rooms/0/levels/known", most_known_heights,
       [](const std::string&) {
         return Json{{"point", "P2"}, {"height", 1}, {"sd", 1}};
       }},
      {"/rooms/0/levels/setups/0/readings", most_staff,
       [](const std::string&) {
         return Json{{"point", "P1"}, {"staff", 1000}};
       }},
      {"/rooms/0/levels/setups", most_setups, setup},
      {"/rooms/0/runs/0/units", most_units, unit}};
  return all;
}

Json with_list(const Limit& limit, Index count) {
  Json document = document_of(small_job);
  document["rooms"][0]["no_drill"] = Json::parse(R"([{"outline": [], "why": "pipe"}])");
  document["rooms"][0]["flooring"] = {{"laid", Json::array()}};
  document[Json::json_pointer(limit.list)] = list_of(count, limit.item);
  return document;
}

}  // namespace

TEST_CASE("a list as long as it may be is read, and one item more is refused by its name") {
  for (const Limit& limit : limits()) {
    CAPTURE(std::string(limit.list));
    CHECK(survey_from(with_list(limit, limit.most)).ok());
    const auto refused = survey_from(with_list(limit, limit.most + 1));
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problems()[0].at == limit.list);
    CHECK(refused.problems()[0].found == std::to_string(limit.most + 1) + " items");
    CHECK(refused.problems()[0].expected == "up to " + std::to_string(limit.most));
  }
}

TEST_CASE("what all set-ups and runs of a room hold is counted together") {
  Json document = document_of(small_job);
  Json& room = document["rooms"][0];
  for (int i = 0; i < 2; ++i) {
    Json more = setup(std::to_string(i));
    more["readings"] = list_of(most_staff / 2, [](const std::string&) {
      return Json{{"point", "P1"}, {"staff", 1000}};
    });
    room["levels"]["setups"].push_back(more);
  }
  Json run = room["runs"][0];
  run["id"] = "N2";
  run["units"] = list_of(most_units - 1, unit);
  room["runs"].push_back(run);
  const auto refused = survey_from(document);
  REQUIRE_FALSE(refused.ok());
  REQUIRE(refused.problems().size() == 2);
  CHECK(refused.problems()[0].at == "/rooms/0/levels/setups");
  CHECK(refused.problems()[0].found == "20002 readings");
  CHECK(refused.problems()[1].at == "/rooms/0/runs/1/units");
  CHECK(refused.problems()[1].found == "2001 units in the room");
}

TEST_CASE("what all rooms hold is counted together") {
  Json document = document_of(small_job);
  document["rooms"][0]["services"] = list_of(most_services, service);
  for (int i = 1; i < 4; ++i) {
    Json room = document["rooms"][0];
    room["id"] = "R" + std::to_string(i + 1);
    document["rooms"].push_back(room);
  }
  const auto refused = survey_from(document);
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problems()[0].at == "/rooms");
  CHECK(refused.problems()[0].found == "1200 services in all rooms");
}

TEST_CASE("a run longer than any room is refused") {
  Json document = document_of(small_job);
  document["rooms"][0]["runs"][0]["units"][0]["width"] = 99601;
  const auto refused = survey_from(document);
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problems()[0].at == "/rooms/0/runs/0/units");
}

TEST_CASE("thousands of findings keep ids of their own, and the first of a name has no number") {
  Json document = document_of(small_job);
  document["rooms"][0]["openings"] = list_of(most_openings, opening);
  const auto survey = survey_from(document);
  REQUIRE(survey.ok());
  const Results results = solve(survey.value());
  std::vector<std::string> ids;
  for (const Finding& finding : results.findings) ids.push_back(finding.id);
  std::sort(ids.begin(), ids.end());
  CHECK(ids.size() > 4900);
  CHECK(std::adjacent_find(ids.begin(), ids.end()) == ids.end());
  CHECK(std::binary_search(ids.begin(), ids.end(), "openings-overlap/R1/7"));
  CHECK(std::binary_search(ids.begin(), ids.end(), "openings-overlap/R1/7#7"));
  CHECK_FALSE(std::binary_search(ids.begin(), ids.end(), "openings-overlap/R1/7#8"));
}

TEST_CASE("a point read ten thousand times is as good as its mean, and costs no more") {
  Json document = document_of(small_job);
  Json& readings = document["rooms"][0]["levels"]["setups"][0]["readings"];
  for (int i = 0; i < 9999; ++i) readings.push_back({{"point", "P2"}, {"staff", 1004}});
  const auto survey = survey_from(document);
  REQUIRE(survey.ok());
  const Results results = solve(survey.value());
  // P1 is the benchmark, read once: its own 2 mm stay.
  CHECK(results.rooms[0].levels[1].height.value() == doctest::Approx(-4));
  CHECK(results.rooms[0].levels[1].sd.value() == doctest::Approx(2 * std::sqrt(1 + 1e-4)));
  // Nor does it drown the others: the underside and every leg stay numbers, near those of one
  // reading.
  const Results once = solve(survey_from(document_of(small_job)).value());
  const GroupResult &many = results.rooms[0].groups.at(0), &one = once.rooms[0].groups.at(0);
  CHECK(many.underside == doctest::Approx(one.underside).epsilon(0.05));
  REQUIRE(results.rooms[0].legs.size() == once.rooms[0].legs.size());
  for (const LegResult& leg : results.rooms[0].legs) {
    CAPTURE(leg.unit);
    CHECK(std::isfinite(leg.height.value()));
    CHECK(std::isfinite(leg.sd.value()));
  }
}

TEST_CASE("a clock that jumps loses nothing, and undo goes by the order of the edits") {
  CrashDisk disk;
  const std::string path = "S-1.levelrun.json", journal = "S-1.levelrun.journal";
  disk.put(path, small_job);
  const char* const times[] = {"2026-03-12T14:00:00Z", "1970-01-01T00:00:00Z",
                               "2090-12-31T23:59:60+14:00", "2026-03-12T13:00:00Z", "no time"};
  {
    auto job = open_job(path, journal, disk);
    REQUIRE(job.ok());
    for (const char* at : times) {
      const Json patch = {{{"op", "add"}, {"path", "/job/notes"}, {"value", at}}};
      REQUIRE(job.value().apply(patch, at, {"t.v.", at}).empty());
    }
  }
  disk.crash(CrashDisk::After::least);
  auto again = open_job(path, journal, disk);
  REQUIRE(again.ok());
  CHECK(again.value().notices().empty());
  CHECK(again.value().safe_at() == "no time");
  for (int i = 4; i >= 0; --i) {
    CHECK(again.value().survey().job.notes == times[i]);
    REQUIRE(again.value().undo_says());
    CHECK(*again.value().undo_says() == times[i]);
    REQUIRE(again.value().undo({"t.v.", times[4 - i]}).empty());
  }
  CHECK(write_survey(again.value().document()) == write_survey(document_of(small_job)));
}

// tests/fuzz/cases/journal/inverse-that-does-not-fit
TEST_CASE("an inverse in the journal that does not fit is refused, and changes nothing") {
  CrashDisk disk;
  const std::string path = "S-1.levelrun.json", journal = "S-1.levelrun.journal";
  disk.put(path, small_job);
  JournalLine line;
  line.does = Deed::edit;
  line.edit = {1,
               Json::parse(R"([{"op": "add", "path": "/job/notes", "value": "n"}])"),
               Json::parse(R"([{"op": "remove", "path": "/job/remarks"}])"),
               "notes",
               {"t", "x"}};
  disk.put(journal, journal_head(small_job) + line_text(line));
  auto job = open_job(path, journal, disk);
  REQUIRE(job.ok());
  CHECK(job.value().survey().job.notes == "n");
  const auto problems = job.value().undo({"t", "x"});
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].at == "/job/remarks");
  CHECK(job.value().survey().job.notes == "n");
}
