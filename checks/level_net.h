// The height of every point from level readings, how well each is known, and which reading
// does not agree with the others.
//
// Weighted least squares. Nodes are numbered 0 … nodes-1: points and the level planes of
// set-ups alike, for a staff reading is a height difference too, from the set-up's plane to the
// point. Any one unit of length throughout (mm here; textbook nets come in m or ft). Heights
// are positive upwards.
//
// Datum, for each connected part of the net:
//   known heights, sd 0 held fixed, others observed;
//   else, if the part has nodes in `free_over`: their corrections to the heights given there
//   sum to zero (inner constraint), so no point is preferred;
//   else the part is untied: its heights are unknown and its readings take no part.
// Promises: heights of 1e6 keep 1e-9; sd ratios up to 1e6 cost heights and sds no digits; a common
// shift of the known heights shifts the result; the order of observations changes nothing but
// rounding. An observation of a node that does not exist, not finite, or with sd <= 0 (known: < 0)
// takes no part and says so. Of two fixed heights of one node the first counts. Never fails.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "survey/estimate.h"

namespace levelrun {

// height(to) - height(from) was observed as `difference`.
struct HeightDifference {
  std::size_t from = 0, to = 0;
  double difference = 0, sd = 1;
};

// A staff reading in mm: staff = plane - height + collimation * distance, where collimation is
// in mm/m, rising positive, and the distance in m.
HeightDifference staff_reading(std::size_t plane, std::size_t point, double staff, double sd,
                               double collimation = 0, double distance_m = 0);

struct GivenHeight {
  std::size_t node = 0;
  double height = 0, sd = 0;  // sd is not used in free_over
};

struct LevelNet {
  std::size_t nodes = 0;
  std::vector<HeightDifference> differences;
  std::vector<GivenHeight> known;
  std::vector<GivenHeight> free_over;
};

struct CheckedObservation {
  bool used = false;    // false: the rest is 0 and says nothing
  double residual = 0;  // adjusted - observed
  // 0: nothing else checks it, a blunder in it cannot be found; 1: fully checked.
  double redundancy = 0;
  std::optional<double> standardised;  // residual / (sd * sqrt(redundancy)); empty: unchecked
};

class LevelFactor;

struct AdjustedLevels {
  std::vector<std::optional<Estimate>> heights;  // empty: not tied to any datum. Sd a priori
  std::vector<CheckedObservation> differences;   // as net.differences
  std::vector<CheckedObservation> known;         // as net.known; fixed ones are not `used`
  std::vector<std::vector<std::size_t>> untied;  // parts without datum, by lowest node
  int dof = 0;
  double chi_square = 0;         // sum of (residual / sd)^2
  std::optional<double> sigma0;  // a posteriori sd = sd * sigma0; empty: dof 0

  // Of two adjusted heights, a priori. 0 for a fixed or an unknown height. Costs as many steps
  // as the two have readings, multiplied.
  double covariance(std::size_t a, std::size_t b) const;

  std::shared_ptr<const LevelFactor> factor;  // what covariance() reads; level_net.cpp
};

AdjustedLevels adjust_levels(const LevelNet&);

// The greatest misclosure, in mm, that a run of n set-ups may show: 5 mm * sqrt(n), for
// building sites. Source: course sheet "Levelling part 3" (SKAA 1023), whose example accepts
// -6 mm over 3 set-ups against 8.66, printed 9.
double misclosure_allowance(int setups);

}  // namespace levelrun
