// Which units and plinth faces may be cut although something is still open?
//
// Every open hold and query says by its pointer, and some by their code, which facts may still
// change: the reading to be taken again, the length nobody checked, the place that was skipped, the
// word that was not understood, the unit or run that must be thought over. From there:
//   a floor reading, a layer, a level group  → every plinth face and end panel of the room (one
//       surface and the undersides hang on all readings), tall and wall units (headroom), and
//       units near a service (a notch counts from the underside)
//   the plan (lengths, corners, angles)      → the same, and runs between walls or corners
//   a wall's face, its finish or skirting    → the same; units near a service before it; runs that
//       end at it
//   a service                                → units before its wall, and those in the corners
//       beside it, for it may move along it
//   an opening                               → units before its wall, and as a floor reading (a
//   sill) a ceiling                                → as a floor reading a unit → itself; as a floor
//   reading; units of its run, should
//       it get wider, if a service is anywhere near the run
//   a run                                    → its units, those of runs at its corners; as above
//   anything else, skipped or not understood → everything in the room; outside a room: everything
// A leg, plinth or underside that is in question (by code) changes no carcass but the one it names.
//
// A carcass may be cut when neither its width, height, depth, notches nor the void behind it can
// change; a face when none of its cuts can. Infills are cut on the day, appliances are bought:
// neither is listed. What the survey does not know yet (a height, a floor) may not be cut.
#pragma once

#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct PartToCut {
  std::string room, run;
  std::string name;       // the unit's id, or the face: front, left …
  bool face = false;      // of a plinth
  std::string barred_by;  // id of a finding; empty: it may be cut
};

// In document order of rooms and runs; of each run its units, then its faces.
std::vector<PartToCut> parts_to_cut(const Survey&, const Results&);

// Those that may be cut, as the results list them: "S1", "plinth S front"; where there are several
// rooms "kitchen/S1".
std::vector<std::string> may_cut(const std::vector<PartToCut>&, bool several_rooms);

}  // namespace levelrun
