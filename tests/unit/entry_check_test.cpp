#include "checks/entry_check.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "checks/human_slips.h"

using namespace levelrun;

namespace {

Expected expected(double value, double sd, bool assumed = false) {
  return {{value, sd}, assumed, "from the other five"};
}

}  // namespace

TEST_CASE(
    "a staff is not asked about a tape's 100 mark, and no slip is offered that does not fit") {
  // 1433 booked for 1343: 1333, which the tape's mark would have explained, is as near.
  const Expected expected{{1333, 10}, false, {}};
  const EntryCheck staff = entry_check(ReadingKind::staff, 1433, expected, 0.7);
  REQUIRE(staff.slip);
  CHECK(staff.slip->value == 1343);
  CHECK(staff.slip->kind == "digits swapped");
  // 3.2 for 3200: nothing that a hand does to 3.2 comes near.
  CHECK_FALSE(entry_check(ReadingKind::length, 3.2, Expected{{3202.8, 3.3}, false, {}}, 1).slip);
}

TEST_CASE("a typed number is judged against what the others say") {
  // sd 1.5 and 0.7 together are 1.655; the limits lie 4.13 * 1.655 = 6.84 apart from 1287, the
  // band is 1.96 * 0.7 = 1.37: within to 5.46, outside from 8.21.
  const struct {
    double typed;
    Verdict verdict;
    const char* says;
  } cases[] = {
      {1287, Verdict::within, "agrees with the others to 0"},
      {1288.4, Verdict::within, "agrees with the others to 1.4"},
      {1282, Verdict::within, "agrees with the others to 5"},
      {1281, Verdict::doubtful, "6 short"},
      {1294.5, Verdict::doubtful, "7.5 long"},
      {1278, Verdict::outside, "9 short"},
      {1358.4, Verdict::outside, "71 long"},
  };
  for (const auto& c : cases) {
    CAPTURE(c.typed);
    const EntryCheck check = entry_check(ReadingKind::staff, c.typed, expected(1287, 1.5), 0.7);
    CHECK(check.refused == "");
    CHECK(check.verdict == c.verdict);
    CHECK(check.says == c.says);
    CHECK(check.difference == doctest::Approx(c.typed - 1287));
    REQUIRE(check.vial);
    CHECK(check.vial->low == doctest::Approx(1287 - 6.8366).epsilon(1e-5));
    CHECK(check.vial->high == doctest::Approx(1287 + 6.8366).epsilon(1e-5));
    CHECK(check.vial->band_high - check.vial->band_low == doctest::Approx(2 * 1.96 * 0.7));
  }
}

TEST_CASE("the slip that explains a number is named with what it should have been") {
  const struct {
    double typed, others;
    const char *words, *kind;
    double value;
  } cases[] = {
      {1278, 1287, "Two digits swapped?", "digits swapped", 1287},
      {2345, 2434, "Two digits swapped?", "digits swapped", 2435},
      {3721, 3621.5, "Read from the tape's 100 mark?", "read from the tape's 100 mark", 3621},
      {3521, 3621.5, "100 or 1000 out?", "100 or 1000 out", 3621},
      {362, 3621.5, "cm for mm?", "cm for mm", 3620},
      {12.412, 12413, "Metres for mm?", "m for mm", 12412},
      {143, 3632, "Inches for mm?", "inches for mm", 143 * 25.4},
      {3651, 3621, "One digit misread?", "digit misread", 3621},
  };
  for (const auto& c : cases) {
    CAPTURE(c.typed);
    const EntryCheck check = entry_check(ReadingKind::length, c.typed, expected(c.others, 1.5), 1);
    CHECK(check.verdict != Verdict::within);
    REQUIRE(check.slip);
    CHECK(check.slip->words == c.words);
    CHECK(check.slip->kind == c.kind);
    CHECK(check.slip->value == doctest::Approx(c.value));
    CHECK(check.slip->probability > 0.3);
    CHECK(check.slip->probability <= 1);
  }
}

TEST_CASE("no slip is named where none explains it, where it agrees, or where none is typed") {
  CHECK(!entry_check(ReadingKind::length, 2435, expected(2435, 1.5), 1).slip);
  CHECK(!entry_check(ReadingKind::length, 2435, expected(2420, 1), 1).slip);
  CHECK(!entry_check(ReadingKind::angle, 98, expected(89, 0.2), 0.3).slip);
  CHECK(!entry_check(ReadingKind::offset, 75, expected(57, 0.5), 0.5).slip);
  // A number that is hardly checked is not accused: swapped digits would fit no better.
  CHECK(!entry_check(ReadingKind::length, 2435, expected(2400, 40), 1).slip);
}

TEST_CASE("a difference is said in the words of what was read") {
  CHECK(entry_check(ReadingKind::offset, 63, expected(60, 0.3), 0.3).says == "3 hollow");
  CHECK(entry_check(ReadingKind::offset, 57, expected(60, 0.3), 0.3).says == "3 proud");
  CHECK(entry_check(ReadingKind::angle, 92.4, expected(90, 0.2), 0.2).says == "2.4° wide");
  CHECK(entry_check(ReadingKind::angle, 87, expected(90, 0.2), 0.2).says == "3.0° narrow");
  CHECK(entry_check(ReadingKind::angle, 90.1, expected(90, 0.2), 0.2).says ==
        "agrees with the others to 0.1°");
  CHECK(entry_check(ReadingKind::ceiling, 2300, expected(2400, 10), 1).says == "100 low");
  CHECK(entry_check(ReadingKind::length, 3000, expected(3010, 8, true), 2).says ==
        "agrees with the corners as noted to 10");
  // So little is known that nearly anything agrees.
  CHECK(entry_check(ReadingKind::length, 3000, expected(3010, 30, true), 2).says ==
        "checked only to ±59");
}

TEST_CASE("without others a number is only asked whether it can be") {
  const EntryCheck check = entry_check(ReadingKind::length, 2435, std::nullopt, 1);
  CHECK(check.refused == "");
  CHECK(!check.verdict);
  CHECK(!check.vial);
  CHECK(check.says == "");
}

TEST_CASE("impossible numbers are refused in words, whatever the others say") {
  const double infinity = std::numeric_limits<double>::infinity();
  const struct {
    ReadingKind kind;
    double value;
    const char* refused;
  } cases[] = {
      {ReadingKind::length, 0, "must be over 0"},
      {ReadingKind::length, -5, "must be over 0"},
      {ReadingKind::length, 100001, "over 100 m: no room is longer"},
      {ReadingKind::length, 100000, ""},
      {ReadingKind::diagonal, 0.5, "too short for a diagonal"},
      {ReadingKind::length, 9.9, "too short for a wall"},
      {ReadingKind::length, 10, ""},
      {ReadingKind::ceiling, 2.4, "too low for a ceiling"},
      {ReadingKind::size, 2.4, ""},
      {ReadingKind::staff, 0, "the floor lies below the level plane: over 0"},
      {ReadingKind::staff, 6001, "over 6 m: no staff is longer"},
      {ReadingKind::staff, 6000, ""},
      {ReadingKind::mark, -1200, ""},
      {ReadingKind::mark, 0, ""},
      {ReadingKind::mark, -6001, "over 6 m above the plane"},
      {ReadingKind::offset, 0, ""},
      {ReadingKind::offset, -12, ""},
      {ReadingKind::offset, 2100, "over 2 m behind the reference"},
      {ReadingKind::angle, 360, "an angle is under 360"},
      {ReadingKind::angle, 0, "must be over 0"},
      {ReadingKind::level, -350, ""},
      {ReadingKind::along, -1e6, "over 100 m: no room is longer"},
      {ReadingKind::size, 0, "must be over 0"},
      {ReadingKind::length, infinity, "a number, please"},
      {ReadingKind::length, std::nan(""), "a number, please"},
  };
  for (const auto& c : cases) {
    CAPTURE(c.value);
    CHECK(impossible(c.kind, c.value) == c.refused);
    const EntryCheck check = entry_check(c.kind, c.value, expected(1000, 1), 1);
    CHECK(check.refused == c.refused);
    CHECK(check.verdict.has_value() == check.refused.empty());
  }
}

TEST_CASE("the slips of a number and any other make all slips") {
  for (const double booked : {2435.0, 1287.0, 104.0, 90.5}) {
    CAPTURE(booked);
    double total = other_slip;
    for (const HumanSlip& slip : human_slips(booked)) {
      CHECK(slip.value != booked);
      total += slip.prior;
    }
    // The tape's 100 mark is no slip of a number under 100, metres are none of one above.
    CHECK(total == doctest::Approx(booked > 100 ? 0.98 : 0.92));
  }
  CHECK(human_slips(0).empty());
  CHECK(human_slips(-12).empty());
}

TEST_CASE("a refusal says what metres typed for millimetres, or three digits too many, meant") {
  const auto refused = [](ReadingKind kind, double typed, std::optional<Expected> others) {
    return entry_check(kind, typed, others, 1).refused;
  };
  CHECK(refused(ReadingKind::length, 2.412, {}) == "too short for a wall: 2412?");
  CHECK(refused(ReadingKind::length, 2.412, expected(2413, 1.5)) == "too short for a wall: 2412?");
  CHECK(refused(ReadingKind::length, 2.412, expected(3620, 1.5)) == "too short for a wall");
  CHECK(refused(ReadingKind::length, 2412000, {}) == "over 100 m: no room is longer. 2412?");
  CHECK(refused(ReadingKind::ceiling, 2.41, {}) == "too low for a ceiling: 2410?");
  CHECK(refused(ReadingKind::staff, 1343000, {}) == "over 6 m: no staff is longer. 1343?");
  // A first digit is not taken for metres yet, and what would be no wall either is not offered.
  CHECK(refused(ReadingKind::length, 2, {}) == "too short for a wall");
  CHECK(refused(ReadingKind::length, 0.02, {}) == "too short for a wall");
  CHECK(refused(ReadingKind::length, -2.412, {}) == "must be over 0");
}
