// What do the other measurements say that a reading should be, before it is booked?
//
// Asked when a field opens, so that the number typed into it can be checked digit by digit
// (entry_check.h). The reading's own booking is left out; so is any other that does not agree
// with the rest (room_judgement.h, room_levels.h). Empty: the others say nothing about it.
//
// Plan: the room's net without it. Where too little is measured for that, walls not yet measured
// count as of any length (like the others, sd 1,000), which is how two parallel walls and noted
// corners still say what the third must be. Staff: the set-up's level plane less the point's
// height read before, or less the floor between the points read (floor_surface.h), each with what
// it shares with the plane. Offset: the face between the readings near it, by the same model as
// the floor. Ceiling: the mean of the others.
//
// mm; angles degrees. sd is of what the others say; the new reading's own is not in it.
// Time: under 0.5 ms for each reading of the sample surveys.
#pragma once

#include <optional>
#include <string>

#include "survey/estimate.h"
#include "survey/survey.h"

namespace levelrun {

struct Expected {
  Estimate value;
  bool assumed = false;  // rests on the corners' noted angles too
  std::string from;      // "from the other five"
};

// without: the index of its own booking in the list it stands in; empty: not booked yet.
std::optional<Expected> expected_length(const Survey&, Index room, Index wall, double height,
                                        std::optional<Index> without, double out = 0,
                                        std::optional<Index> instrument = {});
std::optional<Expected> expected_diagonal(const Survey&, Index room, Index from, Index to,
                                          double height, std::optional<Index> without,
                                          std::optional<Index> instrument = {});
// Interior, in degrees; or across a triangle set out a and b along the two walls.
std::optional<Expected> expected_angle(const Survey&, Index room, Index corner,
                                       std::optional<Index> without);
std::optional<Expected> expected_across(const Survey&, Index room, Index corner, double a, double b,
                                        std::optional<Index> without);

// distance_m counts where the set-up has a collimation error. without: in the set-up's readings.
std::optional<Expected> expected_staff(const Survey&, Index room, Index point, Index setup,
                                       std::optional<Index> without,
                                       std::optional<double> distance_m = {});

std::optional<Expected> expected_offset(const Survey&, Index room, Index wall, double along,
                                        double height, std::optional<Index> without);

// setup: heights from that set-up's plane are compared, else clear heights above the floor.
std::optional<Expected> expected_ceiling(const Survey&, Index room, std::optional<Index> setup,
                                         std::optional<Index> without);

}  // namespace levelrun
