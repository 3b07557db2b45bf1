#include <doctest/doctest.h>

#include <vector>

#include "app/drawing/elevation_drawing.h"
#include "app/drawing/face_strip.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

const char* const samples[] = {"small-l-kitchen", "u-shape-island", "knocked-through",
                               "full-of-trouble"};

std::string sample(const std::string& name) {
  return file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json");
}

Box box_of(const Lettering& l, float text_scale) {
  const float w = lettering_width(l, text_scale), h = lettering_height(l.height, text_scale);
  return l.turned == 0 ? Box{l.at.x - w / 2, l.at.y - h / 2, w, h}
                       : Box{l.at.x - h / 2, l.at.y - w / 2, h, w};
}

// Two letterings of a drawing that lie over each other, as "a over b"; empty: none do.
std::string overlap(const Drawing& drawing, float text_scale) {
  std::vector<const Lettering*> all;
  for (const Primitive& p : drawing.primitives)
    if (const auto* l = std::get_if<Lettering>(&p)) all.push_back(l);
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t k = 0; k < i; ++k) {
      const Box a = box_of(*all[i], text_scale), b = box_of(*all[k], text_scale);
      if (a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom())
        return all[i]->text + " over " + all[k]->text;
    }
  return {};
}

const Room& room_of(DrivenApp& d) { return d.app.session()->survey().rooms[0]; }

// W1 of the small kitchen, on its page.
void open_walls(DrivenApp& d) {
  REQUIRE(d.open(sample("small-l-kitchen")));
  d.show(Page::walls);
}

}  // namespace

TEST_CASE("lettering on elevations and under them never overlaps, whatever the size and scale") {
  for (const char* name : samples) {
    DrivenApp d;
    REQUIRE(d.open(sample(name)));
    Session& session = *d.app.session();
    const RoomToDraw& drawn = session.drawn();
    for (Index wall = 0; wall < drawn.walls.size(); ++wall)
      for (const Box box : {Box{0, 56, 390, 258}, Box{0, 56, 900, 560}, Box{0, 0, 1540, 740}})
        for (const float text : {1.f, 1.5f, 2.f}) {
          CAPTURE(name);
          CAPTURE(wall);
          CAPTURE(box.w);
          CAPTURE(text);
          const DrawingView view =
              elevation_view(wall_extent(session.survey(), drawn, wall), box, text);
          const Drawing elevation = elevation_drawing(session.survey(), drawn,
                                                      session.room_result(), wall, view, {}, text);
          CHECK(!elevation.primitives.empty());
          CHECK(overlap(elevation, text) == "");
          const Box strip{box.x, 0, box.w, face_strip_height(text)};
          CHECK(overlap(face_strip(session.survey(), drawn, session.room_result(), wall, strip,
                                   view, text),
                        text) == "");
        }
  }
}

TEST_CASE("a service is put on the wall by a tap and the pad, from the floor or the level line") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    open_walls(d);
    const std::size_t before = room_of(d).services.size();

    for (const bool from_level : {false, true}) {
      REQUIRE(d.tap("Add a service"));
      REQUIRE(d.tap("Gas"));
      REQUIRE(d.tap("elevation"));
      d.window.type(d.app, "2435\n");
      if (from_level) REQUIRE(d.tap("From the floor"));
      d.window.type(d.app, from_level ? "-820\n" : "420\n");
      d.window.settle(d.app);
      REQUIRE(room_of(d).services.size() == before + 1);
      const Service& service = room_of(d).services.back();
      CHECK(service.kind == ServiceKind::gas);
      CHECK(service.place.wall == Index{0});
      CHECK(service.place.along == 2435);
      REQUIRE(service.height.has_value());
      CHECK(service.height->value == (from_level ? -820 : 420));
      CHECK(service.height->setup.has_value() == from_level);
      REQUIRE(d.tap("Undo"));
      d.window.settle(d.app);
      CHECK(room_of(d).services.size() == before);
    }
  }
}

TEST_CASE("a height can be from the level line of any set-up") {
  DrivenApp d(800, 1280);
  REQUIRE(d.open(sample("u-shape-island")));
  d.show(Page::walls);
  REQUIRE(room_of(d).levels.setups.size() == 2);
  const std::string first = room_of(d).levels.setups[0].id;
  for (const Index setup : {Index{0}, Index{1}}) {
    REQUIRE(d.tap("Add a service"));
    REQUIRE(d.tap("Socket"));
    REQUIRE(d.tap("elevation"));
    d.window.type(d.app, "1000\n");
    REQUIRE(d.tap("From the floor"));
    if (setup == 1) REQUIRE(d.tap("From the level line of " + first));
    d.window.type(d.app, "-700\n");
    d.window.settle(d.app);
    const Service& service = room_of(d).services.back();
    REQUIRE(service.height.has_value());
    CHECK(service.height->value == -700);
    CHECK(service.height->setup == setup);
  }
}

TEST_CASE("a window asks for its sill, a door does not") {
  struct {
    const char *kind, *typed;
    double sill;
  } const cases[] = {{"Window", "200\n1085\n600\n1000\n", 1085}, {"Door", "200\n600\n2030\n", 0}};
  for (const auto& c : cases) {
    CAPTURE(c.kind);
    DrivenApp d;
    open_walls(d);
    const std::size_t before = room_of(d).openings.size();
    REQUIRE(d.tap("Add an opening"));
    REQUIRE(d.tap(c.kind));
    REQUIRE(d.tap("elevation"));
    d.window.type(d.app, c.typed);
    d.window.settle(d.app);
    REQUIRE(room_of(d).openings.size() == before + 1);
    CHECK(room_of(d).openings.back().left == 200);
    CHECK(room_of(d).openings.back().width == 600);
    CHECK(room_of(d).openings.back().sill.value == c.sill);
  }
}

// W1 of the small kitchen is 3620 long, and 2415 high.
TEST_CASE("nothing is put past the wall's end, above its ceiling or below its floor") {
  for (const char* typed : {"3700\n", "1200\n2500\n", "1200\n-30\n", "-200\n"}) {
    CAPTURE(typed);
    DrivenApp d;
    open_walls(d);
    const std::size_t before = room_of(d).services.size();
    REQUIRE(d.tap("Add a service"));
    REQUIRE(d.tap("Socket"));
    REQUIRE(d.tap("elevation"));
    d.window.type(d.app, typed);
    d.window.settle(d.app);
    CHECK(room_of(d).services.size() == before);
    CHECK(!d.has("Add a service"));  // the pad still stands
  }
}

TEST_CASE("what is chosen on a wall is deleted at once, and Undo brings it back") {
  DrivenApp d;
  open_walls(d);
  const std::string id = room_of(d).services[0].id;
  const std::size_t before = room_of(d).services.size();
  CHECK(!d.has("Delete"));
  REQUIRE(d.tap(id));
  d.window.settle(d.app);
  REQUIRE(d.tap("Delete"));
  d.window.settle(d.app);
  CHECK(room_of(d).services.size() == before - 1);
  CHECK(!d.has("Delete"));
  REQUIRE(d.tap("Undo"));
  d.window.settle(d.app);
  REQUIRE(room_of(d).services.size() == before);
  CHECK(room_of(d).services[0].id == id);
}

// 3 mm of vinyl come up before anything is set; what was measured from the floor counts from its
// top.
TEST_CASE(
    "heights from the floor count from the floor that was surveyed, with what will be stripped") {
  const auto read = read_survey(file_text(std::string(SAMPLES) + "/u-shape-island.levelrun.json"));
  REQUIRE(read.ok());
  const RoomToDraw drawn = room_to_draw(read.value().survey, 0);
  for (Index w = 0; w < drawn.walls.size(); ++w) {
    const auto bare = wall_floor(drawn, w, drawn.walls[w].length / 2);
    if (!bare) continue;
    CHECK(surveyed_floor(drawn, w).value() == doctest::Approx(*bare + 3));
  }
}
