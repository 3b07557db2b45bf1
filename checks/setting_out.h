// The marks that a fitter makes on the walls before anything stands, each with its sum.
//
// Heights at both ends of every wall that units stand or hang on: underside U, worktop top, and
// the rail of wall units (top of the unit - rail_drop). Each is given from the level line down
// (of the day's tied set-up, else of the survey's; + = below it) and up from the floor as it will
// be at that end of the wall (bearing floor: bare + what is laid to the wall).
// Unit positions: the edges of each unit along its wall from the wall's left end, or from the
// run's left end for an island. First unit and order of setting as legs.h, with the reason.
//
// What is not known is empty and said, never guessed.
#pragma once

#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct LineMark {  // from one set-up's level plane
  std::string setup;
  bool of_the_day = false;
  double down = 0, sd = 0;
};
struct HeightMark {
  std::string what;  // underside, worktop, rail
  std::string of;    // level group; of a rail: its run
  std::string wall;
  bool right = false;  // which end of the wall, facing it
  double along = 0;
  double height = 0;              // above the benchmark
  std::vector<LineMark> lines;    // the day's first
  Unknown above_floor, floor_sd;  // empty: the floor was not read there
  std::string sum;
};
struct UnitMark {
  std::string run, unit, wall;  // wall "": an island's run, from its own left end
  double left = 0, right = 0;   // along
  std::string sum;
};
struct FirstUnit {
  std::string group, unit, run;
  std::string why;                 // a sentence
  std::vector<std::string> order;  // units that stand on legs, in the order of setting
};
struct SettingOut {
  std::string room;
  std::vector<HeightMark> heights;
  std::vector<UnitMark> units;
  std::vector<FirstUnit> first;      // one a level group
  std::vector<std::string> missing;  // sentences: what cannot be marked, and why
};

// results: of the same survey.
std::vector<SettingOut> setting_out(const Survey&, const Results&);

}  // namespace levelrun
