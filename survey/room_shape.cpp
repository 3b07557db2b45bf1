// Can these corners and walls be a room?
//
// One wall runs from each corner to the next, the nominal interior angles add up to that of a
// polygon, and no two walls cross. Crossing is judged on a walk round the room with the nominal
// angles and each wall's mean length, and only where the walk closes: one that does not close
// holds a slip of the tape, which is for the checks to find, not for the reader to refuse.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "survey/read_parts.h"

namespace levelrun {
namespace {

constexpr Index most_corners = 1000;    // holds the search for crossings to half a million pairs
constexpr double angle_sum_slack = 30;  // degrees; common practice, no source: nominal angles
                                        // are guesses by eye, a wrong turn is 90 or more out
constexpr double closing_slack = 150;   // mm; common practice, no source: a walk with square
                                        // corners that are not quite square

struct Point {
  double x = 0, y = 0;
};

// walls[i]: the wall that starts from corner i. Empty if the walls are not one for each corner,
// in a ring.
std::vector<Index> ring_of_walls(const Fields& fields, const Room& room) {
  const Index n = room.corners.size();
  const std::size_t problems = fields.reading().problems.size();
  constexpr Index none = static_cast<Index>(-1);
  std::vector<Index> starting(n, none);
  const At list = At::member(fields.at(), "walls");
  for (Index i = 0; i < room.walls.size(); ++i) {
    const Wall& wall = room.walls[i];
    const At at = At::item(list, i);
    const Index next = (wall.from + 1) % n;
    if (starting[wall.from] != none) {
      fields.reading().problem(At::member(at, "from"), in_quotes(room.corners[wall.from].id),
                               "a corner that no other wall starts from (" +
                                   in_quotes(room.walls[starting[wall.from]].id) + " does)");
    } else if (wall.to != next) {
      fields.reading().problem(At::member(at, "to"), in_quotes(room.corners[wall.to].id),
                               in_quotes(room.corners[next].id) + ", the corner after " +
                                   in_quotes(room.corners[wall.from].id));
    }
    starting[wall.from] = i;
  }
  if (fields.reading().problems.size() == problems && room.walls.size() != n) {
    fields.problem("walls", std::to_string(room.walls.size()) + " walls",
                   std::to_string(n) + ", one from each corner to the next");
  }
  if (fields.reading().problems.size() != problems) starting.clear();
  return starting;
}

// Taken at the wall itself; nothing if there is none.
std::optional<double> mean_length(const Wall& wall) {
  double sum = 0, count = 0;
  for (const WallLength& length : wall.lengths) {
    if (length.out != 0) continue;
    sum += length.length;
    count += 1;
  }
  if (count == 0) return std::nullopt;
  return sum / count;
}

// Where the corners are, or nothing if a length is missing or the walk does not close.
std::vector<Point> walk_round(const Room& room, const std::vector<Index>& ring,
                              double angle_misfit) {
  const Index n = room.corners.size();
  std::vector<Point> corners(n + 1);
  std::vector<double> walked(n + 1, 0.0);
  double heading = 0;  // degrees anticlockwise from +x; a right turn at each convex corner
  for (Index i = 0; i < n; ++i) {
    const auto length = mean_length(room.walls[ring[i]]);
    if (!length) return {};
    const double radians = heading * std::numbers::pi / 180;
    corners[i + 1] = {corners[i].x + *length * std::cos(radians),
                      corners[i].y + *length * std::sin(radians)};
    walked[i + 1] = walked[i] + *length;
    const double angle = room.corners[(i + 1) % n].angle + angle_misfit / static_cast<double>(n);
    heading -= 180 - angle;
  }
  const Point gap = corners[n];
  if (std::hypot(gap.x, gap.y) > closing_slack) return {};
  for (Index i = 0; i <= n; ++i) {
    const double share = walked[i] / walked[n];
    corners[i].x -= share * gap.x;
    corners[i].y -= share * gap.y;
  }
  return corners;
}

double cross(const Point& a, const Point& b, const Point& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

// Properly: each has an end on either side of the other. Walls that only touch do not cross.
bool crossing(const Point& a, const Point& b, const Point& c, const Point& d) {
  const auto apart = [](double p, double q) { return (p > 0 && q < 0) || (p < 0 && q > 0); };
  return apart(cross(a, b, c), cross(a, b, d)) && apart(cross(c, d, a), cross(c, d, b));
}

std::optional<std::array<Index, 2>> crossing_pair(const std::vector<Point>& corners) {
  const Index n = corners.size() - 1;
  for (Index i = 0; i + 2 < n; ++i) {
    for (Index j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;  // neighbours round the end
      if (crossing(corners[i], corners[i + 1], corners[j], corners[j + 1])) return {{i, j}};
    }
  }
  return std::nullopt;
}

}  // namespace

void check_room_shape(const Fields& fields, const Room& room) {
  const Index n = room.corners.size();
  if (n == 0) return;  // a wall would have had a corner that does not exist
  if (n < 3 || n > most_corners) {
    fields.problem("corners", n == 1 ? "1 corner" : std::to_string(n) + " corners",
                   n < 3 ? "none, or at least 3 corners"
                         : "up to " + std::to_string(most_corners) + " corners");
    return;
  }
  const std::vector<Index> ring = ring_of_walls(fields, room);
  double sum = 0;
  for (const Corner& corner : room.corners) sum += corner.angle;
  const double due = 180 * (static_cast<double>(n) - 2);
  if (std::abs(sum - due) > angle_sum_slack) {
    fields.problem("corners", "angles that add up to " + Json(sum).dump() + " degrees",
                   "about " + Json(static_cast<int>(due)).dump() + " degrees for " +
                       std::to_string(n) + " corners");
    return;
  }
  if (ring.empty()) return;
  const std::vector<Point> corners = walk_round(room, ring, due - sum);
  if (corners.empty()) return;
  if (const auto pair = crossing_pair(corners)) {
    fields.problem("corners",
                   "walls that cross: " + in_quotes(room.walls[ring[(*pair)[0]]].id) + " and " +
                       in_quotes(room.walls[ring[(*pair)[1]]].id),
                   "walls that meet only at their corners");
  }
}

}  // namespace levelrun
