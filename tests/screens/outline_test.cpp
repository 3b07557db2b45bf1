// A room's outline walked turn by turn: for a new job, for another room, and once more.
#include <doctest/doctest.h>

#include "app/screens/outline_page.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

void taps(DrivenApp& d, std::initializer_list<const char*> labels) {
  for (const std::string label : labels) {
    CAPTURE(label);
    REQUIRE(d.tap(label));
    d.window.settle(d.app);
  }
}

void type(DrivenApp& d, const std::string& text) {
  d.window.type(d.app, text);
  d.window.settle(d.app);
}

void begin(DrivenApp& d) {
  taps(d, {"New job"});
  taps(d, {"reference"});
  type(d, "K-5");
  taps(d, {walked_room_words});
}

std::vector<double> angles(const Room& room) {
  std::vector<double> out;
  for (const Corner& corner : room.corners) out.push_back(corner.angle);
  return out;
}

}  // namespace

TEST_CASE("a new job with a cut-off corner is walked by turns and rough lengths, at every size") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    begin(d);
    taps(d, {"3", "0", "0", "0", "Book", "Right, square"});
    type(d, "2400\n");
    taps(d, {"Right, by 45"});
    taps(d, {"Not known", "Another turn"});
    type(d, "45\n");
    type(d, "2.2m\n");
    taps(d, {"Right, square"});
    type(d, "3200\n");
    taps(d, {"Back at start"});
    REQUIRE(d.app.session());
    const Room& room = d.app.session()->survey().rooms[0];
    CHECK(angles(room) == std::vector<double>{90, 90, 135, 135, 90});
    REQUIRE(room.walls.size() == 5);
    CHECK(room.walls[0].rough == 3000);
    CHECK_FALSE(room.walls[2].rough);
    CHECK(room.walls[3].rough == 2200);
    CHECK(room.walls[4].to == 0);
    // The sketch stands as paced until a wall is measured.
    const RoomToDraw& drawn = d.app.session()->drawn();
    CHECK(drawn.guessed);
    CHECK(drawn.walls[0].length == doctest::Approx(3000).epsilon(0.2));
  }
}

TEST_CASE("a step back takes one answer back each, and the back gesture leaves the walk") {
  DrivenApp d;
  begin(d);
  type(d, "3000\n");
  taps(d, {"Left, square"});
  type(d, "24");
  taps(d, {"Undo"});  // to the turn of the first wall
  CHECK(d.has("Right, square"));
  taps(d, {"A step back"});  // to its length
  CHECK_FALSE(d.has("Right, square"));
  taps(d, {"Undo"});  // to where the shape is asked
  CHECK(d.has("4 corners"));
  taps(d, {walked_room_words});
  CHECK(d.app.back());
  d.window.settle(d.app);
  CHECK(d.has("4 corners"));
}

TEST_CASE("turns that do not come round are refused in words, and nothing is lost") {
  DrivenApp d;
  begin(d);
  for (int wall = 0; wall < 3; ++wall) {
    type(d, "3000\n");
    if (wall < 2) taps(d, {"Left, square"});
  }
  taps(d, {"Back at start"});
  CHECK_FALSE(d.app.session());
  CHECK(d.has("Right, square"));
  // An impossible number stays beside the field.
  taps(d, {"Another turn"});
  type(d, "400\n");
  CHECK_FALSE(d.has("Right, square"));
  taps(d, {"Undo"});
  CHECK(d.has("Right, square"));
}

TEST_CASE("no room can be begun before the job has a reference, and the page says so") {
  DrivenApp d;
  taps(d, {"New job"});
  d.tap("4 corners");
  d.tap(walked_room_words);
  d.window.settle(d.app);
  CHECK_FALSE(d.app.session());
  CHECK(d.has("Practice job, five minutes"));
}

TEST_CASE("another room is walked from the page Job, and undo takes it out again") {
  DrivenApp d(1280, 800);
  REQUIRE(d.open(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json")));
  const Json before = d.app.session()->document();
  const auto scrolled_tap = [&](const char* label) {
    for (int i = 0; i < 40 && !d.tap(label); ++i) d.window.drag(d.app, {300, 500}, {300, 250});
    d.window.settle(d.app);
  };
  d.show(Page::job);
  scrolled_tap("Add a room");
  taps(d, {walked_room_words});
  for (int wall = 0; wall < 4; ++wall) {
    type(d, "2000\n");
    if (wall < 3) taps(d, {"Right, square"});
  }
  taps(d, {"Back at start"});
  CAPTURE(d.app.session()->trouble());
  REQUIRE(d.app.session()->survey().rooms.size() == 2);
  CHECK(d.app.session()->survey().rooms[1].walls[3].rough == 2000);
  d.app.session()->undo();
  CHECK(d.app.session()->document() == before);
}

TEST_CASE("a first reading far from what was paced is doubted, one near it is not") {
  DrivenApp d;
  begin(d);
  for (int wall = 0; wall < 4; ++wall) {
    type(d, "3000\n");
    if (wall < 3) taps(d, {"Right, square"});
  }
  taps(d, {"Back at start"});
  REQUIRE(d.app.session());
  d.show(Page::walk);
  type(d, "2900");
  CHECK(d.app.touch().said().find("paced") == std::string::npos);
  taps(d, {"rub out", "rub out", "rub out", "rub out"});
  type(d, "8900");
  CAPTURE(d.app.touch().said());
  CHECK(d.app.touch().said().find("About 3000 was paced here") != std::string::npos);
}

TEST_CASE("an outline walked again keeps what stands on as many walls, and refuses fewer") {
  const Json job = Json::parse(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"));
  RoomStart same;
  same.corners.assign(job["rooms"][0]["corners"].size(), 90);
  same.rough.assign(same.corners.size(), 1500.0);
  const Json patch = outline_patch(job, 0, same);
  const Json after = job.patch(patch);
  CHECK(after["rooms"][0]["walls"][0]["rough"] == 1500);
  CHECK(after["rooms"][0]["walls"][0]["lengths"] == job["rooms"][0]["walls"][0]["lengths"]);
  RoomStart other;
  other.corners.assign(same.corners.size() + 2, 90);
  CHECK(outline_patch(job, 0, other).empty());
  // A room that has nothing yet takes any outline.
  const Json fresh = new_job("K-6", "", "2026-03-12", usual_rooms().front().start);
  CHECK(fresh.patch(outline_patch(fresh, 0, usual_rooms()[1].start))["rooms"][0]["walls"].size() ==
        6);
}

TEST_CASE("a new job takes instruments and furniture from a job that is there") {
  DrivenApp d;
  Json other = Json::parse(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"));
  other["instruments"].push_back({{"id", "OWN"}, {"kind", "optical_level"}, {"sd", 0.4}});
  REQUIRE(d.open(other.dump()));
  d.show(Page::jobs);
  taps(d, {"New job", "reference"});
  type(d, "K-7");
  taps(d, {"Instruments and furniture", "4 corners"});
  REQUIRE(d.app.session());
  const Json& fresh = d.app.session()->document();
  CHECK(fresh["job"]["reference"] == "K-7");
  CHECK(fresh["instruments"] == other["instruments"]);
  CHECK(fresh["furniture"] == other["furniture"]);
  CHECK(fresh["rooms"][0]["walls"].size() == 4);
}
