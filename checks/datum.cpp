#include "checks/datum.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr BoundKind default_order[] = {BoundKind::asked_height, BoundKind::board_reaches,
                                       BoundKind::board_whole};

std::vector<BoundKind> soft_order(const LevelGroupFacts& group) {
  std::vector<BoundKind> order;
  const auto add = [&](BoundKind kind) {
    if (std::find(order.begin(), order.end(), kind) == order.end()) order.push_back(kind);
  };
  if (group.asked)
    for (const std::string& name : group.asked->order)
      for (const BoundKind kind : default_order)
        if (name == word(kind)) add(kind);
  for (const BoundKind kind : default_order) add(kind);
  return order;
}

// Restricts [low, high] by one kind of soft bound.
void restrict_to(BoundKind kind, const LevelGroupFacts& group, double& low, double& high) {
  double least = -infinity, most = infinity;
  for (const GroupBound& b : group.bounds) {
    if (b.bound.kind != kind) continue;
    if (b.bound.lower)
      least = std::max(least, b.bound.value);
    else
      most = std::min(most, b.bound.value);
  }
  if (least > high)
    low = high;
  else if (most < low)
    high = low;
  else {
    low = std::max(low, least);
    high = std::min(high, most);
  }
}

Conflict conflict_between(const GroupBound& lower, const GroupBound& upper) {
  Conflict out{named(lower.bound), named(upper.bound), lower.bound.value - upper.bound.value, 0};
  // Two bounds on one floor share its error; counting it twice is the careful side.
  out.sd = std::hypot(lower.bound.sd, upper.bound.sd);
  return out;
}

// How far the top layer may go one way (direction +1 thicker, -1 thinner) before a lower bound
// that moves meets an upper one that does not.
struct RoomToGo {
  double far = infinity;
  std::string what;
};
RoomToGo room_to_go(const LevelGroupFacts& group, double direction) {
  // Only the tightest of each side and each way of moving can run out first.
  const GroupBound* lower[2] = {nullptr, nullptr};
  const GroupBound* upper[2] = {nullptr, nullptr};
  for (const GroupBound& b : group.bounds) {
    if (!b.bound.hard) continue;
    const GroupBound*& best = (b.bound.lower ? lower : upper)[b.bound.flooring > 0 ? 1 : 0];
    if (!best || (b.bound.lower ? b.bound.applied > best->bound.applied
                                : b.bound.applied < best->bound.applied))
      best = &b;
  }
  RoomToGo out;
  for (const GroupBound* low : lower)
    for (const GroupBound* high : upper) {
      if (!low || !high) continue;
      const double closing = (low->bound.flooring - high->bound.flooring) * direction;
      if (closing <= 0) continue;
      const double far = std::max(0.0, high->bound.applied - low->bound.applied) / closing;
      if (far < out.far) out = {far, phrase(low->bound) + " against " + phrase(high->bound)};
    }
  return out;
}

Spare spare_of(const RoomFacts& facts, const LevelGroupFacts& group) {
  Spare out;
  if (facts.room.flooring.laid.empty()) return out;
  const RoomToGo up = room_to_go(group, 1), down = room_to_go(group, -1);
  const double thickness = facts.room.flooring.laid.back().thickness;
  if (up.far < infinity) {
    out.flooring_up = up.far;
    out.runs_out = millimetres(up.far) + " thicker: " + up.what;
  }
  if (down.far < thickness) {  // a layer cannot come thinner than nothing
    out.flooring_down = down.far;
    out.runs_out +=
        (out.runs_out.empty() ? "" : "; ") + millimetres(down.far) + " thinner: " + down.what;
  }
  return out;
}

}  // namespace

void Interval::take(const GroupBound& b) {
  if (b.bound.lower) {
    if (!lower || b.bound.applied > lower->bound.applied) lower = &b;
  } else if (!upper || b.bound.applied < upper->bound.applied) {
    upper = &b;
  }
}

Interval hard_interval(const LevelGroupFacts& group) {
  Interval out;
  for (const GroupBound& b : group.bounds)
    if (b.bound.hard) out.take(b);
  return out;
}

bool has_datum(const LevelGroupFacts& group) { return !group.bounds.empty(); }

GroupResult level_group_datum(const RoomFacts& facts, const LevelGroupFacts& group) {
  GroupResult out;
  out.id = group.id;
  out.set = group.asked && group.asked->underside_set;
  const Interval hard = hard_interval(group);
  if (hard.lower) out.lowest = hard.lower->bound.applied;
  if (hard.upper) out.highest = hard.upper->bound.applied;
  out.feasible = hard.feasible();

  double low = out.lowest.value_or(-infinity), high = out.highest.value_or(infinity);
  if (out.set) {
    out.underside = group.asked->underside_set->value;
    out.sum = "set at " + decimal(out.underside);
  } else if (!out.feasible) {
    out.underside = (low + high) / 2;
    out.sum = "(" + decimal(low) + " + " + decimal(high) + ") / 2 = " + decimal(out.underside);
  } else {
    for (const BoundKind kind : soft_order(group)) restrict_to(kind, group, low, high);
    if (group.asked_underside)
      out.underside = std::clamp(*group.asked_underside, low, high);
    else
      out.underside = low > -infinity ? low : high;
    // Say which bound it lies on, in the order in which they decide.
    for (const GroupBound& b : group.bounds)
      if (std::abs(b.bound.applied - out.underside) < 1e-9)
        out.sum = phrase(b.bound) + ": " + b.bound.sum;
    if (out.sum.empty() && group.asked_underside) {
      const Furniture& furniture = facts.survey.furniture;
      out.sum = term(group.floor_at->value) + " + " + decimal(*group.asked->asked_height) + " − " +
                decimal(furniture.worktop.thickness) + " − " + decimal(furniture.base_height) +
                " = " + decimal(out.underside);
    }
  }

  if (!out.feasible) {
    // Against a set U both ways can fail; the wider one is named.
    out.conflict = conflict_between(*hard.lower, *hard.upper);
  }
  const double top =
      out.underside + facts.survey.furniture.base_height + facts.survey.furniture.worktop.thickness;
  if (group.floor_at) out.worktop_above_floor.at = top - group.floor_at->value;
  if (group.floor_known) {
    out.worktop_above_floor.least = top - group.floor_highest;
    out.worktop_above_floor.greatest = top - group.floor_lowest;
  }
  for (Index i = 0; i < facts.levels.planes.size(); ++i)
    if (const auto& plane = facts.levels.planes[i])
      out.level_lines.push_back(
          {facts.room.levels.setups[i].id, plane->value - out.underside, plane->sd});
  out.spare = spare_of(facts, group);
  for (const GroupBound& b : group.bounds) out.bounds.push_back(b.bound);
  return out;
}

}  // namespace levelrun
