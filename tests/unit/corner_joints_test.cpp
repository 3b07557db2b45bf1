#include "checks/corner_joints.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "tests/unit/true_rooms.h"

namespace levelrun {
namespace {

// A corner `off` degrees wider than noted, told at worktop depth 600 as the plan tells it.
CornerResult opened(double off, double sd_angle = 0.05) {
  CornerResult corner;
  corner.angle = 90 + off;
  corner.sd_angle = sd_angle;
  corner.out_of_square = 600 * std::tan(off * pi / 180);
  corner.sd = 600 * sd_angle * pi / 180;
  return corner;
}

std::vector<CornerResult> judged(std::vector<CornerResult> corners, const char* table) {
  Survey survey;
  survey.job.tolerance_table = table;
  judge_corners(survey, corners);
  return corners;
}

}  // namespace

TEST_CASE("a corner one degree open is 10.5 out at a 600 worktop and 9.8 at a 560 unit") {
  const CornerResult corner = judged({opened(1)}, "din18202")[0];
  CHECK(*corner.out_of_square == doctest::Approx(10.4730));  // 600 tan 1
  CHECK(*corner.out_of_square_units == doctest::Approx(9.7748));
  CHECK(*corner.joint_angle == 91);
  CHECK(*corner.mitre == 45.5);
}

// DIN 18202 Table 2, over 0.5 to 1 m: 6 mm (beaplan.de, seen, second hand).
TEST_CASE("a corner's verdict counts its band both ways") {
  const struct {
    double off, sd_angle;
    Verdict verdict;
  } cases[] = {{0.3, 0.05, Verdict::within},     // 3.1 of 6
               {-0.3, 0.05, Verdict::within},    //
               {0.55, 0.05, Verdict::doubtful},  // 5.8 +- 1.0
               {-0.6, 0.05, Verdict::doubtful},  // -6.3 +- 1.0
               {-1.0, 0.05, Verdict::outside},   //
               {1.0, 0.30, Verdict::doubtful}};  // 10.5 +- 6.2
  for (const auto& c : cases) {
    CAPTURE(c.off);
    const CornerResult corner = judged({opened(c.off, c.sd_angle)}, "din18202")[0];
    CHECK(corner.limit == 6);
    CHECK(corner.verdict == c.verdict);
  }
}

TEST_CASE("where the table gives no number a corner has its joint and no verdict") {
  const CornerResult corner = judged({opened(1)}, "nhbc2020")[0];  // square, no number given
  CHECK_FALSE(corner.limit);
  CHECK_FALSE(corner.verdict);
  CHECK(corner.out_of_square_units);
  CHECK(*corner.mitre == 45.5);
}

TEST_CASE("of a corner that is not known nothing is told") {
  const CornerResult corner = judged({CornerResult{}}, "din18202")[0];
  CHECK_FALSE(corner.out_of_square_units);
  CHECK_FALSE(corner.joint_angle);
  CHECK_FALSE(corner.mitre);
  CHECK_FALSE(corner.verdict);
}

TEST_CASE("the joints of a room are half its adjusted corners") {
  Survey survey = room_of(skew_room);
  add_diagonals(survey, skew_room, {{0, 2}, {1, 3}});
  RoomPlan plan = adjust_room(survey, 0);
  judge_corners(survey, plan.corner_results);
  double sum = 0;
  for (Index c = 0; c < 4; ++c) {
    CAPTURE(c);
    CHECK(*plan.corner_results[c].mitre == doctest::Approx(interior(skew_room, c) / 2));
    sum += *plan.corner_results[c].mitre;
  }
  CHECK(sum == doctest::Approx(180));
}

}  // namespace levelrun
