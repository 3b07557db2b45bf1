// Where nobody may drill into a wall: put down, seen, chosen, changed and taken out by touch.
#include <doctest/doctest.h>

#include <algorithm>

#include "app/drawing/elevation_drawing.h"
#include "tests/screens/hand.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

Json sample() {
  return Json::parse(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"));
}

const Room& room(const DrivenApp& d) { return d.app.session()->survey().rooms[0]; }

void put_zone(Hand& hand) {
  hand.d.show(Page::walls);
  hand.tap("Add a service");
  hand.tap("No drilling here");
  hand.tap("elevation");
  hand.type("1200\n900\n150\n600\n");
}

Drawing elevation(DrivenApp& d, const ElevationOptions& options) {
  Session& session = *d.app.session();
  const Box box{0, 0, 900, 560};
  return elevation_drawing(
      session.survey(), session.drawn(), session.room_result(), 0,
      elevation_view(wall_extent(session.survey(), session.drawn(), 0), box, 1), options);
}

}  // namespace

TEST_CASE("no drilling is put on a wall by a tap, four numbers and why, at every size") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    Json wanted = sample();
    const Json before = wanted;
    REQUIRE(d.open(before.dump()));
    Hand hand{d};
    d.show(Page::walls);
    hand.tap("Add an opening");
    hand.taps({"No drilling here", "elevation"});
    hand.type("1200\n900\n150\n600\n");
    CHECK(room(d).no_drill.empty());  // why is asked
    hand.tap("Cable");
    wanted["rooms"][0]["no_drill"] = Json::array({{{"wall", "W1"},
                                                   {"along", 1200},
                                                   {"height", 900},
                                                   {"width", 150},
                                                   {"height_of", 600},
                                                   {"why", "cable"}}});
    CHECK(d.app.session()->document() == wanted);
    hand.undo_all();
    CHECK(d.app.session()->document() == before);
  }
}

TEST_CASE("a zone is chosen, changed and deleted like anything else on the wall") {
  DrivenApp d;
  REQUIRE(d.open(sample().dump()));
  Hand hand{d};
  put_zone(hand);
  hand.words("why no drilling", "old gas pipe");
  REQUIRE(room(d).no_drill.size() == 1);
  CHECK(room(d).no_drill[0].why == "old gas pipe");
  hand.taps({"No drilling 1", "About"});
  hand.number("Width", "300");
  hand.words("Why", "gas");
  CHECK(room(d).no_drill[0].width == 300);
  CHECK(room(d).no_drill[0].why == "gas");
  hand.tap("Back to the wall");
  hand.tap("Delete");
  CHECK(room(d).no_drill.empty());
  hand.tap("Undo");
  CHECK(room(d).no_drill.size() == 1);
}

TEST_CASE("a zone past the wall's end or below the floor is refused, and a step back asks again") {
  DrivenApp d;
  REQUIRE(d.open(sample().dump()));
  Hand hand{d};
  d.show(Page::walls);
  hand.tap("Add a service");
  hand.taps({"No drilling here", "elevation"});
  hand.type("3500\n");
  hand.type("-20\n");
  for (int n = 0; n < 3; ++n) hand.tap("rub out");
  hand.type("900\n");
  hand.type("400\n");  // ends at 3900 of 3620
  CHECK(d.app.touch().said().find("past the wall’s end") != std::string::npos);
  for (int n = 0; n < 3; ++n) hand.tap("rub out");
  hand.type("100\n600\n");
  hand.tap("A step back");
  hand.type("500\n");
  hand.tap("Not known");
  REQUIRE(room(d).no_drill.size() == 1);
  CHECK(room(d).no_drill[0].height_of == 500);
  CHECK(room(d).no_drill[0].why == "not known");
}

TEST_CASE("a zone stands on the elevation in a dashed frame, hatched, with its letters") {
  DrivenApp d;
  REQUIRE(d.open(sample().dump()));
  Hand hand{d};
  put_zone(hand);
  hand.tap("Pipe");
  const std::string at = "/rooms/0/no_drill/0";
  const Drawing drawing = elevation(d, {});
  const auto letters = [](const Drawing& all) {
    return std::any_of(all.primitives.begin(), all.primitives.end(), [](const Primitive& p) {
      const auto* l = std::get_if<Lettering>(&p);
      return l && (l->text == "ND" || l->text == "do not drill");
    });
  };
  CHECK(letters(drawing));
  const auto fact = std::find_if(drawing.facts.begin(), drawing.facts.end(),
                                 [&](const DrawnFact& f) { return f.at == at; });
  REQUIRE(fact != drawing.facts.end());
  CHECK(fact->box.w == doctest::Approx(150 * drawing.scale));
  // Its frame, of four points, and its hatch, which is texture and left out in the sun.
  const auto strokes = [&](const Drawing& all, Ink ink, bool texture) {
    return std::count_if(all.primitives.begin(), all.primitives.end(), [&](const Primitive& p) {
      const auto* s = std::get_if<Stroke>(&p);
      if (!s || s->texture != texture || s->ink != ink) return false;
      if (texture ? s->points.size() != 2 : s->points.size() != 4 || s->dash != Dash::dashed)
        return false;
      for (const Spot spot : s->points)
        if (spot.x < fact->box.x - 1 || spot.x > fact->box.right() + 1 ||
            spot.y < fact->box.y - 1 || spot.y > fact->box.bottom() + 1)
          return false;
      return true;
    });
  };
  CHECK(strokes(drawing, Ink::ink, false) == 1);
  CHECK(strokes(drawing, Ink::ink, true) >= 2);
  ElevationOptions options;
  options.chosen = at;
  CHECK(strokes(elevation(d, options), Ink::crayon, false) == 1);
}

TEST_CASE("no word about no drilling is cut on a phone with the text twice as large") {
  DrivenApp d(390, 844, 2);
  REQUIRE(d.open(sample().dump()));
  Hand hand{d};
  put_zone(hand);
  hand.check_nothing_cut();
  hand.words("why no drilling", "old gas pipe in the plaster, its way not known");
  REQUIRE(room(d).no_drill.size() == 1);
  hand.check_nothing_cut({0.3f, 0.66f});
  hand.taps({"No drilling 1", "About"});
  hand.check_nothing_cut();
}
