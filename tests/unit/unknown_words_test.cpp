#include "checks/unknown_words.h"

#include <doctest/doctest.h>

#include "checks/solve.h"
#include "survey/survey_file.h"
#include "survey/thing_names.h"
#include "survey_texts.h"

using namespace levelrun;

namespace {

Survey read(const Json& document) {
  const auto survey = survey_from(document);
  REQUIRE(survey.ok());
  return survey.value();
}

Finding of_day(const std::string& day) {
  Survey survey;
  survey.job.surveyed_on = day;
  const std::vector<Finding> findings = unknown_words(survey);
  return findings.empty() ? Finding{} : findings.front();
}

}  // namespace

TEST_CASE("a unit whose kind is not known is a hold, and still the query that the word gives") {
  Json document = document_of(small_job);
  CHECK(unknown_words(read(document)).empty());
  document["rooms"][0]["runs"][0]["units"][1]["kind"] = "bse";
  const Survey survey = read(document);
  const std::vector<Finding> findings = unknown_words(survey);
  REQUIRE(findings.size() == 2);
  CHECK(findings[0].code == unit_left_out);
  CHECK(findings[0].severity == Severity::hold);
  CHECK(findings[0].id.ends_with("/" + survey.rooms[0].id + "/U2"));
  CHECK(findings[0].at == "/rooms/0/runs/0/units/1");
  CHECK(findings[0].says.starts_with("U2 left out: its kind “bse” is not known."));
  CHECK(findings[0].remedy.starts_with("Write its kind, one of base, tall,"));
  CHECK(findings[1].severity == Severity::query);
  CHECK(findings[1].at == "/rooms/0/runs/0/units/1/kind");
  CHECK(solve(survey).manufacture.holds >= 1);
}

TEST_CASE("any other word that is not known stays a query") {
  Json document = document_of(small_job);
  document["rooms"][0]["walls"][0]["build"] = "cob";
  const std::vector<Finding> findings = unknown_words(read(document));
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].severity == Severity::query);
}

TEST_CASE("a day of survey that does not sort is asked about, with the day to write") {
  for (const char* good : {"", "2026-11-25", "2026-11-25T09:30:00+00:00"}) {
    CAPTURE(good);
    CHECK(of_day(good).code.empty());
  }
  const struct {
    const char *written, *remedy;
  } cases[] = {{"25/11/2026", "Write 2026-11-25."},
               {"11/25/2026", "Write 2026-11-25."},
               {"5.3.2026", "Write 2026-03-05, or 2026-05-03."},
               {"5/5/2026", "Write 2026-05-05."},
               {"2026/11/5", "Write 2026-11-05."},
               {"2026-13-01", "Write year, month and day, as 2026-11-25."},
               {"2026-11-25x", "Write year, month and day, as 2026-11-25."},
               {"99/99/2026", "Write year, month and day, as 2026-11-25."},
               {"last week", "Write year, month and day, as 2026-11-25."},
               {"//", "Write year, month and day, as 2026-11-25."}};
  for (const auto& c : cases) {
    CAPTURE(c.written);
    const Finding f = of_day(c.written);
    CHECK(f.severity == Severity::query);
    CHECK(f.at == "/job/surveyed_on");
    CHECK(f.remedy == c.remedy);
  }
}

TEST_CASE("a problem names the thing it is in, by its id") {
  Json document = document_of(small_job);
  CHECK(thing_names(document, "/rooms/0/runs/0/units/1/width") ==
        "run " + document["rooms"][0]["runs"][0]["id"].get<std::string>() + ", unit U2");
  CHECK(thing_names(document, "/rooms/0/runs/0/units/1/id") ==
        "run " + document["rooms"][0]["runs"][0]["id"].get<std::string>());
  CHECK(thing_names(document, "").empty());
  CHECK(thing_names(document, "/job/revision").empty());
  CHECK(thing_names(document, "/rooms/9/walls/0").empty());
  document["rooms"].push_back(document["rooms"][0]);
  document["rooms"][1]["id"] = 7;  // no name to show
  document["rooms"][0]["id"] = "a\x1B";
  CHECK(thing_names(document, "/rooms/0/name") == "room a\\u001b");
  CHECK(thing_names(document, "/rooms/1/name").empty());
}

TEST_CASE("a required field that is missing names the misspelt one that stands there") {
  Json document = document_of(small_job);
  Json& unit = document["rooms"][0]["runs"][0]["units"][0];
  unit.erase("width");
  unit["widht"] = 600;
  const auto survey = survey_from(document);
  REQUIRE_FALSE(survey.ok());
  REQUIRE(survey.problems().size() == 1);
  CHECK(survey.problems()[0].found == "nothing");
  CHECK(survey.problems()[0].expected == "a number of mm; \"widht\" stands there");
}
