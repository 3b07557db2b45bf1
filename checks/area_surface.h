// One floor area as a surface: the model of floor_surface.h on its readings.
// Internal to checks (it speaks Eigen). Lengths mm.
#pragma once

#include <Eigen/Dense>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "checks/kriging.h"
#include "checks/results.h"
#include "checks/room_plan.h"

namespace levelrun {

// Readings of an area up to which all are taken together; beyond it neighbourhoods are.
inline constexpr std::size_t joint_up_to = 200;

// One observation of the bare floor. With a set-up: value = floor - set-up's plane; without:
// value = floor itself (a known height that lies on the floor).
struct FloorRow {
  PlanPoint place;
  Index point = 0;  // rows of one point share its place error
  std::optional<Index> setup;
  double value = 0;
  double noise = 0;  // sd of the reading
  double place_sd = 0;
  std::uint64_t layers = 0;  // stripped layers underfoot, a bit each: their errors are shared
};

struct AreaReadings {
  std::vector<FloorRow> rows;
  std::vector<double> layer_sd;  // of each bit
  double noise_slope = 0;        // mm/m that a place error is multiplied by
  // What is known of the set-ups' planes from other points than this area's, and from all
  // points (for neighbourhoods, which see only a few of them).
  DriftInformation ties, all_ties;
};

// A staff reading that has not been taken.
struct FloorReading {
  std::optional<PlanPoint> place;  // none: of the benchmark, once more
  Index setup = 0;                 // column of its plane in the drift
  double noise = 0, place_sd = 0;  // as a FloorRow's
  std::uint64_t layers = 0;
};

struct LeftOutTest {
  Index row = 0;
  double off = 0, standardised = 0;
};

class AreaSurface {
 public:
  // rows must not be empty. Empty when the model cannot be fitted.
  static std::optional<AreaSurface> fit(AreaReadings);

  std::vector<double> heights(std::span<const PlanPoint>) const;
  std::vector<Estimate> estimates(std::span<const PlanPoint>) const;

  // How much the floor at `targets` depends on what each reading would say: covariances, given
  // what was read, of the readings (rows) with the readings and then the floor at the targets
  // (columns), mm², a reading's own noise counted. Empty beyond 200 readings.
  std::optional<Eigen::MatrixXd> foreseen(std::span<const FloorReading>,
                                          std::span<const PlanPoint> targets) const;

  // The reading that the others contradict most (off = read less predicted without it).
  LeftOutTest worst_left_out() const;

  const FloorModel& model() const { return model_; }
  bool slope_assumed() const { return slope_assumed_; }  // 0 ± 5 mm/m entered

 private:
  struct Node {  // one point of the parameter grid
    double sd = 0, range = 0, weight = 1;
    std::optional<Kriging> kriging;
  };

  std::optional<Kriging> fitted(const Eigen::MatrixXd& correlation, double sd) const;
  std::vector<PlanPoint> places(const std::vector<Index>& rows) const;
  void add_noise(const std::vector<Index>& rows, Eigen::MatrixXd& V) const;
  Eigen::MatrixXd drift(const std::vector<Index>& rows) const;
  Eigen::VectorXd values(const std::vector<Index>& rows) const;
  Eigen::MatrixXd target_drift(std::span<const PlanPoint>) const;
  Eigen::MatrixXd target_correlation(std::span<const PlanPoint>, double range) const;
  double shared_layers(std::uint64_t layers) const;
  std::vector<Index> spread_rows(std::size_t most) const;
  void choose_parameters();
  void add_slope_prior();
  Estimate local_estimate(PlanPoint, std::optional<Index> without) const;

  AreaReadings readings_;
  PlanPoint centre_;
  Eigen::Index setups_ = 0;
  std::vector<Index> all_;
  std::vector<Node> nodes_;
  FloorModel model_;
  bool slope_assumed_ = false;

  struct Neighbourhoods;
  std::shared_ptr<const Neighbourhoods> neighbourhoods_;  // beyond 200 readings
  Eigen::VectorXd planes_;                                // of the set-ups, for those
};

}  // namespace levelrun
