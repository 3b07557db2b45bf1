// Where units and services stand on a wall, as seen facing it.
//
// along: mm from the wall's left end; heights: mm above the room's benchmark. A unit's heights are
// empty where its level group has no underside yet, a service's where the floor below it was not
// read.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

inline constexpr double single_plate = 86;  // mm, a single accessory's plate; from memory

struct UnitOnWall {
  Index run = 0, unit = 0;     // in room.runs and run.units
  double left = 0, right = 0;  // along
  Unknown underside, top;
  Unknown worktop;  // top of its run's worktop

  const Unit& facts(const Room& room) const { return room.runs[run].units[unit]; }
};

// In document order; a run whose wall has no position is left out.
std::vector<UnitOnWall> units_on_wall(const RoomFacts&, const std::vector<GroupResult>&,
                                      Index wall);

struct ServiceOnWall {
  double left = 0, right = 0;      // along, its edges: a plate's width where none is given
  double sd = 0;                   // of along
  std::optional<Estimate> middle;  // height; its sd counts the tape that measured it
  Unknown half_height;             // empty: not given
};

// Empty where the service is on no wall.
std::optional<ServiceOnWall> service_on_wall(const RoomFacts&, Index service);

// Units that a service stands behind: across its width, between underside and top.
std::vector<UnitOnWall> units_before(const Room&, const ServiceOnWall&,
                                     const std::vector<UnitOnWall>&);

// Overlap of two stretches; negative: the gap between them.
double overlap(double left_a, double right_a, double left_b, double right_b);

// "1130.0 − 886.0 − 43.0 = 201.0": adds as printed, for the first term takes up the rounding.
std::string difference_sum(double result, const std::vector<double>& taken_off);

}  // namespace levelrun
