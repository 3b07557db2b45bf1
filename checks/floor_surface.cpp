#include "checks/floor_surface.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <tuple>
#include <utility>

#include "checks/area_surface.h"
#include "checks/critical_values.h"
#include "checks/flooring.h"
#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// The expected roughness of a floor about its plane, for what a place error does to a reading:
// the derivative of a Matérn 5/2 surface has variance (5/3) sd²/range² each way, at the priors'
// sd 2 mm and range 1,500 mm.
constexpr double rough_slope_squared = 2 * (5.0 / 3) * (2.0 / 1.5) * (2.0 / 1.5);  // (mm/m)²

constexpr double false_alarms = 0.005;    // of the left-out test, per floor area
constexpr double least_noise = 0.01;      // mm: a reading stated as better than that is held to it
constexpr double known_height_sd = 0.01;  // mm: the benchmark's, where it lies on the floor

double squared(double x) { return x * x; }

// What the points outside the area (or all of them) say about the set-ups' planes: each point's
// height is eliminated, which leaves information on the planes alone.
DriftInformation ties(const Room& room, const RoomLevels& levels,
                      const std::vector<std::optional<Index>>& plane_column,
                      const std::vector<bool>& leave_out) {
  const auto setups = Eigen::Index(std::count_if(plane_column.begin(), plane_column.end(),
                                                 [](const auto& c) { return c.has_value(); }));
  DriftInformation out{Eigen::MatrixXd::Zero(setups, setups), Eigen::VectorXd::Zero(setups)};
  std::vector<std::vector<const LevelReading*>> readings_of(room.levels.points.size());
  for (const LevelReading& reading : levels.readings)
    if (reading.used) readings_of[reading.point].push_back(&reading);
  for (Index point = 0; point < room.levels.points.size(); ++point) {
    if (leave_out[point]) continue;
    double total = 0, pull = 0;  // weight, and weight times (plane - height) where known
    bool fixed = false;
    double height = 0;
    if (room.levels.benchmark && room.levels.benchmark->point == point) {
      fixed = true;
      height = room.levels.benchmark->height;
    }
    for (const KnownHeight& known : room.levels.known)
      if (known.point == point && !fixed) {
        total += 1 / squared(known.sd);
        pull -= known.height / squared(known.sd);
      }
    Eigen::VectorXd weights = Eigen::VectorXd::Zero(setups);
    for (const LevelReading* each : readings_of[point]) {
      const LevelReading& reading = *each;
      const Eigen::Index column = Eigen::Index(*plane_column[reading.setup]);
      const double weight = 1 / squared(reading.sd);
      weights(column) += weight;
      total += weight;
      pull += weight * reading.drop;
      out.matrix(column, column) += weight;
      out.vector(column) += weight * (reading.drop + (fixed ? height : 0));
    }
    if (fixed || total == 0) continue;
    out.matrix -= weights * weights.transpose() / total;
    out.vector -= weights * (pull / total);
  }
  return out;
}

}  // namespace

FloorSurface::~FloorSurface() = default;
// Readings of one point from one set-up become their weighted mean, which says the same: else a
// point read again and again would be all that a neighbourhood sees.
static void merge_repeats(std::vector<FloorRow>& rows) {
  std::map<std::tuple<Index, std::optional<Index>, std::uint64_t>, Index> first;
  std::vector<FloorRow> merged;
  for (const FloorRow& row : rows) {
    const auto [at, is_new] = first.try_emplace({row.point, row.setup, row.layers}, merged.size());
    if (is_new) {
      merged.push_back(row);
      continue;
    }
    FloorRow& one = merged[at->second];
    const double w = 1 / (one.noise * one.noise), v = 1 / (row.noise * row.noise);
    one.value = (w * one.value + v * row.value) / (w + v);
    one.noise = 1 / std::sqrt(w + v);
  }
  rows = std::move(merged);
}

FloorSurface::FloorSurface(FloorSurface&&) noexcept = default;
FloorSurface& FloorSurface::operator=(FloorSurface&&) noexcept = default;

Index FloorSurface::area_at(PlanPoint p) const {
  return outlines_.empty() ? 0 : nearest_outline(outlines_, p);
}

FloorSurface::FloorSurface(const Survey& survey, Index room_index, const RoomPlan& plan,
                           const RoomLevels& levels) {
  const Room& room = survey.rooms[room_index];
  for (const FloorArea& area : room.floor_areas) {
    std::vector<PlanPoint> outline;
    for (const Place& place : area.outline)
      if (const auto p = plan.at(place)) outline.push_back(*p);
    outlines_.push_back(std::move(outline));
  }
  const Index area_count = std::max<Index>(1, room.floor_areas.size());

  // Only set-ups that are tied to the benchmark have a column in the drift.
  plane_column_.resize(room.levels.setups.size());
  const auto& plane_column = plane_column_;
  Index columns = 0;
  for (Index s = 0; s < plane_column_.size(); ++s)
    if (levels.planes[s]) plane_column_[s] = columns++;

  // Where each floor point lies.
  struct OnFloor {
    PlanPoint place;
    Index area;
  };
  std::vector<std::optional<OnFloor>> on_floor(room.levels.points.size());
  for (Index p = 0; p < on_floor.size(); ++p) {
    const LevelPoint& point = room.levels.points[p];
    if (point.off_floor || !point.place) continue;
    if (const auto place = plan.at(*point.place))
      on_floor[p] = OnFloor{*place, point.area.value_or(area_at(*place))};
  }

  for (Index area = 0; area < area_count; ++area) {
    FloorResult result;
    result.area = room.floor_areas.empty() ? "floor" : room.floor_areas[area].id;
    stripped_.push_back(stripped_underfoot(room, {}, area));
    AreaReadings readings;
    for (const ExistingLayer& layer : room.flooring.existing) readings.layer_sd.push_back(layer.sd);
    std::vector<bool> here(on_floor.size());
    for (Index p = 0; p < on_floor.size(); ++p) here[p] = on_floor[p] && on_floor[p]->area == area;

    const auto row_at = [&](Index p) {
      const LevelPoint& point = room.levels.points[p];
      FloorRow row;
      row.place = on_floor[p]->place;
      row.point = p;
      row.place_sd = point.place->sd;
      row.layers = stripped_underfoot(room, point, area);
      return row;
    };
    const auto add_known = [&](Index p, double height, double sd) {
      if (!here[p]) return;
      FloorRow row = row_at(p);
      row.value = height - thickness_of(room, row.layers);
      row.noise = std::max(sd, least_noise);
      readings.rows.push_back(row);
    };
    if (room.levels.benchmark)
      add_known(room.levels.benchmark->point, room.levels.benchmark->height, known_height_sd);
    for (const KnownHeight& known : room.levels.known)
      add_known(known.point, known.height, known.sd);

    for (const LevelReading& reading : levels.readings) {
      if (!reading.used || !here[reading.point]) continue;
      FloorRow row = row_at(reading.point);
      row.setup = plane_column[reading.setup];
      row.value = -reading.drop - thickness_of(room, row.layers);
      row.noise = std::max(reading.sd, least_noise);
      readings.rows.push_back(row);
      if (const auto& height = levels.points[reading.point]) {
        const double bare = height->value - thickness_of(room, row.layers);
        result.lowest = std::min(result.lowest.value_or(bare), bare);
        result.highest = std::max(result.highest.value_or(bare), bare);
      }
    }

    if (readings.rows.size() > joint_up_to) merge_repeats(readings.rows);

    if (readings.rows.empty()) {
      areas_.push_back(nullptr);
      results_.push_back(std::move(result));
      continue;
    }

    // The floor's general slope, from a plane through the heights held to 0 ± 5 mm/m.
    Eigen::MatrixXd X(Eigen::Index(readings.rows.size()), 3);
    Eigen::VectorXd z(X.rows());
    for (Eigen::Index i = 0; i < X.rows(); ++i) {
      const FloorRow& row = readings.rows[i];
      const PlanPoint origin = readings.rows[0].place;
      X.row(i) << 1, (row.place.x - origin.x) / 1000, (row.place.y - origin.y) / 1000;
      z(i) = row.value;
      if (row.setup)
        for (Index s = 0; s < plane_column.size(); ++s)
          if (plane_column[s] == row.setup) z(i) += levels.planes[s]->value;
    }
    Eigen::Matrix3d N = X.transpose() * X;
    N(1, 1) += 1.0 / 25;
    N(2, 2) += 1.0 / 25;
    const Eigen::Vector3d fit = N.ldlt().solve(X.transpose() * z);
    readings.noise_slope = std::sqrt(squared(fit(1)) + squared(fit(2)) + rough_slope_squared);

    readings.ties = ties(room, levels, plane_column, here);
    readings.all_ties = ties(room, levels, plane_column, std::vector<bool>(here.size(), false));
    const std::vector<FloorRow> rows = readings.rows;
    auto surface = AreaSurface::fit(std::move(readings));
    if (!surface) {
      areas_.push_back(nullptr);
      results_.push_back(std::move(result));
      continue;
    }
    result.model = surface->model();
    const std::string where = room.floor_areas.empty() ? "the floor" : "floor area " + result.area;
    if (surface->slope_assumed()) {
      Finding few;
      few.code = "few floor readings";
      few.severity = Severity::query;
      few.at = pointer(room_index) + "/levels/points";
      few.measured = double(rows.size());
      few.unit = "readings";
      few.id = result.area;
      few.says = "Too few readings, or all in one line, on " + where +
                 ": its slope across is taken as 0 ± 5 mm/m, and bands are wide.";
      few.remedy = "Read the floor at least 300 to each side of that line.";
      findings_.push_back(std::move(few));
    }
    if (rows.size() >= 6) {
      const LeftOutTest worst = surface->worst_left_out();
      if (std::abs(worst.standardised) > sidak_limit(false_alarms, int(rows.size()))) {
        const FloorRow& row = rows[worst.row];
        const std::string& id = room.levels.points[row.point].id;
        Finding odd;
        odd.code = "reading against its neighbours";
        odd.severity = Severity::query;
        odd.id = id;
        odd.at = pointer(room_index) + "/levels/points/" + std::to_string(row.point);
        odd.measured = worst.off;
        odd.unit = "mm";
        odd.says = "Point " + id + " reads " + millimetres(std::abs(worst.off)) +
                   (worst.off > 0 ? " higher" : " lower") +
                   " than the readings round it lead one to expect.";
        odd.remedy = "Read the staff again at " + id + ", or book a point either side of it.";
        findings_.push_back(std::move(odd));
      }
    }
    areas_.push_back(std::make_unique<AreaSurface>(std::move(*surface)));
    results_.push_back(std::move(result));
  }
}

namespace {

// Sorts places by area, asks each area for all of its places at once.
template <class Number, class Ask>
std::vector<std::optional<Number>> by_area(std::span<const PlanPoint> at, const FloorSurface& floor,
                                           Index area_count, Ask ask) {
  std::vector<std::optional<Number>> out(at.size());
  std::vector<PlanPoint> places;
  std::vector<Index> which;
  for (Index area = 0; area < area_count; ++area) {
    places.clear();
    which.clear();
    for (Index i = 0; i < at.size(); ++i)
      if (area_count == 1 || floor.area_at(at[i]) == area) {
        places.push_back(at[i]);
        which.push_back(i);
      }
    if (places.empty()) continue;
    const std::optional<std::vector<Number>> numbers = ask(area, places);
    if (!numbers) continue;
    for (Index i = 0; i < which.size(); ++i) out[which[i]] = (*numbers)[i];
  }
  return out;
}

}  // namespace

std::vector<std::optional<double>> FloorSurface::heights(std::span<const PlanPoint> at) const {
  return by_area<double>(at, *this, areas_.size(), [&](Index area, const auto& places) {
    return areas_[area] ? std::optional(areas_[area]->heights(places)) : std::nullopt;
  });
}

std::vector<std::optional<Estimate>> FloorSurface::estimates(std::span<const PlanPoint> at) const {
  auto out = by_area<Estimate>(at, *this, areas_.size(), [&](Index area, const auto& places) {
    return areas_[area] ? std::optional(areas_[area]->estimates(places)) : std::nullopt;
  });
  // A model that numbers cannot hold says nothing of the floor.
  for (std::optional<Estimate>& one : out)
    if (one && !(std::isfinite(one->value) && std::isfinite(one->sd))) one.reset();
  return out;
}

std::vector<Foreseen> FloorSurface::foreseen(std::span<const NewReading> readings,
                                             std::span<const PlanPoint> targets) const {
  std::vector<Foreseen> out;
  for (Index area = 0; area < areas_.size(); ++area) {
    if (!areas_[area]) continue;
    const auto here = [&](PlanPoint p) { return areas_.size() == 1 || area_at(p) == area; };
    Foreseen one;
    std::vector<PlanPoint> places;
    for (Index t = 0; t < targets.size(); ++t)
      if (here(targets[t])) {
        one.targets.push_back(t);
        places.push_back(targets[t]);
      }
    if (places.empty()) continue;
    std::vector<FloorReading> asked;
    for (Index r = 0; r < readings.size(); ++r) {
      const NewReading& reading = readings[r];
      const auto column = plane_column_[reading.setup];
      if (!column || (reading.place && !here(*reading.place))) continue;
      one.readings.push_back(r);
      const double noise = std::max(reading.sd, least_noise);
      if (reading.place)
        asked.push_back({reading.place, *column, noise, reading.place_sd, stripped_[area]});
      else
        asked.push_back({{}, *column, noise, 0, 0});
    }
    const auto covariances = areas_[area]->foreseen(asked, places);
    if (!covariances) continue;
    one.covariances.reserve(std::size_t(covariances->size()));
    for (Eigen::Index i = 0; i < covariances->rows(); ++i)
      for (Eigen::Index k = 0; k < covariances->cols(); ++k)
        one.covariances.push_back((*covariances)(i, k));
    out.push_back(std::move(one));
  }
  return out;
}

}  // namespace levelrun
