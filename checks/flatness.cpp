// Question: where is a line of readings furthest from flat, against the limit there?
// Method: every pair of readings as contacts, every reading between them against their chord.
// Source: the tests are those of DIN 18202 (bar on two high points) and of the NHBC Standards
// (straightedge with equal offsets), both as described in assets/tolerances.
#include "checks/flatness.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace levelrun {
namespace {

constexpr double touching = 1e-9;     // mm; no further proud of the bar than rounding puts it
constexpr double equal_share = 1e-9;  // relative; shares that differ by rounding are equal
constexpr double same_place = 1e-6;   // mm; no bar lies on two readings of one place

}  // namespace

std::optional<WorstFlatness> worst_flatness(std::span<const FacePoint> line, const RowInUse& row) {
  const bool resting = row.is_for(FlatnessMethod::resting_bar);
  const bool blocks = row.is_for(FlatnessMethod::equal_offsets);
  std::optional<WorstFlatness> worst;
  if (!resting && !blocks) return worst;
  double worst_share = -1;  // of the limit; below any
  for (std::size_t i = 0; i < line.size(); ++i) {
    const std::size_t end = std::min(line.size(), i + widest_spacing + 1);
    for (std::size_t j = i + 2; j < end; ++j) {
      const FacePoint &a = line[i], &b = line[j];
      const double span = b.at - a.at;
      if (span <= same_place) continue;
      const Unknown limit = row.at(span);
      if (!limit) continue;
      const double slope = (b.offset - a.offset) / span;
      std::size_t hollow = i + 1, proud = i + 1;
      double most_hollow = 0, most_proud = 0;
      for (std::size_t k = i + 1; k < j; ++k) {
        const double off = (line[k].offset - a.offset) - slope * (line[k].at - a.at);
        if (off > most_hollow) most_hollow = off, hollow = k;
        if (off < most_proud) most_proud = off, proud = k;
      }
      const auto consider = [&](FlatnessMethod method, double deviation, std::size_t k) {
        // A limit of 0 is exceeded by anything.
        const double share = *limit > 0       ? std::abs(deviation) / *limit
                             : deviation != 0 ? HUGE_VAL
                                              : 0;
        if (share <= worst_share * (1 + equal_share)) return;
        worst_share = share;
        const double t = (line[k].at - a.at) / span;
        const double sd = std::hypot(line[k].sd, (1 - t) * a.sd, t * b.sd);
        worst = WorstFlatness{method, span, deviation, sd, *limit, a.at, b.at, {}};
      };
      if (resting && most_proud >= -touching)
        consider(FlatnessMethod::resting_bar, most_hollow, hollow);
      if (blocks) {
        if (most_hollow >= -most_proud)
          consider(FlatnessMethod::equal_offsets, most_hollow, hollow);
        else
          consider(FlatnessMethod::equal_offsets, most_proud, proud);
      }
    }
  }
  return worst;
}

}  // namespace levelrun
