#include "checks/compare.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>

#include "checks/solve.h"
#include "survey/survey_file.h"

using namespace levelrun;

namespace {

const std::string sample = SAMPLES "/small-l-kitchen.levelrun.json";

Comparison compared(const Json& was, const Json& is) {
  const auto old_survey = survey_from(was), new_survey = survey_from(is);
  REQUIRE(old_survey.ok());
  REQUIRE(new_survey.ok());
  return compare(was, solve(old_survey.value()), is, solve(new_survey.value()));
}

Json document_of(const std::string& path) {
  auto file = load_survey(path);
  REQUIRE(file.ok());
  return file.value().document;
}

Comparison after(const std::function<void(Json&)>& change) {
  const Json was = document_of(sample);
  Json is = was;
  change(is);
  return compared(was, is);
}

Json& staff(Json& document, int reading) {
  return document["rooms"][0]["levels"]["setups"][0]["readings"][reading]["staff"];
}

const ResultChange* moved(const Comparison& c, const std::string& kind, const std::string& at,
                          const std::string& what) {
  for (const ResultChange& r : c.results)
    if (r.kind == kind && r.at == at && r.what == what) return &r;
  return nullptr;
}

}  // namespace

TEST_CASE("a survey compared with itself differs in nothing") {
  for (const char* name :
       {"small-l-kitchen", "u-shape-island", "knocked-through", "full-of-trouble"}) {
    CAPTURE(name);
    const Json document = document_of(std::string(SAMPLES "/") + name + ".levelrun.json");
    CHECK(compared(document, document).same());
  }
}

TEST_CASE("where one reading changed, it is the one fact, and the legs near it move") {
  const Comparison c = after([](Json& d) { staff(d, 6) = 1352.0; });  // of P6, 5 lower
  REQUIRE(c.facts.size() == 1);
  const FactChange& f = c.facts.front();
  CHECK(f.at == "/rooms/0/levels/setups/0/readings/6/staff");
  CHECK(f.change == Change::changed);
  CHECK(*f.old_value == 1347.0);
  CHECK(*f.new_value == 1352.0);
  CHECK(*f.by == doctest::Approx(5));
  // 1.96 · √(0.7² + 0.7²), of the laser level that read it.
  CHECK(*f.band == doctest::Approx(1.9403).epsilon(1e-4));
  CHECK(c.smaller == 0);
  const ResultChange* near = moved(c, "leg", "S3 front_left", "height");
  REQUIRE(near);
  CHECK(*near->by > 0.5);  // a lower floor, a longer leg
  CHECK(*near->new_value - *near->old_value == doctest::Approx(*near->by));
  // Every movement listed is one of the heights that the two results have.
  REQUIRE_FALSE(c.movements.empty());
  for (const Movement& m : c.movements) {
    CHECK(m.moved > 0);
    CHECK(m.moved <= m.of);
    CHECK(m.least <= m.greatest);
  }
}

TEST_CASE("a reading that changed by less than two readings differ is counted, not listed") {
  const Comparison c = after([](Json& d) { staff(d, 6) = 1348.5; });  // 1.5 under 1.94
  CHECK(c.facts.empty());
  CHECK(c.smaller == 1);
  CHECK_FALSE(c.same());
}

TEST_CASE("an uncertain instrument makes a change of its readings a smaller one") {
  const Comparison c = after([](Json& d) {
    d["instruments"][1]["sd"] = 3.0;
    staff(d, 6) = 1352.0;
  });
  // 5 is under 1.96 · √(0.7² + 3²) = 6.04; what is left is the instrument itself.
  REQUIRE(c.facts.size() == 1);
  CHECK(c.facts.front().at == "/instruments/1/sd");
  CHECK(c.smaller == 1);
}

TEST_CASE("things are matched by id: one put in before the others is one fact") {
  const Comparison c = after([](Json& d) {
    Json& units = d["rooms"][0]["runs"][0]["units"];
    units.insert(units.begin(), Json{{"id", "S0"}, {"kind", "base"}, {"width", 150}});
  });
  REQUIRE(c.facts.size() == 1);
  CHECK(c.facts.front().change == Change::came);
  CHECK(c.facts.front().at == "/rooms/0/runs/0/units/0");
  const ResultChange* leg = moved(c, "leg", "S0 front_left", "height");
  REQUIRE(leg);
  CHECK_FALSE(leg->old_value);
  CHECK(leg->new_value);
}

TEST_CASE("readings are matched by their point: one taken out leaves the others alone") {
  const Comparison c =
      after([](Json& d) { d["rooms"][0]["levels"]["setups"][0]["readings"].erase(6); });
  REQUIRE(c.facts.size() == 1);
  CHECK(c.facts.front().change == Change::went);
  CHECK(c.facts.front().at == "/rooms/0/levels/setups/0/readings/6");
}

TEST_CASE("a length whose height was put right is one change, not one gone and one new") {
  const Comparison c =
      after([](Json& d) { d["rooms"][0]["walls"][0]["lengths"][0]["height"] = 120; });
  REQUIRE(c.facts.size() == 1);
  CHECK(c.facts.front().change == Change::changed);
  CHECK(c.facts.front().at == "/rooms/0/walls/0/lengths/0/height");
}

TEST_CASE("what a file leaves to a default equals that default") {
  const Comparison same = after([](Json& d) {
    d["furniture"]["base_height"] = 720;
    d["furniture"]["plinth"]["setback"] = 50.0;
    d["rooms"][0]["corners"][0]["angle"] = 90;
    d["rooms"][0]["diagonals"][0]["height"] = 900;
    d["rooms"][0]["flooring"]["laid"][0]["sd"] = 0.5;
  });
  CHECK(same.same());
  const Comparison differs = after([](Json& d) { d["furniture"]["base_height"] = 715; });
  REQUIRE(differs.facts.size() == 1);
  CHECK(differs.facts.front().at == "/furniture/base_height");
  CHECK(*differs.facts.front().by == doctest::Approx(-5));
}

TEST_CASE("units that change places are a change of their order") {
  const Comparison c = after([](Json& d) {
    Json& units = d["rooms"][0]["runs"][0]["units"];
    std::swap(units[0], units[1]);
  });
  REQUIRE(c.facts.size() == 1);
  CHECK(c.facts.front().at == "/rooms/0/runs/0/units");
  CHECK(c.facts.front().old_text.starts_with("S1, S2"));
  CHECK(c.facts.front().new_text.starts_with("S2, S1"));
}

TEST_CASE("findings come and go by their id") {
  const Comparison c = after([](Json& d) { d["rooms"][0]["walls"][0]["build"] = "cob"; });
  CHECK(c.facts.size() == 1);
  const auto query = std::find_if(c.findings.begin(), c.findings.end(), [](const FindingChange& f) {
    return f.finding.code == "word not known";
  });
  REQUIRE(query != c.findings.end());
  CHECK(query->move == FindingMove::came);
  CHECK(query->finding.severity == Severity::query);
  const Comparison back = [&] {
    const Json was = document_of(sample);
    Json is = was;
    is["rooms"][0]["walls"][0]["build"] = "cob";
    return compared(is, was);
  }();
  REQUIRE_FALSE(back.findings.empty());
  CHECK(back.findings.front().move == FindingMove::went);
}

TEST_CASE("an answer under a query is said as answered") {
  Json was = document_of(sample);
  was["rooms"][0]["walls"][0]["build"] = "cob";
  Json is = was;
  is["install"]["answers"] = Json::array({{{"finding", "word-not-known/rooms/0/walls/0/build"},
                                           {"says", "as masonry"},
                                           {"by", "k.r."},
                                           {"at", "2026-04-01T09:00:00+00:00"}}});
  const Comparison c = compared(was, is);
  REQUIRE(c.findings.size() == 1);
  CHECK(c.findings.front().move == FindingMove::answered);
  CHECK(compared(is, was).findings.front().move == FindingMove::reopened);
}

TEST_CASE("a pointer with names is the same wherever a thing stands in its list") {
  Json was = document_of(sample);
  Json is = was;
  Json& walls = is["rooms"][0]["walls"];
  std::rotate(walls.begin(), walls.begin() + 1, walls.end());
  CHECK(named_pointer(was, "/rooms/0/walls/1/lengths/0") ==
        named_pointer(is, "/rooms/0/walls/0/lengths/0"));
  CHECK(named_pointer(was, "/rooms/9/walls") == "/rooms/9/walls");
  CHECK(compared(was, is).facts.empty());
}
