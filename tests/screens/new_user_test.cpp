// What somebody new to it stumbles over: empty pages, digits that come when nothing is asked, a
// slip of the hand, and readings blamed for what is wrong elsewhere.
#include <doctest/doctest.h>

#include <map>
#include <utility>

#include "app/entry/finding_words.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/screen_sizes.h"

using namespace levelrun;

namespace {

std::string sample(const std::string& name) {
  return file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json");
}

std::string said(DrivenApp& d) {
  d.window.settle(d.app);
  return d.app.touch().said();
}

void type(DrivenApp& d, const std::string& text) {
  d.window.type(d.app, text);
  d.window.settle(d.app);
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != text.npos;
}

// The words on the screen without their spaces, in the order in which they were drawn: each glyph
// is a quad whose texture corner tells which letter it is.
std::string drawn_words(DrivenApp& d) {
  d.window.settle(d.app);
  d.window.frame(d.app);
  std::map<std::pair<float, float>, ImWchar> letters;
  for (const ImFont* font : ImGui::GetIO().Fonts->Fonts)
    for (const ImFontGlyph& glyph : font->Glyphs)
      if (glyph.Visible) letters[{glyph.U0, glyph.V0}] = ImWchar(glyph.Codepoint);
  std::string out;
  const ImDrawData* drawn = ImGui::GetDrawData();
  for (int list = 0; list < drawn->CmdListsCount; ++list)
    for (const ImDrawVert& vertex : drawn->CmdLists[list]->VtxBuffer)
      if (const auto letter = letters.find({vertex.uv.x, vertex.uv.y});
          letter != letters.end() && letter->second < 128)
        out += char(letter->second);
  return out;
}

bool shows(DrivenApp& d, std::string words) {
  std::erase(words, ' ');
  return holds(drawn_words(d), words);
}

// A job made on the first page, with nothing but four corners.
void make_job(DrivenApp& d) {
  REQUIRE(d.tap("New job"));
  REQUIRE(d.tap("reference"));
  type(d, "K-1");
  REQUIRE(d.tap("4 corners"));
  d.window.settle(d.app);
  REQUIRE(d.app.session());
}

const Room& room(const DrivenApp& d) { return d.app.session()->survey().rooms[0]; }

}  // namespace

TEST_CASE("each page of an empty job says what to do first") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    make_job(d);
    d.show(Page::walk);
    CHECK(said(d).starts_with("W1 length"));
    d.show(Page::levels);
    CHECK(holds(said(d), "BM from set-up"));
    type(d, "1300\n");
    CHECK(holds(said(d), "Add a run first"));
    CHECK(d.has("To the runs"));
    REQUIRE(d.app.session()->undo());
    const std::pair<Page, const char*> pages[] = {
        {Page::walls, "Book first the length of W1"},
        {Page::runs, "No run yet: add the first along a wall, or an island."},
        {Page::findings, "without the length of W1"},
        {Page::release, "without the length of W1"}};
    for (const auto& [page, words] : pages) {
      // A phone on its side has it further down.
      if (page == Page::walls && size.h < 500) continue;
      d.show(page);
      CAPTURE(words);
      CHECK_MESSAGE(shows(d, words), drawn_words(d));
    }
  }
}

TEST_CASE("a job without a room sends every page to Job") {
  Json job = Json::parse(sample("small-l-kitchen"));
  job["rooms"] = Json::array();
  DrivenApp d;
  REQUIRE(d.open(job.dump()));
  for (const Page page : {Page::walk, Page::levels, Page::findings, Page::release}) {
    CAPTURE(int(page));
    d.show(page);
    CHECK(shows(d, "Add one on Job"));
  }
}

TEST_CASE("digits that come with no reading waiting are kept, and a tap on a row places them") {
  for (const char* enter : {"", "\n"}) {
    CAPTURE(enter);
    DrivenApp d(1280, 800);
    REQUIRE(d.open(sample("small-l-kitchen")));
    d.show(Page::walk);
    REQUIRE(said(d).starts_with("All booked"));
    const int before = d.app.session()->version();
    type(d, std::string("2409") + enter);
    CHECK(holds(said(d), "2409 came with no reading waiting"));
    CHECK(shows(d, "2409 came with no reading waiting."));
    CHECK(d.app.session()->version() == before);
    REQUIRE(d.tap("rooms/0/ceilings@900,-600"));
    CHECK(holds(said(d), "2409"));
    CHECK(d.app.session()->version() == before);
    REQUIRE(d.tap("Book"));
    CHECK(room(d).ceilings[0].height.value == 2409);
    CHECK(d.app.session()->version() == before + 1);
  }
}

TEST_CASE("Walk round takes a length at a second height by More") {
  for (const ScreenSize& size : screen_sizes) {
    CAPTURE(size.name);
    DrivenApp d(size.w, size.h);
    make_job(d);
    d.show(Page::walk);
    for (const char* label :
         {"More", "Length at another height", "W2", "2", "0", "5", "0", "Book"}) {
      CAPTURE(label);
      REQUIRE(d.tap(label));
      d.window.settle(d.app);
    }
    REQUIRE(said(d).starts_with("W2 length at 2050"));
    type(d, "2401\n");
    REQUIRE(room(d).walls[1].lengths.size() == 1);
    CHECK(room(d).walls[1].lengths[0].height == 2050);
    CHECK(room(d).walls[1].lengths[0].length == 2401);
    CHECK(room(d).walls[0].lengths.empty());
  }
}

TEST_CASE("a staff reading that the levels leave out is marked, and is the one to read again") {
  // The benchmark is read twice from A and once from B, and three floor points tie A to B: 40 more
  // on the benchmark from B agrees with none of them.
  Json job = Json::parse(sample("u-shape-island"));
  job["rooms"][0]["levels"]["setups"][1]["readings"][0]["staff"] = 1341;
  DrivenApp d(1280, 800);
  REQUIRE(d.open(job.dump()));
  d.show(Page::levels);
  const auto& readings = d.app.session()->results().rooms[0].level_readings;
  int rejected = 0;
  for (const ObservationResult& o : readings) rejected += o.verdict == Agreement::rejected;
  REQUIRE(rejected == 1);
  CHECK(shows(d, "Read BM from B again: 1341 was booked, the others say 1302."));
  // Its row, by scrolling to it: the first of B stands below B's others.
  for (int n = 0; n < 40 && !shows(d, "39 long, left out"); ++n) {
    ImGui::GetIO().AddMousePosEvent(200, 720);
    ImGui::GetIO().AddMouseWheelEvent(0, -1);
    d.window.settle(d.app);
  }
  CHECK(shows(d, "39 long, left out"));
  // Read again as it is, nothing is left to say.
  REQUIRE(d.app.session()->apply(
      Json::parse(
          R"([{"op":"replace","path":"/rooms/0/levels/setups/1/readings/0/staff","value":1301}])"),
      "BM again"));
  CHECK(!shows(d, "again: 1341"));
  CHECK(!shows(d, "left out"));
}

TEST_CASE("readings of a set-up that is tied to nothing are marked, with what to read") {
  DrivenApp d(1280, 800);
  REQUIRE(d.open(sample("full-of-trouble")));
  d.show(Page::levels);
  CHECK(shows(d, "Read the benchmark from B: its readings are tied to nothing."));
  CHECK(shows(d, "left out"));
}

TEST_CASE("metres typed for millimetres are asked about, and too short a wall is refused") {
  DrivenApp d;
  make_job(d);
  d.show(Page::walk);
  type(d, "2.412\n");
  CHECK(holds(said(d), "too short for a wall: 2412?"));
  CHECK(d.app.session()->version() == 0);
  for (int n = 0; n < 5; ++n) REQUIRE(d.tap("rub out"));
  for (const char* length : {"2412\n", "3006\n"}) type(d, length);
  type(d, "2.412\n");
  CHECK(holds(said(d), "too short for a wall: 2412?"));
  CHECK(room(d).walls[2].lengths.empty());

  // A staff has no least length: the floor round it says what is expected.
  REQUIRE(d.open(sample("small-l-kitchen"), "other.levelrun.json"));
  d.show(Page::levels);
  REQUIRE(d.app.session()->apply(
      Json::parse(R"([{"op":"remove","path":"/rooms/0/levels/setups/0/readings/10"}])"), "less"));
  d.window.settle(d.app);
  REQUIRE(holds(said(d), "P10 from set-up A"));
  type(d, "1.353");
  CHECK(holds(said(d), "Metres for mm? 1353 is what the others expect."));
}

TEST_CASE("a diagonal is not blamed for the wall that its expected value rests on") {
  DrivenApp d(1280, 800);
  make_job(d);
  d.show(Page::walk);
  // W3 is 3620 as well: two digits swapped.
  for (const char* length : {"3620\n", "2950\n", "3260\n", "2950\n"}) type(d, length);
  REQUIRE(said(d).find("diagonal") != std::string::npos);
  type(d, "4670");
  const std::string what = said(d);
  CAPTURE(what);
  CHECK(holds(what, "rests on"));
  CHECK(holds(what, "in doubt"));
  CHECK(!holds(what, "Read it again"));
}

TEST_CASE("a diagonal that was never read is not to be measured again") {
  // The walls alone: which one is wrong cannot be told, and a diagonal is asked for.
  DrivenApp d(1280, 800);
  make_job(d);
  d.show(Page::walk);
  for (const char* length : {"3620\n", "2950\n", "3260\n", "2950\n"}) type(d, length);
  const std::string words = drawn_words(d);
  CAPTURE(words);
  for (const char* diagonal : {"diagonalC1toC3again", "diagonalC2toC4again"})
    CHECK(!holds(words, diagonal));
}

TEST_CASE("figures of findings are said in words") {
  Finding f;
  f.severity = Severity::hold;
  const auto words = [&](const char* code, double measured, double limit, const char* unit,
                         const char* first, const char* second) {
    f.code = code;
    f.measured = measured;
    f.limit = limit;
    f.unit = unit;
    return figures_in_words(f, first, second);
  };
  // A void's finding has what is needed first.
  CHECK(words("void too shallow", 100, 80.3, "mm", "80.3", "100") ==
        "void 80.3, needs 100 at least");
  CHECK(words("still to measure", 3, 0, "measurements", "3", "0") == "3 readings still missing");
  CHECK(words("still to measure", 1, 0, "measurements", "1", "0") == "1 reading still missing");
  CHECK(words("leg too short for the floor", 167.7, 160, "mm", "167.7", "160") ==
        "167.7, at most 160");
  CHECK(words("narrow aisle", 962.8, 1000, "mm", "962.8", "1000") == "962.8, at least 1000");
  CHECK(words("levels do not close", 7.9, 1.9, "sigma-nought", "7.9", "1.9") ==
        "7.9 times their sd, at most 1.9");
  CHECK(words("points without a reading", 2, 0, "points", "2", "0") == "2 points not read yet");
  CHECK(figures_in_words(f, "", "") == "");
  // A query may be on either side of its limit, too near to tell.
  f.severity = Severity::query;
  CHECK(words("leg near the end of its range", 146.9, 150, "mm", "146.9", "150") ==
        "146.9, limit 150");
  CHECK(words("asked height not kept", 904.5, 930, "mm", "904.5", "930") == "904.5, asked 930");
}

TEST_CASE("Findings says a void and what is missing as a surveyor would") {
  DrivenApp d(1280, 800);
  REQUIRE(d.open(sample("full-of-trouble")));
  d.show(Page::findings);
  std::string all;
  for (int n = 0; n < 40; ++n) {
    all += drawn_words(d);
    ImGui::GetIO().AddMousePosEvent(1000, 600);
    ImGui::GetIO().AddMouseWheelEvent(0, -1);
  }
  CHECK(holds(all, "void47.2,needs68atleast"));
  CHECK(holds(all, "1readingstillmissing"));
}

TEST_CASE("a booked staff reading that the floor round it contradicts is marked, and named") {
  DrivenApp d(1280, 800);
  Json job = Json::parse(sample("small-l-kitchen"));
  Json& reading = job["rooms"][0]["levels"]["setups"][0]["readings"][8];
  const std::string point = reading["point"];
  reading["staff"] = reading["staff"].get<double>() + 40;
  REQUIRE(d.open(job.dump()));
  d.show(Page::levels);
  const std::string words = drawn_words(d);
  CAPTURE(words);
  CAPTURE(point);
  CHECK(holds(words, "Read" + point));
  CHECK(holds(words, "lowerthanthefloorroundit"));
}

TEST_CASE("a tap on a likely slip puts that reading on the pad again") {
  DrivenApp d;
  make_job(d);
  d.show(Page::walk);
  // W3 is 3620 as well: two digits swapped. Pythagoras: the diagonals are 4670.
  for (const char* length : {"3620\n", "2950\n", "3260\n", "2950\n", "4670\n", "4670\n"})
    type(d, length);
  REQUIRE(d.tap("slip W3 3620"));
  d.window.settle(d.app);
  CHECK(holds(said(d), "W3 length"));
  type(d, "3620\n");
  CHECK(room(d).walls[2].lengths[0].length == 3620);
  CHECK_FALSE(d.has("slip W3 3620"));
}
