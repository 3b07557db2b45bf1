// Question: which readings of a wall's face lie on one line?
// Method: sorted by height (or along), a line starts with a reading too far from its first.
#include "checks/face_lines.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace levelrun {
namespace {

// Lines of one `across`, each in the order of `on`.
std::vector<FaceLine> lines_of(const Wall& wall, double WallOffset::*across,
                               double WallOffset::*on) {
  std::vector<Index> order(wall.offsets.size());
  std::iota(order.begin(), order.end(), Index{0});
  const auto by = [&](double WallOffset::*key) {
    return [&, key](Index a, Index b) { return wall.offsets[a].*key < wall.offsets[b].*key; };
  };
  std::stable_sort(order.begin(), order.end(), by(across));
  std::vector<FaceLine> lines;
  double first = 0;
  for (const Index i : order) {
    const double at = wall.offsets[i].*across;
    if (lines.empty() || at - first > same_line) {
      lines.emplace_back();
      first = at;
    }
    lines.back().at += at;
    lines.back().readings.push_back(i);
  }
  for (FaceLine& line : lines) {
    line.at /= static_cast<double>(line.readings.size());
    std::stable_sort(line.readings.begin(), line.readings.end(), by(on));
  }
  return lines;
}

}  // namespace

std::vector<FaceLine> level_lines(const Wall& wall) {
  return lines_of(wall, &WallOffset::height, &WallOffset::along);
}

std::vector<FaceLine> plumb_lines(const Wall& wall) {
  if (wall.offsets_from != OffsetsFrom::plumb_plane) return {};
  return lines_of(wall, &WallOffset::along, &WallOffset::height);
}

const FaceLine* line_near_worktop(const std::vector<FaceLine>& level, const Wall& wall) {
  const FaceLine* nearest = nullptr;
  for (const FaceLine& line : level) {
    const double length =
        wall.offsets[line.readings.back()].along - wall.offsets[line.readings.front()].along;
    if (length <= same_line) continue;
    if (!nearest || std::abs(line.at - worktop_line) < std::abs(nearest->at - worktop_line))
      nearest = &line;
  }
  return nearest;
}

double offset_sd(const Survey& survey, const WallOffset& offset) {
  return offset.instrument ? survey.instruments[*offset.instrument].sd : Instrument{}.sd;
}

}  // namespace levelrun
