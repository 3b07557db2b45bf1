// The floor as it was laid: its mean and sd, how far it reaches, what is asked back, the better U.
#include "checks/laid_floor.h"

#include <doctest/doctest.h>

#include <cmath>

#include "survey/survey_file.h"
#include "tests/unit/fitted_room.h"

using namespace levelrun;

namespace {

Survey sample(const std::string& name) {
  auto loaded = load_survey(std::string(SAMPLES) + "/" + name + ".levelrun.json");
  REQUIRE(loaded.ok());
  return loaded.value().survey;
}

// As the office releases it: every level group's U is set where it came out.
void release(Survey& survey) {
  const Results results = solve(survey);
  for (Index r = 0; r < survey.rooms.size(); ++r)
    for (const GroupResult& group : results.rooms[r].groups) {
      LevelGroup* asked = nullptr;
      for (LevelGroup& g : survey.rooms[r].level_groups)
        if (g.id == group.id) asked = &g;
      if (!asked) asked = &survey.rooms[r].level_groups.emplace_back();
      asked->id = group.id;
      asked->underside_set = LevelGroup::SetUnderside{std::round(group.underside * 10) / 10,
                                                      "office", "2026-03-01T09:00:00+00:00"};
    }
}

void lay(Survey& survey, std::initializer_list<double> thicknesses) {
  double x = 500;
  for (const double t : thicknesses) {
    LaidFloorReading reading;
    reading.place = Place{{}, 0, 0, x, -800, 20};
    reading.thickness = t;
    survey.install.finished_floor.push_back(reading);
    x += 400;
  }
}

Survey fitted_with(LaidTo to) {
  Survey survey = fitted_room(3);
  survey.rooms[0].flooring.laid = {laid_layer(18, to)};
  return survey;
}

}  // namespace

TEST_CASE("a floor laid 3 mm thicker under the units makes every leg of a released job 3 shorter") {
  Survey survey = sample("small-l-kitchen");  // tile and bed, 14, to the wall
  release(survey);
  const Results before = solve(survey);
  lay(survey, {17, 17, 17});
  const Results after = solve(survey);
  REQUIRE(before.rooms[0].legs.size() == after.rooms[0].legs.size());
  CHECK(after.rooms[0].groups[0].underside == before.rooms[0].groups[0].underside);
  for (Index i = 0; i < before.rooms[0].legs.size(); ++i)
    CHECK(*after.rooms[0].legs[i].height ==
          doctest::Approx(*before.rooms[0].legs[i].height - 3).epsilon(1e-12));
  CHECK(*after.rooms[0].groups[0].worktop_above_floor.at ==
        doctest::Approx(*before.rooms[0].groups[0].worktop_above_floor.at - 3));

  REQUIRE(after.install);
  const LaidFloorResult& laid = after.install->laid_floor.at(0);
  CHECK(*laid.difference == doctest::Approx(3));
  CHECK(laid.moves_legs);
  CHECK(laid.sum == "mean of 3 readings 17.0; planned 14.0");

  const UndersideProposal& better = after.install->proposals.at(0);
  CHECK(better.proposed == doctest::Approx(better.now + 3));
  CHECK(*better.worktop_then == doctest::Approx(*better.worktop_released));
  CHECK(*better.worktop_now == doctest::Approx(*better.worktop_released - 3));

  // Accepted, it restores the worktop and the legs, and is not proposed a second time.
  LevelGroup& group = survey.rooms[0].level_groups[0];
  group.underside_set->released = group.underside_set->value;
  group.underside_set->value = better.proposed;
  const Results accepted = solve(survey);
  CHECK(accepted.install->proposals.empty());
  CHECK(*accepted.rooms[0].groups[0].worktop_above_floor.at ==
        doctest::Approx(*before.rooms[0].groups[0].worktop_above_floor.at));
  CHECK(*accepted.rooms[0].legs[0].height == doctest::Approx(*before.rooms[0].legs[0].height));
  // As released is still known.
  CHECK(*solve(as_released(survey)).rooms[0].legs[0].height ==
        doctest::Approx(*before.rooms[0].legs[0].height));
}

TEST_CASE("a floor that stops at the front legs leaves them, and takes 3 mm from the plinth") {
  Survey survey = sample("u-shape-island");  // boards, 18, to the front legs
  release(survey);
  const Results before = solve(survey);
  lay(survey, {21, 21, 21});
  const Results after = solve(survey);
  const RoomResult &was = before.rooms[0], &is = after.rooms[0];
  REQUIRE(!was.legs.empty());
  for (Index i = 0; i < was.legs.size(); ++i)
    CHECK(*is.legs[i].height == doctest::Approx(*was.legs[i].height).epsilon(1e-12));
  CHECK_FALSE(after.install->laid_floor.at(0).moves_legs);

  // Clear height at the plinth: top of the board as cut, plus the gap over it.
  REQUIRE(!was.plinths.empty());
  REQUIRE(was.plinths.size() == is.plinths.size());
  for (Index i = 0; i < was.plinths.size(); ++i) {
    const PlinthResult &a = was.plinths[i], &b = is.plinths[i];
    CHECK(b.floor_gap == doctest::Approx(a.floor_gap));
    // Where neither is cut the gap shrinks by 3; where both are cut to the same gap the board does.
    if (a.top == TopCut::none && b.top == TopCut::none)
      CHECK(b.top_gap_least == doctest::Approx(a.top_gap_least - 3));
    else if (a.top == TopCut::taper && b.top == TopCut::taper)
      CHECK(b.ordinates.front().height <= a.ordinates.front().height);
    // Underside less highest floor under the board, whichever way it is split.
    const double least_a = a.height_left + (a.top == TopCut::none ? a.top_gap_least : 3);
    const double least_b = b.height_left + (b.top == TopCut::none ? b.top_gap_least : 3);
    if (a.top == TopCut::parallel && b.top == TopCut::parallel)
      CHECK(least_b == doctest::Approx(least_a - 3));
  }
  CHECK(after.install->proposals.at(0).proposed ==
        doctest::Approx(after.install->proposals.at(0).now + 3));
}

TEST_CASE("worked by hand: U 150, floor 0, boards 18 to the front legs, laid 21: clear 129") {
  Survey survey = fitted_with(LaidTo::front_legs);
  survey.rooms[0].runs[0].furniture.plinth.height = 140;
  lay(survey, {21});
  const Results results = solve(survey);
  // Legs 150 - 0; plinth floor 21: top edge to 150 - 21 - 3 = 126 of 140.
  CHECK(*results.rooms[0].legs[0].height == doctest::Approx(150));
  CHECK(results.rooms[0].plinths[0].height_left == doctest::Approx(126));
  CHECK(results.rooms[0].plinths[0].top == TopCut::parallel);
}

TEST_CASE("the sd of the laid floor is that of its readings, or of their scatter if it is larger") {
  Survey survey = fitted_with(LaidTo::wall);
  lay(survey, {20, 20, 20, 20});
  CHECK(*solve(survey).install->laid_floor[0].sd == doctest::Approx(laid_reading_sd / 2));
  survey.install.finished_floor.clear();
  lay(survey, {17, 23});  // scatter: sd sqrt(18) = 4.243, of the mean 3
  const Results scattered = solve(survey);
  CHECK(*scattered.install->laid_floor[0].sd == doctest::Approx(3));
  CHECK(*scattered.install->laid_floor[0].varies == doctest::Approx(6));
  CHECK(finding(scattered, "laid floor varies"));
  // It comes into every leg's band in place of the planned layer's.
  const LegResult& leg = scattered.rooms[0].legs[0];
  CHECK(*leg.sd > 3);
  CHECK(*leg.sd < 3.2);
}

TEST_CASE("180 instead of 18 is asked back and not used") {
  Survey survey = fitted_with(LaidTo::wall);
  const double planned = *solve(survey).rooms[0].legs[0].height;
  for (const auto& [booked, word] :
       {std::pair(180.0, "18.0 (a digit too many)"), std::pair(1.8, "18.0 (cm for mm"),
        std::pair(0.7, "17.8 (inches for mm)"), std::pair(60.0, "60.0 thick"),
        // 3 thicker, and in cm or metres: nearer to the plan than 15, and no floor all the same.
        std::pair(2.1, "21.0 (cm for mm"), std::pair(0.018, "18.0 (metres for mm)")}) {
    const auto& booked_of_case = booked;
    CAPTURE(booked_of_case);
    survey.install.finished_floor.clear();
    lay(survey, {booked});
    const Results results = solve(survey);
    CHECK(*results.rooms[0].legs[0].height == doctest::Approx(planned));
    const Finding* f = finding(results, "laid floor far from plan");
    REQUIRE(f);
    CHECK(f->severity == Severity::query);
    CHECK(f->says.find(word) != std::string::npos);
    CHECK(f->at == "/install/finished_floor/0");
    CHECK(results.install->laid_floor[0].asked_back == 1);
    CHECK_FALSE(results.install->laid_floor[0].laid);
  }
  // Thinner or thicker than planned is no other unit.
  for (const double booked : {6.0, 12.0, 15.0, 30.0}) {
    CAPTURE(booked);
    survey.install.finished_floor.clear();
    lay(survey, {booked});
    CHECK(*solve(survey).install->laid_floor[0].laid == doctest::Approx(booked));
  }
  // Beside good readings the bad one alone is left out.
  survey.install.finished_floor.clear();
  lay(survey, {21, 180, 21});
  CHECK(*solve(survey).rooms[0].legs[0].height == doctest::Approx(planned - 3));
}

TEST_CASE("a floor where none was planned is asked about, for nobody knows how far it reaches") {
  Survey survey = fitted_room(3);
  lay(survey, {12});
  const Results results = solve(survey);
  CHECK(finding(results, "floor laid where none was planned"));
  CHECK(*results.rooms[0].legs[0].height == doctest::Approx(150));
}

TEST_CASE("only the top layer takes the difference") {
  Survey survey = fitted_room(3);
  LaidLayer screed = laid_layer(10, LaidTo::wall, true, 1);
  screed.name = "screed";
  survey.rooms[0].flooring.laid = {screed, laid_layer(8, LaidTo::front_legs)};
  lay(survey, {21});
  const Results results = solve(survey);
  // Legs stand on the screed as planned: 150 - 10, with its own sd.
  CHECK(*results.rooms[0].legs[0].height == doctest::Approx(140));
  CHECK(*results.install->laid_floor[0].laid == doctest::Approx(11));
  CHECK(results.install->laid_floor[0].sum == "1 reading 21.0 − 10.0 = 11.0; planned 8.0");
}

TEST_CASE("staff readings of the laid floor give its thickness over the bare floor") {
  Survey survey = fitted_with(LaidTo::wall);
  SetUp day;
  day.id = "D1";
  day.instrument = 0;
  day.readings.push_back({0, 1400, {}, 0});
  survey.install.setups.push_back(day);
  LaidFloorReading reading;
  reading.place = Place{{}, 0, 0, 1000, -1000, 5};
  reading.staff = 1400 - 21;
  reading.setup = "D1";
  survey.install.finished_floor.push_back(reading);
  const Results results = solve(survey);
  CHECK(*results.install->laid_floor.at(0).laid == doctest::Approx(21).epsilon(0.001));
  CHECK(*results.install->laid_floor[0].sd > 0.42);  // at least set-up and reading, ± 0.3 each
  // From a set-up that is tied to nothing it says nothing.
  survey.install.setups[0].readings.clear();
  const Results untied = solve(survey);
  CHECK(untied.install->laid_floor.empty());
  CHECK(*untied.rooms[0].legs[0].height == doctest::Approx(150 - 18));
}

TEST_CASE("the proposed underside keeps to what the legs can do, and says what kept it") {
  Survey survey = fitted_with(LaidTo::front_legs);
  survey.rooms[0].runs[0].furniture.legs[0].max = 153;
  lay(survey, {24});
  const Results results = solve(survey);
  const UndersideProposal& p = results.install->proposals.at(0);
  CHECK(p.proposed < 153);
  CHECK(p.proposed > 151);
  CHECK(p.limited_by.find("the longest leg at") == 0);
}

TEST_CASE("a job whose U was never set needs no proposal: its U follows the floor") {
  Survey survey = fitted_with(LaidTo::wall);
  survey.rooms[0].level_groups[0].underside_set.reset();
  survey.rooms[0].level_groups[0].asked_height = 900;
  const double before = solve(survey).rooms[0].groups[0].underside;
  lay(survey, {21});
  const Results after = solve(survey);
  CHECK(after.rooms[0].groups[0].underside == doctest::Approx(before + 3));
  CHECK(after.install->proposals.empty());
}
