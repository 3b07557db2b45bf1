// How high does the fitter's own level stand? A set-up of the day tied to what was surveyed.
//
//   height from one point = its surveyed height + staff
//   height of the set-up  = mean over its points, weighted by their accuracy
// The mean counts what the surveyed heights have in common (generalised least squares); of points
// known independently it is the mean weighted by 1/sd². The benchmark alone is enough. Without it
// three points are needed, since of two that disagree nobody can say which moved. Only lasting
// points tie: the benchmark, marks off the floor, and floor that nothing is stripped from or
// laid over; others are listed and left out.
//
// A point that moved: its standardised residual is beyond the Šidák limit for 0.5 % false alarms
// a set-up. It is left out if it can be told from the next candidate (2 in w squared) and enough
// stay; else the set-up has no height, and the finding names the candidates.
// Several readings of one point count each.
//
// A level that would stand lower over the highest floor read than any that cabinets can be levelled
// from, or higher than a room, is asked about: with nothing but the benchmark read, that is what
// tells a staff booked in cm, inches or metres. It is used all the same if it can be at all.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "checks/results.h"
#include "checks/room_levels.h"

namespace levelrun {

inline constexpr int points_needed = 3;  // without the benchmark

// covariance: of the heights that the single points give, row by row, n × n, reading errors
// counted. residuals: single height - mean. standardised: empty where nothing checks it (n = 1).
struct SetUpMean {
  Estimate height;
  std::vector<double> residuals;
  std::vector<std::optional<double>> standardised;
};
// n >= 1, covariance positive definite.
SetUpMean setup_mean(std::span<const double> heights, std::span<const double> covariance);

// mm over the highest floor read; common practice, no source
inline constexpr double lowest_level = 30, highest_level = 3500;  // that can be
inline constexpr double low_level = 250, high_level = 2600;       // beyond which it is asked about

struct UnlikelyLevel {
  double above = 0;     // floor
  bool can_be = false;  // else it is not used
  // What may have been meant, each a likely level: "1400 (cm for mm) or 551.2 (inches for mm)".
  std::string meant;
};
// Of a level given by this staff on a point at `known`; empty: it is likely enough.
std::optional<UnlikelyLevel> unlikely_level(double staff, double known, double floor);

struct DaySetUps {
  std::vector<DaySetUpResult> results;  // the day's set-ups that read points of this room
  std::vector<Finding> findings;
};

DaySetUps day_setups(const Survey&, Index room, const RoomLevels&);

}  // namespace levelrun
