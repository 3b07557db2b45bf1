// The way a service takes, by touch: its route, where it connects, and what comes out of the floor.
#include <doctest/doctest.h>

#include "tests/screens/hand.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

Json sample(const char* name) {
  return Json::parse(file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json"));
}

const Room& room(const DrivenApp& d) { return d.app.session()->survey().rooms[0]; }

void open_about(Hand& hand, const std::string& service) {
  hand.d.show(Page::walls);
  hand.taps({service.c_str(), "About"});
}

}  // namespace

TEST_CASE("a waste's route and its connection are typed bend by bend, and its fall is known") {
  for (const ScreenSize& size : {screen_sizes[0], screen_sizes[2]}) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    Json wanted = sample("small-l-kitchen");
    const Json before = wanted;
    REQUIRE(d.open(before.dump()));
    Hand hand{d};
    open_about(hand, "W");
    Json& service = wanted["rooms"][0]["services"][2];
    REQUIRE(service["id"] == "W");
    hand.tap("Add a point to the route");
    hand.number("Route 1: along", "2100");
    hand.number("Route 1: out from the wall", "45");
    hand.tap("Add a point to the route");  // begins where the first one lies
    hand.tap("Route 2: by wall: W2");
    hand.number("Route 2: along", "300");
    hand.number("Route 2: height, from the floor", "260");
    hand.tap("Say where it connects");
    hand.number("Connects: along", "700");
    hand.number("Connects: height, from the floor", "205");
    const Json high = service["height"];
    service["route"] =
        Json::array({{{"place", {{"wall", "W1"}, {"along", 2100}, {"out", 45}}}, {"height", high}},
                     {{"place", {{"wall", "W2"}, {"along", 300}, {"out", 45}}}, {"height", 260}}});
    service["connects_at"] = {{"place", {{"wall", "W2"}, {"along", 700}, {"out", 45}}},
                              {"height", 205}};
    CHECK(d.app.session()->document() == wanted);
    bool fall = false;
    for (const ServiceResult& r : d.app.session()->results().rooms[0].services)
      fall = fall || (r.service == "W" && r.fall);
    CHECK(fall);
    hand.tap("Take out point 1");
    CHECK(room(d).services[2].route.size() == 1);
    hand.tap("Take out the connection");
    CHECK_FALSE(room(d).services[2].connects_at);
    hand.undo_all();
    CHECK(d.app.session()->document() == before);
  }
}

TEST_CASE("a route's height can be from a level line, and its place by x and y and back again") {
  DrivenApp d;
  REQUIRE(d.open(sample("u-shape-island").dump()));
  Hand hand{d};
  d.show(Page::walls);
  Index wall = 0;
  for (; room(d).services[2].place.wall != wall; ++wall) hand.tap("Next wall");
  hand.taps({room(d).services[2].id.c_str(), "About"});
  hand.tap("Add a point to the route");
  const std::string setup = room(d).levels.setups[1].id;
  hand.tap("Route 1: height is from: line of set-up " + setup);
  hand.number("Route 1: height, from the line of set-up " + setup, "-1150");
  const RoutePoint first = room(d).services[2].route.at(0);
  CHECK(first.height.setup == Index{1});
  CHECK(first.height.value == -1150);
  const auto at = d.app.session()->drawn().plan.at(first.place);
  REQUIRE(at);
  hand.tap("Route 1: by x and y");
  const Place& turned = room(d).services[2].route.at(0).place;
  CHECK_FALSE(turned.wall);
  CHECK(turned.x == doctest::Approx(at->x).epsilon(0.001));
  CHECK(turned.y == doctest::Approx(at->y).epsilon(0.001));
  hand.tap("Route 1: along a wall");
  const Place& back = room(d).services[2].route.at(0).place;
  REQUIRE(back.wall);
  const auto again = d.app.session()->drawn().plan.at(back);
  REQUIRE(again);
  CHECK(std::abs(again->x - at->x) < 1.5);
  CHECK(std::abs(again->y - at->y) < 1.5);
}

TEST_CASE("a service is put into the floor by kind, x and y, and its height said afterwards") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    const Json before = sample("small-l-kitchen");
    REQUIRE(d.open(before.dump()));
    Hand hand{d};
    d.show(Page::levels);
    hand.taps(
        {"Points", "Services in the floor", "Add a service in the floor", "Soil stack", "plan"});
    hand.type("1850\n-910\n");
    Json wanted = before;
    wanted["rooms"][0]["services"].push_back(
        {{"id", "SS1"}, {"kind", "soil_stack"}, {"place", {{"x", 1850}, {"y", -910}}}});
    CHECK(d.app.session()->document() == wanted);
    hand.number("Diameter, outside", "110");
    hand.number("Its middle, from the floor", "40");
    CHECK(room(d).services.back().diameter == 110);
    REQUIRE(room(d).services.back().height);
    CHECK(room(d).services.back().height->value == 40);
    hand.tap("Take out SS1");
    CHECK(room(d).services.size() == before["rooms"][0]["services"].size());
    hand.undo_all();
    CHECK(d.app.session()->document() == before);
  }
}

TEST_CASE("the back gesture leads out of what is put into the floor step by step") {
  DrivenApp d;
  REQUIRE(d.open(sample("small-l-kitchen").dump()));
  Hand hand{d};
  d.show(Page::levels);
  hand.taps({"Points", "Services in the floor", "Add a service in the floor", "Waste"});
  for (const char* there : {"Add a service in the floor", "By x and y", "Points"}) {
    CHECK(d.app.back());
    hand.settle();
    CHECK(d.has(there));
  }
}

TEST_CASE("no word of a route or of the floor's services is cut on a phone with twice the text") {
  DrivenApp d(390, 844, 2);
  REQUIRE(d.open(sample("u-shape-island").dump()));
  Hand hand{d};
  d.show(Page::levels);
  hand.taps({"Points", "Services in the floor"});
  hand.check_nothing_cut();
  hand.tap("Add a service in the floor");
  hand.check_nothing_cut();
  hand.tap("Consumer unit");
  CHECK(d.app.touch().cut() == std::vector<std::string>{});
  hand.type("1850\n-910\n");
  hand.taps({"Add a point to the route", "Say where it connects"});
  hand.check_nothing_cut();
}
