// What a foot must not stand on: pipes that lie lower than the leg is high, and the edges
// where floor areas step.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/results.h"
#include "checks/room_facts.h"

namespace levelrun {

class FloorObstacles {
 public:
  explicit FloorObstacles(const RoomFacts&);

  struct Near {
    double distance = 0;  // from the place to the obstacle's surface; negative inside it
    PlanPoint away;       // unit vector from the obstacle to the place
    std::string what;
  };
  // Nearest obstacle lower than `below` (mm above the floor) and within 200; empty if none.
  std::optional<Near> nearest(PlanPoint, double below) const;

 private:
  struct Stretch {
    PlanPoint a, b;
    double radius = 0;
    double height = 0;  // of its middle above the floor
    std::string what;
  };
  std::vector<Stretch> stretches_;
};

}  // namespace levelrun
