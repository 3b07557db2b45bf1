// A run and its units as lines of a list: what is left to the next wall, infills, void, plinth and
// worktop; then each unit with its legs, its void and its verdict.
//
// Lengths are shown as the job asks. What is not known yet has no line, but what is left to the
// wall's end is said of every run along a wall whose length is known, however little else is.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/entry/schedule_rows.h"
#include "survey/estimate.h"

namespace levelrun {

struct RunRow {
  std::string name;   // "Left to W2"
  std::string value;  // "19.0 ±3.1"
  std::string words;  // "of 3899.7 clear"; may be empty
  std::optional<Judged> judged;
  bool needs_a_person = false;
};

// wall_length: adjusted, of the run's wall; empty for an island or while it is not known.
// results: empty until the survey is solved.
std::vector<RunRow> run_lines(const Survey&, Index room, Index run, const RoomResult* results,
                              std::optional<Estimate> wall_length);

struct UnitRow {
  std::string id;
  std::string what;       // "base, drawers, sink"
  std::string width;      // "600"
  std::string legs;       // "141.7–142.2 ±1.6"; empty: it has none, or they are not known
  std::string void_here;  // "44.9 of 45": least at a service behind it; empty: none
  std::optional<Judged> judged;
  bool legs_need_a_person = false, void_needs_a_person = false;
};

std::vector<UnitRow> unit_rows(const Survey&, Index room, Index run, const RoomResult* results);

// Each kind as the file writes it, in the format's order; and as a person reads it.
const std::vector<std::string>& unit_kinds();
std::string kind_words(UnitKind);

// Where along its wall the next run can start: the end of what stands there, wall units apart.
double free_along(const Survey&, Index room, Index wall);

}  // namespace levelrun
