#include "checks/two_peg.h"

#include <doctest/doctest.h>

using namespace levelrun;

TEST_CASE("published two-peg tests give their collimation and corrected readings") {
  // Readings of the page in m, here in mm. P2: the page gives reduced levels that differ by
  // 0.630 and takes them as the readings' difference; an arithmetic check of the rule only.
  struct Row {
    const char* source;
    TwoPegTest test;
    double collimation, corrected_a, corrected_b;
  };
  const Row rows[] = {
      {"P1, curioustab.com 66910", {1320, 1560, 1110, 1390, 10, 90}, 0.5, 1105, 1345},
      {"P2, curioustab.com 66998", {0, 630, 2847, 3462, 25, 50}, -0.6, 2862, 3492},
      {"P3, watch-this.online two-peg problem; result ours",
       {2000, 3000, 1500, 2750, 120, 20},
       -2.5,
       1800,
       2800},
  };
  for (const Row& row : rows) {
    CAPTURE(row.source);
    const auto found = collimation_of(row.test);
    REQUIRE(found);
    CHECK(found->value == doctest::Approx(row.collimation).epsilon(1e-12));
    const TwoPegTest& t = row.test;
    CHECK(corrected_reading(t.second_a, found->value, t.distance_a) ==
          doctest::Approx(row.corrected_a).epsilon(1e-12));
    CHECK(corrected_reading(t.second_b, found->value, t.distance_b) ==
          doctest::Approx(row.corrected_b).epsilon(1e-12));
  }
}

TEST_CASE("corrected readings show the true difference, whatever the collimation") {
  for (const double e : {-3.0, -0.1, 0.0, 0.25, 2.0}) {
    CAPTURE(e);
    // True readings 1,400 and 1,150; each rises by e mm per m.
    const TwoPegTest t{1400 + 15 * e, 1150 + 15 * e, 1510 + 2 * e, 1260 + 32 * e, 2, 32};
    const auto found = collimation_of(t);
    REQUIRE(found);
    CHECK(found->value == doctest::Approx(e).epsilon(1e-12));
    CHECK(corrected_reading(t.second_b, found->value, t.distance_b) -
              corrected_reading(t.second_a, found->value, t.distance_a) ==
          doctest::Approx(-250).epsilon(1e-12));
  }
}

TEST_CASE("the collimation's sd is that of four readings over the difference of distances") {
  const auto found = collimation_of({0, 0, 0, 10, 10, 30}, 0.7);
  REQUIRE(found);
  CHECK(found->sd == doctest::Approx(2 * 0.7 / 20));
}

TEST_CASE("a second place as far from A as from B shows nothing") {
  CHECK_FALSE(collimation_of({1320, 1560, 1110, 1390, 20, 20}));
}
