// Where does a service stand or run behind the units of a wall, and how far does it reach
// towards their backs?
//
//   void here = void_depth + hollow of the wall behind the run's line (run_line.h)
//   needed    = projection, from the wall to its far face
// each at the worst place over the service's width and height: its edges, its middle and the
// wall's readings between. A hollow that was not measured counts as none, which errs to the safe
// side, for the run's line touches the proudest point. Wall units have their own void_depth if
// it is stated.
//
// A service with a route (its own place, the route's points, where it connects; straight between
// points, round the corner from wall to wall) is looked at along all of it. A point with an `out`
// is reckoned from the wall's line instead of its face:
//   void here = void_depth + how far the run's line stands in front of the wall's line
//   needed    = out of its middle + diameter / 2
// A point with no out keeps the service's projection; with neither, nothing is known there and
// the stretch has no `needed`. Routes of pipes and ducts, and of anything with a diameter; 22 mm
// where none is booked (common practice, no source).
//
// Projection, and out from a wall, are taken as known to 1 mm (a tape on a pipe: common practice,
// no source); out of a point in x and y as well as its place. Finishes still to come are not
// credited, for plates and clips come forward with them. A width that is not given counts as none.
// Runs that stand on no wall have no void.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"
#include "checks/run_line.h"

namespace levelrun {

// mm; thickness of a carcass's side panels: common practice, no source.
inline constexpr double side_thickness = 18;

// along: from the wall's left end. Heights above the benchmark. Depths from the run's line.
struct BackedUnit {
  Index run = 0, unit = 0;
  double left = 0, right = 0;
  double underside = 0, top = 0;
  double lowest = 0;  // of what stands there: an end panel goes down to the floor
  double void_depth = 0, back_thickness = 0;
  double sides = 0;  // back edge of its side panels: 0 of a recessed back
  double front = 0;
};

// What a service takes out of one side panel: heights above the unit's underside; how far it
// reaches from the run's line.
struct SideCrossing {
  double low = 0, high = 0, reach = 0;
};

struct UnitPass {
  Index unit = 0;  // in BehindUnits::units()
  bool routed = false;
  double left = 0, right = 0;    // from the unit's left side, within its width
  double low = 0, high = 0;      // above the unit's underside; may go beyond its height
  Unknown needed;                // at the worst place
  Estimate here;                 // likewise; sd of here - needed
  std::optional<double> hollow;  // part of here: of the face, or of the wall's line
  bool from_line = false;        // here and needed are from the wall's line, not its face
  double nearest = 0;            // its near face, from where needed is reckoned; 0 at the face
  double place_sd = 0;
  std::optional<SideCrossing> left_side, right_side;

  double margin() const { return here.value - *needed; }
};

struct ServicePasses {
  // Of its own place: "behind a unit", "behind a wall unit", "below the underside", "above the
  // units"; empty where no unit stands in front of it or its height is not known.
  std::string height_zone;
  // Its own place first, then its route. Nothing is needed for a service that is moved, and its
  // route counts no more.
  std::vector<UnitPass> passes;
};

class BehindUnits {
 public:
  // The facts must outlive this.
  BehindUnits(const RoomFacts&, const std::vector<GroupResult>&);

  const std::vector<BackedUnit>& units() const { return units_; }  // in document order
  const Unit& facts(Index unit) const;
  const Furniture& furniture(Index unit) const;

  ServicePasses of(Index service) const;

 private:
  struct Point;
  struct Stretch;
  struct Reach;
  struct Clip;
  std::optional<Point> point(Index wall, const Place&, const MeasuredHeight&) const;
  std::vector<Stretch> stretches(Index service, Index wall) const;
  void add_route(std::vector<Stretch>&, const Service&, Index wall) const;
  Reach reach(const BackedUnit&, const Service&, const Stretch&, const Clip&) const;
  void add_pass(std::vector<UnitPass>&, Index unit, const Service&, const Stretch&) const;
  void add_zone(std::string&, Index unit, const Stretch&) const;

  const RoomFacts& f_;
  std::vector<BackedUnit> units_;
  std::vector<std::optional<RunLine>> lines_;  // as room.runs
};

}  // namespace levelrun
