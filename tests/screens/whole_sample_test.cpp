// A whole sample survey taken with a thumb: from New job to the last reading, by taps on what the
// pages show, numbers on the pad, words by a keyboard; and the file it gives.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <vector>

#include "app/entry/asks.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

std::string sample_text() {
  return file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json");
}

std::string digits(double value) {
  std::string text = std::to_string(value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

// A person at the screen. `taps` counts every tap; those for readings alone are counted apart.
class Surveyor {
 public:
  explicit Surveyor(const ScreenSize& size) : d(size.w, size.h), size_(size) {}

  // The label is brought into sight by dragging the lists, as far as they go.
  bool sees(const std::string& label) {
    d.window.settle(d.app);
    if (d.in_sight(label)) return true;
    for (const float down : {160.f, -160.f})
      for (int n = 0; n < 60; ++n) {
        const std::string before = d.shown();
        drag(down);
        if (d.in_sight(label)) return true;
        if (d.shown() == before && n > 2) break;
      }
    return false;
  }

  void tap(const std::string& label) {
    CAPTURE(label);
    REQUIRE(sees(label));
    REQUIRE(d.tap(label));
    ++all_taps;
    d.window.settle(d.app);
  }
  void taps(const std::vector<std::string>& labels) {
    for (const std::string& label : labels) tap(label);
  }

  // On the pad, digit by digit.
  void type(double value) {
    for (const char c : digits(std::abs(value))) tap(std::string(1, c));
    if (value < 0) tap("±");
  }
  void book(double value) {
    type(value);
    tap("Book");
  }

  // A field of a form: its pad is opened by a tap, if it is not asked for already.
  void number(const std::string& caption, double value) {
    CAPTURE(caption);
    tap(caption);
    if (!d.has("rub out")) tap(caption);
    book(value);
  }
  // Away from the pad, so that the whole form is in sight again.
  void numbers(const std::vector<std::pair<std::string, double>>& fields) {
    for (const auto& [caption, value] : fields) number(caption, value);
  }

  // As on a machine's own keyboard: the field, what was there rubbed out, the words, Enter.
  void words(const std::string& label, const std::string& text) {
    CAPTURE(label);
    tap(label);
    d.window.key(d.app, ImGuiKey_End);
    for (int n = 0; n < 40; ++n) d.window.key(d.app, ImGuiKey_Backspace);
    d.window.type(d.app, text + "\n");
    d.window.settle(d.app);
  }

  // What a screen reader is told: the name of the reading on the pad comes first.
  std::string said() {
    d.window.settle(d.app);
    return d.app.touch().said();
  }

  // The reading on the pad, which must be of this name.
  void read(const std::string& name, double value) {
    CAPTURE(name);
    CAPTURE(said());
    REQUIRE(said().starts_with(name));
    const int before = all_taps;
    book(value);
    ++readings;
    digits_typed += int(digits(value).size());
    reading_taps += all_taps - before;
  }

  // All readings of the page that the sample has, in the order in which they are asked for; what
  // it has not is skipped. How many taps that took.
  int read_all(std::map<std::string, double> wanted) {
    int skipped = 0;
    while (!wanted.empty()) {
      const std::string now = said();
      auto best = wanted.end();
      for (auto one = wanted.begin(); one != wanted.end(); ++one)
        if (now.starts_with(one->first + " ") &&
            (best == wanted.end() || one->first.size() > best->first.size()))
          best = one;
      std::string left;
      for (const auto& one : wanted) left += one.first + "; ";
      CAPTURE(now);
      CAPTURE(left);
      if (best == wanted.end()) {
        tap("Skip");
        REQUIRE(++skipped < 40);
        continue;
      }
      const auto [name, value] = *best;
      wanted.erase(best);
      read(name, value);
    }
    return skipped;
  }

  DrivenApp d;
  int all_taps = 0, reading_taps = 0, readings = 0, digits_typed = 0;

 private:
  void drag(float down) {
    // Lists of a wall lie below its drawing, keys of a run beside the pad, forms above it.
    const float high = d.has("Read this wall") ? 0.62f : d.has("New run") ? 0.86f : 0.24f;
    const float x = size_.w * 0.3f, y = size_.h * high;
    d.window.drag(d.app, {x, y}, {x, std::max(60.f, y - down)});
    d.window.settle(d.app);
  }

  ScreenSize size_;
};

std::map<std::string, double> values_of(const std::vector<Ask>& asks) {
  std::map<std::string, double> out;
  for (const Ask& ask : asks)
    if (ask.value) out[ask.name] = *ask.value;
  return out;
}

// ---------------------------------------------------------------------------------- the pages

void begin_job(Surveyor& p) {
  p.tap("New job");
  p.words("reference", "MH-26-031");
  p.tap("6 corners, one inside");
  REQUIRE(p.d.app.session());
}

void job_page(Surveyor& p) {
  p.words("Client", "Orla Penhallow");
  p.words("Site", "3 Sluice Cottages, Nether Wick");
  p.words("Surveyed on", "2026-02-17");
  p.words("Notes", "Ground floor, solid floor. Old units out. Parking in the lane only.");
  p.words("Room’s short name", "kitchen");

  p.tap("Take out instrument 2");
  p.words("Instrument 2", "LL");
  p.tap("Add an instrument");
  p.words("Instrument 3", "GA");
  p.tap("GA is a: gauge");
  p.number("GA: sd of one reading", 0.5);

  p.tap("Take out leg type 2");
  p.words("Leg type 1", "M");
  p.numbers({{"M: shortest", 120},
             {"M: longest", 180},
             {"M: as delivered", 150},
             {"M: mm a turn", 1.75}});

  p.number("Worktop thickness", 38);
  p.words("Worktop material", "oak");
  p.numbers({{"Upstand height", 60}, {"Upstand thickness", 20}});
  p.number("Plinth board height", 150);
  p.tap("Add a board height");
  p.number("Other board height 1", 125);
  p.tap("Add a board height");
  p.number("Other board height 2", 165);
  p.numbers({{"Plinth board length", 3000}, {"Saw kerf", 4}});

  p.tap("Add a new layer");
  p.words("New layer 1", "tile and bed");
  p.number("tile and bed: thickness", 14);
}

void about_walls(Surveyor& p) {
  p.tap("Walls");
  const struct {
    const char* build;
    bool furnished;
  } walls[] = {{"masonry", true}, {"masonry", true}, {"", false},
               {"stud", false},   {"stud", false},   {"masonry", false}};
  for (const auto& wall : walls) {
    p.tap("About");
    if (*wall.build) p.tap(std::string("Built of: ") + wall.build);
    if (!wall.furnished) p.tap("Units stand on it: no");
    if (&wall == walls) {
      p.numbers({{"Skirting height", 95}, {"Skirting thickness", 15}});
      p.tap("Skirting: comes off");
    }
    p.tap("Back to the wall");
    p.tap("Next wall");
  }
}

void walk_round(Surveyor& p, const Survey& sample) {
  p.tap("Walk round");
  p.taps({"More", "Length at another height", "All that carry units"});
  p.book(100);
  p.taps({"More", "Length at another height", "All that carry units"});
  p.book(2000);
  p.taps({"More", "Length at another height", "W6"});
  p.book(2000);
  for (const auto& [from, to] :
       {std::pair("C1", "C3"), std::pair("C6", "C2"), std::pair("C4", "C2")})
    p.taps({"More", "Another diagonal", from, to});
  p.taps({"More", "Angle of a corner", "C2", "900 and 1200"});
  for (const CeilingReading& ceiling : sample.rooms[0].ceilings) {
    p.taps({"More", "Ceiling height", "At x and y"});
    p.book(ceiling.place.x);
    p.book(ceiling.place.y);
  }
  auto wanted = values_of(walk_asks(sample, 0, protocol_of(sample, 0)));
  // On the pad the triangle's legs stand in the caption.
  auto triangle = wanted.extract("C2 triangle, 900 and 1200 along the walls");
  REQUIRE(!triangle.empty());
  triangle.key() = "C2 triangle";
  wanted.insert(std::move(triangle));
  p.read_all(wanted);
}

void put_service(Surveyor& p, const Json& service, const std::string& kind, const std::string& id) {
  p.taps({"Add a service", kind, "elevation"});
  p.book(service["along"]);
  p.book(service["height"]);
  p.tap(id);
  p.tap("About");
  p.words("Its name", service["id"]);
  if (service.contains("width"))
    p.numbers({{"Width", service["width"]}, {"Height of it", service["height_of"]}});
  p.taps({"Back to the wall", service["id"]});
}

void read_wall(Surveyor& p, const Survey& sample, Index w) {
  p.tap("Read this wall");
  const auto& offsets = sample.rooms[0].walls[w].offsets;
  if (!offsets.empty()) {
    p.tap("Places");
    std::vector<double> along, heights;
    for (const WallOffset& o : offsets) {
      if (std::find(along.begin(), along.end(), o.along) == along.end()) along.push_back(o.along);
      if (std::find(heights.begin(), heights.end(), o.height) == heights.end())
        heights.push_back(o.height);
    }
    for (const double a : along) p.book(a);
    p.tap("Heights");
    for (const double h : heights) p.book(h);
    p.tap("Done");
    for (const WallOffset& o : offsets) p.read("Offset", o.offset);
  }
  // Numbers of openings and services that were not typed when they were put there.
  std::map<std::string, double> wanted;
  const Survey now = p.d.app.session()->survey();
  const auto given = values_of(wall_asks(now, 0, w));
  for (const auto& [name, value] : values_of(wall_asks(sample, 0, w, protocol_of(sample, 0))))
    if (name.find(" offset at ") == name.npos && !given.contains(name)) wanted[name] = value;
  p.read_all(wanted);
  p.tap("Back to the wall");
}

void walls_page(Surveyor& p, const Json& room, const Survey& sample) {
  p.tap("Walls");
  const Json& services = room["services"];
  put_service(p, services[0], "Cold water", "CW1");
  put_service(p, services[1], "Hot water", "HW1");
  put_service(p, services[2], "Waste", "WA1");
  put_service(p, services[3], "Socket", "SSO1");
  const Json& window = room["openings"][0];
  p.taps({"Add an opening", "Window", "elevation"});
  for (const char* field : {"left", "sill", "width", "height"}) p.book(window[field]);
  p.taps({"window 1", "About"});
  p.words("Its name", window["id"]);
  p.numbers({{"Board stands out by", window["board"]["projection"]},
             {"Board thickness", window["board"]["thickness"]}});
  p.taps({"Back to the wall", window["id"]});
  read_wall(p, sample, 0);

  p.tap("Next wall");
  put_service(p, services[4], "Cooker outlet", "CO1");
  read_wall(p, sample, 1);

  for (int n = 0; n < 4; ++n) p.tap("Next wall");
  const Json& door = room["openings"][1];
  p.taps({"Add an opening", "Door", "elevation"});
  for (const char* field : {"left", "width", "height"}) p.book(door[field]);
  p.taps({"door 1", "About"});
  p.words("Its name", door["id"]);
  p.number("Architrave", door["architrave"]);
  p.taps({"Opens: out", "Back to the wall"});
  read_wall(p, sample, 5);
}

void runs_page(Surveyor& p, const Json& room) {
  p.tap("Runs");
  const std::map<std::string, std::string> ends = {
      {"wall", "Wall"}, {"corner", "Corner"}, {"open", "Open"}, {"end_panel", "Panel"}};
  for (const Json& run : room["runs"]) {
    if (&run != &room["runs"].front()) p.tap("New run");
    p.tap("Along " + run["wall"].get<std::string>());
    for (const Json& unit : run["units"]) p.book(unit["width"]);
    for (const Json& unit : run["units"]) {
      p.tap(unit["id"]);
      if (unit.contains("drawers")) p.tap("Drawers");
      if (unit.contains("hinge")) p.tap(unit["hinge"] == "left" ? "Hinge left" : "Hinge right");
      if (unit.contains("houses")) p.tap(unit["houses"] == "sink" ? "Houses Sink" : "Houses Hob");
      p.tap(unit["id"]);
    }
    p.tap("The run");
    p.tap("Left end " + ends.at(run["starts_at"]));
    p.tap("Right end " + ends.at(run["ends_at"]));
    if (&run == &room["runs"].front()) {
      p.tap("Worktop height");
      p.book(room["level_groups"][0]["asked_height"]);
    }
    if (!p.sees("Starts at")) p.tap("The run");
    p.tap("Starts at");
    p.book(run["from_along"]);
    if (p.d.has("Next unit")) p.tap("Next unit");
  }
  p.tap("Job");
  p.number("Give or take, level group A", room["level_groups"][0]["tolerance"]);
}

void levels_page(Surveyor& p, const Json& room, const Survey& sample) {
  p.taps({"Levels", "Points", "By x and y"});
  const Json& points = room["levels"]["points"];
  p.book(points[1]["place"]["sd"]);
  for (const Json& point : points) {
    if (!point.contains("place")) continue;
    p.book(point["place"]["x"]);
    p.book(point["place"]["y"]);
  }
  p.taps({"Done", "Back to the readings"});
  p.read_all(values_of(level_asks(sample, 0, protocol_of(sample, 0))));
}

// Lists whose order says nothing: the order in which readings were taken.
nlohmann::json in_any_order(nlohmann::json survey) {
  for (auto& room : survey["rooms"])
    for (const char* list : {"diagonals", "ceilings"})
      std::sort(room[list].begin(), room[list].end());
  return survey;
}

}  // namespace

TEST_CASE("a whole sample is entered from New job on by taps and the pad, and the file is equal") {
  const std::string text = sample_text();
  const auto read = read_survey(text);
  REQUIRE(read.ok());
  const Survey& sample = read.value().survey;
  const Json whole = Json::parse(text);
  const Json& room = whole["rooms"][0];

  Surveyor p({"tablet", 800, 1280});
  begin_job(p);
  job_page(p);
  about_walls(p);
  walk_round(p, sample);
  walls_page(p, room, sample);
  runs_page(p, room);
  levels_page(p, room, sample);

  // Every reading of the sample took a tap a digit and one to book: nothing was chosen first.
  std::size_t in_sample = 0;
  in_sample += walk_asks(sample, 0, protocol_of(sample, 0)).size();
  in_sample += level_asks(sample, 0, protocol_of(sample, 0)).size();
  for (const Wall& wall : sample.rooms[0].walls) in_sample += wall.offsets.size();
  MESSAGE(p.readings << " readings, " << p.digits_typed << " digits, " << p.reading_taps
                     << " taps for them; " << p.all_taps << " taps for the whole survey");
  CHECK(std::size_t(p.readings) >= in_sample);
  CHECK(p.reading_taps == p.digits_typed + p.readings);

  const std::string path = p.d.app.session()->path();
  p.tap("Jobs");
  const auto saved = nlohmann::json::parse(file_text(path));
  // Equal but for this: the order of diagonals and of ceilings, which is the order they were read
  // in. Names, dates, deviations, places: all were entered.
  const auto difference =
      nlohmann::json::diff(in_any_order(nlohmann::json::parse(text)), in_any_order(saved));
  CAPTURE(difference.dump(1));
  CHECK(difference.empty());
}
