// The install day by touch.
#include <doctest/doctest.h>

#include <cmath>

#include "tests/screens/driven_app.h"

using namespace levelrun;

namespace {

std::string sample() { return file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"); }

const Box* box_of(const DrivenApp& d, std::string_view label) {
  for (const Touch::Target& t : d.app.touch().targets())
    if (t.label == label) return &t.box;
  return nullptr;
}

}  // namespace

TEST_CASE("legs are set one key a leg, in the order of setting, to the millimetre of the results") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  d.show(Page::legs);
  std::vector<LegResult> legs = d.app.session()->results().rooms[0].legs;
  std::sort(legs.begin(), legs.end(),
            [](const LegResult& a, const LegResult& b) { return a.order < b.order; });
  for (std::size_t n = 0; n < legs.size(); ++n) REQUIRE(d.tap("Set"));
  CHECK_FALSE(d.has("Set"));  // all are set: the key is no target any more
  const auto& set = d.app.session()->survey().install.set_legs;
  REQUIRE(set.size() == legs.size());
  for (std::size_t n = 0; n < legs.size(); ++n) {
    CAPTURE(n);
    CHECK(set[n].unit == legs[n].unit);
    CHECK(set[n].position == legs[n].position);
    CHECK(set[n].height == std::round(*legs[n].height));
    CHECK(set[n].by == "t.v.");
    CHECK_FALSE(set[n].at.empty());
  }
  REQUIRE(d.tap("Undo"));
  CHECK(d.app.session()->survey().install.set_legs.size() == legs.size() - 1);
  CHECK(d.has("Set"));
}

TEST_CASE("a drag over the key sets nothing: nothing is ticked by scrolling") {
  DrivenApp d(390, 844);
  REQUIRE(d.open(sample()));
  for (const auto& [page, key] : {std::pair{Page::legs, "Set"}, {Page::plinths, "Cut"}}) {
    d.show(page);
    const Box* solid = box_of(d, key);
    REQUIRE(solid);
    const Spot from = solid->middle();
    d.window.drag(d.app, from, {from.x, from.y - 300});
    d.window.drag(d.app, {from.x, from.y - 300}, from);
    d.window.settle(d.app);
    CHECK(d.app.session()->version() == 0);
  }
}

TEST_CASE("a unit tapped at a glance brings its first leg that is open") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::legs);
  REQUIRE(d.tap("Unit T2"));
  REQUIRE(d.tap("Set"));
  CHECK(d.app.session()->survey().install.set_legs.at(0).unit == "T2");
  // A leg is set anew rather than twice.
  REQUIRE(d.tap("Undo"));
  REQUIRE(d.tap("Set"));
  CHECK(d.app.session()->survey().install.set_legs.size() == 1);
}

TEST_CASE("a leg set before the floor was known better is asked for again") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  // Released: the underside stays where it is.
  const double underside = d.app.session()->results().rooms[0].groups.at(0).underside;
  REQUIRE(d.app.session()->apply(
      Json::array(
          {{{"op", "add"},
            {"path", "/rooms/0/level_groups/0/underside_set"},
            {"value", {{"value", underside}, {"by", "o.f."}, {"at", "2026-03-20T09:00:00Z"}}}}}),
      "released"));
  d.show(Page::legs);
  REQUIRE(d.tap("Set"));
  const SetLeg first = d.app.session()->survey().install.set_legs.at(0);
  // The laid floor turns out 3 mm thicker than planned: a layer that runs under the legs.
  const Json& laid = d.app.session()->document()["rooms"][0]["flooring"]["laid"];
  REQUIRE(laid.size() > 0);
  double thickness = laid[0]["thickness"];
  const Json thicker = Json::array({{{"op", "replace"},
                                     {"path", "/rooms/0/flooring/laid/0/thickness"},
                                     {"value", thickness + 3}}});
  REQUIRE(d.app.session()->apply(thicker, "thicker"));
  d.window.settle(d.app);
  REQUIRE(d.tap("Unit " + first.unit));
  REQUIRE(d.tap("Set"));
  const auto& set = d.app.session()->survey().install.set_legs;
  CHECK(set.size() == 1);
  CHECK(set[0].unit == first.unit);
  CHECK(set[0].position == first.position);
  CHECK(set[0].height == first.height - 3);
}

TEST_CASE("plinths are ticked as they are cut, board by board") {
  DrivenApp d(800, 1280);
  REQUIRE(d.open(sample()));
  d.show(Page::plinths);
  const std::size_t all = d.app.session()->results().rooms[0].plinths.size();
  for (std::size_t n = 0; n < all; ++n) REQUIRE(d.tap("Cut"));
  CHECK_FALSE(d.has("Cut"));
  REQUIRE(d.app.session()->survey().install.tasks.size() == all);
  CHECK(d.app.session()->survey().install.tasks[0].state == "done");
}

TEST_CASE(
    "the laid floor is booked where it is asked for, a thickness ten times over is asked back") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::arrival);
  const auto& floor = d.app.session()->survey().install.finished_floor;
  d.window.type(d.app, "180");
  d.window.settle(d.app);
  CHECK(d.app.touch().said().find("Measure it again") != std::string::npos);
  CHECK(floor.empty());
  for (int i = 0; i < 3; ++i) REQUIRE(d.tap("rub out"));
  d.window.type(d.app, "17\n17\n17\n17\n");
  d.window.settle(d.app);
  REQUIRE(d.app.session()->survey().install.finished_floor.size() == 4);
  REQUIRE(d.tap("See what changed"));
  // Back on the floor's part everything is booked; Undo takes the last one back.
  REQUIRE(d.tap("Show laid floor"));
  REQUIRE(d.tap("Undo"));
  CHECK(d.app.session()->survey().install.finished_floor.size() == 3);
}

TEST_CASE("the day's level is set up and tied to the survey's benchmark") {
  DrivenApp d;
  REQUIRE(d.open(sample()));
  d.show(Page::arrival);
  REQUIRE(d.tap("Show level"));
  REQUIRE(d.tap("Set up a level"));
  d.window.type(d.app, "1012.5\n");
  d.window.settle(d.app);
  const Install& install = d.app.session()->survey().install;
  REQUIRE(install.setups.size() == 1);
  CHECK(install.setups[0].instrument.has_value());
  REQUIRE(install.setups[0].readings.size() == 1);
  CHECK(install.setups[0].readings[0].staff == 1012.5);
  const Levels& levels = d.app.session()->survey().rooms[0].levels;
  CHECK(install.setups[0].readings[0].point == levels.benchmark->point);
}
