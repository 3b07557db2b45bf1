// Parts of the floor by touch: areas with a step between them, zones without drilling, and what
// lies in which.
#include <doctest/doctest.h>

#include "app/drawing/plan_drawing.h"
#include "tests/screens/hand.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

Json sample(const char* name) {
  return Json::parse(file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json"));
}

void open_areas(Hand& hand) {
  hand.d.show(Page::levels);
  hand.taps({"Points", "Floor areas"});
}

// The plan as the page draws it: its box is the target's.
DrawingView plan_on_show(DrivenApp& d, bool phone) {
  for (const Touch::Target& t : d.app.touch().targets())
    if (t.label == "plan")
      return plan_view(d.app.session()->drawn(), t.box, !phone, d.app.settings().look.text);
  FAIL("there is no plan");
  return {};
}

const Room& room(const DrivenApp& d) { return d.app.session()->survey().rooms[0]; }

}  // namespace

TEST_CASE("a floor area is put down by a tapped corner, a tap and typed places, at every size") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    // A phone on its side has no room for a plan that fingers could point in.
    if (size.h < 400) continue;
    DrivenApp d(size.w, size.h);
    const Json before = sample("small-l-kitchen");
    REQUIRE(d.open(before.dump()));
    Hand hand{d};
    open_areas(hand);
    hand.tap("Add a floor area");
    const DrawingView view = plan_on_show(d, size.w < 600);
    const PlanPoint first = d.app.session()->drawn().corners[0];
    // 10 dp beside the corner: still the corner.
    hand.tap_in(view, first.x + 7 / view.scale, first.y - 7 / view.scale);
    hand.tap("Book");
    // Anywhere else: what is tapped, to 10 mm.
    hand.tap_in(view, 1203, -802);
    hand.tap("Book");
    hand.type("1200\n");
    hand.type("-55\n");
    hand.tap("Done");
    REQUIRE(room(d).floor_areas.size() == 1);
    const Json area = d.app.session()->document()["rooms"][0]["floor_areas"][0];
    CHECK(area["id"] == "Area 1");
    const std::string wall = room(d).walls[0].id;  // it begins at the first corner
    CHECK(area["outline"][0] == Json{{"wall", wall}, {"along", 0}, {"out", 0}});
    const Json tapped = area["outline"][1];
    CHECK(int(tapped["x"]) % 10 == 0);
    CHECK(double(tapped["x"]) == doctest::Approx(1203).epsilon(0.02));
    CHECK(double(tapped["y"]) == doctest::Approx(-802).epsilon(0.02));
    CHECK(area["outline"][2] == Json{{"x", 1200}, {"y", -55}});
    hand.undo_all();
    CHECK(d.app.session()->document() == before);
  }
}

TEST_CASE("a tapped corner is also that of another area, and a tap near a wall lies on its face") {
  DrivenApp d;
  Json document = sample("small-l-kitchen");
  document["rooms"][0]["floor_areas"] =
      Json::array({{{"id", "low"},
                    {"outline", Json::array({{{"x", 900}, {"y", -900}},
                                             {{"x", 1800}, {"y", -900}},
                                             {{"x", 900}, {"y", -1500}}})}}});
  REQUIRE(d.open(document.dump()));
  Hand hand{d};
  open_areas(hand);
  hand.tap("Add a floor area");
  const DrawingView view = plan_on_show(d, false);
  hand.tap_in(view, 900 + 12 / view.scale, -900 + 12 / view.scale);
  hand.tap("Book");
  const WallLine& wall = d.app.session()->drawn().walls[0];
  const auto in_front = [&](double along, double out) {
    hand.tap_in(view, wall.from.x + wall.along.x * along + wall.out.x * out,
                wall.from.y + wall.along.y * along + wall.out.y * out);
    hand.tap("Book");
  };
  in_front(1500, 20 / view.scale);
  in_front(1500, 30 / view.scale);  // too far from it
  hand.tap("Done");
  REQUIRE(room(d).floor_areas.size() == 2);
  const Json outline = d.app.session()->document()["rooms"][0]["floor_areas"][1]["outline"];
  CHECK(outline[0] == document["rooms"][0]["floor_areas"][0]["outline"][0]);
  CHECK(outline[1]["wall"] == room(d).walls[0].id);
  CHECK(outline[1]["out"] == 0);
  CHECK(double(outline[1]["along"]) == doctest::Approx(1500).epsilon(0.01));
  CHECK(outline[2].contains("x"));
}

TEST_CASE("on a plan too small to point in a tap is not taken for a place, and what is typed is") {
  DrivenApp d(844, 390);
  REQUIRE(d.open(sample("small-l-kitchen").dump()));
  Hand hand{d};
  open_areas(hand);
  hand.taps({"Add a floor area", "plan"});
  CHECK_FALSE(d.has("Book"));
  hand.type("1200\n-55\n2000\n-55\n2000\n-900\n");
  hand.tap("Done");
  REQUIRE(room(d).floor_areas.size() == 1);
  CHECK(room(d).floor_areas[0].outline.size() == 3);
}

// Its shape is a guess still: corners are known by name, other places in no millimetres.
TEST_CASE("in a new room that nobody has measured an area goes from corner to corner by taps") {
  DrivenApp d;
  Hand hand{d};
  hand.tap("New job");
  hand.words("reference", "K-7");
  hand.tap("4 corners");
  REQUIRE(d.app.session());
  open_areas(hand);
  hand.tap("Add a floor area");
  const DrawingView view = plan_on_show(d, false);
  const auto corners = d.app.session()->drawn().corners;
  REQUIRE(d.app.session()->drawn().guessed);
  hand.tap_in(view, (corners[0].x + corners[2].x) / 2, (corners[0].y + corners[2].y) / 2);
  CHECK_FALSE(d.has("Book"));
  for (const Index c : {Index{0}, Index{1}, Index{2}}) {
    hand.tap_in(view, corners[c].x, corners[c].y);
    hand.tap("Book");
  }
  hand.tap("Done");
  REQUIRE(room(d).floor_areas.size() == 1);
  for (const Index c : {Index{0}, Index{1}, Index{2}}) {
    const Place& place = room(d).floor_areas[0].outline.at(c);
    REQUIRE(place.wall);
    CHECK(room(d).walls[*place.wall].from == c);
    CHECK(place.along == 0);
    CHECK(place.out == 0);
  }
}

TEST_CASE("an area takes three corners, none twice, and no edges that cross") {
  DrivenApp d;
  REQUIRE(d.open(sample("small-l-kitchen").dump()));
  Hand hand{d};
  open_areas(hand);
  hand.tap("Add a floor area");
  hand.type("100\n-100\n");
  hand.type("100\n-100\n");  // once more
  hand.type("900\n-900\n");
  hand.tap("Done");  // two
  CHECK(room(d).floor_areas.empty());
  hand.type("900\n-100\n");
  hand.type("100\n-900\n");
  hand.tap("Done");  // an hourglass
  CHECK(room(d).floor_areas.empty());
  CHECK(d.app.touch().said().find("cross") != std::string::npos);
  hand.type("20");
  hand.tap("Undo");  // what is typed
  hand.taps({"Undo", "Undo"});
  hand.type("900\n-950\n");  // beside the second corner, which stands
  hand.type("100\n-900\n");
  hand.tap("Done");
  REQUIRE(room(d).floor_areas.size() == 1);
  CHECK(room(d).floor_areas[0].outline.size() == 4);
}

TEST_CASE("layers and points say their area, which is renamed with them and goes without them") {
  DrivenApp d;
  const Json before = sample("knocked-through");
  REQUIRE(d.open(before.dump()));
  Hand hand{d};
  open_areas(hand);
  hand.words("Floor area 1", "front");
  const auto& flooring = d.app.session()->document()["rooms"][0]["flooring"];
  CHECK(flooring["existing"][0]["area"] == "front");
  CHECK(flooring["laid"][0]["area"] == "front");
  CHECK(room(d).floor_areas[0].id == "front");
  // A layer lies in it: where that lies is said first.
  CHECK_FALSE(hand.sees("Take out front"));
  d.show(Page::job);
  hand.tap("tile and bed: in floor area: whole room");
  CHECK_FALSE(room(d).flooring.laid[0].area);
  hand.tap("tile and bed: in floor area: dining");
  CHECK(room(d).flooring.laid[0].area == Index{1});
  hand.tap("old tiles: in floor area: whole room");
  hand.tap("screed: in floor area: whole room");
  hand.undo_all();
  CHECK(d.app.session()->document() == before);
}

TEST_CASE("a point says its area, and forgets it when the area is taken out") {
  DrivenApp d;
  Json document = sample("small-l-kitchen");
  document["rooms"][0]["floor_areas"] = Json::array(
      {{{"id", "low"},
        {"outline",
         Json::array({{{"x", 0}, {"y", 0}}, {{"x", 900}, {"y", 0}}, {{"x", 0}, {"y", -900}}})}},
       {{"id", "high"},
        {"outline",
         Json::array(
             {{{"x", 900}, {"y", 0}}, {{"x", 3000}, {"y", 0}}, {{"x", 900}, {"y", -900}}})}}});
  REQUIRE(d.open(document.dump()));
  Hand hand{d};
  d.show(Page::levels);
  hand.taps({"Points", "Point P3", "P3: in floor area: high"});
  const auto point = [&]() -> const LevelPoint& {
    for (const LevelPoint& p : room(d).levels.points)
      if (p.id == "P3") return p;
    FAIL("P3 is gone");
    return room(d).levels.points[0];
  };
  CHECK(point().area == Index{1});
  hand.taps({"Floor areas", "Take out high"});
  CHECK(room(d).floor_areas.size() == 1);
  CHECK_FALSE(point().area);
  hand.undo_all();
  CHECK(d.app.session()->document() == document);
}

TEST_CASE("where nobody may drill into the floor is put down by its corners and why") {
  DrivenApp d;
  const Json before = sample("small-l-kitchen");
  REQUIRE(d.open(before.dump()));
  Hand hand{d};
  open_areas(hand);
  hand.tap("Add a zone");
  hand.type("1000\n-1000\n2000\n-1000\n2000\n-1500\n");
  hand.tap("Done");
  hand.words("why no drilling", "heating manifold");
  Json wanted = before;
  wanted["rooms"][0]["no_drill"] =
      Json::array({{{"outline", Json::array({{{"x", 1000}, {"y", -1000}},
                                             {{"x", 2000}, {"y", -1000}},
                                             {{"x", 2000}, {"y", -1500}}})},
                    {"why", "heating manifold"}}});
  CHECK(d.app.session()->document() == wanted);
  hand.tap("Take out zone 1");
  CHECK(room(d).no_drill.empty());
  hand.undo_all();
  CHECK(d.app.session()->document() == before);
}

TEST_CASE("the back gesture goes from the corners to the list, to the points, to the readings") {
  DrivenApp d;
  REQUIRE(d.open(sample("small-l-kitchen").dump()));
  Hand hand{d};
  open_areas(hand);
  hand.tap("Add a floor area");
  for (const char* there : {"Add a floor area", "By x and y", "Points"}) {
    CHECK(d.app.back());
    hand.settle();
    CHECK(d.has(there));
  }
}

TEST_CASE("no word of the floor's pages is cut on a phone with the text twice as large") {
  DrivenApp d(390, 844, 2);
  REQUIRE(d.open(sample("knocked-through").dump()));
  Hand hand{d};
  open_areas(hand);
  hand.check_nothing_cut();
  hand.tap("Add a floor area");
  CHECK(d.app.touch().cut() == std::vector<std::string>{});
  hand.type("100\n-100\n2000\n-100\n2000\n-2000\n");
  CHECK(d.app.touch().cut() == std::vector<std::string>{});
  d.app.back();
  hand.tap("Add a zone");
  hand.type("100\n-100\n2000\n-100\n2000\n-2000\n");
  hand.tap("Done");
  hand.check_nothing_cut();
}
