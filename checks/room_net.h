// A room's measurements as a plan network: what was booked, a walk round to start from, and the
// network solved with any of it left out.
//
// One solve from its own walk for each set of measurements: a walk that includes a length 1,000
// out leads into a false minimum, so a measurement under suspicion must not shape the start. A
// wall whose length is left out, or was not measured, gets the length that closes the walk.
//
// mm and degrees; corners clockwise seen from above; first corner 0,0; the wall from it along +x.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "checks/plan_net.h"
#include "survey/survey.h"

namespace levelrun {

enum class RoomReadingKind { length, diagonal, angle, triangle };

// One booked number. It is observation number `its own index` of the net.
struct RoomReading {
  RoomReadingKind kind = RoomReadingKind::length;
  std::string at;    // JSON Pointer
  std::string id;    // by its wall's or corners' ids: "W2/lengths/0", "C1-C3/diagonals/0"
  std::string name;  // "length of W2 at 900 high"
  double height = 900, out = 0;
  double measured = 0, sd = 0;  // mm; degrees for an angle; a triangle's is its `across`
  Index from = 0, to = 0;       // corners; an angle's own corner twice
};

// What the others make of one reading: the net solved without it.
struct LeftOut {
  Index reading = 0;
  double chi_square = 0;
  Estimate predicted;           // the reading, by the others
  bool like_described = false;  // RoomNet::like_described
};

class RoomNet {
 public:
  // The room must be `usable`.
  RoomNet(const Survey&, Index room);

  // Three corners or more, each wall from one corner to the next, and numbers to work with.
  static bool usable(const Room&);

  const std::vector<RoomReading>& readings() const { return readings_; }

  // The wall (else none) from corner k to corner k + 1.
  const std::vector<std::optional<Index>>& wall_of_side() const { return wall_of_side_; }
  // Whether anything gives that side's length directly.
  bool side_measured(Index side) const { return !lengths_of_side_[side].empty(); }

  // Whether nominal angles come in, at all corners without a measured one (at first: no).
  void assume(bool angles) { assumed_ = angles; }
  bool assumed() const { return assumed_; }
  bool assumed(Index corner) const;

  // One entry for each observation of the net: everything booked, and what is assumed.
  std::vector<char> all_used() const;
  // From its own walk; hopeless: plan_net.h.
  NetState solve(std::span<const char> used,
                 double hopeless = std::numeric_limits<double>::infinity());
  // Each candidate left out of `used` in turn, in their order. Missing are those that leave the
  // plan undetermined, and those without which the rest agrees by far worse than without another.
  std::vector<LeftOut> each_left_out(std::span<const char> used, std::span<const Index> candidates);
  // A chi-square by far worse than one that was reached.
  static double hopeless(double reached) { return 2 * reached + 200; }
  const PlanAdjustment& plan() const { return net_; }
  // As solved: a room, and none of its corners far from the nominal angle.
  bool like_described() const;
  // Degrees; nobody notes such a corner as what it is not (common practice, no source).
  static constexpr double not_that_corner = 15;

  // How far the walk misses its start, and how far it would without each side's length (the
  // part of the miss across that side). Only sides whose length rests on one used reading.
  struct Closure {
    double miss = 0;
    struct Without {
      Index reading = 0;
      double miss = 0;
    };
    std::vector<Without> without;
  };
  Closure closure(std::span<const char> used) const;

  // Inside the room, as an observation to predict.
  NetObservation interior_angle(Index corner) const;

 private:
  struct SideLength {
    Index reading;
    double at_wall;  // at nominal angles, one taken in front of the wall brought back to it
  };

  void add_lengths(const Survey&, Index room);
  void add_diagonals(const Survey&, Index room);
  void add_distance(RoomReading, NetObservation, const Survey&, std::optional<Index> instrument);
  void add_angles(const Survey&, Index room);
  void add_leans();
  void add_nominal_angles();
  bool stops_at_next_wall(Index corner) const;
  std::optional<double> side_length(Index side, std::span<const char> used) const;
  std::vector<double> walk_lengths(std::span<const char> used) const;
  NetPoint stretch(Index from, Index to, const std::vector<double>& lengths) const;
  std::vector<NetPoint> walk(std::span<const char> used) const;

  std::vector<RoomReading> readings_;
  std::vector<std::optional<Index>> wall_of_side_;
  std::vector<std::vector<SideLength>> lengths_of_side_;
  std::vector<std::optional<Index>> scale_of_instrument_;
  std::vector<NetPoint> heading_;  // unit vector of each side, at nominal angles
  std::vector<double> interior_;   // nominal, made to sum to (n - 2) 180
  std::vector<Index> nominal_of_;  // corners of the nominal angles, behind the readings
  Index first_side_ = 0;           // along +x; from the first corner, however walls are listed
  bool assumed_ = false;
  PlanNet given_;
  PlanAdjustment net_{PlanNet{}};
};

// Clockwise, and no wall crosses another.
bool makes_a_room(std::span<const NetPoint> corners);

// Without those that turn the plan into another room than described, unless all do. Smallest
// chi-square first, ties as they were.
std::vector<LeftOut> ranked(std::vector<LeftOut>);

}  // namespace levelrun
