#include <doctest/doctest.h>

#include <filesystem>

#include "app/jobs/revisions.h"
#include "app/screens/screens.h"
#include "survey/attached_survey.h"
#include "survey/parse_json.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

const std::string calm = file_text(SAMPLES "/small-l-kitchen.levelrun.json");
const std::string rooms = file_text(SAMPLES "/knocked-through.levelrun.json");

// One reading of the sample is another: that of P6 in its only set-up.
std::string at_revision(int revision, double staff) {
  Json document = Json::parse(calm);
  document["job"]["revision"] = revision;
  document["rooms"][0]["levels"]["setups"][0]["readings"][6]["staff"] = staff;
  return write_survey(document);
}

void put(const DrivenApp& d, const std::string& name, const std::string& text) {
  std::ofstream(d.folder + "/" + name, std::ios::binary) << text;
}

const CompareScreen& compare_of(const DrivenApp& d) { return d.app.screens().compare; }

// Until it is on the screen, as a finger would scroll.
bool found(DrivenApp& d, const std::string& label, Spot over) {
  for (int n = 0; n < 200 && !d.has(label); ++n) {
    ImGui::GetIO().AddMousePosEvent(over.x, over.y);
    ImGui::GetIO().AddMouseWheelEvent(0, -1);
    d.window.settle(d.app);
  }
  return d.has(label);
}

}  // namespace

TEST_CASE("Compare on Release shows the one reading that changed, what it moved and where it is") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    put(d, "first.levelrun.json", at_revision(1, 1347));
    REQUIRE(d.open(at_revision(2, 1355), "second.levelrun.json"));
    d.show(Page::release);
    REQUIRE(found(d, "Compare revisions", {size.w * 0.4f, size.h * 0.5f}));
    REQUIRE(d.tap("Compare revisions"));
    const CompareScreen& screen = compare_of(d);
    REQUIRE(screen.open);
    REQUIRE(screen.other);
    CHECK(screen.other->revision == 1);
    CHECK(screen.facts == 1);
    REQUIRE_FALSE(screen.rows.empty());
    const ComparisonRow& fact = screen.rows.front();
    CHECK(fact.was == "1347");
    CHECK(fact.is == "1355");
    CHECK(fact.by == "+8");
    CHECK(fact.at == "/rooms/0/levels/setups/0/readings/6/staff");
    REQUIRE(d.has(fact.label));
    REQUIRE(d.tap(fact.label));
    CHECK(compare_of(d).chosen == fact.label);
    // What is in the engine's comparison is on the page, row for row.
    const auto was = read_survey(at_revision(1, 1347));
    const Comparison c = compare(was.value().document, screen.other->results,
                                 d.app.session()->document(), d.app.session()->results());
    CHECK(screen.rows.size() == c.facts.size() + c.findings.size() + c.results.size());
    CHECK(screen.findings > 0);
    CHECK(screen.results > 20);
    if (d.has("Back to the list")) CHECK(d.tap("Back to the list"));  // the place stood there
    CHECK(d.tap("Back to Release"));
    CHECK_FALSE(compare_of(d).open);
    CHECK(d.app.page() == Page::release);
  }
}

TEST_CASE("a row's place is the thing in the open survey that the row is of") {
  DrivenApp d(1280, 800);
  put(d, "first.levelrun.json", at_revision(1, 1347));
  REQUIRE(d.open(at_revision(2, 1355), "second.levelrun.json"));
  d.show(Page::release);
  REQUIRE(d.tap("Compare revisions"));
  const Json& document = d.app.session()->document();
  int legs = 0;
  for (const ComparisonRow& row : compare_of(d).rows) {
    CAPTURE(row.place);
    if (row.at.empty()) continue;
    const Json::json_pointer at(row.at);
    REQUIRE(document.contains(at));
    if (!row.place.starts_with("Leg ")) continue;
    ++legs;
    CHECK(row.place.starts_with("Leg " + document[at]["id"].get<std::string>() + " "));
  }
  CHECK(legs > 20);
}

TEST_CASE("Print gives a PDF that carries the open survey") {
  DrivenApp d(800, 1280);
  put(d, "first.levelrun.json", at_revision(1, 1347));
  REQUIRE(d.open(at_revision(2, 1355), "second.levelrun.json"));
  d.show(Page::release);
  REQUIRE(d.tap("Compare revisions"));
  REQUIRE(d.tap("Print comparison"));
  std::string written;
  for (const auto& entry : std::filesystem::directory_iterator(d.folder))
    if (entry.path().extension() == ".pdf") written = entry.path().string();
  REQUIRE_FALSE(written.empty());
  const auto inside = attached_survey(file_text(written), most_text);
  REQUIRE(inside);
  CHECK(write_survey(Json::parse(*inside)) == write_survey(d.app.session()->document()));
  CHECK(compare_of(d).said.find("saved as") != std::string::npos);
}

TEST_CASE(
    "without an earlier revision it asks with what; any survey there, or none, can be taken") {
  DrivenApp d(800, 1280);
  put(d, "other.levelrun.json", rooms);
  put(d, "later.levelrun.json", at_revision(5, 1347));
  put(d, "broken.levelrun.json", "{");
  REQUIRE(d.open(at_revision(1, 1355), "only.levelrun.json"));
  d.show(Page::release);
  REQUIRE(d.tap("Compare revisions"));
  CHECK(compare_of(d).choosing);
  REQUIRE(compare_of(d).files.size() == 2);
  CHECK(compare_of(d).files[0].revision == 5);  // of its own reference first
  REQUIRE(d.tap("Rev 5, later.levelrun.json"));
  CHECK_FALSE(compare_of(d).choosing);
  CHECK(compare_of(d).facts == 1);
  // Another job altogether: said, and compared all the same.
  REQUIRE(d.tap("Compare with another"));
  REQUIRE(d.tap("Rev 1 of MH-26-058, other.levelrun.json"));
  REQUIRE(compare_of(d).other);
  CHECK(compare_of(d).other->results.reference == "MH-26-058");
  CHECK(compare_of(d).facts > 10);
  // Leaving the choice keeps what was compared; back leads to Release and no further.
  REQUIRE(d.tap("Compare with another"));
  REQUIRE(d.tap("Leave the choice"));
  CHECK(compare_of(d).open);
  CHECK(d.app.back());
  CHECK_FALSE(compare_of(d).open);
  CHECK(d.app.page() == Page::release);
}

TEST_CASE("a job pack can be compared with, and what is no survey says why") {
  DrivenApp d;
  std::string why;
  const std::string pdf =
      print_survey(d.files, Sheets::job_pack, at_revision(1, 1347), "a.levelrun.json", why);
  put(d, "pack.pdf", pdf);
  const auto read = read_revision(d.files, d.folder + "/pack.pdf", why);
  REQUIRE(read);
  CHECK(read->revision == 1);
  put(d, "no.pdf", "%PDF-1.4 nothing");
  CHECK_FALSE(read_revision(d.files, d.folder + "/no.pdf", why));
  CHECK(why == "a PDF without a survey inside");
  CHECK_FALSE(read_revision(d.files, d.folder + "/nowhere.levelrun.json", why));
  CHECK_FALSE(why.empty());
}

TEST_CASE(
    "Compare at every size and text scale: what it counts is whole, targets are on the screen") {
  for (const ScreenSize& size : screen_sizes)
    for (const float text : {1.f, 1.5f, 2.f}) {
      CAPTURE(size.name);
      CAPTURE(text);
      DrivenApp d(size.w, size.h, text);
      put(d, "first.levelrun.json", at_revision(1, 1347));
      REQUIRE(d.open(at_revision(2, 1355), "second.levelrun.json"));
      d.show(Page::release);
      for (const bool choosing : {false, true}) {
        REQUIRE(found(d, choosing ? "Compare with another" : "Compare revisions",
                      {size.w * 0.4f, size.h * 0.5f}));
        REQUIRE(d.tap(choosing ? "Compare with another" : "Compare revisions"));
        for (const std::string& cut : d.app.touch().cut())
          CHECK(cut.find_first_not_of("0123456789.,−+±→ ()") != cut.npos);
        for (const Touch::Target& t : d.app.touch().targets()) {
          CAPTURE(t.label);
          CHECK(t.box.x >= -1);
          CHECK(t.box.right() <= size.w + 1);
          CHECK(t.box.y >= -1);
          CHECK(t.box.bottom() <= size.h + 1);
        }
      }
    }
}
