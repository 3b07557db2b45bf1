// What was really laid, in place of what was planned.
//
//   thickness read, or set-up's plane - staff - bare floor there
//   laid thickness of the top layer = weighted mean of the totals - planned layers under it
// The difference goes to the topmost layer that exists where it was read, and so moves legs,
// plinths and floor exactly as far as that layer reaches (flooring.h). A layer is one thing: all
// readings on it make one mean. Its sd: of the readings, or of their scatter where that is larger;
// a set-up's height and the bare floor's own sd are common to all readings and are not averaged
// away (the bare floor's in full, which is the careful side).
//
// A reading is asked back (a query) and left out when it is further than `far_from_plan` from
// the plan, or reads like the planned thickness in another unit (cm, inches, metres, a digit too
// many). A floor where none was planned is asked about too, because no layer says how far it
// reaches. Staff readings from a set-up without a height (day_setups.h), or where the bare floor
// was not read, take no part.
#pragma once

#include <optional>
#include <vector>

#include "checks/day_setups.h"
#include "checks/floor_surface.h"

namespace levelrun {

inline constexpr double far_from_plan = 15;    // mm of total thickness; common practice, no source
inline constexpr double laid_reading_sd = 1;   // mm: a thickness taken with a rule at an edge;
                                               // common practice, no source
inline constexpr double laid_varies_most = 3;  // mm between readings of one floor, beyond which
                                               // it is said; common practice, no source

struct LaidFloor {
  std::vector<LaidFloorResult> results;  // one for each top layer that was read
  std::vector<Finding> findings;
  // The room's laid layers as they are; empty: as planned.
  std::optional<std::vector<LaidLayer>> layers;
};

LaidFloor laid_floor(const Survey&, Index room, const RoomPlan&, const FloorSurface&,
                     const std::vector<DaySetUpResult>&);

// The thickness that a number means if it was booked in another unit, or with a digit too many or
// too few; empty: none of these comes to within 5 mm of `planned` (a floor may well come out a few
// mm off it) and twice as near as the number itself.
struct OtherUnit {
  double value = 0;
  const char* kind = "";
};
std::optional<OtherUnit> thickness_in_other_unit(double booked, double planned);

// The survey as it was released: without what was read on the day, U where it was released.
// Answers, ticks and snags stay.
Survey as_released(const Survey&);

}  // namespace levelrun
