// What must be ordered, cut over length, notched or made for this job?
//
// From the survey and its results alone; whatever they do not know stays empty, and is said.
// Lengths mm, angles degrees. Boards are bought per room, as the results cut them.
//
//   infill      from the side wall to the first unit that is a carcass; to order:
//               width + taper + what its wall asks to be scribed + scribe_over
//   end panel   thickness is the unit's width; to order:
//               height = the higher of front and back + half its 95 % band + scribe_over (the
//               floor) width  = its depth to the wall + what its wall asks to be scribed +
//               scribe_over
//   void        of every run: as ordered, and what the services behind it ask for
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

// mm left on for each edge that is scribed to a wall or a floor: common practice, no source.
inline constexpr double scribe_over = 15;

struct Quantities {
  struct Legs {
    std::string room, type;
    int count = 0, not_known = 0, not_within = 0;  // not_known: heights; not_within: of their range
    Unknown shortest, tallest;
    double least = 0, most = 0;  // the type's own range
    Unknown supplied;
  };
  struct Boards {
    std::string room;
    double height = 0, stock_length = 0, thickness = 0;
    int count = 0, pieces = 0;
    double offcuts = 0;  // together
  };
  struct Panel {
    std::string kind, room, run, place;  // infill, end panel; left, right or the unit's id
    Unknown width, height, thickness;    // as it comes out
    Unknown order_width, order_height;
    std::optional<Verdict> verdict;  // of the fit it belongs to
    std::string sum;                 // of what is to be ordered
  };
  struct Void {
    std::string room, run, back;  // recessed, standing_off
    double ordered = 0;
    Unknown needed, sd;  // empty: nothing behind it asks for one
    std::string service;
    std::optional<Verdict> verdict;
  };
  struct Notch {
    std::string room, service;
    NotchResult cut;
  };
  struct Worktop {
    std::string room;
    WorktopResult top;
  };
  std::vector<Legs> legs;
  std::vector<Boards> boards;
  std::vector<Panel> panels;
  std::vector<Void> voids;
  std::vector<Notch> notches;
  std::vector<Worktop> worktops;
};

// `results` are those of `survey`.
Quantities quantities(const Survey&, const Results& results);

}  // namespace levelrun
