// Turns of simple outlines add up to 360 degrees: plane geometry, no source needed.
#include "app/entry/walked_outline.h"

#include <doctest/doctest.h>

using namespace levelrun;

namespace {

std::vector<WalkedWall> walk(const std::vector<double>& turns, double rough = 3000) {
  std::vector<WalkedWall> out;
  for (const double turn : turns) out.push_back({rough, turn});
  out.push_back({rough, {}});
  return out;
}

}  // namespace

TEST_CASE("three right turns and the way back make a square room") {
  const auto walls = walk({90, 90, 90});
  CHECK(cannot_end(walls).empty());
  CHECK(corner_angles(walls) == std::vector<double>{90, 90, 90, 90});
  const auto corners = walked_corners(walls, 2500);
  REQUIRE(corners.size() == 5);
  CHECK(corners[2].x == doctest::Approx(3000));
  CHECK(corners[2].y == doctest::Approx(-3000));  // clockwise: the room lies below the first wall
  CHECK(corners[4].x == doctest::Approx(0));
  CHECK(corners[4].y == doctest::Approx(0));
  CHECK_FALSE(missed_by(walls));
}

TEST_CASE("a left turn is a corner that juts into the room") {
  // An L: C1 C2 C3 C4 then the re-entrant C5, then C6.
  CHECK(corner_angles(walk({90, 90, 90, -90, 90})) == std::vector<double>{90, 90, 90, 90, 270, 90});
}

TEST_CASE("a corner cut off by 45 takes two turns of 45") {
  const auto walls = walk({90, 90, 45, 45});
  CHECK(corner_angles(walls) == std::vector<double>{90, 90, 90, 135, 135});
}

TEST_CASE("what cannot be a room does not end") {
  CHECK_FALSE(cannot_end(walk({90})).empty());                      // two walls
  CHECK_FALSE(cannot_end(walk({90, 90, -90})).empty());             // 270 left
  CHECK_FALSE(cannot_end(walk({90, 90, 90, 90, 90, 90})).empty());  // -180
  CHECK_FALSE(cannot_end(walk({90, 90, 90, 90})).empty());          // straight on
  CHECK(cannot_end(walk({90, 90, 90, 90, -90})).empty());
}

TEST_CASE("paced lengths that miss the start by far are doubted, a few paces are not") {
  auto walls = walk({90, 90, 90});
  walls[1].rough = 3500;
  CHECK_FALSE(missed_by(walls));
  walls[1].rough = 6000;
  REQUIRE(missed_by(walls));
  CHECK(*missed_by(walls) == doctest::Approx(3000));
  walls[0].rough.reset();
  CHECK_FALSE(missed_by(walls));  // nobody can say
}
