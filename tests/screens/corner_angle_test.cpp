// Angles of corners on Walk round: in degrees, or across a triangle set out along both walls.
#include <doctest/doctest.h>

#include "app/drawing/plan_drawing.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

const Room& room(const DrivenApp& d) { return d.app.session()->survey().rooms[0]; }

std::string said(DrivenApp& d) {
  d.window.settle(d.app);
  return d.app.touch().said();
}

// The small kitchen without the angle that was read there.
void open_walk(DrivenApp& d) {
  Json job = Json::parse(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"));
  job["rooms"][0].erase("angles");
  REQUIRE(d.open(job.dump()));
  d.show(Page::walk);
  d.window.settle(d.app);
}

// A tap on the plan, where a corner is drawn.
void tap_corner(DrivenApp& d, Index corner) {
  Box box;
  for (const Touch::Target& t : d.app.touch().targets())
    if (t.label == "plan") box = t.box;
  const RoomToDraw& drawn = d.app.session()->drawn();
  const DrawingView view = plan_view(drawn, box);
  const Spot m = view.box.middle();
  const PlanPoint at = drawn.corners[corner];
  d.window.tap_at(d.app, {float(m.x + (at.x - view.x) * view.scale),
                          float(m.y - (at.y - view.y) * view.scale)});
  d.window.settle(d.app);
}

bool taps(DrivenApp& d, std::initializer_list<const char*> labels) {
  for (const char* label : labels) {
    CAPTURE(label);
    const bool tapped = d.tap(label);
    REQUIRE(tapped);
    d.window.settle(d.app);
  }
  return true;
}

}  // namespace

// Pythagoras: legs 900 and 1200 with a square corner are 1500 across.
TEST_CASE("a corner between two runs is asked for across 900 and 1200, and 1500 agrees") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    open_walk(d);
    REQUIRE(said(d).starts_with("C2 triangle"));
    taps(d, {"1", "5", "0", "0"});
    CHECK(said(d).find("agrees to") != std::string::npos);
    taps(d, {"Book"});
    REQUIRE(room(d).angles.size() == 1);
    const CornerAngle& angle = room(d).angles[0];
    CHECK(room(d).corners[angle.corner].id == "C2");
    CHECK_FALSE(angle.degrees);
    CHECK(angle.triangle.a == 900);
    CHECK(angle.triangle.b == 1200);
    CHECK(angle.triangle.across == 1500);
    CHECK(!said(d).starts_with("C2 triangle"));
  }
}

TEST_CASE(
    "a triangle that does not agree is said beside it as it is typed, and can still be booked") {
  DrivenApp d;
  open_walk(d);
  REQUIRE(said(d).starts_with("C2 triangle"));
  taps(d, {"1", "5", "9", "0"});
  CHECK(said(d).find("long") != std::string::npos);
  taps(d, {"Book"});
  CHECK(room(d).angles.at(0).triangle.across == 1590);
}

TEST_CASE("a corner's angle is read in degrees by a square, measured again and deleted") {
  for (const ScreenSize& size : {screen_sizes[0], screen_sizes[2], screen_sizes[3]}) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    open_walk(d);
    taps(d, {"More", "Angle of a corner", "C1", "In degrees"});
    REQUIRE(said(d).starts_with("C1 angle"));
    taps(d, {"9", "0", ".", "4", "Book"});
    REQUIRE(room(d).angles.size() == 1);
    CHECK(room(d).angles[0].degrees == 90.4);
    CHECK(room(d).corners[room(d).angles[0].corner].id == "C1");
    // Put on the pad again by a tap on its corner, or in the list where that has room.
    tap_corner(d, 0);
    REQUIRE(said(d).starts_with("C1 angle 90.4"));
    taps(d, {"9", "0", ".", "1", "Book"});
    REQUIRE(room(d).angles.size() == 1);
    CHECK(room(d).angles[0].degrees == 90.1);
    const char* const row = "rooms/0/angles@C1";
    if (d.has(row))
      taps(d, {row});
    else
      tap_corner(d, 0);
    taps(d, {"Delete"});
    CHECK(room(d).angles.empty());
    CHECK(!d.has(row));
    CHECK(!said(d).starts_with("C1 angle"));
    taps(d, {"Undo"});
    REQUIRE(room(d).angles.size() == 1);
    CHECK(room(d).angles[0].degrees == 90.1);
  }
}

TEST_CASE("the same corner twice is read twice, and both count") {
  DrivenApp d;
  open_walk(d);
  for (const char* last : {"1", "3"}) {
    taps(d, {"More", "Angle of a corner", "C1", "In degrees", "9", "0", ".", last, "Book"});
  }
  REQUIRE(room(d).angles.size() == 2);
  CHECK(room(d).angles[0].degrees == 90.1);
  CHECK(room(d).angles[1].degrees == 90.3);
}

TEST_CASE("an angle that is skipped comes round; one that cannot be reached is not asked again") {
  DrivenApp d;
  open_walk(d);
  REQUIRE(said(d).starts_with("C2 triangle"));
  taps(d, {"More", "Length at another height", "W3", "1", "0", "0", "Book"});
  REQUIRE(said(d).starts_with("W3 length at 100"));
  taps(d, {"Skip"});
  CHECK(said(d).starts_with("C2 triangle"));
  taps(d, {"Skip"});
  CHECK(said(d).starts_with("C2 triangle"));  // both were passed: the first comes round
  taps(d, {"Can’t reach", "furniture in the way"});
  REQUIRE(room(d).skipped.size() == 1);
  CHECK(room(d).skipped[0].what == "C2 triangle, 900 and 1200 along the walls");
  CHECK(room(d).skipped[0].why == "furniture in the way");
  CHECK(said(d).starts_with("W3 length at 100"));
  taps(d, {"1", "8", "7", "1", "Book"});
  CHECK(said(d).starts_with("All booked"));
}

TEST_CASE("own legs of a triangle, and the height it is read at, are typed on the pad") {
  DrivenApp d;
  open_walk(d);
  taps(d, {"More", "Angle of a corner", "C4", "At another height", "Other legs"});
  for (const char* number : {"500\n", "600\n", "1500\n"}) {
    d.window.type(d.app, number);
    d.window.settle(d.app);
  }
  REQUIRE(said(d).starts_with("C4 triangle"));
  d.window.type(d.app, "781\n");
  d.window.settle(d.app);
  REQUIRE(room(d).angles.size() == 1);
  CHECK(room(d).angles[0].triangle.a == 500);
  CHECK(room(d).angles[0].triangle.b == 600);
  CHECK(room(d).angles[0].triangle.across == 781);
  CHECK(room(d).angles[0].height == 1500);
}

TEST_CASE("a corner that juts into the room takes degrees alone") {
  DrivenApp d;
  open_walk(d);
  taps(d, {"More", "Angle of a corner", "C5"});
  CHECK(d.has("In degrees"));
  CHECK(!d.has("Other legs"));
  CHECK(!d.has("900 and 1200"));
  taps(d, {"In degrees", "2", "7", "0", ".", "2", "Book"});
  CHECK(room(d).angles.at(0).degrees == 270.2);
}

TEST_CASE("a tap on a corner of the plan asks for its angle") {
  DrivenApp d;
  open_walk(d);
  tap_corner(d, 0);
  CHECK(d.has("In degrees"));
  taps(d, {"Back to the readings"});
  CHECK(d.has("Skip"));
}

TEST_CASE(
    "the page for more readings fits every size and text: nothing is cut, all can be reached") {
  for (const ScreenSize& size : screen_sizes)
    for (const float text : {1.f, 1.5f, 2.f}) {
      CAPTURE(std::string(size.name));
      CAPTURE(text);
      DrivenApp d(size.w, size.h, text);
      open_walk(d);
      const auto check = [&] {
        d.window.settle(d.app);
        for (const std::string& cut : d.app.touch().cut())
          for (const char* ours : {"More", "Delete", "Skip", "Can’t reach", "Undo", "In degrees",
                                   "Angle of a corner", "At another height"})
            CHECK(cut != ours);
        for (const Touch::Target& t : d.app.touch().targets()) {
          CAPTURE(t.label);
          CHECK(t.box.x >= -1);
          CHECK(t.box.right() <= size.w + 1);
          CHECK(t.box.y >= -1);
          CHECK(t.box.bottom() <= size.h + 1);
        }
      };
      check();
      for (const char* label : {"More", "Angle of a corner", "C2", "Other legs"}) {
        // Where there is little room, the keys scroll.
        const Spot at{size.w * 0.3f, size.h * 0.55f};
        for (int n = 0; n < 40 && !d.has(label); ++n) {
          d.window.drag(d.app, at, {at.x, at.y + (n < 20 ? -30.f : 30.f)});
          d.window.settle(d.app);
        }
        CAPTURE(std::string(label));
        REQUIRE(d.tap(label));
        check();
      }
    }
}
