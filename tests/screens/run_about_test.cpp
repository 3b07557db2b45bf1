// The form of a run: its name, its level group, its own furniture.
#include <doctest/doctest.h>

#include "tests/screens/hand.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

Json sample(const char* name) {
  return Json::parse(file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json"));
}

void open_about(Hand& hand, const std::string& run) {
  hand.d.show(Page::runs);
  hand.tap("The run");
  hand.tap("About run " + run);
}

}  // namespace

TEST_CASE("a run is renamed, put on a level of its own and given furniture of its own, by taps") {
  for (const ScreenSize& size : {screen_sizes[0], screen_sizes[2]}) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    Json wanted = sample("small-l-kitchen");
    REQUIRE(d.open(wanted.dump()));
    const Json before = d.app.session()->document();
    Hand hand{d};
    open_about(hand, "S");
    hand.words("Its name", "north");
    hand.tap("A level group of its own");
    hand.number("Worktop, above the finished floor", "950");
    hand.number("Give or take", "5");
    hand.number("Base carcass height", "760");
    hand.number("Plinth board height", "125");
    hand.number("Worktop thickness", "30");
    hand.tap("Back to the runs");
    CHECK(d.has("New run"));

    Json& run = wanted["rooms"][0]["runs"][0];
    run["id"] = "north";
    run["level_group"] = "B";
    run["furniture"] = {
        {"base_height", 760}, {"plinth", {{"height", 125}}}, {"worktop", {{"thickness", 30}}}};
    wanted["rooms"][0]["level_groups"].push_back(
        {{"id", "B"}, {"asked_height", 950}, {"tolerance", 5}});
    CHECK(d.app.session()->document() == wanted);
    CHECK(d.app.session()->survey().rooms[0].runs[0].furniture.base_depth == 560);
    hand.undo_all();
    CHECK(d.app.session()->document() == before);
  }
}

TEST_CASE(
    "a run goes back into a group that is there, and an override that is taken out is the job's") {
  DrivenApp d;
  REQUIRE(d.open(sample("knocked-through").dump()));
  Hand hand{d};
  open_about(hand, "S");
  hand.tap("Levelled with group: B");
  CHECK(d.app.session()->survey().rooms[0].runs[0].level_group == "B");
  const double plinth = d.app.session()->survey().furniture.plinth.height;
  hand.number("Plinth board height", "90");
  CHECK(d.app.session()->survey().rooms[0].runs[0].furniture.plinth.height == 90);
  hand.taps({"Plinth board height", "Take out"});
  CHECK(d.app.session()->survey().rooms[0].runs[0].furniture.plinth.height == plinth);
}

// The file wants every group listed once any is.
TEST_CASE("a room that lists no level groups gets all that its runs name when one is asked for") {
  Json document = sample("knocked-through");
  document["rooms"][0].erase("level_groups");
  DrivenApp d;
  REQUIRE(d.open(document.dump()));
  Hand hand{d};
  open_about(hand, "S");
  hand.tap("Ask a worktop height of group A");
  hand.number("Worktop, above the finished floor", "900");
  hand.words("Name of the group", "low");
  const Room& room = d.app.session()->survey().rooms[0];
  REQUIRE(room.level_groups.size() == 2);
  CHECK(room.level_groups[0].id == "low");
  CHECK(room.level_groups[0].asked_height == 900);
  CHECK(room.level_groups[1].id == "B");
  CHECK(room.runs[0].level_group == "low");
  CHECK(room.runs[1].level_group == "B");
  hand.undo_all();
  CHECK(d.app.session()->document() == document);
}

TEST_CASE("the back gesture leaves the run's form, and a name that is taken is refused in words") {
  DrivenApp d;
  REQUIRE(d.open(sample("small-l-kitchen").dump()));
  Hand hand{d};
  open_about(hand, "S");
  hand.words("Its name", "T");
  CHECK(d.app.session()->survey().rooms[0].runs[0].id == "S");
  CHECK(d.app.session()->trouble() != "");
  CHECK(d.app.back());
  hand.settle();
  CHECK(d.has("New run"));
}

TEST_CASE("no word of the run's form is cut on a phone with the text twice as large") {
  DrivenApp d(390, 844, 2);
  REQUIRE(d.open(sample("knocked-through").dump()));
  Hand hand{d};
  open_about(hand, "S");
  hand.check_nothing_cut();
}
