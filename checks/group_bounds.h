// Everything that bounds a level group's U (the underside of its base carcasses): DEVELOPERS.md,
// "Datum". A bound has a kind, a place, a value with sd, and a side.
//
//   leg_min   U >= bearing floor + the leg's shortest        leg_max  U <= bearing floor + longest
//   niche     worktop underside - highest niche floor >= min_height, - lowest <= max_height
//   slide_in  worktop underside - highest finished floor in front >= min_height + slide_in
//   sill      worktop top (with its upstand) <= window sill, or the underside of its board
//   ceiling   top of tall and wall units (with cornice) <= ceiling
//   set       U as released
//   asked_height  worktop top above the finished floor at height_at, within its tolerance
//   board_reaches U <= lowest plinth floor + plinth height + top_gap_max
//   board_whole   U >= highest plinth floor + plinth height + top_gap_min
// Hard ones are tightened by 1.96 sd; soft ones (the last three) use best estimates. Each
// carries its unit's and its run's offset, so that one dimension, U, is enough.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct GroupBound {
  Bound bound;
  // Whose it is, for splitting a group and for swapping legs; empty for the whole group's.
  std::optional<Index> run, unit;
  const LegPlace* leg = nullptr;
};

// What a level group stands on and under.
struct LevelGroupFacts {
  std::string id;
  const LevelGroup* asked = nullptr;  // null: not described in the survey
  std::vector<Index> runs;
  std::vector<GroupBound> bounds;              // hard ones first
  std::optional<double> asked_underside;       // U that gives the asked height exactly
  std::optional<Estimate> floor_at;            // finished floor at height_at
  double floor_lowest = 0, floor_highest = 0;  // finished, along the group's fronts
  bool floor_known = false;
};

std::vector<LevelGroupFacts> level_group_facts(const RoomFacts&);

std::string_view word(BoundKind);
// "leg_min S1 front_left": the bound by its contract word, for results.
std::string named(const Bound&);
// "the shortest leg at S1 front left": the same as a person would say it.
std::string phrase(const Bound&);

}  // namespace levelrun
