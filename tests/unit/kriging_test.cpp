#include "checks/kriging.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

DriftInformation nothing_known(Eigen::Index p) {
  return {Eigen::MatrixXd::Zero(p, p), Eigen::VectorXd::Zero(p)};
}

// R. Franke, Naval Postgraduate School TR NPS-53-79-003 (1979), plus signs inside the exponents
// as in the report (one package's documentation prints the last one as minus).
double franke(double x, double y) {
  const auto sq = [](double t) { return t * t; };
  return 0.75 * std::exp(-(sq(9 * x - 2) + sq(9 * y - 2)) / 4) +
         0.75 * std::exp(-sq(9 * x + 1) / 49 - (9 * y + 1) / 10) +
         0.5 * std::exp(-(sq(9 * x - 7) + sq(9 * y - 3)) / 4) -
         0.2 * std::exp(-sq(9 * x - 4) - sq(9 * y - 7));
}

}  // namespace

// E. H. Isaaks and R. M. Srivastava, An Introduction to Applied Geostatistics (1989), chapter 12:
// recalled from the book and recomputed independently.
TEST_CASE("ordinary kriging gives the textbook's weights, estimate and variance") {
  const double x[] = {61, 63, 64, 68, 71, 73, 75}, y[] = {139, 140, 129, 128, 140, 141, 128};
  const double v[] = {477, 696, 227, 646, 606, 791, 783};
  const double expected[] = {0.173, 0.318, 0.129, 0.086, 0.151, 0.057, 0.086};
  const auto covariance = [](double dx, double dy) {
    return 10 * std::exp(-0.3 * std::hypot(dx, dy));
  };
  Eigen::MatrixXd V(7, 7);
  Eigen::VectorXd observed(7), k(7);
  for (int i = 0; i < 7; ++i) {
    observed(i) = v[i];
    k(i) = covariance(x[i] - 65, y[i] - 137);
    for (int j = 0; j < 7; ++j) V(i, j) = covariance(x[i] - x[j], y[i] - y[j]);
  }
  auto kriging = Kriging::fit(V, Eigen::MatrixXd::Ones(7, 1), observed, nothing_known(1));
  REQUIRE(kriging);
  const Eigen::VectorXd one = Eigen::VectorXd::Ones(1);
  const Eigen::VectorXd weights = kriging->weights(k, one);
  CHECK(weights.sum() == doctest::Approx(1).epsilon(1e-12));
  for (int i = 0; i < 7; ++i) CHECK(std::abs(weights(i) - expected[i]) < 5e-4);
  CHECK(std::abs(kriging->mean(k, one) - 592.7) < 0.05);
  CHECK(std::abs(weights.dot(observed) - 592.729) < 5e-4);
  kriging->prepare_bands();
  CHECK(std::abs(kriging->variances(k.transpose(), one.transpose(), 10)(0) - 8.96) < 5e-3);
}

TEST_CASE("leaving one out by the inverse is leaving it out for real") {
  Eigen::MatrixXd V(6, 6), X(6, 2);
  Eigen::VectorXd observed(6);
  for (int i = 0; i < 6; ++i) {
    X.row(i) << 1, i;
    observed(i) = std::sin(i * 1.7) + 0.2 * i;
    for (int j = 0; j < 6; ++j) V(i, j) = 2 * std::exp(-std::abs(i - j) / 2.0) + (i == j ? 0.3 : 0);
  }
  auto all = Kriging::fit(V, X, observed, nothing_known(2));
  REQUIRE(all);
  all->prepare_bands();
  for (int out = 0; out < 6; ++out) {
    CAPTURE(out);
    Eigen::VectorXi keep(5);
    for (int i = 0, k = 0; i < 6; ++i)
      if (i != out) keep(k++) = i;
    auto rest = Kriging::fit(V(keep, keep), X(keep, Eigen::all), observed(keep), nothing_known(2));
    REQUIRE(rest);
    rest->prepare_bands();
    const Eigen::VectorXd k = V(keep, out);
    const Estimate left = all->left_out(out);
    CHECK(left.value == doctest::Approx(observed(out) - rest->mean(k, X.row(out).transpose())));
    CHECK(left.sd ==
          doctest::Approx(std::sqrt(rest->variances(k.transpose(), X.row(out), 2)(0) + 0.3)));
  }
}

// E1: exactness, by algebra.
TEST_CASE("a tilted floor comes back exactly, wherever and however few its readings") {
  for (const int count : {3, 5, 12, 60, 230}) {
    CAPTURE(count);
    const auto plane = [](double x, double y) { return 12.5 + 0.004 * x - 0.007 * y; };
    Survey survey = simple_survey(0.7);
    for (int i = 0; i < count; ++i) {
      const double x = 37.0 * (i * 101 % 97), y = -29.0 * (i * 53 % 89);
      read_floor(survey, x, y, plane(x, y));
    }
    survey.furniture.legs = {leg_type("A", 10, 500)};
    add_run(survey, "R", 4, 600, 200, -100);
    const Results results = solve(survey);
    for (const LegResult& leg : results.rooms[0].legs) {
      // Three readings leave the slope across to its prior, so no plane is promised there.
      if (count > 3)
        CHECK(*leg.bearing_floor == doctest::Approx(plane(leg.x, leg.y)).epsilon(1e-7));
      CHECK(*leg.sd > 0);
    }
  }
}

TEST_CASE("adding a constant to all heights adds it to the floor and changes no leg") {
  const auto floor = [](double x, double y) {
    return 6 * std::sin(x / 700) + 4 * std::cos(y / 500);
  };
  Results results[2];
  for (const int raised : {0, 1}) {
    Survey survey = simple_survey(0.7);
    read_grid(survey, 3000, 1200, 400,
              [&](double x, double y) { return floor(x, y) + 250 * raised; });
    survey.furniture.legs = {leg_type("A", 50, 300)};
    add_run(survey, "R", 4);
    results[raised] = solve(survey);
  }
  for (Index i = 0; i < results[0].rooms[0].legs.size(); ++i) {
    const LegResult &a = results[0].rooms[0].legs[i], &b = results[1].rooms[0].legs[i];
    CHECK(*b.bearing_floor - *a.bearing_floor == doctest::Approx(250).epsilon(1e-9));
    CHECK(*b.height == doctest::Approx(*a.height).epsilon(1e-9));
    CHECK(*b.sd == doctest::Approx(*a.sd).epsilon(1e-9));
  }
}

// E2. The function's values are the report's; that the surface follows it is our own check.
TEST_CASE("Franke's function has its published values and the surface follows it") {
  const struct {
    double x, y, f;
  } values[] = {{0, 0, 0.766420591285},
                {0.5, 0.5, 0.325762089281},
                {2.0 / 9, 2.0 / 9, 1.213137579521},
                {7.0 / 9, 1.0 / 3, 0.637303932199},
                {4.0 / 9, 7.0 / 9, 0.003821605374},
                {1, 1, 0.035869592386},
                {0.25, 0.75, 0.272413251608},
                {0, 1, 0.270337161591},
                {1, 0, 0.107557552258}};
  for (const auto& v : values) CHECK(franke(v.x, v.y) == doctest::Approx(v.f).epsilon(1e-10));

  // As a floor 4 m × 4 m with 20 mm of relief, read every 400 without error: within 0.5 mm rms.
  const auto floor = [](double x, double y) { return 20 * franke(x / 4000, -y / 4000); };
  Survey survey = simple_survey(0.05);
  read_grid(survey, 4000, 4000, 400, floor, 0.1);
  survey.furniture.legs = {leg_type("A", 10, 500)};
  for (int row = 0; row < 6; ++row)
    add_run(survey, std::string(1, char('A' + row)).c_str(), 9, 400, 150, -150 - 600.0 * row);
  double square = 0;
  const auto legs = solve(survey).rooms[0].legs;
  for (const LegResult& leg : legs) {
    const double off = *leg.bearing_floor - floor(leg.x, leg.y);
    square += off * off / double(legs.size());
  }
  CHECK(std::sqrt(square) < 0.5);
}

TEST_CASE("at fixed surface parameters an agreeing reading widens no band") {
  // Correlated surface plus noise; the seventh observation is put where the six expect it.
  const auto covariance = [](double d) { return 4 * std::exp(-d * d / 2); };
  const double at[] = {0, 0.7, 1.5, 2.2, 3.1, 4, 1.1};
  const double seen[] = {1, 1.4, 0.3, -0.5, 0.2, 0.9, 0};
  const auto fit = [&](int n) {
    Eigen::MatrixXd V(n, n);
    Eigen::VectorXd observed(n);
    for (int i = 0; i < n; ++i) {
      observed(i) = seen[i];
      for (int j = 0; j < n; ++j) V(i, j) = covariance(at[i] - at[j]) + (i == j ? 0.5 : 0);
    }
    auto out = Kriging::fit(V, Eigen::MatrixXd::Ones(n, 1), observed, nothing_known(1));
    out->prepare_bands();
    return *out;
  };
  const Kriging six = fit(6), seven = fit(7);
  for (double t = -1; t < 5; t += 0.1) {
    Eigen::VectorXd k6(6), k7(7);
    for (int i = 0; i < 7; ++i) {
      if (i < 6) k6(i) = covariance(at[i] - t);
      k7(i) = covariance(at[i] - t);
    }
    const Eigen::MatrixXd one = Eigen::MatrixXd::Ones(1, 1);
    CHECK(seven.variances(k7.transpose(), one, 4)(0) <=
          six.variances(k6.transpose(), one, 4)(0) + 1e-12);
  }
}
