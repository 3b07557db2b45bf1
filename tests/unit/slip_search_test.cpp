#include <doctest/doctest.h>

#include <cmath>

#include "checks/room_plan.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

// A rectangle, 3,620 by 2,950, each wall once and both diagonals: one spare measurement.
Survey rectangle(double w1 = 3620, double w2 = 2950) {
  Survey survey;
  survey.job.reference = "SL-1";
  Room room;
  room.id = "K";
  for (const char* id : {"C1", "C2", "C3", "C4"}) room.corners.push_back({id, 90});
  const double lengths[] = {w1, w2, 3620, 2950};
  for (Index i = 0; i < 4; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % 4;
    wall.lengths = {{900, 0, lengths[i], {}}};
    room.walls.push_back(wall);
  }
  const double diagonal = std::round(std::hypot(3620, 2950));
  room.diagonals = {{0, 2, diagonal, 900, {}}, {1, 3, diagonal, 900, {}}};
  survey.rooms.push_back(room);
  return survey;
}

}  // namespace

TEST_CASE("with one spare measurement, where residuals locate nothing, the slip is named") {
  const struct {
    double w1, w2, value;
    const char *at, *kind;
  } cases[] = {
      {3260, 2950, 3620, "/rooms/0/walls/0/lengths/0", "digits swapped"},
      {3620, 2590, 2950, "/rooms/0/walls/1/lengths/0", "digits swapped"},
      {3520, 2950, 3620, "/rooms/0/walls/0/lengths/0", "100 or 1000 out"},
      {3720, 2950, 3620, "/rooms/0/walls/0/lengths/0", "read from the tape's 100 mark"},
      {2620, 2950, 3620, "/rooms/0/walls/0/lengths/0", "100 or 1000 out"},
      {3320, 2950, 3620, "/rooms/0/walls/0/lengths/0", "digit misread"},
      {362, 2950, 3620, "/rooms/0/walls/0/lengths/0", "cm for mm"},
      {3.62, 2950, 3620, "/rooms/0/walls/0/lengths/0", "m for mm"},
  };
  for (const auto& c : cases) {
    CAPTURE(c.w1);
    CAPTURE(c.w2);
    const Survey survey = rectangle(c.w1, c.w2);
    const RoomPlan plan = adjust_room(survey, 0);
    CHECK(plan.summary.global_test != GlobalTest::pass);
    REQUIRE(!plan.summary.suspects.empty());
    const Suspect& first = plan.summary.suspects[0];
    CHECK(first.at == c.at);
    CHECK(first.value == c.value);
    CHECK(first.kind == std::string(c.kind));
    double total = 0;
    for (const Suspect& s : plan.summary.suspects) total += s.probability;
    CHECK(total <= 1 + 1e-9);
    CHECK(first.probability > 0.5);
  }
}

TEST_CASE("a room that closes has no suspects, and nothing booked is ever replaced") {
  CHECK(adjust_room(rectangle(), 0).summary.suspects.empty());
  const RoomPlan plan = adjust_room(rectangle(3260), 0);
  CHECK(plan.observations[0].measured == 3260);
}

TEST_CASE("a slip that does not fit is not offered, and its odds are not told") {
  // No slip of the hand makes 3,620 of 1,777: the digits swapped or one misread stay 500 and more
  // off, 100 or 1,000 leave 843, and it is more than 1,000 out.
  const RoomPlan plan = adjust_room(rectangle(1777), 0);
  CHECK(plan.summary.global_test != GlobalTest::pass);
  const auto of_wall = [](const Suspect& s) {
    return s.at == "/rooms/0/walls/0/lengths/0" && std::abs(s.value - 3620) > 30;
  };
  for (const Suspect& s : plan.summary.suspects) CHECK_FALSE(of_wall(s));
  for (const Finding& f : plan.findings) {
    CAPTURE(f.says);
    CHECK(f.says.find("100 %") == f.says.npos);
    CHECK(f.says.find("Likeliest") == f.says.npos);
  }
  // One that fits and closes the room has its odds.
  bool told = false;
  for (const Finding& f : adjust_room(rectangle(3260), 0).findings)
    told = told || f.says.find("is 3620, digits swapped (") != f.says.npos;
  CHECK(told);
}

TEST_CASE("what nothing checks is named with the diagonal that would check it best") {
  // Three walls and one diagonal leave W1 and the rest without a spare measurement.
  Survey survey = rectangle();
  survey.rooms[0].diagonals.pop_back();
  const RoomPlan before = adjust_room(survey, 0);
  REQUIRE(before.known);
  bool unchecked = false;
  for (const ObservationResult& o : before.observations)
    unchecked = unchecked || o.verdict == Agreement::unchecked;
  REQUIRE(unchecked);
  REQUIRE(before.summary.measure_next.size() == 1);
  CHECK(before.summary.measure_next[0].what == "diagonal C2 to C4");

  // Taking it does check them all: nothing stays unchecked.
  survey.rooms[0].diagonals.push_back({1, 3, std::round(std::hypot(3620, 2950)), 900, {}});
  for (const ObservationResult& o : adjust_room(survey, 0).observations)
    CHECK(o.verdict == Agreement::agrees);
}

TEST_CASE("a wall misbooked alike at all its heights is one slip, named and left out") {
  // W3 is 3,620; with 3,260 booked at all three heights the two diagonals still make it 3,620.
  const struct {
    double shift;
    const char* kind;
  } cases[] = {{-360, "digits swapped at all its heights"},
               {-100, "100 or 1000 out at all its heights"},
               {-1000, "100 or 1000 out at all its heights"}};
  for (const auto& c : cases) {
    CAPTURE(c.shift);
    Survey survey = rectangle();
    for (Wall& wall : survey.rooms[0].walls) {
      const double length = wall.lengths[0].length;
      wall.lengths = {{100, 0, length - 2, {}}, {900, 0, length, {}}, {2000, 0, length + 3, {}}};
    }
    std::vector<Diagonal>& diagonals = survey.rooms[0].diagonals;
    diagonals.insert(diagonals.end(), {diagonals[0], diagonals[1]});
    for (WallLength& l : survey.rooms[0].walls[2].lengths) l.length += c.shift;
    const RoomPlan plan = adjust_room(survey, 0);
    CHECK(plan.summary.global_test == GlobalTest::cured);
    REQUIRE(!plan.summary.suspects.empty());
    CHECK(plan.summary.suspects[0].at == "/rooms/0/walls/2/lengths/1");
    CHECK(plan.summary.suspects[0].kind == c.kind);
    CHECK(plan.summary.suspects[0].value == 3620);
    CHECK(plan.summary.suspects[0].probability > 0.5);
    for (const ObservationResult& o : plan.observations) {
      CAPTURE(o.at);
      CHECK((o.verdict == Agreement::rejected) == o.at.starts_with("/rooms/0/walls/2/"));
    }
    REQUIRE(plan.known);
    CHECK(std::abs(plan.walls[2].length - 3620) < 6);
  }
}

TEST_CASE("a wall whose heights disagree is not taken as misbooked alike") {
  Survey survey = rectangle();
  for (Wall& wall : survey.rooms[0].walls) {
    const double length = wall.lengths[0].length;
    wall.lengths = {{100, 0, length, {}}, {900, 0, length, {}}, {2000, 0, length, {}}};
  }
  survey.rooms[0].walls[0].lengths[1].length = 3260;
  const RoomPlan plan = adjust_room(survey, 0);
  REQUIRE(!plan.summary.suspects.empty());
  CHECK(plan.summary.suspects[0].at == "/rooms/0/walls/0/lengths/1");
  CHECK(plan.summary.suspects[0].kind == "digits swapped");
  CHECK(plan.summary.suspects[0].value == 3620);
}
