// Lines of equal height on a grid of heights, by marching squares; straight between grid points.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "checks/room_plan.h"

namespace levelrun {

struct HeightGrid {
  double x = 0, y = 0;                        // of the first point, mm
  double step = 100;                          // mm
  std::size_t nx = 0, ny = 0;                 // rows go up in y
  std::vector<std::optional<double>> height;  // empty: no floor, or none known, there
  std::vector<double> sd;
  // Which floor area each point lies in: no line crosses from one to another. Empty: all in one.
  std::vector<std::size_t> area;

  std::size_t index(std::size_t i, std::size_t k) const { return k * nx + i; }
  PlanPoint at(std::size_t i, std::size_t k) const {
    return {x + step * double(i), y + step * double(k)};
  }
  // Whether the cell above and to the right of a point lies in one floor area.
  bool whole(std::size_t i, std::size_t k) const {
    const std::size_t p = index(i, k);
    return area.empty() ||
           (area[p] == area[p + 1] && area[p] == area[p + nx] && area[p] == area[p + nx + 1]);
  }
};

struct Contour {
  double height = 0;
  std::vector<PlanPoint> points;  // closed where the first is the last
};

// At every multiple of `interval`; the lowest first, then in the grid's order.
std::vector<Contour> contours(const HeightGrid&, double interval);

// 1, 2, 5 or 10 mm, whichever first keeps lines at least `apart` mm from each other over most of
// the grid; 10 if none does.
double contour_interval(const HeightGrid&, double apart);

}  // namespace levelrun
