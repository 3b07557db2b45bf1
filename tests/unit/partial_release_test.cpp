#include "checks/partial_release.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "checks/solve.h"
#include "survey/survey_file.h"

using namespace levelrun;

namespace {

Json sample(const char* name) {
  auto file = load_survey(std::string(SAMPLES "/") + name + ".levelrun.json");
  REQUIRE(file.ok());
  return file.value().document;
}

Results solved(const Json& document) {
  const auto survey = survey_from(document);
  REQUIRE(survey.ok());
  return solve(survey.value());
}

bool may(const Results& results, const std::string& part) {
  const std::vector<std::string>& list = results.manufacture.may_cut;
  return std::find(list.begin(), list.end(), part) != list.end();
}

Results with_finding(const Json& document, Finding f) {
  const auto survey = survey_from(document);
  REQUIRE(survey.ok());
  Results results = solve(survey.value());
  f.id = "x";
  results.findings.push_back(f);
  results.manufacture.may_cut =
      may_cut(parts_to_cut(survey.value(), results), survey.value().rooms.size() > 1);
  return results;
}

Finding open_at(const std::string& at, const char* code = "something",
                Severity s = Severity::query) {
  Finding f;
  f.at = at;
  f.code = code;
  f.severity = s;
  return f;
}

}  // namespace

TEST_CASE("where nothing is open every carcass and every plinth face may be cut") {
  const Results results = solved(sample("small-l-kitchen"));
  REQUIRE(results.manufacture.open);
  for (const char* part : {"S1", "S6", "T3", "plinth S front", "plinth T right"})
    CHECK(may(results, part));
}

TEST_CASE("a socket that is asked about bars units before its wall, and no plinth and no island") {
  const Results results = solved(sample("u-shape-island"));
  REQUIRE(results.manufacture.queries_open == 1);
  CHECK_FALSE(may(results, "Q1"));
  CHECK(may(results, "I1"));
  CHECK(may(results, "plinth Q front"));
}

TEST_CASE("a reading of the floor bars plinths and what is notched, not a plain carcass") {
  const Json document = sample("small-l-kitchen");
  const Results results = with_finding(document, open_at("/rooms/0/levels/points/4"));
  CHECK(may(results, "S1"));        // no pipe near it
  CHECK_FALSE(may(results, "S4"));  // the sink's, with its pipes behind
  CHECK_FALSE(may(results, "plinth S front"));
  CHECK_FALSE(may(results, "plinth T front"));  // one surface carries both
}

TEST_CASE("a leg that is in question bars the unit it names and every plinth, no other carcass") {
  const Results results = with_finding(
      sample("small-l-kitchen"),
      open_at("/rooms/0/runs/1/units/1", "leg too long for the floor", Severity::hold));
  CHECK_FALSE(may(results, "T2"));
  CHECK(may(results, "T1"));
  CHECK(may(results, "S1"));
  CHECK_FALSE(may(results, "plinth T front"));
}

TEST_CASE("what nobody understood, or what is outside every room, bars everything") {
  for (const char* at :
       {"", "/job", "/furniture/back", "/instruments/0/kind", "/rooms/0", "/rooms/0/skipped/0",
        "/rooms/0/something/3", "/rooms/7/walls/0", "/rooms/0/walls/99", "/rooms/0/runs/x"}) {
    CAPTURE(at);
    CHECK(with_finding(sample("small-l-kitchen"), open_at(at)).manufacture.may_cut.empty());
  }
}

TEST_CASE("notes bar nothing, nor does what was answered") {
  const Json document = sample("small-l-kitchen");
  const std::size_t all = solved(document).manufacture.may_cut.size();
  CHECK(with_finding(document, open_at("", "x", Severity::note)).manufacture.may_cut.size() == all);
  Finding answered = open_at("/job");
  answered.answered = true;
  CHECK(with_finding(document, answered).manufacture.may_cut.size() == all);
}

TEST_CASE("a hold in one room leaves the parts of another alone, and names say the room") {
  Json document = sample("small-l-kitchen");
  Json second = document["rooms"][0];
  second["id"] = "other";
  document["rooms"].push_back(second);
  const Results results = with_finding(document, open_at("/rooms/0"));
  CHECK_FALSE(may(results, "kitchen/S1"));
  CHECK(may(results, "other/S1"));
  CHECK(may(results, "other/plinth S front"));
}

TEST_CASE("every part that may not be cut names the finding that bars it") {
  const Json document = sample("full-of-trouble");
  const auto survey = survey_from(document);
  REQUIRE(survey.ok());
  const Results results = solve(survey.value());
  const std::vector<PartToCut> parts = parts_to_cut(survey.value(), results);
  REQUIRE_FALSE(parts.empty());
  for (const PartToCut& p : parts)
    CHECK(std::any_of(results.findings.begin(), results.findings.end(),
                      [&](const Finding& f) { return f.id == p.barred_by; }));
}
