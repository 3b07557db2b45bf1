// What is still to measure before the house is left, and why?
//
// Walls: a length that only follows from the others; lengths at one height where a run meets side
// walls whose lean is not known; offsets where a run stands, at two heights from a plumb plane
// where tall or wall units do. A corner between two runs that rests on its nominal angle. Floor
// under legs further than 600 mm from a reading, or known worse than 1.5 mm sd. Ceiling over tall
// and wall units. Set-ups that a single reading ties. Openings and services beside and behind
// units, as far as a number of theirs is not booked. What the surveyor skipped, with its reason.
//
// One finding a room says how much is missing: a query if it changes what is made, else a note;
// what another check has a finding for is listed, but not counted there. Each skipped thing is a
// query of its own. A field that may be left out at its default (an architrave of 0) is asked for
// only where units stand beside it. Whether a new floor will come the survey cannot tell.
#pragma once

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

struct Completeness {
  std::vector<MissingResult> missing;  // in the order of the survey file: walls, corners, …
  std::vector<Finding> findings;
  std::size_t today = 0;  // of missing: what was not skipped
};

Completeness completeness(const RoomFacts&);

// The run on a wall beside which a leaning side wall would not show, since the wall's lengths were
// not read at two heights 300 mm apart nor the side's offsets from a plumb plane; empty: none.
const Run* run_beside_unseen_lean(const Room&, Index wall);

}  // namespace levelrun
