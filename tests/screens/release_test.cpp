#include <doctest/doctest.h>

#include "app/jobs/revisions.h"
#include "app/screens/app.h"
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

}  // namespace

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
