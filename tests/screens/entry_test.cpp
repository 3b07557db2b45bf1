#include <doctest/doctest.h>

#include <set>

#include "app/entry/asks.h"
#include "app/entry/set_patch.h"
#include "app/jobs/new_job.h"
#include "survey/json_patch.h"
#include "tests/screens/driven_app.h"

using namespace levelrun;

namespace {

std::string sample(const std::string& name) {
  return file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json");
}

// The document without the numbers that Walk round and Levels ask for.
Json without_readings(Json document) {
  for (Json& room : document["rooms"]) {
    for (Json& wall : room["walls"]) wall["lengths"] = Json::array();
    for (const char* list : {"diagonals", "angles", "ceilings"})
      if (room.contains(list)) room[list] = Json::array();
    for (Json& setup : room["levels"]["setups"]) setup["readings"] = Json::array();
  }
  return document;
}

std::string digits(double value) {
  std::string text = std::to_string(value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

}  // namespace

TEST_CASE("a reading takes as many taps as it has digits, and one to book it") {
  DrivenApp d;
  REQUIRE(d.open(write_survey(without_readings(Json::parse(sample("small-l-kitchen"))))));
  const Json full = Json::parse(sample("small-l-kitchen"));
  d.show(Page::levels);
  const Json& setup = full["rooms"][0]["levels"]["setups"][0];
  std::size_t booked = 0, typed = 0;
  d.taps = 0;
  // In the order in which they are asked for: the benchmark, the points, the benchmark again.
  for (;;) {
    const auto asks = level_asks(d.app.session()->survey(), 0);
    const Ask* next = nullptr;
    for (const Ask& ask : asks)
      if (!ask.booked) {
        next = &ask;
        break;
      }
    if (!next) break;
    const std::string point = d.app.session()->survey().rooms[0].levels.points[*next->point].id;
    double value = 0;
    std::size_t nth = 0;
    for (const Json& reading :
         d.app.session()->document()["rooms"][0]["levels"]["setups"][0]["readings"])
      nth += reading["point"] == point;
    for (const Json& reading : setup["readings"])
      if (reading["point"] == point && nth-- == 0) value = reading["staff"];
    REQUIRE(value != 0);
    const std::string text = digits(value);
    for (const char c : text) REQUIRE(d.tap(std::string(1, c)));
    REQUIRE(d.tap("Book"));
    typed += text.size();
    ++booked;
    REQUIRE(booked < 100);
  }
  CHECK(booked == setup["readings"].size());
  CHECK(d.taps == int(typed + booked));
  // Every reading is in the file when the job is left, with the number that was typed.
  d.app.close();
  const Json saved = Json::parse(file_text(d.path));
  auto sorted = [](const Json& readings) {
    std::multiset<std::pair<std::string, double>> out;
    for (const Json& r : readings)
      out.insert({r["point"].get<std::string>(), r["staff"].get<double>()});
    return out;
  };
  CHECK(sorted(saved["rooms"][0]["levels"]["setups"][0]["readings"]) == sorted(setup["readings"]));
}

TEST_CASE("a whole walk round is booked by hardware keys, and undone again to the first byte") {
  DrivenApp d(1280, 800);
  const std::string bare = write_survey(without_readings(Json::parse(sample("small-l-kitchen"))));
  REQUIRE(d.open(bare));
  d.show(Page::walk);
  int booked = 0;
  while (booked < 200) {
    const auto asks = walk_asks(d.app.session()->survey(), 0);
    const Ask* next = nullptr;
    for (const Ask& ask : asks)
      if (!ask.booked) {
        next = &ask;
        break;
      }
    if (!next) break;
    d.window.type(d.app,
                  (next->kind == ReadingKind::ceiling ? "2410" : "2500") + std::string("\n"));
    d.window.settle(d.app);
    ++booked;
    CHECK(int(d.app.session()->version()) == booked);
  }
  CHECK(booked >= 8);
  for (int n = 0; n < booked; ++n) {
    REQUIRE(d.has("Undo"));
    d.tap("Undo");
  }
  CHECK(d.app.session()->undo_says().empty());
  d.app.close();
  CHECK(file_text(d.path) == bare);
}

TEST_CASE("what is half typed survives turning the tablet and another text size") {
  DrivenApp d(800, 1280);
  REQUIRE(d.open(write_survey(without_readings(Json::parse(sample("small-l-kitchen"))))));
  d.show(Page::walk);
  for (const char* key : {"3", "6", "2"}) REQUIRE(d.tap(key));
  d.window.resize(1280, 800);
  d.window.settle(d.app);
  d.app.settings().look.text = 1.5f;
  d.window.settle(d.app);
  REQUIRE(d.tap("0"));
  REQUIRE(d.tap("Book"));
  CHECK(d.app.session()->survey().rooms[0].walls[0].lengths.at(0).length == 3620);
}

// The same numbers, once by the pad alone and once booked directly: the files must be the same, and
// the pad takes a tap a digit and one to book.
TEST_CASE("a whole survey by the pad alone gives the file that booking it directly gives") {
  const std::string start = write_survey(practice_job("t.v.", "2026-03-12"));
  const auto next_of = [](const Survey& survey, bool levels) {
    for (const Ask& ask : levels ? level_asks(survey, 0) : walk_asks(survey, 0))
      if (!ask.booked) return std::optional(ask);
    return std::optional<Ask>();
  };
  const auto value_of = [](const Ask& ask, int n) -> double {
    switch (ask.kind) {
      case ReadingKind::length:
        return *ask.wall % 2 == 0 ? 2411 : 3006;
      case ReadingKind::diagonal:
        return 3854;
      case ReadingKind::ceiling:
        return 2396 + n % 3;
      default:
        return ask.point == Index(0) ? 1300 : 1300 + n % 9;
    }
  };
  DrivenApp by_pad;
  REQUIRE(by_pad.open(start));
  int taps = 0, digits_typed = 0, booked = 0;
  std::vector<std::pair<bool, double>> numbers;
  for (const bool levels : {false, true}) {
    by_pad.show(levels ? Page::levels : Page::walk);
    for (int n = 0;; ++n) {
      const auto ask = next_of(by_pad.app.session()->survey(), levels);
      if (!ask) break;
      const double value = value_of(*ask, n);
      by_pad.taps = 0;
      for (const char c : digits(value)) REQUIRE(by_pad.tap(std::string(1, c)));
      REQUIRE(by_pad.tap("Book"));
      taps += by_pad.taps;
      digits_typed += int(digits(value).size());
      ++booked;
      numbers.push_back({levels, value});
      REQUIRE(booked < 200);
    }
  }
  CHECK(booked >= 14);
  CHECK(taps == digits_typed + booked);
  by_pad.app.close();
  const std::string file = file_text(by_pad.path);

  auto survey = read_survey(start);
  REQUIRE(survey.ok());
  for (const auto& [levels, value] : numbers) {
    const auto ask = next_of(survey.value().survey, levels);
    REQUIRE(ask);
    const auto instrument = usual_instrument(survey.value().survey, *ask);
    std::optional<std::string> id;
    if (instrument) id = survey.value().survey.instruments[*instrument].id;
    REQUIRE(
        apply_patch(survey.value().document, book_patch(survey.value().document, *ask, value, id))
            .empty());
    survey.value().survey = survey_from(survey.value().document).value();
  }
  CHECK(file == write_survey(survey.value().document));
}

TEST_CASE("undo and redo reach across closing and opening again") {
  DrivenApp d;
  REQUIRE(d.open(write_survey(without_readings(Json::parse(sample("small-l-kitchen"))))));
  d.show(Page::walk);
  d.window.type(d.app, "3620\n");
  d.window.settle(d.app);
  CHECK(d.app.session()->undo_says() == "W1 length 3620");
  d.app.close();
  REQUIRE(d.app.open(d.path));
  CHECK(d.app.session()->undo_says() == "W1 length 3620");
  REQUIRE(d.app.session()->undo());
  CHECK(d.app.session()->survey().rooms[0].walls[0].lengths.empty());
  CHECK(d.app.session()->redo_says() == "W1 length 3620");
  REQUIRE(d.app.session()->redo());
  CHECK(d.app.session()->survey().rooms[0].walls[0].lengths.at(0).length == 3620);
}

TEST_CASE("numbers that cannot be are refused beside the field and book nothing") {
  DrivenApp d;
  REQUIRE(d.open(write_survey(without_readings(Json::parse(sample("small-l-kitchen"))))));
  d.show(Page::walk);
  for (const char* text : {"-5\n", "123456789012\n", "1..2\n", "\n", "+\n"}) {
    CAPTURE(text);
    d.window.type(d.app, text);
    d.window.settle(d.app);
    CHECK(d.app.session()->version() == 0);
    while (d.has("rub out") && !d.app.session()->survey().rooms.empty()) {
      d.tap("rub out");
      if (++d.taps % 20 == 0) break;
    }
    for (int i = 0; i < 14; ++i) d.tap("rub out");
  }
  // A comma for a point is understood, metres too, and sums.
  d.window.type(d.app, "3,62m\n");
  d.window.settle(d.app);
  CHECK(d.app.session()->survey().rooms[0].walls[0].lengths.at(0).length == 3620);
  d.window.type(d.app, "1200+1235\n");
  d.window.settle(d.app);
  CHECK(d.app.session()->version() == 2);
}

TEST_CASE("a paste of three numbers is put on the pad one after another") {
  DrivenApp d;
  REQUIRE(d.open(write_survey(without_readings(Json::parse(sample("small-l-kitchen"))))));
  d.show(Page::walk);
  d.window.type(d.app, "3620 2950 1871\n");
  d.window.settle(d.app);
  CHECK(d.app.session()->version() == 1);
  REQUIRE(d.tap("Book"));
  REQUIRE(d.tap("Book"));
  CHECK(d.app.session()->version() == 3);
}

TEST_CASE("a place that cannot be reached is asked why, and is not asked for again") {
  DrivenApp d;
  REQUIRE(d.open(write_survey(without_readings(Json::parse(sample("small-l-kitchen"))))));
  d.show(Page::walk);
  REQUIRE(d.tap("Can’t reach"));
  REQUIRE(d.tap("old kitchen in the way"));
  const Room& room = d.app.session()->survey().rooms[0];
  REQUIRE(room.skipped.size() == 1);
  CHECK(room.skipped[0].what == "W1 length");
  CHECK(room.skipped[0].why == "old kitchen in the way");
  // Skip passes on without an edit, and comes round again.
  const int before = d.app.session()->version();
  REQUIRE(d.tap("Skip"));
  CHECK(d.app.session()->version() == before);
}

TEST_CASE("from nothing to legs: a new job, its walls, a run, its points and their readings") {
  DrivenApp d;
  REQUIRE(d.tap("New job"));
  REQUIRE(d.tap("reference"));
  d.window.type(d.app, "K-1");
  d.window.settle(d.app);
  REQUIRE(d.tap("4 corners"));
  REQUIRE(d.app.session());
  d.window.settle(d.app);
  REQUIRE(d.tap("Walk round"));
  for (const char* length : {"3000", "2400", "3000", "2400", "3842", "3842"}) {
    d.window.type(d.app, std::string(length) + "\n");
    d.window.settle(d.app);
  }
  const Session& s = *d.app.session();
  CHECK(s.results().rooms[0].plan.global_test == GlobalTest::pass);
  // Runs have a test of their own; here the run comes by an edit.
  REQUIRE(d.app.session()->apply(
      Json::parse(
          R"([{"op":"add","path":"/rooms/0/runs","value":[{"id":"S","wall":"W1","from_along":30,
        "starts_at":"wall","ends_at":"open","units":[{"id":"S1","width":600},{"id":"S2","width":600}]}]}])"),
      "run S"));
  REQUIRE(d.tap("Levels"));
  REQUIRE(d.tap("Skip"));  // the benchmark, later
  for (int i = 0; i < 40 && !d.has("Propose points"); ++i) {
    d.window.type(d.app, "1300\n");
    d.window.settle(d.app);
  }
  REQUIRE(d.tap("Propose points"));
  for (int i = 0; i < 40 && !d.has("Propose points"); ++i) {
    d.window.type(d.app, "1305\n");
    d.window.settle(d.app);
  }
  const auto& legs = d.app.session()->results().rooms[0].legs;
  REQUIRE(legs.size() == 8);
  for (const LegResult& leg : legs) CHECK(leg.height);
}

TEST_CASE("a tap on the title goes back to the jobs, and everything is safe there") {
  DrivenApp d;
  REQUIRE(d.open(sample("small-l-kitchen")));
  REQUIRE(d.tap("Jobs"));
  CHECK(d.app.page() == Page::jobs);
  CHECK(d.has(d.path));
  REQUIRE(d.tap(d.path));
  CHECK(d.app.page() == Page::job);
}

TEST_CASE("a file that is no survey is named with what was found, and nothing opens") {
  DrivenApp d;
  CHECK_FALSE(d.open("{\"format\": \"something else\"}"));
  CHECK(d.app.page() == Page::jobs);
  CHECK_FALSE(d.app.session());
}
