// Published level nets. "K": F. Krumm, Geodetic Network Adjustment Examples, University of
// Stuttgart, rev. 3.5 (2020). "ours": an independent computation in NumPy, double precision.
#include "checks/level_net.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace levelrun;

namespace {

// Half a unit of the last printed digit, and a little for ties and for published roundings.
double printed(double unit) { return 0.51 * unit; }

void check_heights(const AdjustedLevels& found, const std::vector<double>& heights, double unit) {
  REQUIRE(found.heights.size() == heights.size());
  for (std::size_t i = 0; i < heights.size(); ++i) {
    CAPTURE(i);
    REQUIRE(found.heights[i]);
    CHECK(std::abs(found.heights[i]->value - heights[i]) < printed(unit));
  }
}

void check_sds(const AdjustedLevels& found, double scale, const std::vector<double>& sds,
               double unit) {
  for (std::size_t i = 0; i < sds.size(); ++i) {
    CAPTURE(i);
    CHECK(std::abs(found.heights[i]->sd * scale - sds[i]) < printed(unit));
  }
}

void check_alike(const AdjustedLevels& a, const AdjustedLevels& b, double tolerance) {
  REQUIRE(a.heights.size() == b.heights.size());
  for (std::size_t i = 0; i < a.heights.size(); ++i) {
    CAPTURE(i);
    REQUIRE(a.heights[i].has_value() == b.heights[i].has_value());
    if (!a.heights[i]) continue;
    CHECK(std::abs(a.heights[i]->value - b.heights[i]->value) < tolerance);
    CHECK(std::abs(a.heights[i]->sd - b.heights[i]->sd) < tolerance);
  }
}

// N1: Ghilani, Adjustment Computations, 5th ed., Example 12.6 (K). Metres; A B C D.
LevelNet ghilani() {
  return {4,
          {{0, 1, 10.509, 0.006},
           {1, 2, 5.360, 0.004},
           {2, 3, -8.523, 0.005},
           {3, 0, -7.348, 0.003},
           {1, 3, -3.167, 0.004},
           {0, 2, 15.881, 0.012}},
          {{0, 437.596, 0}},
          {}};
}

// N2: Niemeier, Ausgleichungsrechnung, 2nd ed. 2008, pp. 153-156 (K). Metres; 1 … 6 are
// nodes 0 … 5; sd 1 mm * sqrt(km).
LevelNet niemeier() {
  struct Line {
    std::size_t from, to;
    double difference, length;
  };
  const Line lines[] = {
      {1, 2, -8.206, 621.118012}, {1, 3, -5.734, 1204.819277}, {2, 3, 2.481, 450.450450},
      {2, 4, -4.433, 800},        {3, 4, -6.909, 1000},        {3, 5, -18.872, 1098.901099},
      {3, 6, 4.035, 440.528634},  {4, 5, -11.962, 719.424460}, {5, 6, 22.904, 833.333333}};
  LevelNet net{6, {}, {{5, 67.228, 0}}, {}};
  for (const Line& l : lines)
    net.differences.push_back(
        {l.from - 1, l.to - 1, l.difference, 0.001 * std::sqrt(l.length / 1000)});
  return net;
}

// N4: 1D sample of a free adjustment program, levels there and back, as shown at vrmapper.com.
// Metres; 1a 4 3 2 are nodes 0 … 3.
LevelNet there_and_back() {
  return {4,
          {{0, 1, -1.225, 0.005},
           {1, 2, -0.848, 0.005},
           {2, 3, 1.342, 0.005},
           {3, 0, 0.720, 0.005},
           {0, 3, -0.724, 0.005},
           {3, 2, -1.335, 0.005},
           {2, 1, 0.842, 0.005},
           {1, 0, 1.231, 0.005}},
          {{0, 1000.0, 0}},
          {}};
}

}  // namespace

TEST_CASE("N1: six differences and one benchmark") {
  const AdjustedLevels found = adjust_levels(ghilani());
  check_heights(found, {437.596, 448.1087, 453.4685, 444.9436}, 1e-4);
  check_heights(found, {437.596, 448.10871, 453.46847, 444.94361}, 1e-5);  // ours
  REQUIRE(found.sigma0);
  CHECK(found.dof == 3);
  CHECK(std::abs(*found.sigma0 - 0.651) < printed(0.001));
  check_sds(found, 1000 * *found.sigma0, {0, 2.30, 2.64, 1.76}, 0.01);
  check_sds(found, 1000 * *found.sigma0, {0, 2.295, 2.636, 1.761}, 0.001);  // ours
  // ours, mm
  const double residual[] = {3.71, -0.24, -1.86, 0.39, 1.89, -8.53};
  const double redundancy[] = {0.655, 0.329, 0.509, 0.188, 0.433, 0.886};
  const double standardised[] = {0.76, -0.11, -0.52, 0.30, 0.72, -0.76};
  for (std::size_t i = 0; i < 6; ++i) {
    CAPTURE(i);
    CHECK(std::abs(1000 * found.differences[i].residual - residual[i]) < printed(0.01));
    CHECK(std::abs(found.differences[i].redundancy - redundancy[i]) < printed(0.001));
    REQUIRE(found.differences[i].standardised);
    CHECK(std::abs(*found.differences[i].standardised - standardised[i]) < printed(0.01));
  }
}

TEST_CASE("N2: weights by length of line, one benchmark") {
  const AdjustedLevels found = adjust_levels(niemeier());
  // Point 5: printed 44.3226, ours 44.32255.
  check_heights(found, {68.9235, 60.7153, 63.1938, 56.2838, 44.32255, 67.228}, 1e-4);
  REQUIRE(found.sigma0);
  CHECK(found.dof == 4);
  CHECK(std::abs(*found.sigma0 - 3.394) < printed(0.001));
  check_sds(found, 1000 * *found.sigma0, {3.12, 2.60, 1.97, 2.63, 2.30, 0}, 0.01);
  double largest = 0;
  for (const CheckedObservation& o : found.differences)
    largest = std::max(largest, std::abs(o.standardised.value_or(0)));
  CHECK(std::abs(largest - 6.13) < printed(0.01));  // ours, on 2-3
  CHECK(std::abs(*found.differences[2].standardised) == largest);
  CHECK(std::abs(largest / *found.sigma0 - 1.81) < printed(0.01));
}

TEST_CASE("N3: the same net with a free datum on three points") {
  LevelNet net = niemeier();
  net.known.clear();
  net.free_over = {{0, 68.927}, {2, 63.193}, {4, 44.324}};
  const AdjustedLevels found = adjust_levels(net);
  check_heights(found, {68.9249, 60.7167, 63.1952, 56.2852, 44.3240, 67.2294}, 1e-4);
  REQUIRE(found.sigma0);
  check_sds(found, 1000 * *found.sigma0, {1.75, 1.65, 1.13, 1.94, 1.60, 2.00}, 0.01);
  CHECK(found.dof == 4);

  double sum = 0;
  for (const GivenHeight& g : net.free_over) sum += found.heights[g.node]->value - g.height;
  CHECK(std::abs(sum) < 1e-12);
  const AdjustedLevels fixed = adjust_levels(niemeier());
  for (std::size_t i = 0; i < net.differences.size(); ++i) {
    CAPTURE(i);
    CHECK(found.differences[i].residual ==
          doctest::Approx(fixed.differences[i].residual).epsilon(1e-9));
    CHECK(found.differences[i].redundancy ==
          doctest::Approx(fixed.differences[i].redundancy).epsilon(1e-9));
  }
  // The mean of the datum nodes is held: it has no variance and no covariance.
  for (std::size_t i = 0; i < net.nodes; ++i)
    CHECK(std::abs(found.covariance(i, 0) + found.covariance(i, 2) + found.covariance(i, 4)) <
          1e-18);
}

TEST_CASE("N4: levels there and back") {
  const AdjustedLevels found = adjust_levels(there_and_back());
  // Printed 998.77513, 997.93325, 999.27487; the last digit is the rounding of a tie.
  check_heights(found, {1000.0, 998.775125, 997.93325, 999.274875}, 1e-5);
  check_sds(found, 1000, {0, 3.1, 3.5, 3.1}, 0.1);
  REQUIRE(found.sigma0);
  CHECK(found.dof == 5);
  CHECK(std::abs(5 * *found.sigma0 - 5.42) < printed(0.01));
  CHECK(std::abs(*found.sigma0 - 1.083) < printed(0.001));
  CHECK(std::abs(25 * found.chi_square - 146.6) < printed(0.1));
  const double half_width[] = {0, 6.0, 6.9, 6.0};
  for (std::size_t i = 1; i < 4; ++i)
    CHECK(std::abs(1960 * found.heights[i]->sd - half_width[i]) < printed(0.1));
  for (const CheckedObservation& o : found.differences) {
    CHECK(o.redundancy == doctest::Approx(0.625));
    CHECK(std::abs(*o.standardised) < 1.69);
  }
  CHECK(std::abs(std::abs(*found.differences[5].standardised) - 1.68) < printed(0.01));
}

TEST_CASE("N5: two benchmarks, equal and unequal weights") {
  // Ghilani, chapter 12; recalled, confirmed at geolabsolutions.com. Feet; X Y A B C.
  struct Line {
    std::size_t from, to;
    double difference, weight;
  };
  const Line lines[] = {{0, 2, 5.10, 3},  {2, 1, 2.34, 4},  {1, 4, -1.25, 6}, {4, 0, -6.13, 4},
                        {2, 3, -0.68, 6}, {1, 3, -3.00, 6}, {3, 4, 1.70, 6}};
  for (const bool weighted : {false, true}) {
    CAPTURE(weighted);
    LevelNet net{5, {}, {{0, 100.00, 0}, {1, 107.50, 0}}, {}};
    for (const Line& l : lines)
      net.differences.push_back(
          {l.from, l.to, l.difference, weighted ? 1 / std::sqrt(l.weight) : 1});
    const AdjustedLevels found = adjust_levels(net);
    CHECK(found.dof == 4);
    REQUIRE(found.sigma0);
    if (weighted) {
      check_heights(found, {100, 107.5, 105.150, 104.489, 106.197}, 1e-3);
      check_heights(found, {100, 107.5, 105.15040, 104.48920, 106.19720}, 1e-5);  // ours
      CHECK(std::abs(*found.sigma0 - 0.107) < printed(0.001));
      check_sds(found, *found.sigma0, {0, 0, 0.033, 0.030, 0.029}, 0.001);  // ours
    } else {
      check_heights(found, {100, 107.5, 105.141, 104.483, 106.188}, 1e-3);
      check_heights(found, {100, 107.5, 105.14095, 104.48286, 106.18762}, 1e-5);  // ours
      CHECK(std::abs(*found.sigma0 - 0.050) < printed(0.001));
    }
  }
}

TEST_CASE("N6: in a single loop every observation takes an equal share of the misclosure") {
  for (const std::size_t n : {3, 4, 7, 50}) {
    CAPTURE(n);
    LevelNet net{n, {}, {{0, 12.0, 0}}, {}};
    for (std::size_t i = 0; i < n; ++i)
      net.differences.push_back({i, (i + 1) % n, i == 0 ? 10.0 : 0.0, 2.0});
    const AdjustedLevels found = adjust_levels(net);
    CHECK(found.dof == 1);
    const double share = -10.0 / static_cast<double>(n);
    for (const CheckedObservation& o : found.differences) {
      CHECK(o.residual == doctest::Approx(share));
      CHECK(o.redundancy == doctest::Approx(1 / static_cast<double>(n)));
      // One spare observation: a blunder is noticed, but all are equally suspect.
      CHECK(*o.standardised == doctest::Approx(*found.differences[0].standardised));
    }
  }
}

TEST_CASE("N6: nothing checks a spur, so a blunder in it cannot be found") {
  LevelNet net = there_and_back();
  net.nodes = 5;
  net.differences.push_back({2, 4, 0.500, 0.005});
  const AdjustedLevels before = adjust_levels(net);
  net.differences.back().difference += 30;
  const AdjustedLevels after = adjust_levels(net);
  for (const AdjustedLevels* found : {&before, &after}) {
    CHECK(found->differences.back().used);
    CHECK(found->differences.back().redundancy == 0);
    CHECK(std::abs(found->differences.back().residual) < 1e-12);
    CHECK_FALSE(found->differences.back().standardised);
  }
  CHECK(after.chi_square == doctest::Approx(before.chi_square));
  CHECK(after.heights[4]->value - before.heights[4]->value == doctest::Approx(30));
}

TEST_CASE("N7: a blunder of 30 mm stands out on its own observation") {
  // Constructed from N4; values ours.
  LevelNet net = there_and_back();
  net.differences[3].difference = 0.750;
  const AdjustedLevels found = adjust_levels(net);
  check_heights(found, {1000.0, 998.771375, 997.92575, 999.263625}, 1e-5);
  CHECK(std::abs(*found.sigma0 - 1.792) < printed(0.001));
  CHECK(std::abs(std::abs(*found.differences[3].standardised) - 3.45) < printed(0.01));
  CHECK(std::abs(std::abs(*found.differences[4].standardised) - 3.13) < printed(0.01));
  const CheckedObservation& o = found.differences[3];
  CHECK(std::abs(1000 * -o.residual / o.redundancy - 21.8) < printed(0.1));
}

namespace {

// Two set-ups (nodes 0, 1) over eight points (2 … 9), three of them read from both; the readings
// disagree by tenths. Point 2 is the benchmark.
LevelNet kitchen() {
  LevelNet net{10, {}, {{2, 0, 0}}, {}};
  const double first[] = {1201.3, 1204.9, 1210.2, 1207.7, 1199.0};
  const double second[] = {1150.1, 1148.2, 1139.6, 1144.4, 1152.3, 1160.8};
  for (std::size_t i = 0; i < 5; ++i)
    net.differences.push_back(staff_reading(0, 2 + i, first[i], 0.7));
  for (std::size_t i = 0; i < 6; ++i)
    net.differences.push_back(staff_reading(1, 4 + i, second[i], 0.7 + 0.1 * double(i)));
  return net;
}

}  // namespace

TEST_CASE("raising the instrument by 100 mm changes no point") {
  const AdjustedLevels before = adjust_levels(kitchen());
  LevelNet net = kitchen();
  for (HeightDifference& d : net.differences)
    if (d.from == 1) d.difference -= 100;  // staff readings 100 longer
  const AdjustedLevels after = adjust_levels(net);
  CHECK(after.heights[1]->value - before.heights[1]->value == doctest::Approx(100));
  for (std::size_t i = 2; i < net.nodes; ++i) {
    CAPTURE(i);
    CHECK(std::abs(after.heights[i]->value - before.heights[i]->value) < 1e-10);
    CHECK(after.heights[i]->sd == doctest::Approx(before.heights[i]->sd));
  }
}

TEST_CASE("heights of a million keep a millionth of a thousandth") {
  const AdjustedLevels low = adjust_levels(kitchen());
  LevelNet net = kitchen();
  net.known[0].height = 1e6;
  const AdjustedLevels high = adjust_levels(net);
  for (std::size_t i = 0; i < net.nodes; ++i) {
    CAPTURE(i);
    CHECK(std::abs(high.heights[i]->value - 1e6 - low.heights[i]->value) < 1e-9);
    CHECK(high.heights[i]->sd == low.heights[i]->sd);
  }
  CHECK(high.chi_square == low.chi_square);
}

TEST_CASE("the order of the observations changes nothing") {
  LevelNet net = kitchen();
  const AdjustedLevels before = adjust_levels(net);
  std::reverse(net.differences.begin(), net.differences.end());
  check_alike(adjust_levels(net), before, 1e-10);
  std::rotate(net.differences.begin(), net.differences.begin() + 4, net.differences.end());
  check_alike(adjust_levels(net), before, 1e-10);
}

TEST_CASE("the numbers of the nodes, and so the order of elimination, change nothing") {
  const LevelNet net = kitchen();
  const AdjustedLevels before = adjust_levels(net);
  LevelNet turned = net;
  for (HeightDifference& d : turned.differences) {
    d.from = 9 - d.from;
    d.to = 9 - d.to;
  }
  turned.known[0].node = 7;
  AdjustedLevels after = adjust_levels(turned);
  CHECK(after.covariance(0, 3) == doctest::Approx(before.covariance(9, 6)));
  std::reverse(after.heights.begin(), after.heights.end());
  check_alike(after, before, 1e-10);
}

TEST_CASE("redundancies sum to the degrees of freedom, covariances match the sds") {
  LevelNet net = kitchen();
  net.known.push_back({9, 38.0, 1.5});
  const AdjustedLevels found = adjust_levels(net);
  CHECK(found.dof == 11 + 1 - 9);
  double sum = found.known[1].redundancy;
  for (const CheckedObservation& o : found.differences) sum += o.redundancy;
  CHECK(sum == doctest::Approx(found.dof));
  for (std::size_t i = 0; i < net.nodes; ++i) {
    CHECK(std::sqrt(found.covariance(i, i)) == doctest::Approx(found.heights[i]->sd));
    for (std::size_t j = 0; j < net.nodes; ++j)
      CHECK(found.covariance(i, j) == doctest::Approx(found.covariance(j, i)));
  }
}

TEST_CASE("a second known height with an sd counts as an observation") {
  // One difference 100 with sd 1 between a benchmark and a height known as 104 with sd 2:
  // weighted mean 100.8, variance 1 / (1 + 1/4), by hand.
  const AdjustedLevels found = adjust_levels({2, {{0, 1, 100, 1}}, {{0, 0, 0}, {1, 104, 2}}, {}});
  CHECK(found.heights[1]->value == doctest::Approx(100.8));
  CHECK(found.heights[1]->sd == doctest::Approx(std::sqrt(0.8)));
  CHECK(found.dof == 1);
  CHECK(found.known[1].residual == doctest::Approx(-3.2));
  CHECK(found.known[1].redundancy == doctest::Approx(0.8));
  CHECK(found.chi_square == doctest::Approx(16.0 / 5));
  CHECK_FALSE(found.known[0].used);
}

TEST_CASE("one uncertain known height alone ties the net and lends it its sd") {
  const AdjustedLevels found = adjust_levels({2, {{0, 1, -7, 3}}, {{0, 50, 4}}, {}});
  CHECK(found.heights[0]->value == 50);
  CHECK(found.heights[0]->sd == doctest::Approx(4));
  CHECK(found.heights[1]->value == doctest::Approx(43));
  CHECK(found.heights[1]->sd == doctest::Approx(5));
  CHECK(found.covariance(0, 1) == doctest::Approx(16));
  CHECK(found.dof == 0);
  CHECK_FALSE(found.sigma0);
}

TEST_CASE("a set-up that shares no point is named, and the rest is computed") {
  LevelNet net = kitchen();
  const AdjustedLevels alone = adjust_levels(net);
  net.nodes = 14;  // 10: a set-up reading 11 and 12; 13: a point never read
  net.differences.push_back(staff_reading(10, 11, 900, 0.7));
  net.differences.push_back(staff_reading(10, 12, 905, 0.7));
  const AdjustedLevels found = adjust_levels(net);
  CHECK(found.untied == std::vector<std::vector<std::size_t>>{{10, 11, 12}, {13}});
  for (std::size_t i = 0; i < net.nodes; ++i) CHECK(found.heights[i].has_value() == (i < 10));
  CHECK_FALSE(found.differences.back().used);
  CHECK(found.covariance(11, 12) == 0);
  CHECK(found.dof == alone.dof);
  CHECK(found.chi_square == alone.chi_square);
}

TEST_CASE("without any datum every part is named and nothing fails") {
  LevelNet net = kitchen();
  net.known.clear();
  const AdjustedLevels found = adjust_levels(net);
  CHECK(found.untied.size() == 1);
  CHECK(found.untied[0].size() == 10);
  CHECK(found.dof == 0);
  CHECK(adjust_levels({}).heights.empty());
}

TEST_CASE("an observation that cannot be used takes no part and says so") {
  const double nan = std::nan("");
  LevelNet net = kitchen();
  const AdjustedLevels before = adjust_levels(net);
  const std::size_t sound = net.differences.size();
  for (const HeightDifference& d : {HeightDifference{0, 99, 1, 1},
                                    {99, 0, 1, 1},
                                    {0, 3, nan, 1},
                                    {0, 3, 1, nan},
                                    {0, 3, 1, 0},
                                    {0, 3, 1, -1}})
    net.differences.push_back(d);
  for (const GivenHeight& g : {GivenHeight{99, 0, 0}, {3, nan, 0}, {3, 1, -1}, {2, 500, 0}})
    net.known.push_back(g);  // the last: a second fixed height of the benchmark
  const AdjustedLevels after = adjust_levels(net);
  for (std::size_t i = sound; i < net.differences.size(); ++i)
    CHECK_FALSE(after.differences[i].used);
  check_alike(after, before, 1e-12);
  CHECK(after.dof == before.dof);
}

TEST_CASE("very unequal weights lose no digits") {
  // A chain benchmark - a - b - c with sd 1, closed by a difference of sd 1e6: by hand, the
  // chain's heights to twelve digits, sds sqrt(1, 2, 3), the closing one checked by all.
  const AdjustedLevels found = adjust_levels(
      {4, {{0, 1, 5, 1}, {1, 2, 6, 1}, {2, 3, 7, 1}, {3, 0, 100, 1e6}}, {{0, 0, 0}}, {}});
  for (std::size_t i = 1; i < 4; ++i)
    CHECK(found.heights[i]->sd == doctest::Approx(std::sqrt(double(i))).epsilon(1e-10));
  CHECK(found.heights[3]->value == doctest::Approx(18).epsilon(1e-10));
  CHECK(found.differences[3].residual == doctest::Approx(-118).epsilon(1e-10));
  // And an uncertain datum (sd 1e6) for a net read to 0.1.
  const AdjustedLevels loose =
      adjust_levels({3, {{0, 1, 5, 0.1}, {0, 2, 6, 0.1}, {1, 2, 1.3, 0.1}}, {{0, 0, 1e6}}, {}});
  CHECK(loose.differences[2].residual == doctest::Approx(-0.1).epsilon(1e-9));
  CHECK(loose.heights[1]->sd == doctest::Approx(1e6));
}

TEST_CASE("collimation times distance is taken off a staff reading") {
  // staff 1,500 at 20 m with a line of sight that rises 0.5 mm/m: 1,490 below the plane.
  const HeightDifference d = staff_reading(0, 1, 1500, 0.7, 0.5, 20);
  CHECK(d.difference == doctest::Approx(-1490));
}
