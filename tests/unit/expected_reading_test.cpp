#include "checks/expected_reading.h"

#include <doctest/doctest.h>

#include <cmath>

#include "survey/survey_file.h"
#include "tests/unit/simple_survey.h"
#include "tests/unit/true_rooms.h"

using namespace levelrun;

namespace {

Survey sample() {
  auto loaded = load_survey(SAMPLES "/small-l-kitchen.levelrun.json");
  REQUIRE(loaded.ok());
  return loaded.value().survey;
}

}  // namespace

TEST_CASE("a length is expected from the others, its own booking left out") {
  Survey survey = checked_l_room();
  for (Index w = 0; w < 6; ++w) {
    CAPTURE(w);
    const double truth = survey.rooms[0].walls[w].lengths[0].length;
    Survey slipped = survey;
    slipped.rooms[0].walls[w].lengths[0].length += 90;
    const auto expected = expected_length(slipped, 0, w, 900, 0);
    REQUIRE(expected);
    CHECK(expected->value.value == doctest::Approx(truth).epsilon(1e-6));
    CHECK(expected->value.sd > 0.5);
    CHECK(expected->value.sd < 10);
    CHECK(!expected->assumed);
    // 6 walls and 8 diagonals less itself.
    CHECK(expected->from == "from the other 13");
    // Not booked at all, it is expected to be the same.
    slipped.rooms[0].walls[w].lengths.clear();
    const auto unbooked = expected_length(slipped, 0, w, 900, std::nullopt);
    REQUIRE(unbooked);
    CHECK(unbooked->value.value == doctest::Approx(expected->value.value).epsilon(1e-9));
    CHECK(unbooked->value.sd == doctest::Approx(expected->value.sd).epsilon(1e-6));
  }
}

TEST_CASE("what others say does not rest on one of them that cannot be right") {
  Survey survey = checked_l_room();
  const double truth = survey.rooms[0].walls[0].lengths[0].length;
  survey.rooms[0].walls[2].lengths[0].length += 300;
  const auto expected = expected_length(survey, 0, 0, 900, 0);
  REQUIRE(expected);
  CHECK(std::abs(expected->value.value - truth) < 1);
  CHECK(expected->from == "from the other twelve");
}

TEST_CASE("an expected length off the plan's height is less certain, by the wall's lean") {
  // Nothing is known of the lean: 0 +- 4 mm/m, so at 1,900 (1 m up) sd² grows by 4².
  const Survey survey = checked_l_room();
  const auto at_900 = expected_length(survey, 0, 1, 900, 0);
  const auto at_1900 = expected_length(survey, 0, 1, 1900, std::nullopt);
  REQUIRE(at_900);
  REQUIRE(at_1900);
  CHECK(at_1900->value.sd > 4);
  CHECK(at_1900->value.sd < 4.5);
  CHECK(at_1900->value.value == doctest::Approx(at_900->value.value).epsilon(1e-6));
}

TEST_CASE("diagonals and corners are expected from the others") {
  const Survey survey = checked_l_room();
  const auto diagonal = expected_diagonal(survey, 0, 0, 2, 900, 0);
  REQUIRE(diagonal);
  CHECK(diagonal->value.value == doctest::Approx(between(l_room[0], l_room[2])).epsilon(1e-6));
  const auto turned = expected_diagonal(survey, 0, 5, 1, 900, std::nullopt);
  REQUIRE(turned);
  CHECK(turned->value.value == doctest::Approx(between(l_room[5], l_room[1])).epsilon(1e-6));
  for (Index c = 0; c < l_room.size(); ++c) {
    CAPTURE(c);
    const auto angle = expected_angle(survey, 0, c, std::nullopt);
    REQUIRE(angle);
    CHECK(angle->value.value == doctest::Approx(interior(l_room, c)).epsilon(1e-6));
    // Cosine rule: across² = a² + b² - 2 a b cos.
    const auto across = expected_across(survey, 0, c, 900, 1200, std::nullopt);
    REQUIRE(across);
    const double cosine = std::cos(interior(l_room, c) * pi / 180);
    CHECK(across->value.value ==
          doctest::Approx(std::sqrt(900 * 900 + 1200 * 1200 - 2 * 900 * 1200 * cosine)));
  }
}

TEST_CASE("with corners as noted alone a length is expected, widely, and says so") {
  Survey survey = room_of(square_room);
  survey.rooms[0].walls[2].lengths.clear();
  const auto third = expected_length(survey, 0, 2, 900, std::nullopt);
  REQUIRE(third);
  CHECK(third->assumed);
  CHECK(third->value.value == doctest::Approx(4200).epsilon(1e-3));
  CHECK(third->value.sd > 5);

  // The first wall alone says what the one opposite is, whatever the two between are.
  survey.rooms[0].walls[1].lengths.clear();
  survey.rooms[0].walls[3].lengths.clear();
  const auto opposite = expected_length(survey, 0, 2, 900, std::nullopt);
  REQUIRE(opposite);
  CHECK(opposite->assumed);
  CHECK(opposite->value.value == doctest::Approx(4200).epsilon(0.01));
  CHECK(opposite->value.sd > 20);
  // But nothing of its neighbour, and nothing at all before the first.
  CHECK(!expected_length(survey, 0, 1, 900, std::nullopt));
  survey.rooms[0].walls[0].lengths.clear();
  CHECK(!expected_length(survey, 0, 2, 900, std::nullopt));
  CHECK(!expected_angle(survey, 0, 0, std::nullopt));
}

TEST_CASE("a staff is expected from the floor round it, or from the point as read before") {
  // A plane floor, 2 mm/m along x: staff = 1000 - height.
  Survey survey = simple_survey(0.3);
  read_grid(survey, 2400, 1200, 600, [](double x, double) { return x * 0.002; });
  Levels& levels = survey.rooms[0].levels;
  const Index count = levels.setups[0].readings.size();
  for (Index r = 1; r < count; ++r) {
    CAPTURE(r);
    Survey slipped = survey;
    slipped.rooms[0].levels.setups[0].readings[r].staff += 90;
    const auto expected = expected_staff(slipped, 0, levels.setups[0].readings[r].point, 0, r);
    REQUIRE(expected);
    CHECK(expected->value.value ==
          doctest::Approx(levels.setups[0].readings[r].staff).epsilon(2e-4));
    CHECK(expected->value.sd > 0.1);
    CHECK(expected->value.sd < 5);
  }
  // Raised by 250: every staff expected is 250 more, however well.
  const auto before = expected_staff(survey, 0, 5, 0, 5);
  for (StaffReading& r : levels.setups[0].readings) r.staff += 250;
  const auto after = expected_staff(survey, 0, 5, 0, 5);
  REQUIRE(before);
  REQUIRE(after);
  CHECK(after->value.value - before->value.value == doctest::Approx(250));
  CHECK(after->value.sd == doctest::Approx(before->value.sd));

  // The benchmark again: as the first time, sd that of one reading.
  const auto benchmark = expected_staff(survey, 0, 0, 0, std::nullopt);
  REQUIRE(benchmark);
  CHECK(benchmark->value.value == doctest::Approx(1250));
  CHECK(benchmark->value.sd == doctest::Approx(0.3).epsilon(0.01));
  CHECK(benchmark->from == "from its other reading");

  // A second set-up: nothing before it has a reading, then the plane is 100 higher than the first.
  SetUp second;
  second.id = "T";
  second.instrument = 0;
  levels.setups.push_back(second);
  CHECK(!expected_staff(survey, 0, 3, 1, std::nullopt));
  levels.setups[1].readings.push_back({0, 1350, {}});
  const auto shared = expected_staff(survey, 0, 3, 1, std::nullopt);
  REQUIRE(shared);
  CHECK(shared->value.value == doctest::Approx(levels.setups[0].readings[3].staff + 100));
  // Three readings of one instrument: two of the benchmark, one of the point.
  CHECK(shared->value.sd == doctest::Approx(0.3 * std::sqrt(3.0)).epsilon(0.01));
}

TEST_CASE("a staff on a floor not read yet, or on an unread mark, is not expected") {
  Survey survey = simple_survey();
  LevelPoint point;
  point.id = "P";
  point.place = Place{{}, 0, 0, 500, -500, 10};
  survey.rooms[0].levels.points.push_back(point);
  CHECK(!expected_staff(survey, 0, 1, 0, std::nullopt));
  read_floor(survey, 300, -300, 4);
  CHECK(expected_staff(survey, 0, 1, 0, std::nullopt));
  survey.rooms[0].levels.points[1].off_floor = true;
  CHECK(!expected_staff(survey, 0, 1, 0, std::nullopt));
}

TEST_CASE("an offset is expected from the face about it") {
  // Leaning 3 mm/m and running 2 mm/m away from the reference: a plane, told exactly.
  Survey survey = room_of(square_room);
  Wall& wall = survey.rooms[0].walls[0];
  Instrument gauge;
  gauge.sd = 0.5;
  survey.instruments.push_back(gauge);
  for (const double height : {100.0, 900.0, 2000.0})
    for (const double along : {50.0, 1000.0, 2000.0, 3000.0, 4150.0})
      wall.offsets.push_back({along, height, 60 + along * 0.002 + height * 0.003, 0});
  for (Index i = 0; i < wall.offsets.size(); ++i) {
    CAPTURE(i);
    Survey slipped = survey;
    slipped.rooms[0].walls[0].offsets[i].offset += 20;
    const auto expected =
        expected_offset(slipped, 0, 0, wall.offsets[i].along, wall.offsets[i].height, i);
    REQUIRE(expected);
    CHECK(std::abs(expected->value.value - wall.offsets[i].offset) < 0.1);
    CHECK(expected->value.sd < 4);
    CHECK(expected->from == "from the other 14 on this wall");
  }
  // Between references of the `line` kind only readings at that height compare.
  wall.offsets_from = OffsetsFrom::line;
  const auto line = expected_offset(survey, 0, 0, 1500, 900, std::nullopt);
  REQUIRE(line);
  CHECK(line->from == "from the other five on this wall");
  CHECK(!expected_offset(survey, 0, 0, 1500, 1400, std::nullopt));
}

TEST_CASE("a ceiling is expected from the mean of the others") {
  Survey survey = simple_survey();
  Room& room = survey.rooms[0];
  CHECK(!expected_ceiling(survey, 0, std::nullopt, std::nullopt));
  for (const double clear : {2400.0, 2410.0, 2420.0})
    room.ceilings.push_back({Place{}, {clear, {}}, {}});
  const auto expected = expected_ceiling(survey, 0, std::nullopt, 1);
  REQUIRE(expected);
  CHECK(expected->value.value == 2410);
  // (2 * 10² + 10² + 10²) / (2 + 1) = 133.3, times 1 + 1/2 = 200.
  CHECK(expected->value.sd == doctest::Approx(std::sqrt(200.0)));
  CHECK(expected->from == "from the other two");
  CHECK(!expected_ceiling(survey, 0, 0, std::nullopt));
}

TEST_CASE("every reading of the sample is as the others expect it") {
  const Survey survey = sample();
  const Room& room = survey.rooms[0];
  int count = 0;
  const auto agrees = [&](const std::optional<Expected>& e, double booked, double sd) {
    REQUIRE(e);
    CHECK(std::abs(e->value.value - booked) < 4.13 * std::hypot(e->value.sd, sd));
    ++count;
  };
  for (Index w = 0; w < room.walls.size(); ++w) {
    const Wall& wall = room.walls[w];
    for (Index k = 0; k < wall.lengths.size(); ++k)
      agrees(expected_length(survey, 0, w, wall.lengths[k].height, k), wall.lengths[k].length, 1);
    for (Index k = 0; k < wall.offsets.size(); ++k)
      agrees(expected_offset(survey, 0, w, wall.offsets[k].along, wall.offsets[k].height, k),
             wall.offsets[k].offset, 0.5);
  }
  for (Index k = 0; k < room.diagonals.size(); ++k)
    agrees(expected_diagonal(survey, 0, room.diagonals[k].from, room.diagonals[k].to, 900, k),
           room.diagonals[k].length, 1);
  const SetUp& setup = room.levels.setups[0];
  for (Index k = 0; k < setup.readings.size(); ++k)
    agrees(expected_staff(survey, 0, setup.readings[k].point, 0, k), setup.readings[k].staff, 0.7);
  CHECK(count == 11 + 23 + 4 + 24);
}

TEST_CASE("what is not there is not expected") {
  const Survey survey = sample();
  CHECK(!expected_length(survey, 7, 0, 900, std::nullopt));
  CHECK(!expected_length(survey, 0, 99, 900, std::nullopt));
  CHECK(!expected_diagonal(survey, 0, 1, 1, 900, std::nullopt));
  CHECK(!expected_angle(survey, 0, 99, std::nullopt));
  CHECK(!expected_staff(survey, 0, 999, 0, std::nullopt));
  CHECK(!expected_offset(survey, 0, 99, 0, 0, std::nullopt));
  CHECK(!expected_ceiling(survey, 9, std::nullopt, std::nullopt));
}
