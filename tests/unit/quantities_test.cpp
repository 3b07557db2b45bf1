#include "checks/quantities.h"

#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "checks/solve.h"
#include "survey/survey_file.h"
#include "tests/unit/simple_survey.h"

using namespace levelrun;

namespace {

struct Solved {
  Survey survey;
  Results results;
};

Solved sample(const std::string& name) {
  auto file = load_survey(std::string(SAMPLES "/") + name + ".levelrun.json");
  REQUIRE(file.ok());
  Solved out{std::move(file.value().survey), {}};
  out.results = solve(out.survey);
  return out;
}

constexpr const char* samples[] = {"small-l-kitchen", "u-shape-island", "knocked-through",
                                   "full-of-trouble"};

}  // namespace

TEST_CASE("every leg, board, notch and worktop of the results is counted once") {
  for (const char* name : samples) {
    CAPTURE(name);
    const Solved s = sample(name);
    const Quantities q = quantities(s.survey, s.results);
    std::size_t legs = 0, boards = 0, pieces = 0, notches = 0, tops = 0;
    for (const RoomResult& room : s.results.rooms) {
      legs += room.legs.size();
      boards += room.boards.size();
      for (const Board& b : room.boards) pieces += b.pieces.size();
      for (const ServiceResult& service : room.services) notches += service.notches.size();
      tops += room.worktops.size();
    }
    for (const auto& l : q.legs) legs -= std::size_t(l.count);
    for (const auto& b : q.boards) boards -= std::size_t(b.count), pieces -= std::size_t(b.pieces);
    CHECK(legs == 0);
    CHECK(boards == 0);
    CHECK(pieces == 0);
    CHECK(q.notches.size() == notches);
    CHECK(q.worktops.size() == tops);
  }
}

TEST_CASE("legs are told by type, with the range of their heights and those beyond their own") {
  const Solved s = sample("full-of-trouble");
  const Quantities q = quantities(s.survey, s.results);
  REQUIRE(q.legs.size() == 1);
  double shortest = 1e9, tallest = 0;
  int beyond = 0;
  for (const LegResult& leg : s.results.rooms[0].legs) {
    REQUIRE(leg.height);
    shortest = std::min(shortest, *leg.height);
    tallest = std::max(tallest, *leg.height);
    beyond += leg.verdict != Verdict::within;
  }
  CHECK(*q.legs[0].shortest == shortest);
  CHECK(*q.legs[0].tallest == tallest);
  CHECK(q.legs[0].not_within == beyond);
  CHECK(beyond > 0);
}

TEST_CASE("an infill is ordered wider by its taper, the wall's scribe and what is left on") {
  const Solved s = sample("full-of-trouble");
  const Quantities q = quantities(s.survey, s.results);
  const FitResult& fit = s.results.rooms[0].fits.at(0);
  int seen = 0;
  for (const Quantities::Panel& p : q.panels) {
    if (p.kind != "infill") continue;
    ++seen;
    const double width = p.place == "left" ? *fit.infill_left : *fit.infill_right;
    CHECK(*p.width == width);
    CHECK(*p.order_width >= width + fit.taper.value_or(0) + scribe_over);
    CHECK(*p.height == 720);  // as the base units' fronts
  }
  CHECK(seen == 2);
}

TEST_CASE(
    "an end panel reaches the lower of the floors under it, with its band and what is left on") {
  const Solved s = sample("u-shape-island");
  const Quantities q = quantities(s.survey, s.results);
  REQUIRE(s.results.rooms[0].end_panels.size() == 1);
  const EndPanelResult& panel = s.results.rooms[0].end_panels[0];
  int seen = 0;
  for (const Quantities::Panel& p : q.panels) {
    if (p.kind != "end panel") continue;
    ++seen;
    CHECK(*p.height == std::max(*panel.front, *panel.back));
    CHECK(*p.order_height ==
          doctest::Approx(*p.height + 1.96 * *panel.sd + scribe_over).epsilon(1e-12));
  }
  CHECK(seen == 1);
}

TEST_CASE("every run has its void, and what a service asks for stands beside it") {
  for (const char* name : samples) {
    CAPTURE(name);
    const Solved s = sample(name);
    const Quantities q = quantities(s.survey, s.results);
    std::size_t runs = 0;
    for (const Room& room : s.survey.rooms) runs += room.runs.size();
    CHECK(q.voids.size() == runs);
    for (std::size_t r = 0; r < s.results.rooms.size(); ++r)
      for (const RunVoidResult& needed : s.results.rooms[r].run_voids)
        for (const Quantities::Void& v : q.voids)
          if (v.room == s.results.rooms[r].id && v.run == needed.run)
            CHECK(v.needed == needed.needed);
  }
}

TEST_CASE("a floor that was not read gives legs of unknown height, counted as such") {
  Survey survey = simple_survey();
  survey.furniture.legs = {leg_type("A", 100, 200)};
  add_run(survey, "R", 3);
  const Results results = solve(survey);
  const Quantities q = quantities(survey, results);
  int legs = 0;
  for (const auto& l : q.legs) {
    CHECK_FALSE(l.shortest);
    CHECK(l.not_known == l.count);
    legs += l.count;
  }
  CHECK(std::size_t(legs) == results.rooms[0].legs.size());
}

TEST_CASE("a survey without a room has nothing to order") {
  const Quantities q = quantities({}, {});
  CHECK(q.legs.empty());
  CHECK(q.voids.empty());
}
