#include "app/entry/finding_rows.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "app/entry/release_patch.h"
#include "app/entry/sum_terms.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// One unit of 600 on four legs of 100 to 120, on a floor that falls 50 over 1 m, so that no U
// suits all of its legs.
Survey unit_on_a_slope() {
  Survey survey = simple_survey();
  read_grid(survey, 1000, 1000, 250, [](double x, double) { return -0.05 * x; });
  Run run;
  run.id = "S";
  run.starts_at = run.ends_at = RunEnd::open;
  run.furniture.legs.push_back(leg_type("short", 100, 120));
  Unit unit;
  unit.id = "S1";
  unit.width = 1000;
  unit.leg = 0;
  run.units.push_back(unit);
  survey.rooms[0].runs.push_back(run);
  return survey;
}

Json document_of(const Survey& survey) {
  Json units = Json::array({{{"id", "S1"}}});
  Json runs = Json::array({{{"id", survey.rooms[0].runs[0].id}, {"units", units}}});
  return {{"rooms", Json::array({{{"id", "K"}, {"runs", runs}}})}};
}

}  // namespace

TEST_CASE("a sum is taken apart into terms, each with its caption") {
  const std::vector<std::string> leg = {"underside", "bare floor", "new floor", "leg"};
  struct Case {
    std::string sum;
    std::vector<std::string> numbers, captions;
  };
  const Case cases[] = {
      {"158.0 − (−40.0) − 15.0 = 183.0", {"158.0", "(−40.0)", "15.0", "183.0"}, leg},
      // Its own words come first, and the last caption is the result's.
      {"42.0 + 5.2 hollow − 68.0 = −20.8",
       {"42.0", "5.2", "68.0", "−20.8"},
       {"underside", "hollow", "new floor", "leg"}},
      {"112.5 − 0.3 = 112.2", {"112.5", "0.3", "112.2"}, {"underside", "bare floor", "leg"}},
      {"the board at S: 1.0 + 2.0 = 3.0",
       {"1.0", "2.0", "3.0"},
       {"underside", "bare floor", "leg"}},
      {"158,0 − 15,0 = 143,0 of 150,0",
       {"158,0", "15,0", "143,0"},
       {"underside", "bare floor", "of 150,0"}},
      // No plain sums: they stay a line.
      {"(122.9 + 102.2) / 2 = 112.5", {}, {}},
      {"underside 142.5", {}, {}},
      {"158.0 −", {}, {}},
      {"158.0", {}, {}},
      {"", {}, {}},
  };
  for (const Case& c : cases) {
    CAPTURE(c.sum);
    const std::vector<SumTerm> terms = sum_terms(c.sum, leg);
    REQUIRE(terms.size() == c.numbers.size());
    for (std::size_t i = 0; i < terms.size(); ++i) {
      CHECK(terms[i].number == c.numbers[i]);
      CHECK(terms[i].caption == c.captions[i]);
    }
    if (!terms.empty()) CHECK(terms.back().sign == "=");
  }
}

TEST_CASE(
    "a leg's finding has its leg's sum, limits, place and ways out, and rows are told apart") {
  const Survey survey = unit_on_a_slope();
  const Results results = solve(survey);
  const std::vector<FindingRow> rows = finding_rows(document_of(survey), survey, results);
  REQUIRE(rows.size() == results.findings.size());
  std::set<std::string> labels;
  bool leg = false;
  for (const FindingRow& row : rows) {
    CAPTURE(row.label);
    CHECK(labels.insert(row.label).second);
    if (!row.finding.code.starts_with("leg too")) continue;
    leg = true;
    CHECK(row.title.starts_with("Leg S1, "));
    REQUIRE(row.judged);
    CHECK(row.judged->verdict == Verdict::outside);
    CHECK(row.judged->least == 100.0);
    CHECK(row.judged->most == 120.0);
    CHECK(sum_terms(row.sum, row.captions).size() == 3);  // underside − floor = leg
    CHECK(row.x.has_value());
    REQUIRE(row.too_much);
    CHECK(*row.too_much == doctest::Approx(*row.finding.measured - *row.finding.limit));
    CHECK_FALSE(row.ways_out.empty());
  }
  CHECK(leg);
}

TEST_CASE("an answer lets a fit hold pass where it says so, and counts once as answered") {
  Survey survey = unit_on_a_slope();
  const Results before = solve(survey);
  REQUIRE(before.manufacture.holds > 0);
  const auto hold = std::find_if(before.findings.begin(), before.findings.end(),
                                 [](const Finding& f) { return f.severity == Severity::hold; });
  CHECK(can_be_let_pass(*hold));
  for (const bool releases : {false, true}) {
    CAPTURE(releases);
    survey.install.answers = {{hold->id, "agreed", "t.v.", "2026-03-12T14:32:08+00:00", releases}};
    const Results after = solve(survey);
    CHECK(finding_counts(after).answered == int(releases));
    CHECK(finding_counts(after).holds == before.manufacture.holds - int(releases));
    for (const FindingRow& row : finding_rows(document_of(survey), survey, after))
      if (row.finding.id == hold->id) CHECK(row.answered_by == "t.v.");
  }
  Finding safety = *hold;
  safety.safety = true;
  CHECK_FALSE(can_be_let_pass(safety));
}

TEST_CASE("answers are appended, whatever of install is missing") {
  const std::string at = "2026-03-12T14:32:08+00:00";
  for (const Json& install : {Json(), Json::object(), Json{{"answers", Json::array({1})}}}) {
    Json document = {{"rooms", Json::array()}};
    if (!install.is_null()) document["install"] = install;
    CAPTURE(document.dump());
    const Json patched = document.patch(answer_patch(document, "a/b", "yes", "t.v.", at, false));
    const Json& answers = patched["install"]["answers"];
    CHECK(answers.size() == (install.contains("answers") ? 2 : 1));
    CHECK(answers.back() == Json{{"finding", "a/b"}, {"says", "yes"}, {"by", "t.v."}, {"at", at}});
  }
}

TEST_CASE("an answer needs its words, a name and a date") {
  const Json document = {{"rooms", Json::array()}};
  const std::string at = "2026-03-12T14:32:08+00:00";
  CHECK(answer_patch(document, "a", "", "t.v.", at, false).empty());
  CHECK(answer_patch(document, "a", "yes", "", at, true).empty());
  CHECK(answer_patch(document, "a", "yes", "t.v.", "", false).empty());
}

TEST_CASE(
    "reopening is a new revision: undersides free, answers kept, the day's part left behind") {
  const Json document = Json::parse(R"({"job": {"reference": "K-1", "revision": 2},
      "rooms": [{"id": "k", "level_groups": [
          {"id": "A", "asked_height": 900, "underside_set": {"value": 140, "by": "t.v.", "at": "x"}}]}],
      "install": {"answers": [{"finding": "a", "says": "yes", "by": "t.v.", "at": "x"}],
                  "set_legs": [{"unit": "S1"}]}})");
  const Json next = reopened(document);
  CHECK(next["job"]["revision"] == 3);
  CHECK(next["rooms"][0]["level_groups"][0] == Json{{"id", "A"}, {"asked_height", 900}});
  CHECK(next["install"] == Json{{"answers", document["install"]["answers"]}});
  CHECK(reopened(Json::array()) == Json::array());
}

TEST_CASE("a release sets the underside of every group that has none, to a tenth") {
  Survey survey = unit_on_a_slope();
  Results results = solve(survey);
  REQUIRE(results.rooms[0].groups.size() == 1);
  results.rooms[0].groups[0].underside = 123.456;
  const Json document = document_of(survey);
  results.manufacture.open = false;
  CHECK(release_patch(document, survey, results, "t.v.", "2026-03-12").empty());
  results.manufacture.open = true;
  CHECK(release_patch(document, survey, results, "", "2026-03-12").empty());
  CHECK(release_patch(document, survey, results, "t.v.", "").empty());
  const Json patched =
      document.patch(release_patch(document, survey, results, "t.v.", "2026-03-12"));
  const Json& group = patched["rooms"][0]["level_groups"][0];
  CHECK(group["id"] == "A");
  CHECK(group["underside_set"] == Json{{"value", 123.5}, {"by", "t.v."}, {"at", "2026-03-12"}});

  LevelGroup facts;
  facts.id = "A";
  facts.underside_set = LevelGroup::SetUnderside{120, "t.v.", "2026-03-11"};
  survey.rooms[0].level_groups.push_back(facts);
  CHECK(release_patch(patched, survey, results, "t.v.", "2026-03-12").empty());
}

TEST_CASE("a pointer leads to the fact that the plan draws") {
  Survey survey = simple_survey();
  read_floor(survey, 0, 0, 0);
  const Json document = Json::parse(R"({"rooms": [{"levels": {"setups": [
      {"readings": [{"point": "BM"}, {"point": "P1"}]}]}}]})");
  const std::pair<const char*, const char*> cases[] = {
      {"/rooms/0/walls/2/lengths/1", "/rooms/0/walls/2"},
      {"/rooms/0/walls/1/build", "/rooms/0/walls/1"},
      {"/rooms/0/runs/1/units/3/niche", "/rooms/0/runs/1/units/3"},
      {"/rooms/0/runs/1", "/rooms/0/runs/1"},
      {"/rooms/0/levels/points/4", "/rooms/0/levels/points/4"},
      {"/rooms/0/levels/setups/0/readings/1", "/rooms/0/levels/points/1"},
      {"/rooms/0/flooring/laid/0", ""},
      {"", ""},
  };
  for (const auto& one : cases) {
    CAPTURE(one.first);
    CHECK(fact_in_plan(document, survey, one.first) == one.second);
  }
}
