// Rooms with known truth, measured without error: tests add the errors that they are about.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "checks/room_plan.h"

namespace levelrun {

inline constexpr double pi = std::numbers::pi;

inline double between(PlanPoint a, PlanPoint b) { return std::hypot(b.x - a.x, b.y - a.y); }

inline double interior(const std::vector<PlanPoint>& p, Index c) {
  const PlanPoint o = p[c], before = p[(c + p.size() - 1) % p.size()],
                  after = p[(c + 1) % p.size()];
  const double angle =
      std::atan2(after.y - o.y, after.x - o.x) - std::atan2(before.y - o.y, before.x - o.x);
  return (angle < 0 ? angle + 2 * pi : angle) * 180 / pi;
}

// A room as it truly is, each wall measured once at 900 high without error; corners noted to the
// next 45 degrees. Corners A, B, ...; walls W1 (A to B), W2, ...
inline Survey room_of(const std::vector<PlanPoint>& corners) {
  Survey s;
  Room r;
  r.id = "R";
  for (Index c = 0; c < corners.size(); ++c)
    r.corners.push_back(
        {std::string(1, static_cast<char>('A' + c)), 45 * std::round(interior(corners, c) / 45)});
  for (Index c = 0; c < corners.size(); ++c) {
    Wall w;
    w.id = "W" + std::to_string(c + 1);
    w.from = c;
    w.to = (c + 1) % corners.size();
    w.lengths.push_back({900, 0, between(corners[w.from], corners[w.to]), {}});
    r.walls.push_back(w);
  }
  s.rooms.push_back(r);
  return s;
}

inline void add_diagonals(Survey& s, const std::vector<PlanPoint>& corners,
                          std::initializer_list<std::pair<Index, Index>> pairs) {
  for (auto [from, to] : pairs)
    s.rooms[0].diagonals.push_back({from, to, between(corners[from], corners[to]), 900, {}});
}

inline const std::vector<PlanPoint> square_room{{0, 0}, {4200, 0}, {4200, -3100}, {0, -3100}};
inline const std::vector<PlanPoint> skew_room{{0, 0}, {4200, 0}, {4230, -3100}, {-12, -3050}};
inline const std::vector<PlanPoint> l_room{{0, 0},        {5000, 0},     {5010, -2000},
                                           {3000, -2010}, {3005, -4100}, {-8, -4080}};

// Everything measured that a room needs to find any slip.
inline Survey checked_l_room() {
  Survey s = room_of(l_room);
  add_diagonals(s, l_room, {{0, 2}, {0, 3}, {0, 4}, {1, 3}, {1, 5}, {2, 5}, {3, 5}, {2, 4}});
  return s;
}

inline const ObservationResult& reading(const RoomPlan& plan, const std::string& at) {
  for (const ObservationResult& o : plan.observations)
    if (o.at == at) return o;
  FAIL("no observation at " << at);
  return plan.observations.front();
}

inline const Finding* finding(const RoomPlan& plan, const std::string& code) {
  for (const Finding& f : plan.findings)
    if (f.code == code) return &f;
  return nullptr;
}

inline void check_corners(const RoomPlan& plan, const std::vector<PlanPoint>& truth, double by) {
  REQUIRE(plan.known);
  REQUIRE(plan.corners.size() == truth.size());
  for (Index c = 0; c < truth.size(); ++c) {
    CAPTURE(c);
    CHECK(std::abs(plan.corners[c].x - truth[c].x) < by);
    CHECK(std::abs(plan.corners[c].y - truth[c].y) < by);
  }
}

}  // namespace levelrun
