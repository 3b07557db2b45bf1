// Question: what is a measurement now, and how does it change with each unknown?
// Method: its geometry and its first derivatives.
#include "checks/net_rows.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace levelrun {
namespace {

constexpr double degrees = 180 / std::numbers::pi;
constexpr double least = 1e-9;  // keeps a distance or a sine of 0 from dividing

}  // namespace

NetUnknowns::NetUnknowns(const PlanNet& net)
    : points(net.points), leans(net.leans.size(), 0.0), scales(net.scales.size(), 0.0) {
  for (const NetPoint& p : net.points) {
    column_x.push_back(p.fixed ? -1 : coordinates++);
    column_y.push_back(p.fixed ? -1 : coordinates++);
  }
  if (net.level) {  // one column for both; those behind the dropped one move up
    const auto [a, b] = *net.level;
    const int dropped = std::max(column_y[a], column_y[b]);
    const int kept = std::min(column_y[a], column_y[b]);
    if (dropped != kept) {
      column_y[a] = column_y[b] = kept;
      --coordinates;
      for (std::vector<int>* columns : {&column_x, &column_y})
        for (int& c : *columns)
          if (c > dropped) --c;
    }
  }
  unknowns = coordinates + static_cast<int>(net.scales.size());
}

double NetUnknowns::Turn::sine() const { return std::abs(cross) < least ? least : cross; }

NetUnknowns::Turn NetUnknowns::turn(Index at, Index from, Index to) const {
  const NetPoint &o = points[at], &p = points[from], &q = points[to];
  const double ax = p.x - o.x, ay = p.y - o.y, bx = q.x - o.x, by = q.y - o.y;
  return {ax * bx + ay * by, ax * by - ay * bx};
}

// Adds times * the angle's slope (in radians) to the row.
void NetUnknowns::add_turn(NetRow& row, Index at, Index from, Index to, double times) const {
  const NetPoint &o = points[at], &p = points[from], &q = points[to];
  const double ax = p.x - o.x, ay = p.y - o.y, bx = q.x - o.x, by = q.y - o.y;
  const double a = times / std::max(ax * ax + ay * ay, least);
  const double b = times / std::max(bx * bx + by * by, least);
  row.add(column_x[from], ay * a);
  row.add(column_y[from], -ax * a);
  row.add(column_x[to], -by * b);
  row.add(column_y[to], bx * b);
  row.add(column_x[at], by * b - ay * a);
  row.add(column_y[at], ax * a - bx * b);
}

// Takes out * cotangent off the row; d cot = -(1 + cot^2) d angle.
void NetUnknowns::take_out(NetRow& row, double out, Index at, Index from, Index to) const {
  const double cotangent = turn(at, from, to).cotangent();
  row.value -= out * cotangent;
  add_turn(row, at, from, to, out * (1 + cotangent * cotangent));
}

NetRow NetUnknowns::linearised(const NetObservation& o) const {
  NetRow row;
  if (o.kind == NetKind::distance) {
    const NetPoint &p = points[o.from], &q = points[o.to];
    const double dx = q.x - p.x, dy = q.y - p.y;
    row.value = std::max(std::sqrt(dx * dx + dy * dy), least);
    row.add(column_x[o.from], -dx / row.value);
    row.add(column_y[o.from], -dy / row.value);
    row.add(column_x[o.to], dx / row.value);
    row.add(column_y[o.to], dy / row.value);
    if (o.before) take_out(row, o.out, o.from, *o.before, o.to);
    if (o.after) take_out(row, o.out, o.to, o.from, *o.after);
  } else {
    const Turn t = turn(o.at, o.from, o.to);
    const double angle = std::atan2(t.cross, t.dot);
    if (o.kind == NetKind::angle) {
      row.value = (angle < 0 ? angle + 2 * std::numbers::pi : angle) * degrees;
      add_turn(row, o.at, o.from, o.to, degrees);
    } else {
      const double a = o.leg_from, b = o.leg_to;
      const double square = a * a + b * b - 2 * a * b * std::cos(angle);
      row.value = std::max(std::sqrt(std::max(square, 0.0)), least);
      add_turn(row, o.at, o.from, o.to, a * b * std::sin(angle) / row.value);
    }
  }
  if (o.scale) {
    row.value += o.scale->factor * scales[o.scale->term];
    row.add(coordinates + static_cast<int>(o.scale->term), o.scale->factor);
  }
  if (o.lean) row.value += o.lean->factor * leans[o.lean->term];
  return row;
}

}  // namespace levelrun
