// The bare floor of a room as a surface: its height anywhere, and how well that is known.
//
// Bare = as surveyed, less the layers that will be stripped and that the staff stood on.
// Model, per floor area, all readings jointly (kriging.h):
//   staff = set-up constant - floor(x, y) + noise
//   floor = constant + two slopes + a Matérn 5/2 surface (sd s, range r; Rasmussen and Williams
//   2006, eq. 4.17: s² (1 + a + a²/3) e^-a with a = √5 d / r)
//   noise² = reading sd² + (slope · place sd)²; the place part is common to all readings of a
//   point, a stripped layer's thickness error is common to all points on that layer.
// The set-up constants are tied to the benchmark by its readings, whose uncertainty is in every
// band. s and r come from a fixed grid (floor_surface.cpp) with log-normal priors: no optimiser,
// so the same readings give the same digits everywhere. Up to 24 readings the surface averages
// over the grid, weighted by posterior probability; beyond it takes the likeliest node; beyond
// 200 readings each place uses its 32 nearest. A tilted plane comes back exactly.
//
// Few readings: none gives no surface (a finding). n < 4, or readings that spread less than 300 mm
// one way: the slope that way is not measured and is taken as 0 ± 5 mm/m.
// Areas with a step between them never mix.
//
// Cost: n³ up to 200 readings, then n log n.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "checks/room_levels.h"
#include "checks/room_plan.h"

namespace levelrun {

class AreaSurface;

// A staff reading that has not been taken: of the floor at a place, else of the benchmark again.
struct NewReading {
  std::optional<PlanPoint> place;
  Index setup = 0;               // its plane is known
  double sd = 1, place_sd = 20;  // mm
};

// What new readings would say of one floor area. No reading need be taken to know it: a band
// does not depend on the numbers read, only on where (Rasmussen and Williams 2006, eq. 2.26).
struct Foreseen {
  std::vector<Index> readings, targets;  // those given that concern this area; more than one
                                         // area for the benchmark
  // mm², at the likeliest parameters: of each reading (its noise counted) with each reading, then
  // with the bare floor at each target; row by row.
  std::vector<double> covariances;
  std::size_t width() const { return readings.size() + targets.size(); }
};

class FloorSurface {
 public:
  FloorSurface(const Survey&, Index room, const RoomPlan&, const RoomLevels&);
  ~FloorSurface();
  FloorSurface(FloorSurface&&) noexcept;
  FloorSurface& operator=(FloorSurface&&) noexcept;

  // Which floor area a place of the plan lies in: 0 when the room has one floor.
  Index area_at(PlanPoint) const;

  // Bare floor at each place; empty where the area was not read.
  std::vector<std::optional<double>> heights(std::span<const PlanPoint>) const;
  std::vector<std::optional<Estimate>> estimates(std::span<const PlanPoint>) const;

  // An entry for each area that holds targets. Areas beyond 200 readings are left out, and
  // readings from a set-up that is tied to nothing.
  std::vector<Foreseen> foreseen(std::span<const NewReading>,
                                 std::span<const PlanPoint> targets) const;

  const std::vector<FloorResult>& results() const { return results_; }
  const std::vector<Finding>& findings() const { return findings_; }

 private:
  std::vector<std::vector<PlanPoint>> outlines_;     // of each area; none = one floor
  std::vector<std::unique_ptr<AreaSurface>> areas_;  // null = not read
  std::vector<std::optional<Index>> plane_column_;   // of each set-up: its column in the drift
  std::vector<std::uint64_t> stripped_;              // layers under each area
  std::vector<FloorResult> results_;
  std::vector<Finding> findings_;
};

}  // namespace levelrun
