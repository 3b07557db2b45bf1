#include "checks/profile.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

namespace levelrun {
namespace {

using Profile = std::vector<ProfilePoint>;

// A wall read at 900 high, offsets 7.0 2.5 0 3.5 0 1.5 7.0, as heights towards the room.
const Profile waisted_wall = {{0, -7},   {600, -2.5},  {1200, 0}, {1800, -3.5},
                              {2400, 0}, {3000, -1.5}, {3620, -7}};

Profile random_profile(std::mt19937& random, int points) {
  Profile profile;
  double along = 0;
  for (int i = 0; i < points; ++i) {
    // Whole mm, so that equal places, equal heights and straight stretches all occur.
    along += static_cast<double>(random() % 4) * 100;
    profile.push_back({along, static_cast<double>(random() % 7)});
  }
  return profile;
}

// The least concave line over the points, by definition: the highest of all chords at a place.
double highest_chord(const Profile& profile, double along) {
  double highest = -HUGE_VAL;
  for (const ProfilePoint& a : profile)
    for (const ProfilePoint& b : profile) {
      if (a.along > along || b.along < along) continue;
      const double t = b.along > a.along ? (along - a.along) / (b.along - a.along) : 0;
      highest = std::max(highest, a.height + t * (b.height - a.height));
    }
  return highest;
}

}  // namespace

TEST_CASE("the hull of nothing is nothing and of one point that point") {
  CHECK(upper_hull(Profile{}).empty());
  const Profile one = {{5, 3}};
  REQUIRE(upper_hull(one).size() == 1);
  CHECK(upper_hull(one)[0].height == 3);
}

TEST_CASE(
    "of points at one place the highest counts, and straight stretches have no inner points") {
  const Profile profile = {{0, 1}, {0, 2}, {100, 2}, {200, 2}, {200, 0}};
  const Profile hull = upper_hull(profile);
  REQUIRE(hull.size() == 2);
  CHECK(hull[0].height == 2);
  CHECK(hull[1].along == 200);
  CHECK(hull[1].height == 2);
}

TEST_CASE("the hull is the highest chord everywhere, for any profile") {
  std::mt19937 random(20240);
  for (int trial = 0; trial < 400; ++trial) {
    CAPTURE(trial);
    const Profile profile = random_profile(random, 1 + trial % 15);
    const Profile hull = upper_hull(profile);
    const auto back = [](const ProfilePoint& a, const ProfilePoint& b) {
      return b.along <= a.along;
    };
    CHECK(std::adjacent_find(hull.begin(), hull.end(), back) == hull.end());
    for (double along = 0; along <= profile.back().along; along += 50) {
      if (along < profile.front().along) continue;
      CAPTURE(along);
      CHECK(height_on(hull, along) ==
            doctest::Approx(highest_chord(profile, along)).epsilon(1e-12));
    }
    for (std::size_t i = 2; i < hull.size(); ++i) {
      const auto slope = [&](std::size_t j) {
        return (hull[j].height - hull[j - 1].height) / (hull[j].along - hull[j - 1].along);
      };
      CHECK(slope(i) < slope(i - 1));
    }
  }
}

TEST_CASE("a line goes on straight beyond its ends") {
  const Profile line = {{0, 0}, {100, 10}, {300, 10}};
  CHECK(height_on(line, -100) == -10);
  CHECK(height_on(line, 50) == 5);
  CHECK(height_on(line, 100) == 10);
  CHECK(height_on(line, 200) == 10);
  CHECK(height_on(line, 900) == 10);
  CHECK(height_on(Profile{{40, 7}}, 900) == 7);
}

TEST_CASE("a worktop rests on the two points that straddle its middle") {
  const RestingLine rest = resting_line(waisted_wall);
  CHECK(rest.left == 1200);
  CHECK(rest.right == 2400);
  CHECK(rest.slope == 0);
  CHECK(rest.gap == doctest::Approx(7.0));
  CHECK_FALSE(rest.rocks);
}

TEST_CASE("a worktop rocks on one proud point at its middle, held halfway") {
  const RestingLine rest = resting_line(Profile{{0, -5}, {1000, 0}, {2000, -9}});
  CHECK(rest.rocks);
  CHECK(rest.left == 1000);
  CHECK(rest.right == 1000);
  CHECK(rest.gap == doctest::Approx(7.0));  // 5 and 9 shared
  CHECK(rest.height == 0);
  CHECK(rest.slope == doctest::Approx(-0.002));
}

TEST_CASE("a proud point within 20 mm of the middle still carries the worktop alone") {
  CHECK(resting_line(Profile{{0, -5}, {1010, 0}, {2000, -9}}).rocks);
  const RestingLine rest = resting_line(Profile{{0, -5}, {1030, 0}, {2000, -9}});
  CHECK_FALSE(rest.rocks);
  CHECK(rest.left == 0);
  CHECK(rest.right == 1030);
}

TEST_CASE("a crown too slight to feel does not rock") {
  const Profile slight = {{0, -0.2}, {1000, 0}, {2000, -0.2}};
  CHECK_FALSE(resting_line(slight).rocks);
  CHECK(resting_line(slight).gap == doctest::Approx(0.4));  // it lies on one side of the crown
  CHECK(resting_line(slight, 0.1).rocks);
}

TEST_CASE("a hollow wall carries a worktop on its ends, the gap in between") {
  const RestingLine rest = resting_line(Profile{{0, 1}, {500, -4}, {1500, -2}, {2000, 3}});
  CHECK(rest.left == 0);
  CHECK(rest.right == 2000);
  CHECK(rest.gap == doctest::Approx(5.5));  // 1.5 above -4
  CHECK_FALSE(rest.rocks);
}

TEST_CASE("one reading is touched and leaves no gap") {
  const RestingLine rest = resting_line(Profile{{300, 2}});
  CHECK(rest.left == 300);
  CHECK(rest.right == 300);
  CHECK(rest.height == 2);
  CHECK(rest.gap == 0);
  CHECK_FALSE(rest.rocks);
}

TEST_CASE("pushing a profile away or turning it moves the resting line with it") {
  std::mt19937 random(7);
  for (int trial = 0; trial < 200; ++trial) {
    CAPTURE(trial);
    const Profile profile = random_profile(random, 2 + trial % 12);
    Profile moved = profile;
    for (ProfilePoint& p : moved) p.height += 1000 + 0.25 * p.along;
    const RestingLine a = resting_line(profile), b = resting_line(moved);
    CHECK(b.left == a.left);
    CHECK(b.right == a.right);
    CHECK(b.rocks == a.rocks);
    CHECK(b.gap == doctest::Approx(a.gap).epsilon(1e-9));
    // Nothing stands proud of the line it rests on, and it does touch.
    double nearest = HUGE_VAL;
    for (const ProfilePoint& p : profile)
      nearest = std::min(nearest, a.height + a.slope * (p.along - a.left) - p.height);
    CHECK(nearest == doctest::Approx(0).epsilon(1e-9));
  }
}

}  // namespace levelrun
