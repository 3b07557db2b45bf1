// How far each leg must be wound out for all undersides to meet their level.
//
//   leg = underside - bare floor - laid layers that reach the wall
// A leg whose floor was not read keeps no height, and a finding says so. A leg outside its
// type's range keeps its height and gets a finding. Turns are from the height as supplied,
// where the type states pitch and supplied. A foot over a pipe that lies on the floor or over a
// step between floor areas is a clash, with the shift that clears it by 5
// (common practice, no source).
// Setting order: the unit at an inside corner first, else the one with the highest bearing
// floor; then outwards along its run, then the other runs of the level group.
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct LegHeights {
  std::vector<LegResult> legs;  // as RoomFacts::legs
  std::vector<Finding> findings;
};

// groups: the results of the room's level groups, whose U the legs meet.
LegHeights leg_heights(const RoomFacts&, const std::vector<GroupResult>& groups);

}  // namespace levelrun
