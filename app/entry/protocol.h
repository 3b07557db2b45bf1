// Where a room is measured: the list of places, in the order a surveyor takes them, without the
// numbers read there. What is asked for (asks.h) is the protocol less what is booked or skipped.
//
// The same place twice means read twice. Lengths mm; indices are the survey's.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

struct Protocol {
  struct LengthAt {
    double height = 900, out = 0;
  };
  struct OffsetAt {
    double along = 0, height = 900;
  };
  struct WallPlaces {
    std::vector<LengthAt> lengths;
    std::vector<OffsetAt> offsets;
  };
  struct DiagonalOf {
    Index from = 0, to = 0;
    double height = 900;
  };
  struct AngleOf {
    Index corner = 0;
    std::optional<std::pair<double, double>> legs;  // of a triangle; else in degrees
    double height = 900;
  };
  struct CeilingAt {
    Place place;
    std::optional<Index> setup;  // from its plane; else clear
  };
  // A number of an opening or a service, by its name in the file.
  struct Detail {
    bool service = false;  // else an opening
    Index index = 0;
    std::string field;
  };
  std::vector<WallPlaces> walls;  // as room.walls
  std::vector<DiagonalOf> diagonals;
  std::vector<AngleOf> angles;
  std::vector<CeilingAt> ceilings;
  std::vector<std::vector<Index>> staff;  // points, for each set-up
  std::vector<Detail> details;
};

// Exactly where a survey was read, in the order of its lists.
Protocol protocol_of(const Survey&, Index room);

// How a room is usually measured, and where this one was beyond that:
// - each wall at 900 if it was not read yet, one that carries a run at the heights used on any
//   wall, and at 2000 where one height would not show that a side wall leans (completeness.h);
// - the diagonals booked and those asked for (plan.measure_next of the results); of a room of four
//   corners both, of an L the one from its re-entrant corner;
// - the angle of a corner between two walls that both carry units, if it was not read yet: in
// degrees
//   where the job has a square, else across a triangle;
// - the ceiling over each run, or over each furnished wall;
// - from each set-up the benchmark first; from the last one then every point that no set-up has
//   read, in the list's order, and the benchmark again;
// - furnished walls every offset_spacing from offset_ends in from each end, at 900 and at
//   the heights used on that wall; places near one already read are not doubled;
// - of openings and services what the file may still lack.
struct UsualSpacing {
  double offset_spacing = 600, offset_ends = 50;
};
Protocol usual_protocol(const Survey&, Index room, std::span<const MeasureNext> wanted = {},
                        UsualSpacing = {});

// Places that a person wants read besides; one that is in `more` n times is read n times in all.
void add_places(Protocol&, const Protocol& more);
// Only `places` are to be read on the wall, besides what was read there already.
void keep_offsets(Protocol&, const Survey&, Index room, Index wall,
                  const std::vector<Protocol::OffsetAt>& places);

// Legs of a triangle for a corner's angle that fit both its walls, in the ratio 3 : 4 : 5: with a
// square corner each of its three sides is a round number. Common practice.
std::vector<std::pair<double, double>> usual_legs(const Room&, Index corner);

// The number that a detail has; empty: not given.
std::optional<double> detail_value(const Room&, const Protocol::Detail&);

}  // namespace levelrun
