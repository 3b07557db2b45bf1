// What follows from the readings of the install day: the part `install` of the results.
//
// As results.h, which includes this: lengths mm, heights above the room's benchmark, `sum` the
// line a fitter would write on a wall.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace levelrun {

using Unknown = std::optional<double>;  // a number, or not known

enum class Agreement { agrees, unchecked, rejected, one_of };

// A top layer as it was laid (laid_floor.h).
struct LaidFloorResult {
  std::string room, layer;
  std::size_t layer_at = 0;   // in the room's flooring.laid
  Unknown planned, laid, sd;  // thickness of this layer; laid empty: no reading could be used
  Unknown difference;         // laid - planned
  Unknown varies;             // highest less lowest thickness read, of two or more
  int readings = 0;           // used
  int asked_back = 0;         // readings left out until somebody answers
  bool moves_legs = false;    // the layer reaches the wall
  std::string sum;
};

// A level set-up of the day, tied to what was surveyed (day_setups.h).
struct DaySetUpResult {
  std::string setup, room;
  Unknown height, sd;  // of its level plane; empty: tied to too little, or to what disagrees
  bool by_benchmark = false;
  struct Point {
    std::string point;
    Unknown known;         // its surveyed height; empty: none
    Unknown setup_height;  // what this point alone makes the set-up's height
    Unknown residual;      // height read less surveyed height
    Unknown standardised;  // empty: nothing checks it
    bool lasting = true;   // false: its floor was stripped or laid over, it ties nothing
    Agreement verdict = Agreement::agrees;
  };
  std::vector<Point> points;
  std::string sum;
};

// A released underside and a better one for the floor as it is (underside_proposal.h).
struct UndersideProposal {
  std::string room, group;
  double now = 0, proposed = 0;  // U
  // Worktop top above the finished floor where its height is asked: on the planned floor, on
  // today's at U now, on today's at the proposed U.
  Unknown worktop_released, worktop_now, worktop_then;
  int legs = 0, legs_outside_now = 0, legs_outside_then = 0;
  int pieces = 0, pieces_cut_now = 0, pieces_cut_then = 0;  // plinth pieces, cut at all
  int pieces_short_now = 0, pieces_short_then = 0;          // board does not reach
  std::string limited_by;  // what keeps U from restoring the worktop's height; "" = nothing
  std::string sum;
};

enum class EndStop { none, shortest, longest };

// A corner of a set cabinet as it was read, and as it will be.
struct CornerLevel {
  std::string corner;
  double above = 0;     // the common level, now; negative: below
  double residual = 0;  // above it once the legs are turned
};
struct LegTurn {
  std::string position;
  double raise = 0, sd = 0;          // mm, negative: lower
  Unknown turns;                     // + winds out
  double height = 0;                 // of the leg once turned
  EndStop end_stop = EndStop::none;  // that it then stands at, and that keeps the unit off level
};
// Legs of a set cabinet, turned to bring its top to the level of its run (unit_levelling.h).
struct UnitLevelResult {
  std::string room, group, unit, setup;
  double common = 0;      // the level aimed at, above the top at U; 0: U itself is reached
  bool relative = false;  // its set-up is tied to nothing: level in itself, U not checked
  std::vector<CornerLevel> corners;
  std::vector<LegTurn> legs;   // empty: too few corners were read, or one is asked back
  Unknown worst, worst_after;  // largest distance of a corner from the level
  bool level = false;          // within the tolerance as it stands: leave it
  std::string says;
};

struct InstallResult {
  std::vector<LaidFloorResult> laid_floor;
  std::vector<DaySetUpResult> setups;
  std::vector<UndersideProposal> proposals;
  std::vector<UnitLevelResult> unit_levels;
  bool empty() const {
    return laid_floor.empty() && setups.empty() && proposals.empty() && unit_levels.empty();
  }
};

}  // namespace levelrun
