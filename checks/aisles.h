// How much room is there to stand and pass in front of the units, also with an appliance open?
//
// "aisle": from a run's fronts (handles or worktop, footprints.h) to the nearest thing that each
// unit faces: another run's fronts, an island's back or side, a wall with its finish to come. One
// entry for each pair, its least; needed 1000 (NHBC 2020, 9.4.3). In a new build a query where
// not within, else a note.
// "aisle with the door open": the same behind a door that stands open; needed 0. Outside is a hold,
// for the door does not open; doubtful a query. What an open door takes in front of the carcass:
// - drop-down (oven, dishwasher, cooker, range, microwave): the unit's height, in a tall unit its
//   width (built-in ovens are about as high as wide: common practice, no source);
// - any other appliance, fridge, freezer, washing machine, dryer: hinged at a side, its width.
//
// Left out: perpendicular runs on walls (they meet in a corner), perpendicular things within 150
// (they adjoin), things on the opposite wall. sd: plan_sd across the aisle; where a run stands
// free, how well it is set out besides. Runs without a position say nothing. mm.
#pragma once

#include "checks/clearances.h"
#include "checks/room_facts.h"

namespace levelrun {

Clearances aisles(const RoomFacts&);

}  // namespace levelrun
