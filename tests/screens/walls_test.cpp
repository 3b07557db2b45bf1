#include <doctest/doctest.h>

#include <vector>

#include "app/drawing/elevation_drawing.h"
#include "app/drawing/face_strip.h"
#include "app/entry/floor_edits.h"
#include "app/entry/wall_edits.h"
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

TEST_CASE("what is put on a wall or into the floor has letters that nothing else of the room has") {
  Json document = Json::parse(sample("small-l-kitchen"));
  document["rooms"][0]["walls"][5]["id"] = "WA1";
  document["rooms"][0]["corners"][0]["id"] = "G1";
  document["rooms"][0]["runs"][0]["id"] = "SSO1";
  document["rooms"][0]["runs"][0]["units"][0]["id"] = "SSO2";
  document["rooms"][0]["openings"][0]["id"] = "SSO3";
  Survey survey;
  survey.rooms.resize(1);
  survey.rooms[0].walls.resize(1);
  survey.rooms[0].walls[0].id = "W1";
  const struct {
    const char *kind, *id;
  } cases[] = {{"waste", "WA2"},  {"gas", "G2"},         {"socket", "SSO4"},
               {"duct", "DUCT1"}, {"cold_water", "CW1"}, {"other", "X1"}};
  for (const auto& c : cases) {
    CAPTURE(c.kind);
    const Json wall = add_service_patch(document, survey, 0, 0, c.kind, {100, 100, {}});
    CHECK(wall.back()["value"]["id"] == c.id);
    const Json floor = floor_service_patch(document, 0, c.kind, {{"x", 900}, {"y", -900}});
    CHECK(floor.back()["value"]["id"] == c.id);
  }
}

TEST_CASE("a service's route is drawn dashed on each wall that it runs on, by the corner between") {
  Json document = Json::parse(sample("small-l-kitchen"));
  Json& waste = document["rooms"][0]["services"][2];
  REQUIRE(waste["kind"] == "waste");
  waste["height"] = 300;
  waste.erase("from");
  waste["route"] =
      Json::array({{{"place", {{"wall", "W1"}, {"along", 3000}, {"out", 0}}}, {"height", 280}}});
  waste["connects_at"] = {{"place", {{"wall", "W2"}, {"along", 600}, {"out", 0}}}, {"height", 200}};
  DrivenApp d;
  REQUIRE(d.open(document.dump()));
  Session& session = *d.app.session();
  const RoomToDraw& drawn = session.drawn();
  const DrawingView view{{0, 0, 900, 560}, 0.1, 1800, 1200};
  const auto routes = [&](Index wall) {
    std::vector<Stroke> out;
    for (const Primitive& p :
         elevation_drawing(session.survey(), drawn, session.room_result(), wall, view, {}, 1)
             .primitives)
      if (const auto* stroke = std::get_if<Stroke>(&p))
        if (stroke->dash == Dash::dashed && stroke->width == LineWidth::outline)
          out.push_back(*stroke);
    return out;
  };
  const auto near = [&](Spot at, double along, double high) {
    const Spot wanted = view.at(along, high);
    return std::abs(at.x - wanted.x) < 0.1f && std::abs(at.y - wanted.y) < 0.1f;
  };
  const double length = drawn.walls[0].length;
  const double share = (length - 3000) / (length - 3000 + 600);
  const double corner = 280 - 80 * share;  // straight from bend to bend, round the corner
  const auto first = routes(0), second = routes(1);
  REQUIRE(first.size() == 1);
  CHECK(first[0].ink == Ink::ink);
  REQUIRE(first[0].points.size() == 3);
  CHECK(near(first[0].points[0], waste["along"], 300));
  CHECK(near(first[0].points[1], 3000, 280));
  CHECK(near(first[0].points[2], length, corner));
  REQUIRE(second.size() == 1);
  REQUIRE(second[0].points.size() == 2);
  CHECK(near(second[0].points[0], 0, corner));
  CHECK(near(second[0].points[1], 600, 200));
  CHECK(routes(2).empty());
}

TEST_CASE("what stands behind the units is listed first, and what is above them after it") {
  Json document = Json::parse(sample("small-l-kitchen"));
  Json& services = document["rooms"][0]["services"];
  std::swap(services[0], services[3]);
  REQUIRE(services[0]["id"] == "SO1");  // above the worktop
  REQUIRE(services[3]["id"] == "CW");   // behind the sink unit
  DrivenApp d;
  REQUIRE(d.open(document.dump()));
  d.show(Page::walls);
  d.window.settle(d.app);
  const auto top = [&](const std::string& label) {
    for (const Touch::Target& t : d.app.touch().targets())
      if (t.label == label) return t.box.y;
    FAIL(label << " is not there");
    return 0.f;
  };
  CHECK(top("CW") < top("SO1"));
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
