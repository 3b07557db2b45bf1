// The day's own level: weighted means against published ones, points that moved, too few of them.
#include "checks/day_setups.h"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

SetUpMean mean_of(const std::vector<double>& heights, const std::vector<double>& sds) {
  std::vector<double> covariance(heights.size() * heights.size(), 0);
  for (std::size_t i = 0; i < heights.size(); ++i)
    covariance[i * heights.size() + i] = sds[i] * sds[i];
  return setup_mean(heights, covariance);
}

// Marks M1 … on walls, surveyed from set-up S at the heights given, beside the benchmark at 0.
Survey with_marks(const std::vector<double>& heights, double sd = 0.3) {
  Survey survey = simple_survey(sd);
  for (const double height : heights) {
    LevelPoint mark;
    mark.id = "M" + std::to_string(survey.rooms[0].levels.points.size());
    mark.off_floor = true;
    survey.rooms[0].levels.points.push_back(mark);
    survey.rooms[0].levels.setups[0].readings.push_back(
        {survey.rooms[0].levels.points.size() - 1, 1000 - height, {}});
  }
  return survey;
}

// A set-up of the day at 1,400 that reads these points, each moved up by so much.
void day_level(Survey& survey, const std::vector<std::pair<Index, double>>& points) {
  SetUp setup;
  setup.id = "D1";
  setup.instrument = 0;
  const auto& surveyed = survey.rooms[0].levels.setups[0].readings;
  for (const auto& [point, up] : points)
    setup.readings.push_back({point, 1400 - (1000 - surveyed[point].staff) - up, {}, 0});
  survey.install.setups.push_back(setup);
}

}  // namespace

TEST_CASE("one level read from three known points stands at their weighted mean") {
  // Ghilani, Adjustment Computations, 5th ed., example 12.6 (Krumm, Geodetic Network Adjustment
  // Examples, rev. 3.5): D from C, A and B at their adjusted heights, by -8.523 ± 0.005, +7.348 ±
  // 0.003 and -3.167 ± 0.004; published D = 444.9436, ours 444.94361.
  const SetUpMean d =
      mean_of({453.46847 - 8.523, 437.596 + 7.348, 448.10871 - 3.167}, {0.005, 0.003, 0.004});
  CHECK(std::abs(d.height.value - 444.94361) < 1e-5);
  // sd of a weighted mean: 1 / sqrt(1/0.005² + 1/0.003² + 1/0.004²).
  CHECK(d.height.sd == doctest::Approx(1 / std::sqrt(213611.11)).epsilon(1e-6));
  // The same source: residuals of those three observations, mm: -1.86, -0.39, 1.89.
  CHECK(-d.residuals[0] * 1000 == doctest::Approx(-1.86).epsilon(0.01));
  CHECK(-d.residuals[1] * 1000 == doctest::Approx(-0.39).epsilon(0.02));
  CHECK(-d.residuals[2] * 1000 == doctest::Approx(1.89).epsilon(0.01));
}

TEST_CASE("readings of points that were booked without error give the published collimation") {
  // Course sheet ACET108: TBM 50.000 + 1.400, A 50.165 + 1.235, B 49.530 + 1.870: 51.400 m.
  const SetUpMean mean = mean_of({51400, 51400, 51400}, {1, 1, 1});
  CHECK(mean.height.value == 51400);
  CHECK(mean.height.sd == doctest::Approx(1 / std::sqrt(3.0)));
}

TEST_CASE("what the surveyed heights have in common is not averaged away") {
  // Three heights, own sd 1 each, one common error of sd 2: variance 2² + 1²/3.
  const double common = 4;
  const std::vector<double> covariance = {common + 1, common, common, common,    common + 1,
                                          common,     common, common, common + 1};
  const std::vector<double> heights = {10, 11, 12};
  const SetUpMean mean = setup_mean(heights, covariance);
  CHECK(mean.height.value == doctest::Approx(11));
  CHECK(mean.height.sd == doctest::Approx(std::sqrt(4 + 1.0 / 3)));
}

TEST_CASE("the benchmark alone ties the day's level, without a check") {
  Survey survey = with_marks({});
  day_level(survey, {{0, 0}});
  const Results results = solve(survey);
  REQUIRE(results.install);
  const DaySetUpResult& setup = results.install->setups.at(0);
  CHECK(*setup.height == doctest::Approx(1400));
  CHECK(*setup.sd == doctest::Approx(0.3));
  CHECK(setup.by_benchmark);
  CHECK(setup.points.at(0).verdict == Agreement::unchecked);
  CHECK(setup.sum == "BM 0.0 + 1400.0 = 1400.0");
}

TEST_CASE("with the benchmark gone three marks tie it and two do not") {
  Survey survey = with_marks({120, 340, 560});
  day_level(survey, {{1, 0}, {2, 0}, {3, 0}});
  const Results tied = solve(survey);
  CHECK(*tied.install->setups.at(0).height == doctest::Approx(1400));
  CHECK_FALSE(tied.install->setups.at(0).by_benchmark);
  // Plane of the survey ± 0.3 from the benchmark, common to all; reading there and here ± 0.3.
  CHECK(*tied.install->setups.at(0).sd ==
        doctest::Approx(std::sqrt(0.09 + 2 * 0.09 / 3)).epsilon(1e-9));

  survey.install.setups[0].readings.pop_back();
  const Results loose = solve(survey);
  CHECK_FALSE(loose.install->setups.at(0).height);
  const Finding* f = finding(loose, "the day's level is tied to too little");
  REQUIRE(f);
  CHECK(f->severity == Severity::query);
  CHECK(*f->measured == 2);
  CHECK(f->at == "/install/setups/0");
}

TEST_CASE("a mark that moved is named with how far, and left out") {
  Survey survey = with_marks({120, 340, 560});
  day_level(survey, {{0, 0}, {1, 0}, {2, 9}, {3, 0}});
  const Results results = solve(survey);
  const DaySetUpResult& setup = results.install->setups.at(0);
  CHECK(*setup.height == doctest::Approx(1400));
  CHECK(setup.points[2].verdict == Agreement::rejected);
  CHECK(*setup.points[2].residual == doctest::Approx(9));
  const Finding* f = finding(results, "point does not agree with the survey");
  REQUIRE(f);
  CHECK(f->says.find("M2 reads 1051 from D1; the others say 1060.0") == 0);
  CHECK(f->says.find("moved by 9.0") != std::string::npos);
}

TEST_CASE("of two that disagree nobody can say which moved, so the level has no height") {
  Survey survey = with_marks({120});
  day_level(survey, {{0, 0}, {1, 9}});
  const Results results = solve(survey);
  CHECK_FALSE(results.install->setups.at(0).height);
  const Finding* f = finding(results, "the day's level does not agree");
  REQUIRE(f);
  CHECK(f->says.find("BM, M1") != std::string::npos);
  CHECK(*f->measured == doctest::Approx(9));
}

TEST_CASE("a reading booked in centimetres is told as such") {
  Survey survey = with_marks({120, 340, 560});
  day_level(survey, {{0, 0}, {1, 0}, {2, 0}, {3, 0}});
  survey.install.setups[0].readings[3].staff = 84;  // 840 mm
  const Results results = solve(survey);
  CHECK(*results.install->setups.at(0).height == doctest::Approx(1400));
  CHECK(finding(results, "point does not agree with the survey")->says.find("840 (cm for mm)") !=
        std::string::npos);
}

TEST_CASE("a benchmark read in other units is asked about, and not used where no level can stand") {
  Survey survey = with_marks({});
  read_grid(survey, 1200, 600, 600, [](double, double) { return -12.0; });
  day_level(survey, {{0, 0}});
  StaffReading& staff = survey.install.setups[0].readings[0];
  CHECK_FALSE(finding(solve(survey), "the day's level is unlikely"));
  struct Case {
    double staff;
    bool used;
    const char* words;
  };
  for (const Case& c :
       {Case{140, true, "152.0 above the highest floor. It may be 1400 (cm for mm)."},
        Case{1.4, false, "13.4 above the highest floor. It may be 1400 (metres"},
        Case{55.12, true, "It may be 551.2 (cm for mm) or 1400 (inches for mm)."},
        Case{14000, false, "It may be 1400 (a digit too many)."},
        Case{-900, false, "888.0 below the highest floor."}}) {
    CAPTURE(c.staff);
    staff.staff = c.staff;
    const Results results = solve(survey);
    const Finding* f = finding(results, "the day's level is unlikely");
    REQUIRE(f);
    CHECK(f->severity == Severity::query);
    CHECK(f->says.find(c.words) != std::string::npos);
    CHECK(results.install->setups.at(0).height.has_value() == c.used);
  }
  // A level on a mark high up a wall reads little, and is likely.
  survey.rooms[0].levels.benchmark->height = 1000;
  survey.rooms[0].levels.setups[0].readings[0].staff = 0;
  staff.staff = 40;
  CHECK_FALSE(finding(solve(survey), "the day's level is unlikely"));
}

TEST_CASE("floor that was stripped or laid over ties nothing") {
  Survey survey = simple_survey();
  read_grid(survey, 1200, 600, 600, [](double, double) { return 0.0; });
  day_level(survey, {{1, 0}, {2, 0}, {3, 0}});
  CHECK(solve(survey).install->setups.at(0).height);
  survey.rooms[0].flooring.laid = {laid_layer(18, LaidTo::wall)};
  const Results over = solve(survey);
  CHECK_FALSE(over.install->setups.at(0).height);
  CHECK(
      finding(over, "the day's level is tied to too little")->says.find("3 more stand on floor") !=
      std::string::npos);
}
