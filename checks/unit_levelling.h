// Which leg of a set cabinet is turned, and how far, to bring the run level?
//
// Read: a staff on the cabinet's top at its corners, from one level set-up. The carcass is rigid:
// its top is the plane through the corners (least squares), and every leg moves the plane. With
// e = corner - level aimed at, and x = what each leg is raised by:
//   x = a + b u + c v at the leg's place,  minimise sum (e + a + b u + c v)² over the corners,
//   subject to shortest <= height + x <= longest for every leg
// solved exactly by trying every set of up to three end stops. The height of a leg is what it was
// last set to, else the schedule's.
//
// Level aimed at: U, when the set-up is tied (day_setups.h). If end stops keep a unit from it, the
// level nearest to U at which the whole level group comes most level. From a set-up that is tied
// to nothing a group is brought level in itself, where the legs turn least.
// Three corners that are not in line are needed; of several readings of a corner the last
// counts. A reading that puts a corner further than `far_off_level` from U (from the middle of all
// tops, where no U is known to the set-up) is asked back and the unit left alone. Nothing is said
// of a unit that is not read.
#pragma once

#include <span>
#include <vector>

#include "checks/room_facts.h"

namespace levelrun {

inline constexpr double level_tolerance = 0.5;  // mm, each corner; common practice, no source
inline constexpr double far_off_level = 50;     // mm; a cabinet on set legs is nowhere near

// One rigid cabinet. u, v: any plan axes, mm.
struct ReadCorner {
  double u = 0, v = 0;
  double above = 0;  // the level aimed at
  double sd = 1;
};
struct TurnableLeg {
  double u = 0, v = 0;
  double lowest = 0, highest = 0;  // raise that its end stops leave, lowest <= 0 <= highest or
                                   // beyond one of them (a leg set outside its range)
};
struct Turned {
  bool solved = false;            // false: too few corners, or legs whose end stops leave no plane
  std::vector<double> raise, sd;  // of each leg
  std::vector<EndStop> end_stop;  // that binds
  std::vector<double> residual;   // of each corner, above the level aimed at, afterwards
  double squares = 0;             // sum of residual²
};
Turned turn_legs(std::span<const ReadCorner>, std::span<const TurnableLeg>);

struct UnitLevels {
  std::vector<UnitLevelResult> units;
  std::vector<Finding> findings;
};
UnitLevels unit_levelling(const RoomFacts&, const std::vector<GroupResult>&,
                          const std::vector<LegResult>&, const std::vector<DaySetUpResult>&);

}  // namespace levelrun
