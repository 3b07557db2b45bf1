#include <doctest/doctest.h>

#include <algorithm>

#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

std::string sample() { return file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"); }

const Room& room(const DrivenApp& d) { return d.app.session()->survey().rooms[0]; }

void type(DrivenApp& d, const std::string& keys) {
  d.window.type(d.app, keys);
  d.window.settle(d.app);
}

}  // namespace

TEST_CASE("a run is added along a wall and its units by width alone, digits and Book each") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    REQUIRE(d.open(sample()));
    d.show(Page::runs);
    REQUIRE(d.tap("New run"));
    REQUIRE(d.tap("Along W4"));
    REQUIRE(room(d).runs.size() == 3);
    d.taps = 0;
    for (const char* key : {"6", "0", "0", "Book", "4", "5", "0", "Book"}) REQUIRE(d.tap(key));
    const Run& run = room(d).runs[2];
    REQUIRE(run.units.size() == 2);
    CHECK(d.taps == 8);
    CHECK(run.units[0].id == run.id + "1");
    CHECK(run.units[0].width == 600);
    CHECK(run.units[1].id == run.id + "2");
    CHECK(run.units[1].width == 450);
  }
}

TEST_CASE("a run starts where the wall is free, until told otherwise") {
  DrivenApp d(800, 1280);
  REQUIRE(d.open(sample()));
  d.show(Page::runs);
  REQUIRE(d.tap("New run"));
  REQUIRE(d.tap("Along W4"));
  CHECK(room(d).runs[2].from_along == 0);
  REQUIRE(d.tap("The run"));
  for (const char* key : {"Starts at", "3", "0", "Book"}) {
    CAPTURE(std::string(key));
    REQUIRE(d.tap(key));
  }
  CHECK(room(d).runs[2].from_along == 30);
}

TEST_CASE("an island is put down at x, y and a bearing, then its units; all of it is undone") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::runs);
  REQUIRE(d.tap("New run"));
  REQUIRE(d.tap("Along Island"));
  for (const char* number : {"1500\n", "-1200\n", "90\n", "600 600 300\n"}) type(d, number);
  const Run& run = room(d).runs.back();
  CHECK_FALSE(run.wall);
  CHECK(run.origin_x == 1500);
  CHECK(run.origin_y == -1200);
  CHECK(run.bearing == 90);
  REQUIRE(run.units.size() == 3);
  CHECK(run.units[2].width == 300);
  while (!d.app.session()->undo_says().empty()) REQUIRE(d.tap("Undo"));
  CHECK(room(d).runs.size() == 2);
}

TEST_CASE("a unit that is chosen gets its width from the pad, its front and place from keys") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::runs);
  REQUIRE(d.tap("S2"));
  type(d, "350\n");
  CHECK(room(d).runs[0].units[1].width == 350);
  // The next width is asked again: S2 is not chosen any more.
  REQUIRE(d.has("The run"));
  REQUIRE(d.tap("S2"));
  REQUIRE(d.tap("Drawers"));
  CHECK_FALSE(room(d).runs[0].units[1].drawers);  // it had some
  REQUIRE(d.tap("To right"));
  CHECK(room(d).runs[0].units[2].id == "S2");
  REQUIRE(d.tap("Delete"));
  CHECK(room(d).runs[0].units[2].id != "S2");
  REQUIRE(d.tap("Undo"));
  CHECK(room(d).runs[0].units[2].id == "S2");
}

TEST_CASE("a width that cannot be is refused beside the field, and nothing is lost") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::runs);
  const std::size_t before = room(d).runs[0].units.size();
  for (const char* typed : {"0", "123456789012", "6001", "-600", "6..0"}) {
    CAPTURE(typed);
    type(d, std::string(typed) + "\n");
    CHECK(room(d).runs[0].units.size() == before);
    for (std::size_t i = 0; i < std::string(typed).size(); ++i) REQUIRE(d.tap("rub out"));
  }
  type(d, "600\n");
  CHECK(room(d).runs[0].units.size() == before + 1);
}

TEST_CASE("a room without runs says what to do first") {
  DrivenApp d;
  Json document = Json::parse(sample());
  document["rooms"][0].erase("runs");
  REQUIRE(d.open(document.dump()));
  d.show(Page::runs);
  REQUIRE(d.tap("New run"));  // asks what is asked already
  CHECK(d.has("Along W1"));
  CHECK(d.has("Along Island"));
  REQUIRE(d.tap("Along W1"));
  CHECK(room(d).runs.size() == 1);
  REQUIRE(d.tap("Undo"));
  CHECK(room(d).runs.empty());
}
