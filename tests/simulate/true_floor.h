// Floors with a known truth, which no model in checks/ has drawn.
//
// A tilted plane (each slope N(0, 3 mm/m)) plus either five plane waves of 1.5 to 6 m, or eight
// round bumps and hollows of 0.4 to 1.2 m radius, scaled to a departure of 0.5 to 3 mm sd over a
// room of `width` along +x and `depth` along -y.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "tests/simulate/random.h"

namespace levelrun {

class TrueFloor {
 public:
  TrueFloor(Random& random, double width, double depth) : waves_(random.below(2) == 0) {
    slope_x_ = random.normal(0.003);
    slope_y_ = random.normal(0.003);
    for (int i = 0; i < (waves_ ? 5 : 8); ++i) {
      Part part;
      part.x = random.uniform(0, width);
      part.y = random.uniform(-depth, 0);
      part.size = waves_ ? random.uniform(1500, 6000) : random.uniform(400, 1200);
      part.turn = random.uniform(0, 2 * std::numbers::pi);
      part.height = random.normal(1);
      parts_.push_back(part);
    }
    // Scale the departure from the plane to the sd that was drawn.
    double sum = 0, square = 0;
    int n = 0;
    for (double x = 0; x <= width; x += 150)
      for (double y = -depth; y <= 0; y += 150, ++n) {
        const double h = rough(x, y);
        sum += h;
        square += h * h;
      }
    scale_ = random.uniform(0.5, 3) / std::sqrt(square / n - sum / n * sum / n);
  }
  double height(double x, double y) const {
    return slope_x_ * x + slope_y_ * y + scale_ * rough(x, y);
  }

 private:
  struct Part {
    double x, y, size, turn, height;
  };
  double rough(double x, double y) const {
    double h = 0;
    for (const Part& p : parts_) {
      if (waves_)
        h += p.height *
             std::cos(2 * std::numbers::pi *
                      ((x - p.x) * std::cos(p.turn) + (y - p.y) * std::sin(p.turn)) / p.size);
      else
        h += p.height *
             std::exp(-((x - p.x) * (x - p.x) + (y - p.y) * (y - p.y)) / (2 * p.size * p.size));
    }
    return h;
  }
  bool waves_;
  double slope_x_ = 0, slope_y_ = 0, scale_ = 1;
  std::vector<Part> parts_;
};

}  // namespace levelrun
