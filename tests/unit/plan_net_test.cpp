#include "checks/plan_net.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "checks/critical_values.h"

using namespace levelrun;

// Sources: "Krumm" is F. Krumm, Geodetic Network Adjustment Examples, University of Stuttgart,
// rev. 3.5 (2020), with the textbook it takes the example from. Printed digits are checked.

namespace {

NetObservation distance(Index from, Index to, double value, double sd) {
  NetObservation o;
  o.from = from;
  o.to = to;
  o.value = value;
  o.sd = sd;
  return o;
}

NetObservation angle(Index at, Index from, Index to, double value, double sd) {
  NetObservation o;
  o.kind = NetKind::angle;
  o.at = at;
  o.from = from;
  o.to = to;
  o.value = value;
  o.sd = sd;
  return o;
}

bool close(double a, double b, double by) { return std::abs(a - b) <= by; }

// Strang & Borre, Linear Algebra, Geodesy and GPS (1997), ex. 10.1, p. 345 (Krumm).
PlanNet strang_borre() {
  PlanNet net;
  net.points = {{170.71, 270.71, true}, {100, 100, true}, {241.42, 100, true}, {170.71, 170.71}};
  net.observations = {distance(0, 3, 100.01, 0.01), distance(1, 3, 100.02, 0.01),
                      distance(2, 3, 100.03, 0.01)};
  return net;
}

// Ghilani, Adjustment Computations, 5th ed., ex. 14.5, p. 251, in feet (Krumm).
PlanNet ghilani(double badger_wisconsin) {
  PlanNet net;
  net.points = {{2410000.000, 390000.000, true},
                {2411820.000, 386881.222, true},
                {2415776.819, 391043.461},
                {2416892.670, 387603.450}};
  net.observations = {distance(0, 2, badger_wisconsin, 0.01), distance(0, 3, 7297.588, 0.01),
                      distance(2, 3, 3616.434, 0.01), distance(2, 1, 5742.878, 0.01),
                      distance(3, 1, 5123.760, 0.01)};
  return net;
}

// Hoepke, Fehlerlehre und Ausgleichungsrechnung (1980), ex. 35.5, pp. 120-123, net
// "Sattenhausen", in metres, shifted by (3570000, 5700000) (Krumm). All points free.
PlanNet hoepke(double d_1059_75) {
  PlanNet net;
  net.points = {{9041.416, 7194.412}, {5403.277, 7682.612}, {5322.061, 8700.952},
                {6581.778, 9938.106}, {8284.289, 8758.641}, {7052.332, 8103.204},
                {6852.894, 6633.642}, {6213.699, 9199.889}};
  const Index p20 = 0, p75 = 1, p86 = 2, p87 = 3, p1006 = 4, p1011 = 5, p1059 = 6, p1087 = 7;
  const struct {
    Index from, to;
    double d;
  } rows[] = {{p86, p1006, 2962.832},   {p86, p87, 1765.657},     {p86, p1087, 1021.768},
              {p86, p75, 1021.536},     {p86, p1011, 1830.646},   {p86, p20, 4012.921},
              {p86, p1059, 2572.516},   {p1087, p87, 824.863},    {p1087, p20, 3466.722},
              {p1087, p1059, 2644.789}, {p1087, p75, 1720.130},   {p1087, p1006, 2117.134},
              {p1087, p1011, 1380.633}, {p1006, p75, 3075.373},   {p1006, p20, 1737.824},
              {p1006, p1059, 2562.134}, {p1006, p1011, 1395.459}, {p1006, p87, 2071.154},
              {p1011, p87, 1894.263},   {p1011, p75, 1701.824},   {p1011, p1059, 1483.088},
              {p1011, p20, 2186.853},   {p1059, p20, 2259.167},   {p1059, p75, d_1059_75},
              {p1059, p87, 3315.630},   {p20, p87, 3684.782},     {p20, p75, 3670.735}};
  for (const auto& r : rows) net.observations.push_back(distance(r.from, r.to, r.d, 0.001));
  net.datum = {0, 1, 2, 3, 4, 5, 6, 7};
  return net;
}
constexpr Index obs_1059_75 = 23, obs_1087_20 = 8;

}  // namespace

TEST_CASE("three distances to one point agree with Strang and Borre") {
  PlanAdjustment net(strang_borre());
  REQUIRE(net.solve() == NetState::solved);
  CHECK(close(net.points()[3].x, 170.7029, 0.00005));
  CHECK(close(net.points()[3].y, 170.7234, 0.00005));
  CHECK(net.dof() == 1);
  CHECK(close(net.sigma0(), 3.303, 0.0005));
  CHECK(close(net.sigma0() * net.sd_x(3), 0.03303, 0.000005));
  CHECK(close(net.sigma0() * net.sd_y(3), 0.02335, 0.000005));
  // One spare measurement: all residuals look alike, nothing can be located.
  for (Index i = 0; i < 3; ++i) CHECK(close(std::abs(net.standardised(i)), 3.30, 0.005));
}

TEST_CASE("a weakly controlled distance shows in its redundancy") {
  // Benning, Statistik in Geodaesie, Geoinformation und Bauwesen, ex. 8-8, pp. 285-291 (Krumm).
  PlanNet given;
  given.points = {{3000, 2000, true}, {1000, 2000, true}, {3000, 2100, true},
                  {1000, 2100, true}, {2000, 1000, true}, {2000, 2000}};
  for (Index i = 0; i < 5; ++i)
    given.observations.push_back(distance(5, i, i == 2 || i == 3 ? 1005.0 : 1000.0, 0.02));
  PlanAdjustment net(given);
  REQUIRE(net.solve() == NetState::solved);
  CHECK(close(net.points()[5].x, 2000.0000, 0.00005));
  CHECK(close(net.points()[5].y, 1999.9976, 0.00005));
  CHECK(net.dof() == 3);
  CHECK(close(net.sigma0(), 0.503, 0.0005));
  CHECK(close(net.sigma0() * net.sd_x(5), 0.00504, 0.000005));
  CHECK(close(net.sigma0() * net.sd_y(5), 0.00996, 0.000005));
  CHECK(close(net.redundancy(4), 0.019, 0.0005));
}

TEST_CASE("a trilateration agrees with Ghilani, with the gross error and without") {
  PlanAdjustment wrong(ghilani(5870.302));
  REQUIRE(wrong.solve() == NetState::solved);
  CHECK(close(wrong.points()[2].x, 2415776.9044, 0.00005));
  CHECK(close(wrong.points()[2].y, 391043.2945, 0.00005));
  CHECK(close(wrong.points()[3].x, 2416892.6955, 0.00005));
  CHECK(close(wrong.points()[3].y, 387603.2551, 0.00005));
  CHECK(close(wrong.sigma0(), 13.59, 0.005));
  CHECK(close(wrong.sigma0() * wrong.sd_x(2), 0.1488, 0.00005));
  CHECK(close(wrong.sigma0() * wrong.sd_y(2), 0.2206, 0.00005));
  CHECK(close(wrong.sigma0() * wrong.sd_x(3), 0.1038, 0.00005));
  CHECK(close(wrong.sigma0() * wrong.sd_y(3), 0.2705, 0.00005));
  for (Index i = 0; i < 5; ++i) CHECK(close(std::abs(wrong.standardised(i)), 13.59, 0.005));
  // The source gives 5870.640 as the other value: the estimated error says so.
  CHECK(close(-wrong.residual(0) / wrong.redundancy(0), -0.338, 0.0005));

  PlanAdjustment right(ghilani(5870.640));
  REQUIRE(right.solve() == NetState::solved);
  CHECK(close(right.sigma0(), 0.0092, 0.00005));
  // 0.23335 by SciPy too, printed 0.2334: a digit rounded twice.
  CHECK(close(right.points()[2].x, 2415777.2334, 0.00006));
  CHECK(close(right.points()[2].y, 391043.0668, 0.00005));
  CHECK(close(right.points()[3].x, 2416892.6740, 0.00005));
  CHECK(close(right.points()[3].y, 387602.9525, 0.00005));
  for (Index i = 0; i < 5; ++i) CHECK(std::abs(right.residual(i)) < 0.00015);
}

TEST_CASE("a free net agrees with Hoepke and is not accused at 0.1 %") {
  PlanAdjustment net(hoepke(1789.449));
  REQUIRE(net.solve() == NetState::solved);
  const struct {
    double x, sd_x_cm, y, sd_y_cm;
  } published[] = {{9041.4042, 0.209, 7194.4039, 0.265}, {5403.2853, 0.232, 7682.6565, 0.265},
                   {5322.0203, 0.211, 8700.9554, 0.240}, {6581.7857, 0.279, 9938.0995, 0.226},
                   {8284.2920, 0.203, 8758.6275, 0.268}, {7052.3287, 0.240, 8103.2070, 0.273},
                   {6852.9606, 0.247, 6633.5764, 0.212}, {6213.6691, 0.241, 9199.9319, 0.227}};
  CHECK(net.dof() == 14);
  CHECK(close(net.sigma0(), 4.954, 0.0005));
  for (Index p = 0; p < 8; ++p) {
    CAPTURE(p);
    CHECK(close(net.points()[p].x, published[p].x, 0.00006));
    CHECK(close(net.points()[p].y, published[p].y, 0.00006));
    CHECK(close(net.sigma0() * net.sd_x(p) * 100, published[p].sd_x_cm, 0.0006));
    CHECK(close(net.sigma0() * net.sd_y(p) * 100, published[p].sd_y_cm, 0.0006));
  }
  double largest = 0, redundancies = 0;
  for (Index i = 0; i < 27; ++i) {
    largest = std::max(largest, std::abs(net.standardised(i)) / net.sigma0());
    redundancies += net.redundancy(i);
  }
  CHECK(close(redundancies, 14, 1e-9));
  CHECK(close(largest, 2.53, 0.005));
  CHECK(std::abs(net.standardised(obs_1087_20)) / net.sigma0() == doctest::Approx(largest));
  CHECK(largest < tau_limit(0.001, 14));
  CHECK(largest > tau_limit(0.01, 14));
}

TEST_CASE("the 5 cm blunder that Hoepke's printed list carries is found and sized") {
  PlanAdjustment net(hoepke(1789.499));
  REQUIRE(net.solve() == NetState::solved);
  CHECK(close(net.sigma0(), 10.411, 0.0005));
  Index largest = 0;
  for (Index i = 0; i < 27; ++i)
    if (std::abs(net.standardised(i)) > std::abs(net.standardised(largest))) largest = i;
  CHECK(largest == obs_1059_75);
  CHECK(close(net.standardised(largest), -34.3, 0.05));
  CHECK(close(net.standardised(largest) / net.sigma0(), -3.29, 0.005));
  CHECK(close(net.redundancy(largest), 0.467, 0.0005));
  CHECK(close(-net.residual(largest) / net.redundancy(largest), 0.0501, 0.00005));
  CHECK(std::abs(net.standardised(largest)) / net.sigma0() > tau_limit(0.001, 14));
}

TEST_CASE("the datum moves the points and leaves the residuals alone") {
  PlanNet given = hoepke(1789.449);
  PlanAdjustment all(given);
  given.datum = {0, 3, 5};
  PlanAdjustment three(given);
  given.datum.clear();
  given.points[1].fixed = true;
  given.level = {1, 4};  // fixes a bearing, which then is 0: the net turns
  const double turn =
      std::atan2(given.points[4].y - given.points[1].y, given.points[4].x - given.points[1].x);
  const NetPoint pole = given.points[1];
  for (NetPoint& p : given.points) {
    const double x = p.x - pole.x, y = p.y - pole.y;
    p.x = pole.x + x * std::cos(turn) + y * std::sin(turn);
    p.y = pole.y - x * std::sin(turn) + y * std::cos(turn);
  }
  given.points[4].y = pole.y;
  PlanAdjustment fixed(given);
  REQUIRE(all.solve() == NetState::solved);
  REQUIRE(three.solve() == NetState::solved);
  REQUIRE(fixed.solve() == NetState::solved);
  CHECK(three.dof() == all.dof());
  CHECK(fixed.dof() == all.dof());
  double moved = 0;
  for (Index i = 0; i < 27; ++i) {
    CAPTURE(i);
    CHECK(close(three.residual(i), all.residual(i), 1e-8));
    CHECK(close(fixed.residual(i), all.residual(i), 1e-8));
    CHECK(close(three.redundancy(i), all.redundancy(i), 1e-9));
    CHECK(close(fixed.redundancy(i), all.redundancy(i), 1e-9));
  }
  for (Index p = 0; p < 8; ++p) moved += std::abs(three.points()[p].x - all.points()[p].x);
  CHECK(moved > 0.001);
  CHECK(fixed.points()[4].y == fixed.points()[1].y);
  CHECK(fixed.sd_y(4) == 0);
}

TEST_CASE("slopes agree with differences for every kind of measurement") {
  // A predicted value's sd is |slope| * sd of the one free coordinate, which shows each slope.
  PlanNet given;
  given.points = {{0, 0, true}, {3000, 200}, {3100, -2500, true}, {-300, -2600, true}};
  given.observations = {distance(0, 1, 3007, 1), distance(2, 1, 2702, 1)};
  PlanAdjustment net(given);
  REQUIRE(net.solve() == NetState::solved);
  NetObservation across = angle(1, 0, 2, 0, 1);
  across.kind = NetKind::across;
  across.leg_from = 600;
  across.leg_to = 800;
  NetObservation out = distance(0, 1, 0, 1);
  out.out = 250;
  out.before = 3;
  out.after = 2;
  NetObservation beside = distance(3, 0, 0, 1);  // the moving point is its neighbour
  beside.out = 400;
  beside.after = 1;
  for (const NetObservation& o :
       {distance(1, 3, 0, 1), angle(1, 2, 0, 0, 1), angle(0, 3, 1, 0, 1), across, out, beside}) {
    CAPTURE(static_cast<int>(o.kind));
    CAPTURE(o.out);
    // Both distances have sd 1: Q = (A'A)^-1 with A from differences, as is the slope.
    const double h = 1e-3;
    const auto at = [&](double x, double y, const NetObservation& q) {
      PlanNet moved = given;
      moved.points[1] = {x, y, true};
      PlanAdjustment still(moved);
      REQUIRE(still.solve() == NetState::solved);
      return still.predict(q).value;
    };
    const NetPoint p = net.points()[1];
    const auto slope = [&](const NetObservation& q) {
      return std::pair((at(p.x + h, p.y, q) - at(p.x - h, p.y, q)) / (2 * h),
                       (at(p.x, p.y + h, q) - at(p.x, p.y - h, q)) / (2 * h));
    };
    const auto [a, b] = slope(given.observations[0]);
    const auto [c, d] = slope(given.observations[1]);
    const auto [e, f] = slope(o);
    const double nxx = a * a + c * c, nxy = a * b + c * d, nyy = b * b + d * d;
    const double det = nxx * nyy - nxy * nxy;
    const double variance = (e * e * nyy - 2 * e * f * nxy + f * f * nxx) / det;
    CHECK(net.predict(o).sd == doctest::Approx(std::sqrt(variance)).epsilon(1e-6));
  }
}

TEST_CASE("three tapes give the corner's angle by the cosine law") {
  // Exact geometry: legs 3000 and 4000; 600 and 800; 3 and 4.
  const struct {
    double a, b, across, angle;
  } table[] = {{3000, 4000, 5000, 90.00000},
               {3000, 4000, 5003, 90.07164},
               {600, 800, 998, 89.76151},
               {3, 4, 4.99, 89.76151},
               {3, 4, 5.01, 90.23897}};
  for (const auto& row : table) {
    CAPTURE(row.across);
    PlanNet given;
    given.points = {{0, 0, true}, {1000, 0, true}, {0, -1000}};
    NetObservation o = angle(0, 2, 1, row.across, 0.01);
    o.kind = NetKind::across;
    o.leg_from = row.a;
    o.leg_to = row.b;
    given.observations = {o, distance(0, 2, 1000, 1)};
    PlanAdjustment net(given);
    REQUIRE(net.solve() == NetState::solved);
    CHECK(close(net.predict(angle(0, 2, 1, 0, 1)).value, row.angle, 0.000006));
  }
}

TEST_CASE("a lean term takes what two heights disagree by, and costs no redundancy") {
  // Two readings of one distance, the second 2 m higher; lean 0 +- 4 mm/m.
  PlanNet given;
  given.points = {{0, 0, true}, {1000, 0}};
  given.level = {0, 1};
  given.leans = {4};
  given.observations = {distance(0, 1, 1000, 1), distance(0, 1, 1006, 1)};
  given.observations[0].lean = NetTerm{0, 0};
  given.observations[1].lean = NetTerm{0, 2};
  PlanAdjustment net(given);
  REQUIRE(net.solve() == NetState::solved);
  // Unknowns d, t: [2 2; 2 4 + 1/16] [d; t] = [6; 12], d from 1000.
  const double det = 2 * 4.0625 - 4;
  CHECK(net.points()[1].x == doctest::Approx(1000 + (6 * 4.0625 - 24) / det).epsilon(1e-12));
  CHECK(net.lean(0) == doctest::Approx(12 / det));
  CHECK(net.sd_x(1) == doctest::Approx(std::sqrt(4.0625 / det)));
  CHECK(net.dof() == 1);
  // Redundancies of both distances and of the lean itself sum to the degrees of freedom.
  CHECK(net.redundancy(0) + net.redundancy(1) + (1 - (2 / det) / 16) == doctest::Approx(1));
}

TEST_CASE("a scale error shared by an instrument's readings is taken up by its term") {
  PlanNet given;
  given.points = {{0, 0, true}, {3000, 0, true}, {3000, -4000, true}};
  given.scales = {2};
  for (auto [from, to, length] :
       {std::tuple<Index, Index, double>{0, 1, 3003}, {1, 2, 4004}, {0, 2, 5005}}) {
    NetObservation o = distance(from, to, length, 0.1);
    o.scale = NetTerm{0, length / 1000};
    given.observations.push_back(o);
  }
  PlanAdjustment net(given);
  REQUIRE(net.solve() == NetState::solved);
  CHECK(net.scale(0) == doctest::Approx(1).epsilon(0.005));
  CHECK(net.dof() == 3);
  for (Index i = 0; i < 3; ++i) CHECK(std::abs(net.residual(i)) < 0.02);
}

TEST_CASE("a spur is not checked and a net with a loose point is undetermined, not a crash") {
  PlanNet given = strang_borre();
  given.points.push_back({250, 170});
  given.observations.push_back(distance(3, 4, 80, 0.01));
  PlanAdjustment loose(given);
  CHECK(loose.solve() == NetState::undetermined);
  given.observations.push_back(angle(3, 0, 4, 270, 0.01));
  PlanAdjustment spur(given);
  REQUIRE(spur.solve() == NetState::solved);
  CHECK(spur.redundancy(3) < PlanAdjustment::unchecked);
  CHECK(spur.redundancy(4) < PlanAdjustment::unchecked);
  CHECK(spur.standardised(3) == 0);
  CHECK(std::abs(spur.residual(3)) < 1e-9);
}

TEST_CASE("a measurement left out is judged against the rest") {
  PlanNet given = ghilani(5870.302);
  PlanAdjustment net(given);
  const std::vector<char> used{0, 1, 1, 1, 1};
  REQUIRE(net.solve(given.points, used) == NetState::solved);
  CHECK(net.dof() == 0);
  CHECK(net.chi_square() < 1e-9);
  const Estimate others = net.predict(given.observations[0]);
  CHECK(close(others.value, 5870.640, 0.0005));
  CHECK(close(net.residual(0), 0.338, 0.0005));
  CHECK(net.standardised(0) ==
        doctest::Approx(net.residual(0) / std::sqrt(others.sd * others.sd + 0.0001)));
  CHECK(close(std::abs(net.standardised(0)), 13.59, 0.01));
}
