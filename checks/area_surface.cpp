#include "checks/area_surface.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <nanoflann.hpp>
#include <numeric>
#include <tuple>

namespace levelrun {
namespace {

// The parameter grid: surface sd and range, log-spaced about the priors' medians, and how wide
// the log-normal priors are (natural log). Chosen on simulated floors (tests/README.md).
constexpr double prior_sd = 2.0, prior_range = 1500.0;              // mm
constexpr double prior_sd_width = 0.8, prior_range_width = 0.6;     // of the logarithm
constexpr double sd_grid[] = {0.5, 0.8, 1.25, 2.0, 3.2, 5.0, 8.0};  // mm
constexpr double range_grid[] = {600, 950, 1500, 2400, 3800};       // mm

constexpr double alike_apart = 0.001;       // mm; distances nearer than this count as equal
constexpr std::size_t averaged_up_to = 24;  // readings: beyond, the likeliest node alone
constexpr std::size_t parameter_rows = 24;  // readings that choose the node, spread out
constexpr std::size_t neighbours = 32;
constexpr double negligible_weight = 1e-3;  // of the likeliest node's

// Places asked about at once: few enough that the matrices stay in the cache, and small enough
// that freeing them does not give memory back to the system, to be asked for again.
constexpr std::size_t places_at_once = 32;

constexpr double few_spread = 300;  // mm
constexpr double slope_prior = 5;   // mm/m

double squared(double x) { return x * x; }

struct Places {  // what nanoflann asks of a list of places
  std::vector<PlanPoint> at;
  std::size_t kdtree_get_point_count() const { return at.size(); }
  double kdtree_get_pt(std::size_t i, std::size_t axis) const {
    return axis == 0 ? at[i].x : at[i].y;
  }
  template <class Box>
  bool kdtree_get_bbox(Box&) const {
    return false;
  }
};
using Tree = nanoflann::KDTreeSingleIndexAdaptor<nanoflann::L2_Simple_Adaptor<double, Places>,
                                                 Places, 2, std::size_t>;

// Correlation of the Matérn 5/2 surface at squared distances, in their place: multiply by sd².
//
// e^-a as 1 / (e^t)^256 with t = a/256 and six terms of e^t: wrong by less than 1e-13 at any a.
// It needs +, ×, ÷ and √ alone, which are the same on every processor, so the digits are too; and
// it takes half the time of the library's exponential, which was a quarter of a solve.
void matern52(Eigen::Ref<Eigen::ArrayXd> squared_distance, double range) {
  auto& a = squared_distance;
  a = (a * (5 / squared(range))).sqrt();
  constexpr double c = 1.0 / 256;
  constexpr double c2 = c * c / 2, c3 = c2 * c / 3, c4 = c3 * c / 4, c5 = c4 * c / 5,
                   c6 = c5 * c / 6;
  const auto root = 1 + a * (c + a * (c2 + a * (c3 + a * (c4 + a * (c5 + a * c6)))));
  const auto to16 = root.square().square().square().square();
  a = (1 + a * (1 + a * (1.0 / 3))) / to16.square().square().square().square();
}

// Of every pair of places, below the diagonal: every reader of the matrix reads that half.
Eigen::MatrixXd squared_distances(const std::vector<PlanPoint>& places) {
  const auto n = Eigen::Index(places.size());
  Eigen::ArrayXd x(n), y(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    x(i) = places[i].x;
    y(i) = places[i].y;
  }
  Eigen::MatrixXd D = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index k = 0; k < n; ++k)
    D.col(k).tail(n - k) = (x.tail(n - k) - x(k)).square() + (y.tail(n - k) - y(k)).square();
  return D;
}

Eigen::MatrixXd correlations(Eigen::MatrixXd squared_distance, double range) {
  const Eigen::Index n = squared_distance.rows();
  for (Eigen::Index k = 0; k < n; ++k) matern52(squared_distance.col(k).tail(n - k).array(), range);
  return squared_distance;
}

double log_prior(double sd, double range) {
  return -0.5 * squared(std::log(sd / prior_sd) / prior_sd_width) -
         0.5 * squared(std::log(range / prior_range) / prior_range_width);
}

}  // namespace

// Which readings are near a place.
struct AreaSurface::Neighbourhoods {
  Places places;
  Tree tree;

  explicit Neighbourhoods(std::vector<PlanPoint> at) : places{std::move(at)}, tree(2, places) {}

  std::vector<Index> nearest(PlanPoint to, std::optional<Index> without) const {
    std::size_t found[neighbours + 1];
    double distance[neighbours + 1];
    const double query[2] = {to.x, to.y};
    const std::size_t n = tree.knnSearch(query, neighbours + (without ? 1 : 0), found, distance);
    std::vector<Index> out(found, found + n);
    if (without) std::erase(out, *without);
    out.resize(std::min(out.size(), neighbours));
    return out;
  }
};

std::optional<AreaSurface> AreaSurface::fit(AreaReadings readings) {
  AreaSurface out;
  out.readings_ = std::move(readings);
  const auto& rows = out.readings_.rows;
  out.setups_ = out.readings_.ties.matrix.rows();
  for (const FloorRow& row : rows) {
    out.centre_.x += row.place.x / double(rows.size());
    out.centre_.y += row.place.y / double(rows.size());
  }
  out.all_.resize(rows.size());
  std::iota(out.all_.begin(), out.all_.end(), Index{0});
  for (DriftInformation* ties : {&out.readings_.ties, &out.readings_.all_ties}) {
    Eigen::MatrixXd J = Eigen::MatrixXd::Zero(3 + out.setups_, 3 + out.setups_);
    Eigen::VectorXd j = Eigen::VectorXd::Zero(3 + out.setups_);
    J.bottomRightCorner(out.setups_, out.setups_) = ties->matrix;
    j.tail(out.setups_) = ties->vector;
    *ties = {std::move(J), std::move(j)};
  }
  out.add_slope_prior();
  out.choose_parameters();
  if (out.nodes_.empty()) return std::nullopt;
  if (out.model_.how == "local") {
    std::vector<PlanPoint> places;
    for (const FloorRow& row : rows) places.push_back(row.place);
    out.neighbourhoods_ = std::make_shared<const Neighbourhoods>(std::move(places));
    out.planes_ = out.readings_.all_ties.matrix.bottomRightCorner(out.setups_, out.setups_)
                      .llt()
                      .solve(out.readings_.all_ties.vector.tail(out.setups_));
  }
  return out;
}

// A slope that too few readings, or readings in one line, leave unmeasured.
void AreaSurface::add_slope_prior() {
  std::map<Index, PlanPoint> places;
  for (const FloorRow& row : readings_.rows) places[row.point] = row.place;
  Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
  for (const auto& [point, place] : places) {
    const Eigen::Vector2d d(place.x - centre_.x, place.y - centre_.y);
    spread += d * d.transpose();
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(spread);
  for (int axis = 0; axis < 2; ++axis) {  // 0 = across, 1 = along
    const Eigen::Vector2d e = axes.eigenvectors().col(axis);
    double least = 0, most = 0;
    for (const auto& [point, place] : places) {
      const double t = e.dot(Eigen::Vector2d(place.x - centre_.x, place.y - centre_.y));
      least = std::min(least, t);
      most = std::max(most, t);
    }
    const std::size_t needed = axis == 0 ? 4 : 2;
    if (places.size() >= needed && most - least >= few_spread) continue;
    slope_assumed_ = true;
    for (DriftInformation* ties : {&readings_.ties, &readings_.all_ties})
      ties->matrix.block<2, 2>(1, 1) += e * e.transpose() / squared(slope_prior);
  }
}

std::vector<PlanPoint> AreaSurface::places(const std::vector<Index>& rows) const {
  std::vector<PlanPoint> out;
  out.reserve(rows.size() + 1);  // a target may follow
  for (const Index row : rows) out.push_back(readings_.rows[row].place);
  return out;
}

// The variance of the layers' thicknesses together.
double AreaSurface::shared_layers(std::uint64_t layers) const {
  double variance = 0;
  for (Index bit = 0; layers; layers >>= 1, ++bit)
    if (layers & 1) variance += squared(readings_.layer_sd[bit]);
  return variance;
}

// Adds what readings are wrong by, and share, to the lower triangle.
void AreaSurface::add_noise(const std::vector<Index>& rows, Eigen::MatrixXd& V) const {
  for (Index k = 0; k < rows.size(); ++k) {
    const FloorRow& a = readings_.rows[rows[k]];
    V(k, k) += squared(a.noise);
    for (Index i = k; i < rows.size(); ++i) {
      const FloorRow& b = readings_.rows[rows[i]];
      V(i, k) += shared_layers(a.layers & b.layers);
      if (a.point == b.point) V(i, k) += squared(a.place_sd / 1000 * readings_.noise_slope);
    }
  }
}

Eigen::VectorXd AreaSurface::values(const std::vector<Index>& rows) const {
  Eigen::VectorXd out(Eigen::Index(rows.size()));
  for (Eigen::Index i = 0; i < out.size(); ++i) out(i) = readings_.rows[rows[i]].value;
  return out;
}

// Columns: 1, x, y (m from the centre), then -1 under the row's set-up.
Eigen::MatrixXd AreaSurface::drift(const std::vector<Index>& rows) const {
  Eigen::MatrixXd X = Eigen::MatrixXd::Zero(Eigen::Index(rows.size()), 3 + setups_);
  for (Eigen::Index i = 0; i < X.rows(); ++i) {
    const FloorRow& row = readings_.rows[rows[i]];
    X(i, 0) = 1;
    X(i, 1) = (row.place.x - centre_.x) / 1000;
    X(i, 2) = (row.place.y - centre_.y) / 1000;
    if (row.setup) X(i, 3 + Eigen::Index(*row.setup)) = -1;
  }
  return X;
}

Eigen::MatrixXd AreaSurface::target_drift(std::span<const PlanPoint> at) const {
  Eigen::MatrixXd x = Eigen::MatrixXd::Zero(Eigen::Index(at.size()), 3 + setups_);
  for (Eigen::Index i = 0; i < x.rows(); ++i) {
    x(i, 0) = 1;
    x(i, 1) = (at[i].x - centre_.x) / 1000;
    x(i, 2) = (at[i].y - centre_.y) / 1000;
  }
  return x;
}

// A row of correlations for each target, made column by column in one pass.
Eigen::MatrixXd AreaSurface::target_correlation(std::span<const PlanPoint> at, double range) const {
  const auto n = Eigen::Index(at.size());
  Eigen::ArrayXd x(n), y(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    x(i) = at[i].x;
    y(i) = at[i].y;
  }
  Eigen::MatrixXd out(n, Eigen::Index(all_.size()));
  for (Eigen::Index k = 0; k < out.cols(); ++k) {
    const PlanPoint b = readings_.rows[k].place;
    out.col(k) = (x - b.x).square() + (y - b.y).square();
  }
  matern52(Eigen::Map<Eigen::ArrayXd>(out.data(), out.size()), range);
  return out;
}

std::optional<Kriging> AreaSurface::fitted(const Eigen::MatrixXd& correlation, double sd) const {
  Eigen::MatrixXd V = squared(sd) * correlation;
  add_noise(all_, V);
  return Kriging::fit(std::move(V), drift(all_), values(all_), readings_.ties);
}

// Farthest point first, so that a subset covers the area; starts at the reading farthest from the
// middle. Of places equally far, which grids have many of, the one with the lowest reading counts,
// so that neither the order of the readings nor a turn of the room chooses.
std::vector<Index> AreaSurface::spread_rows(std::size_t most) const {
  const auto& rows = readings_.rows;
  if (rows.size() <= most) return all_;
  PlanPoint middle{0, 0};
  for (const FloorRow& row : rows) {
    middle.x += row.place.x / double(rows.size());
    middle.y += row.place.y / double(rows.size());
  }
  const auto apart = [](const PlanPoint& a, const PlanPoint& b) {
    return std::round(std::sqrt(squared(a.x - b.x) + squared(a.y - b.y)) / alike_apart);
  };
  std::vector<Index> by_reading = all_;
  std::sort(by_reading.begin(), by_reading.end(), [&](Index a, Index b) {
    return std::tuple(rows[a].value, rows[a].place.x, rows[a].place.y) <
           std::tuple(rows[b].value, rows[b].place.x, rows[b].place.y);
  });
  std::vector<double> nearest(rows.size());
  for (const Index i : all_) nearest[i] = apart(rows[i].place, middle);
  std::vector<Index> chosen;
  while (chosen.size() < most) {
    const Index farthest =
        *std::max_element(by_reading.begin(), by_reading.end(),
                          [&](Index a, Index b) { return nearest[a] < nearest[b]; });
    for (const Index i : all_) {
      const double from_it = apart(rows[i].place, rows[farthest].place);
      nearest[i] = chosen.empty() ? from_it : std::min(nearest[i], from_it);
    }
    chosen.push_back(farthest);
  }
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

void AreaSurface::choose_parameters() {
  const bool averaged = all_.size() <= averaged_up_to;
  const bool local = all_.size() > joint_up_to;
  const std::vector<Index> rows = averaged ? all_ : spread_rows(parameter_rows);
  const Eigen::MatrixXd D = squared_distances(places(rows));
  const bool subset = rows.size() < all_.size();

  // What does not change from node to node is made once.
  const Eigen::Index n = D.rows(), p = 3 + setups_;
  Eigen::MatrixXd noise_here = Eigen::MatrixXd::Zero(n, n);
  add_noise(rows, noise_here);
  Eigen::MatrixXd X_observed(n, p + 1);
  X_observed << drift(rows), values(rows);
  // A subset may hold no reading of some set-up: what all points say of its plane stands in.
  const DriftInformation& known = subset ? readings_.all_ties : readings_.ties;
  Eigen::MatrixXd stacked(n + p + 1, n);

  std::vector<double> log_weight;
  double best = -std::numeric_limits<double>::infinity();
  for (const double range : range_grid) {
    const Eigen::MatrixXd correlation = correlations(D, range);
    for (const double sd : sd_grid) {
      stacked << squared(sd) * correlation + noise_here, X_observed.transpose();
      const double log_likelihood = Kriging::log_likelihood(stacked, known);
      if (!std::isfinite(log_likelihood)) continue;
      log_weight.push_back(log_likelihood + log_prior(sd, range));
      best = std::max(best, log_weight.back());
      nodes_.push_back({sd, range, 0, std::nullopt});
    }
  }
  if (nodes_.empty()) return;

  const auto likeliest = std::max_element(log_weight.begin(), log_weight.end());
  const Node map = {nodes_[likeliest - log_weight.begin()].sd,
                    nodes_[likeliest - log_weight.begin()].range, 1, std::nullopt};
  if (averaged) {
    double total = 0;
    for (Index i = 0; i < nodes_.size(); ++i) {
      nodes_[i].weight = std::exp(log_weight[i] - best);
      if (nodes_[i].weight < negligible_weight) nodes_[i].weight = 0;
      total += nodes_[i].weight;
    }
    std::erase_if(nodes_, [](const Node& node) { return node.weight == 0; });
    double range = 0;
    Eigen::MatrixXd correlation;
    for (Node& node : nodes_) {
      node.weight /= total;
      if (node.range != range) correlation = correlations(D, range = node.range);
      node.kriging = fitted(correlation, node.sd);
      if (!node.kriging) return nodes_.clear();
      node.kriging->prepare_bands();
    }
  } else {
    nodes_.assign(1, map);
    if (!local) {
      nodes_[0].kriging = fitted(correlations(squared_distances(places(all_)), map.range), map.sd);
      if (!nodes_[0].kriging) return nodes_.clear();
      nodes_[0].kriging->prepare_bands();
    }
  }

  model_.sd = map.sd;
  model_.range = map.range;
  model_.how = local ? "local" : averaged ? "averaged" : "joint";
  model_.noise_slope = readings_.noise_slope;
  double noise = 0;
  for (const FloorRow& row : readings_.rows)
    noise += squared(row.noise) + squared(row.place_sd / 1000 * readings_.noise_slope);
  model_.noise = std::sqrt(noise / double(all_.size()));
  for (const Node& node : nodes_) model_.grid.push_back({node.sd, node.range, node.weight});
}

std::vector<double> AreaSurface::heights(std::span<const PlanPoint> at) const {
  std::vector<double> out(at.size(), 0.0);
  if (model_.how == "local") {
    for (Index i = 0; i < at.size(); ++i) out[i] = local_estimate(at[i], std::nullopt).value;
    return out;
  }
  Eigen::MatrixXd correlation;
  for (Index from = 0; from < at.size(); from += places_at_once) {
    const auto some = at.subspan(from, std::min(places_at_once, at.size() - from));
    const Eigen::MatrixXd x = target_drift(some);
    Eigen::Map<Eigen::VectorXd> mean(&out[from], x.rows());
    double range = 0;
    for (const Node& node : nodes_) {
      if (node.range != range) correlation = target_correlation(some, range = node.range);
      mean += node.weight * node.kriging->means(correlation, x, squared(node.sd));
    }
  }
  return out;
}

std::vector<Estimate> AreaSurface::estimates(std::span<const PlanPoint> at) const {
  std::vector<Estimate> out(at.size());
  if (model_.how == "local") {
    for (Index i = 0; i < at.size(); ++i) out[i] = local_estimate(at[i], std::nullopt);
    return out;
  }
  // Mean and variance of the mixture over the nodes.
  const double reference = nodes_[0].kriging->drift()(0);  // keeps the squares small
  Eigen::MatrixXd correlation;
  for (Index from = 0; from < at.size(); from += places_at_once) {
    const auto some = at.subspan(from, std::min(places_at_once, at.size() - from));
    const Eigen::MatrixXd x = target_drift(some);
    Eigen::VectorXd mean = Eigen::VectorXd::Zero(x.rows()), within = mean, square = mean;
    double range = 0;
    for (const Node& node : nodes_) {
      if (node.range != range) correlation = target_correlation(some, range = node.range);
      const Eigen::MatrixXd K = squared(node.sd) * correlation;
      const Eigen::VectorXd m = (node.kriging->means(K, x).array() - reference).matrix();
      mean += node.weight * m;
      square += node.weight * m.cwiseProduct(m);
      within += node.weight * node.kriging->variances(K, x, squared(node.sd));
    }
    for (Eigen::Index i = 0; i < mean.size(); ++i)
      out[from + Index(i)] = {reference + mean(i),
                              std::sqrt(within(i) + std::max(0.0, square(i) - squared(mean(i))))};
  }
  return out;
}

std::optional<Eigen::MatrixXd> AreaSurface::foreseen(std::span<const FloorReading> readings,
                                                     std::span<const PlanPoint> targets) const {
  if (model_.how == "local") return std::nullopt;
  // The readings first, then the targets; a reading of the benchmark takes any place, for it
  // shares nothing with the surface, only with the set-up's plane.
  std::vector<PlanPoint> at;
  for (const FloorReading& r : readings) at.push_back(r.place.value_or(centre_));
  at.insert(at.end(), targets.begin(), targets.end());
  const auto first = Eigen::Index(readings.size()), all = Eigen::Index(at.size());
  Eigen::MatrixXd x = target_drift(at);
  Eigen::ArrayXd px(all), py(all);
  for (Eigen::Index i = 0; i < all; ++i) {
    px(i) = at[i].x;
    py(i) = at[i].y;
    if (i >= first) continue;
    if (!readings[i].place) x.row(i).setZero();
    x(i, 3 + Eigen::Index(readings[i].setup)) = -1;
  }
  // What readings share besides the surface, whatever its parameters.
  Eigen::MatrixXd layers_with_rows = Eigen::MatrixXd::Zero(first, Eigen::Index(all_.size()));
  Eigen::MatrixXd layers = Eigen::MatrixXd::Zero(first, first);
  for (Eigen::Index i = 0; i < first; ++i) {
    for (Eigen::Index k = 0; k < layers_with_rows.cols(); ++k)
      layers_with_rows(i, k) = shared_layers(readings[i].layers & readings_.rows[k].layers);
    for (Eigen::Index k = 0; k < first; ++k)
      layers(i, k) = shared_layers(readings[i].layers & readings[k].layers);
    layers(i, i) +=
        squared(readings[i].noise) + squared(readings[i].place_sd / 1000 * readings_.noise_slope);
  }
  const Node& node =
      *std::max_element(nodes_.begin(), nodes_.end(),
                        [](const Node& a, const Node& b) { return a.weight < b.weight; });
  Eigen::MatrixXd K = squared(node.sd) * target_correlation(at, node.range);
  Eigen::MatrixXd prior(first, all);
  for (Eigen::Index i = 0; i < first; ++i)
    prior.row(i) = ((px - px(i)).square() + (py - py(i)).square()).matrix();
  matern52(Eigen::Map<Eigen::ArrayXd>(prior.data(), prior.size()), node.range);
  prior *= squared(node.sd);
  for (Eigen::Index i = 0; i < first; ++i) {
    if (readings[i].place) continue;
    K.row(i).setZero();
    prior.row(i).setZero();
    prior.col(i).setZero();
  }
  K.topRows(first) += layers_with_rows;
  prior.leftCols(first) += layers;
  return node.kriging->covariances(K, x, prior);
}

Estimate AreaSurface::local_estimate(PlanPoint at, std::optional<Index> without) const {
  const std::vector<Index> rows = neighbourhoods_->nearest(at, without);
  const Node& node = nodes_[0];
  const auto n = Eigen::Index(rows.size());
  const Eigen::Index p = 3 + setups_;
  // The target as one place more: its covariances with the readings are the row below theirs.
  std::vector<PlanPoint> with_target = places(rows);
  with_target.push_back(at);
  Eigen::MatrixXd V = correlations(squared_distances(with_target), node.range);
  V *= squared(node.sd);
  add_noise(rows, V);
  Eigen::MatrixXd stacked(n + p + 2, n);
  stacked << V.topLeftCorner(n, n), drift(rows).transpose(), values(rows).transpose(),
      V.row(n).head(n);
  const auto estimate = Kriging::at_one(stacked, readings_.all_ties,
                                        target_drift({&at, 1}).transpose(), squared(node.sd));
  if (!estimate) return {readings_.rows[rows[0]].value, std::numeric_limits<double>::infinity()};
  return *estimate;
}

LeftOutTest AreaSurface::worst_left_out() const {
  LeftOutTest worst;
  for (Index i = 0; i < all_.size(); ++i) {
    const FloorRow& row = readings_.rows[i];
    Estimate off;
    if (model_.how == "local") {
      // The set-up's plane is known from all points; its share of the band is small here.
      const Estimate others = local_estimate(row.place, i);
      const double plane = row.setup ? planes_(Eigen::Index(*row.setup)) : 0;
      off = {row.value + plane - others.value, std::hypot(others.sd, model_.noise)};
    } else {
      const auto likeliest =
          std::max_element(nodes_.begin(), nodes_.end(),
                           [](const Node& a, const Node& b) { return a.weight < b.weight; });
      off = likeliest->kriging->left_out(Eigen::Index(i));
    }
    if (std::abs(off.value / off.sd) > std::abs(worst.standardised))
      worst = {i, off.value, off.value / off.sd};
  }
  return worst;
}

}  // namespace levelrun
