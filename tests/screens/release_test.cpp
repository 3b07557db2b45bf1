#include <doctest/doctest.h>

#include "app/jobs/revisions.h"
#include "app/screens/screens.h"
#include "tests/screens/driven_app.h"

using namespace levelrun;

namespace {

const std::string calm = file_text(SAMPLES "/small-l-kitchen.levelrun.json");
const std::string troubled = file_text(SAMPLES "/full-of-trouble.levelrun.json");

Json parsed(const std::string& text) { return Json::parse(text); }

std::string calm_at_revision(int revision, double staff) {
  Json document = parsed(calm);
  document["job"]["revision"] = revision;
  document["rooms"][0]["levels"]["setups"][0]["readings"][6]["staff"] = staff;
  return write_survey(document);
}

void words(DrivenApp& d, std::string_view field, const std::string& text) {
  REQUIRE(d.tap(field));
  REQUIRE(d.tap(field));
  d.window.settle(d.app);
  d.window.type(d.app, text);
  d.window.settle(d.app);
}

const FindingRow* first_open(const DrivenApp& d, Severity severity) {
  for (const FindingRow& row : d.app.screens().release.findings)
    if (row.finding.severity == severity && !row.finding.answered && row.answered_by.empty())
      return &row;
  return nullptr;
}

}  // namespace

TEST_CASE(
    "an answer needs words and a name, gets the date, and lets a fit hold pass if it says so") {
  DrivenApp d(1920, 1080);
  REQUIRE(d.open(calm_at_revision(2, 1355)));  // a plinth too short, and two queries
  d.show(Page::release);
  ReleaseScreen& screen = d.app.screens().release;
  const Session& session = *d.app.session();
  REQUIRE(first_open(d, Severity::hold));
  const std::string hold = first_open(d, Severity::hold)->finding.id;
  const auto answer = [&](const std::string& label, const std::string& says) {
    REQUIRE(d.tap(label));
    REQUIRE(d.tap("Answer"));
    if (!says.empty()) words(d, "answer-says", says);
  };
  answer(first_open(d, Severity::hold)->label, "");
  d.tap("Write it down");
  CHECK(session.survey().install.answers.empty());
  words(d, "answer-says", "a taller board is ordered");
  screen.by.clear();
  d.window.settle(d.app);
  d.tap("Write it down");
  CHECK(session.survey().install.answers.empty());
  screen.by = "k.r.";
  d.window.settle(d.app);
  REQUIRE(d.has("Lets it pass"));
  REQUIRE(d.tap("Write it down"));
  REQUIRE(session.survey().install.answers.size() == 1);
  const Answer& written = session.survey().install.answers[0];
  CHECK(written.finding == hold);
  CHECK(written.says == "a taller board is ordered");
  CHECK(written.by == "k.r.");
  CHECK(written.at == "2026-03-12T14:32:08+00:00");
  CHECK(session.results().manufacture.holds == 1);  // answered, and it still bars
  // The same once more, and now it lets it pass.
  for (const FindingRow& row : screen.findings)
    if (row.finding.id == hold) REQUIRE(d.tap(row.label));
  REQUIRE(d.tap("Answer"));
  REQUIRE(d.tap("Lets it pass"));
  REQUIRE(d.tap("Write it down"));
  CHECK(session.results().manufacture.holds == 0);
  d.tap("Release job");
  CHECK_FALSE(session.survey().rooms[0].level_groups[0].underside_set);
  for (int n = 0; n < 2; ++n) {
    const FindingRow* query = first_open(d, Severity::query);
    REQUIRE(query);
    answer(query->label, "read again, it stands");
    REQUIRE(d.tap("Write it down"));
  }
  CHECK(session.results().manufacture.open);
  REQUIRE(d.tap("Release job"));
  REQUIRE(session.survey().rooms[0].level_groups[0].underside_set);
  CHECK(session.survey().rooms[0].level_groups[0].underside_set->by == "k.r.");
  // The answers are in the file.
  d.app.leave();
  CHECK(parsed(file_text(d.path))["install"]["answers"].size() == 4);
}

TEST_CASE("a safety hold can be answered and never passes") {
  DrivenApp d(1920, 1080);
  Json document = parsed(calm);
  Json& pipe = document["rooms"][0]["services"][0];
  pipe["kind"] = "gas";
  pipe["projection"] = 70;  // the void there is 46
  REQUIRE(d.open(write_survey(document)));
  d.show(Page::release);
  const Session& session = *d.app.session();
  const FindingRow* hold = first_open(d, Severity::hold);
  REQUIRE(hold);
  REQUIRE(hold->finding.safety);
  REQUIRE(d.tap(hold->label));
  REQUIRE(d.tap("Answer"));
  CHECK_FALSE(d.has("Lets it pass"));
  words(d, "answer-says", "the client wants it so");
  REQUIRE(d.tap("Write it down"));
  CHECK(session.survey().install.answers.size() == 1);
  CHECK(session.results().manufacture.holds == 1);
  d.tap("Release job");
  for (const LevelGroup& group : session.survey().rooms[0].level_groups)
    CHECK_FALSE(group.underside_set);
}

TEST_CASE(
    "releasing freezes every underside with a name and a date; what is released can be reopened") {
  DrivenApp d(1920, 1080);
  REQUIRE(d.open(calm));
  d.show(Page::release);
  REQUIRE(d.has("Release job"));
  REQUIRE(d.tap("Release job"));
  const Room& room = d.app.session()->survey().rooms[0];
  REQUIRE_FALSE(room.level_groups.empty());
  for (const LevelGroup& group : room.level_groups) {
    REQUIRE(group.underside_set);
    CHECK(group.underside_set->by == "t.v.");
    CHECK(group.underside_set->at == "2026-03-12T14:32:08+00:00");
  }
  CHECK(d.app.session()->results().rooms[0].groups[0].set);
  // The key now makes another revision, and opens it; the released file stays as it is.
  CHECK_FALSE(d.has("Release job"));
  REQUIRE(d.tap("Reopen job"));
  d.window.settle(d.app);
  REQUIRE(d.app.session());
  CHECK(d.app.session()->path() != d.path);
  CHECK(d.app.session()->survey().job.revision == 2);
  for (const LevelGroup& group : d.app.session()->survey().rooms[0].level_groups)
    CHECK_FALSE(group.underside_set);
  const Json released = parsed(file_text(d.path));
  CHECK(released["rooms"][0]["level_groups"][0].contains("underside_set"));
}

TEST_CASE("while anything bars it the Release key does nothing") {
  DrivenApp d(1920, 1080);
  REQUIRE(d.open(troubled));
  d.show(Page::release);
  d.tap("Release job");
  for (const Room& room : d.app.session()->survey().rooms)
    for (const LevelGroup& group : room.level_groups) CHECK_FALSE(group.underside_set);
}

TEST_CASE("the page knows the revision before and what changed since, in every size") {
  for (const auto& [w, h] :
       {std::pair{1920.f, 1080.f}, {1280.f, 800.f}, {800.f, 1280.f}, {390.f, 844.f}}) {
    CAPTURE(w);
    DrivenApp d(w, h);
    std::ofstream(d.folder + "/earlier.levelrun.json") << calm_at_revision(1, 1347);
    std::ofstream(d.folder + "/other.levelrun.json") << "{";
    REQUIRE(d.open(calm_at_revision(3, 1352), "now.levelrun.json"));
    d.show(Page::release);
    const auto earlier = earlier_revision(d.files, d.path, d.folder, "MH-26-031", 3);
    REQUIRE(earlier);
    CHECK(earlier->revision == 1);
    CHECK(earlier->path == d.folder + "/earlier.levelrun.json");
  }
}

TEST_CASE("an earlier revision is the latest of the same reference, and none of another job") {
  DrivenApp d;
  for (int n = 1; n <= 4; ++n)
    std::ofstream(d.folder + "/r" + std::to_string(n) + ".levelrun.json")
        << calm_at_revision(n, 1347);
  std::ofstream(d.folder + "/t.levelrun.json") << troubled;
  const auto before =
      earlier_revision(d.files, d.folder + "/r4.levelrun.json", d.folder, "MH-26-031", 4);
  REQUIRE(before);
  CHECK(before->revision == 3);
  CHECK_FALSE(earlier_revision(d.files, d.folder + "/r1.levelrun.json", d.folder, "MH-26-031", 1));
  CHECK_FALSE(earlier_revision(d.files, d.folder + "/t.levelrun.json", d.folder, "MH-26-999", 2));
}
