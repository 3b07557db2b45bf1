// The legs of a room in the order they are set, each with what its card shows, and what has been
// set so far.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/entry/schedule_rows.h"
#include "checks/placing.h"
#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

struct LegToSet {
  std::string unit, position;           // as results and file name them: "S4", "back_right"
  double from_left = 0, from_back = 0;  // mm, of the unit's own outline
  Unknown height, sd, turns;            // turns: from as supplied
  std::optional<double> supplied;       // mm
  std::optional<Judged> judged;
  std::string sum;
  std::vector<std::string> captions;
  std::optional<double> set;  // the height it was last set to
  bool moved = false;         // set, but today's height is another by a millimetre or more
};

struct UnitToSet {
  std::string id, run, words;  // words: "sink 600"
  double width = 0, depth = 0;
  std::vector<Index> legs;  // into LegsToSet::legs, in the order of the unit
};

struct LegsToSet {
  std::vector<LegToSet> legs;    // in the order of setting
  std::vector<UnitToSet> units;  // as they stand, run by run
  Index unit_of(const LegToSet&) const;
  int set() const;
  bool all_set() const { return !legs.empty() && set() == int(legs.size()); }
};

// What a set cabinet's top was read at says more of its legs than the schedule: a leg of a unit in
// `read` is not `moved`.
LegsToSet legs_to_set(const Survey&, Index room, const RoomResult&,
                      const std::vector<std::optional<PlacedRun>>&,
                      const std::optional<InstallResult>& read);

struct LegSet {
  std::string unit, position;
  double height = 0;  // mm
};

// RFC 6902: legs of a room are set. One that was set before is set anew.
Json set_legs_patch(const Json& document, const Survey&, Index room, const std::vector<LegSet>&,
                    const std::string& at, const std::string& by);

}  // namespace levelrun
