// Is a face flat along one straight line of readings?
//
// Two tests, which can disagree on the same face: a bar that rests on two points with nothing
// proud between them, the greatest hollow below it; and a bar held off by equal blocks at two
// points, the greatest departure from it either way. Each departure is judged by the limit at
// the spacing of its two contacts.
#pragma once

#include <optional>
#include <span>

#include "checks/results.h"
#include "checks/tolerance_table.h"

namespace levelrun {

struct FacePoint {
  double at = 0;      // mm along the line
  double offset = 0;  // mm from any straight reference to the face, larger = hollow
  double sd = 0;      // of offset
};

// A line of more readings than this is judged over spacings of up to so many readings, which
// bounds the work; common practice, no source (a wall has ten or so).
inline constexpr std::size_t widest_spacing = 64;

// The departure that is greatest against its limit, over all pairs of contacts. Points sorted
// by at. Empty with fewer than three points, or where the row gives no limit or no method.
// Of equals the first counts, the resting bar before equal offsets. `line` is left empty.
std::optional<WorstFlatness> worst_flatness(std::span<const FacePoint> line, const RowInUse&);

}  // namespace levelrun
