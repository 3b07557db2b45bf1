#include "app/entry/asks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "survey/survey_file.h"
#include "tests/unit/true_rooms.h"

using namespace levelrun;

namespace {

SurveyFile sample(const std::string& name) {
  auto loaded = load_survey(SAMPLES "/" + name + ".levelrun.json");
  REQUIRE(loaded.ok());
  return loaded.value();
}

Survey read(const Json& document) {
  auto survey = survey_from(document);
  REQUIRE(survey.ok());
  return survey.value();
}

// Everything that is read off an instrument, and the numbers that an opening or a service may lack.
void strip_readings(Json& document) {
  for (Json& room : document["rooms"]) {
    for (Json& wall : room["walls"]) {
      wall.erase("lengths");
      wall.erase("offsets");
    }
    for (const char* list : {"diagonals", "angles", "ceilings"}) room.erase(list);
    if (room.contains("levels"))
      for (Json& setup : room["levels"]["setups"]) setup.erase("readings");
    if (room.contains("openings"))
      for (Json& opening : room["openings"])
        for (const char* field : {"above", "undercut"}) opening.erase(field);
    if (room.contains("services"))
      for (Json& service : room["services"]) {
        for (const char* field : {"projection", "diameter"}) service.erase(field);
        if (!service.contains("wall")) service.erase("height");
      }
  }
}

std::vector<Ask> all_asks(const Survey& survey, Index room, const Protocol& protocol) {
  std::vector<Ask> asks = walk_asks(survey, room, protocol);
  const auto add = [&](std::vector<Ask> more) {
    for (Ask& ask : more) asks.push_back(std::move(ask));
  };
  add(level_asks(survey, room, protocol));
  for (Index w = 0; w < survey.rooms[room].walls.size(); ++w)
    add(wall_asks(survey, room, w, protocol));
  return asks;
}

const Ask* first_open(const std::vector<Ask>& asks) {
  const auto open = std::find_if(asks.begin(), asks.end(), [](const Ask& a) { return !a.booked; });
  return open == asks.end() ? nullptr : &*open;
}

const Ask& named(const std::vector<Ask>& asks, const std::string& name) {
  const auto found =
      std::find_if(asks.begin(), asks.end(), [&](const Ask& a) { return a.name == name; });
  if (found == asks.end()) FAIL("no ask named " << name);
  return *found;
}

// The document as a set of numbers: members in any order, lists in theirs.
nlohmann::json unordered(const Json& document) { return nlohmann::json::parse(document.dump()); }

}  // namespace

TEST_CASE("asked one by one and answered with the sample's numbers, a stripped sample comes back") {
  for (const char* name : {"small-l-kitchen", "u-shape-island", "knocked-through"}) {
    CAPTURE(name);
    const SurveyFile original = sample(name);
    Json document = original.document;
    strip_readings(document);
    std::size_t booked = 0;
    for (Index room = 0; room < original.survey.rooms.size(); ++room) {
      const Protocol protocol = protocol_of(original.survey, room);
      const std::vector<Ask> truth = all_asks(original.survey, room, protocol);
      CHECK(first_open(truth) == nullptr);
      for (std::size_t step = 0; step <= truth.size(); ++step) {
        const Survey now = read(document);
        const std::vector<Ask> asks = all_asks(now, room, protocol);
        REQUIRE(asks.size() == truth.size());
        const Ask* ask = first_open(asks);
        if (!ask) break;
        const Ask& answer = named(truth, ask->name);
        CHECK(answer.id == ask->id);
        const auto by = usual_instrument(original.survey, answer);
        document = document.patch(
            book_patch(document, *ask, *answer.value,
                       by ? std::optional(original.survey.instruments[*by].id) : std::nullopt));
        ++booked;
      }
      CHECK(first_open(all_asks(read(document), room, protocol)) == nullptr);
    }
    CHECK(booked > 30);
    CHECK(unordered(document) == unordered(original.document));
  }
}

TEST_CASE("asks have ids and names of their own, and say what they are of") {
  const SurveyFile file = sample("small-l-kitchen");
  const Protocol protocol = protocol_of(file.survey, 0);
  const std::vector<Ask> asks = all_asks(file.survey, 0, protocol);
  std::set<std::string> ids, names;
  for (const Ask& ask : asks) {
    CAPTURE(ask.name);
    CHECK(ids.insert(ask.id).second);
    CHECK(names.insert(ask.name).second);
    CHECK(!ask.caption.empty());
    REQUIRE(ask.booked);
    REQUIRE(file.document.contains(Json::json_pointer(*ask.booked)));
    CHECK(file.document.at(Json::json_pointer(*ask.booked)) == *ask.value);
    CHECK(entry_check(ask.kind, *ask.value, expected_for(file.survey, ask),
                      reading_sd(file.survey, ask, usual_instrument(file.survey, ask)))
              .refused == "");
  }
  const Ask& length = named(asks, "W3 length");
  CHECK(length.id == "rooms/0/walls/2/lengths@900");
  CHECK(length.caption == "at 900, C3 to C4");
  CHECK(length.at == "/rooms/0/walls/2/lengths/-");
  CHECK(length.booked == "/rooms/0/walls/2/lengths/0/length");
  CHECK(length.value == 1871);
  CHECK(named(asks, "W1 length at 2000").id == "rooms/0/walls/0/lengths@2000");
  CHECK(named(asks, "C5 to C2 diagonal").id == "rooms/0/diagonals@C5-C2");
  CHECK(named(asks, "BM from set-up A").value == 1341.5);
  CHECK(named(asks, "BM from set-up A, again").value == 1342.5);
  CHECK(named(asks, "BM from set-up A, again").id == "rooms/0/levels/setups/0/readings@BM#2");
  CHECK(named(asks, "window above").value == 325);
}

TEST_CASE("a length booked again is replaced, and its instrument with it") {
  const SurveyFile file = sample("small-l-kitchen");
  const std::vector<Ask> asks = walk_asks(file.survey, 0);
  const Json patch = book_patch(file.document, named(asks, "W3 length"), 1872.5, "GA");
  const Json document = file.document.patch(patch);
  const Json& length = document["rooms"][0]["walls"][2]["lengths"];
  CHECK(length.size() == 1);
  CHECK(length[0]["length"] == 1872.5);
  CHECK(length[0]["instrument"] == "GA");
  // Nothing else has changed.
  CHECK(Json::diff(file.document, document).size() == 2);
  CHECK(patch.size() == 2);
}

TEST_CASE("whole numbers are booked as people write them") {
  const SurveyFile file = sample("small-l-kitchen");
  const Ask ask = named(walk_asks(file.survey, 0), "W3 length");
  CHECK(book_patch(file.document, ask, 1872)[0]["value"].dump() == "1872");
  CHECK(book_patch(file.document, ask, 1872.5)[0]["value"].dump() == "1872.5");
}

TEST_CASE("what was skipped is not asked again, but what was booked still stands") {
  const SurveyFile file = sample("small-l-kitchen");
  Json document = file.document;
  strip_readings(document);
  const Survey before = read(document);
  const std::vector<Ask> asks = walk_asks(before, 0);
  const Ask skipped = named(asks, "W4 length");
  document = document.patch(skip_patch(document, skipped, "the dresser stands there"));
  CHECK(document["rooms"][0]["skipped"].size() == 1);
  CHECK(document["rooms"][0]["skipped"][0]["what"] == "W4 length");
  CHECK(document["rooms"][0]["skipped"][0]["why"] == "the dresser stands there");
  const std::vector<Ask> after = walk_asks(read(document), 0);
  CHECK(after.size() == asks.size() - 1);
  for (const Ask& ask : after) CHECK(ask.id != skipped.id);
  // A second one joins the list; measured after all, it is there again.
  document = document.patch(skip_patch(document, named(asks, "W5 length"), "no time"));
  CHECK(document["rooms"][0]["skipped"].size() == 2);
  document = document.patch(book_patch(document, skipped, 1051, "DM"));
  CHECK(named(walk_asks(read(document), 0), "W4 length").value == 1051);
}

TEST_CASE("a bare room is asked for what its kind usually needs") {
  Survey survey = room_of(square_room);
  for (Wall& wall : survey.rooms[0].walls) wall.lengths.clear();
  std::vector<Ask> asks = walk_asks(survey, 0);
  REQUIRE(asks.size() == 6);  // four walls at 900, two diagonals, no ceiling before a length
  CHECK(asks[0].name == "W1 length");
  CHECK(asks[3].name == "W4 length");
  CHECK(asks[4].name == "A to C diagonal");
  CHECK(asks[5].name == "B to D diagonal");
  // Heights used on one wall are asked again where units will stand, from the floor up.
  survey.rooms[0].walls[1].lengths = {{2000, 0, 3100, {}}, {100, 0, 3102, {}}};
  asks = walk_asks(survey, 0);
  CHECK(asks[0].name == "W1 length");
  CHECK(asks[1].value == 3102);
  CHECK(asks[2].value == 3100);
  CHECK(asks[3].name == "W3 length");
  Run run;
  run.wall = 0;
  survey.rooms[0].runs.push_back(run);
  asks = walk_asks(survey, 0);
  CHECK(asks[0].name == "W1 length at 100");
  CHECK(asks[1].name == "W1 length at 2000");

  // An L: from its re-entrant corner to the one opposite; and what the results want besides.
  Survey l = room_of(l_room);
  const MeasureNext wanted[] = {{"diagonal A to C", ""}, {"length of W2", ""}};
  asks = walk_asks(l, 0, usual_protocol(l, 0, wanted));
  CHECK(named(asks, "D to A diagonal").value == std::nullopt);
  CHECK(named(asks, "A to C diagonal").value == std::nullopt);
  CHECK(std::count_if(asks.begin(), asks.end(),
                      [](const Ask& a) { return a.kind == ReadingKind::diagonal; }) == 2);
}

TEST_CASE("levels are asked benchmark first and last, each point once, from the last set-up") {
  const SurveyFile file = sample("small-l-kitchen");
  Json document = file.document;
  Json& levels = document["rooms"][0]["levels"];
  levels["setups"][0]["readings"] =
      Json::parse(R"([{"point": "BM", "staff": 1341.5}, {"point": "P2", "staff": 1341}])");
  levels["setups"].push_back(Json::parse(R"({"id": "B", "instrument": "LL"})"));
  const std::vector<Ask> asks = level_asks(read(document), 0);
  // A keeps its two; B: benchmark, 21 points that A has not read, benchmark.
  REQUIRE(asks.size() == 2 + 1 + 21 + 1);
  CHECK(asks[0].name == "BM from set-up A");
  CHECK(asks[0].booked);
  CHECK(asks[1].name == "P2 from set-up A");
  CHECK(asks[2].name == "BM from set-up B");
  CHECK(asks[2].kind == ReadingKind::mark);
  CHECK(asks[3].name == "P1 from set-up B");
  CHECK(asks[4].name == "P3 from set-up B");
  CHECK(asks[4].kind == ReadingKind::staff);
  CHECK(asks.back().name == "BM from set-up B, again");
  CHECK(usual_instrument(read(document), asks[3]) == std::optional<Index>(1));
}

TEST_CASE("a furnished wall is asked every 600 at most, an unfurnished one nothing") {
  Survey survey = room_of(square_room);
  survey.rooms[0].walls[1].furnished = false;
  std::vector<Ask> asks = wall_asks(survey, 0, 0);
  // 4,200 less 50 at each end in 7 steps of 586: 8 places at 900.
  REQUIRE(asks.size() == 8);
  CHECK(asks.front().along == 50);
  CHECK(asks.back().along == 4150);
  for (std::size_t i = 1; i < asks.size(); ++i) {
    CHECK(asks[i].along - asks[i - 1].along <= 600);
    CHECK(asks[i].height == 900);
  }
  CHECK(wall_asks(survey, 0, 1).empty());
  // Readings that are there are not asked again beside themselves, but at their heights.
  survey.rooms[0].walls[0].offsets = {{60, 900, 55, {}}, {640, 900, 56, {}}, {60, 2000, 58, {}}};
  asks = wall_asks(survey, 0, 0);
  CHECK(asks.size() == 2 * 8);
  CHECK(asks[0].value == 55);
  CHECK(asks[1].value == 56);
  CHECK(asks[2].along == 1221);
  CHECK(asks[8].value == 58);
  CHECK(asks[9].along == 640);
  CHECK(!asks[9].booked);
}

TEST_CASE("openings and services are asked for what they lack") {
  const SurveyFile file = sample("small-l-kitchen");
  const std::vector<Ask> window = wall_asks(file.survey, 0, 0);
  CHECK(named(window, "window sill").booked);
  CHECK(named(window, "CW height").value == 420);
  const std::vector<Ask> door = wall_asks(file.survey, 0, 5);
  const Ask& above = named(door, "back door above");
  CHECK(!above.booked);
  const Json patch = book_patch(file.document, above, 361);
  CHECK(file.document.patch(patch)["rooms"][0]["openings"][1]["above"] == 361);
  CHECK(survey_from(file.document.patch(patch)).ok());
}

TEST_CASE("each ask knows what the others say of it, and by what it is read") {
  const SurveyFile file = sample("small-l-kitchen");
  const std::vector<Ask> asks = all_asks(file.survey, 0, protocol_of(file.survey, 0));
  for (const char* name :
       {"W3 length", "C1 to C3 diagonal", "P7 from set-up A", "W1 offset at 1810, 900 high",
        "ceiling at x 900, y −600", "C2 triangle, 900 and 1200 along the walls"}) {
    CAPTURE(name);
    const Ask& ask = named(asks, name);
    const auto expected = expected_for(file.survey, ask);
    REQUIRE(expected);
    CHECK(entry_check(ask.kind, *ask.value, expected, 1).verdict == Verdict::within);
  }
  CHECK(!expected_for(file.survey, named(asks, "window width")));
  CHECK(reading_sd(file.survey, named(asks, "W3 length"), std::nullopt) == 2);
  CHECK(reading_sd(file.survey, named(asks, "W3 length"), 0) == 1);
  CHECK(usual_instrument(file.survey, named(asks, "W1 offset at 1810, 900 high")) ==
        std::optional<Index>(2));
}

TEST_CASE("a corner between two walls that carry units is asked for after both, until it is read") {
  Json document = sample("small-l-kitchen").document;
  document["rooms"][0].erase("angles");
  const Survey survey = read(document);
  const auto asks = walk_asks(survey, 0);
  const auto angle = std::find_if(asks.begin(), asks.end(),
                                  [](const Ask& a) { return a.kind == ReadingKind::across; });
  REQUIRE(angle != asks.end());
  CHECK(angle->name == "C2 triangle, 900 and 1200 along the walls");
  CHECK((angle - 1)->name == "W2 length at 2000");
  CHECK((angle + 1)->name == "W3 length");
  // 3-4-5 of 900, 1200 and 1500, with the corner as square as the sample's.
  const auto expected = expected_for(survey, *angle);
  REQUIRE(expected);
  CHECK(std::abs(expected->value.value - 1500) < 6);

  // With a square on the job it is read in degrees.
  Json squared = document;
  squared["instruments"].push_back({{"id", "SQ"}, {"kind", "square"}, {"sd", 1}, {"sd_deg", 0.1}});
  const auto degrees = walk_asks(read(squared), 0);
  CHECK(named(degrees, "C2 angle").kind == ReadingKind::angle);
  CHECK(std::none_of(asks.begin(), asks.end(),
                     [](const Ask& a) { return a.name.starts_with("C1 triangle"); }));
}

TEST_CASE(
    "a triangle's legs are no longer than its walls, and there are none where it would not fit") {
  Survey survey = read(sample("small-l-kitchen").document);
  Room& r = survey.rooms[0];
  using Legs = std::vector<std::pair<double, double>>;
  CHECK(usual_legs(r, 1) == Legs{{900, 1200}, {1200, 1600}, {600, 800}});
  // C4: W3 of 1871 ends there, W4 of 1051 begins there.
  CHECK(usual_legs(r, 3) == Legs{{1200, 900}, {600, 800}});
  CHECK(usual_legs(r, 4).empty());  // C5 juts into the room
}

TEST_CASE("places wanted besides are asked for once more than they were read") {
  const Survey survey = read(sample("small-l-kitchen").document);
  Protocol usual = usual_protocol(survey, 0), more;
  const std::size_t angles = usual.angles.size(), diagonals = usual.diagonals.size();
  more.walls.resize(usual.walls.size());
  more.angles = {usual.angles[0], usual.angles[0]};
  more.diagonals = {usual.diagonals[0]};
  more.walls[5].lengths = {{100, 0}};
  add_places(usual, more);
  CHECK(usual.angles.size() == angles + 1);
  CHECK(usual.diagonals.size() == diagonals);
  CHECK(usual.walls[5].lengths.front().height == 100);
}
