// Question: heights from level readings, their sd, and which reading disagrees.
// Method: least squares on corrections to heights walked from the datum (so that large heights
// keep their digits). The normal equations of a level net are a net of resistors: weights are
// conductances, fixed heights are the ground. Eliminating a node replaces its star by a mesh,
// by additions of positive numbers only, so no digit is lost however unequal the weights.
//   1. Nodes not adjacent to each other (as a rule all points read from set-ups) are eliminated
//      one by one, at a cost of their readings squared: linear in the number of points.
//   2. The rest (as a rule the set-ups) are eliminated densely, a Cholesky (LDL') of what is
//      left.
// Source: star-mesh transformation; elimination without subtraction as in Grassmann, Taksar and
// Heyman (1985); moving a free datum: Baarda's S-transformation (1973). From memory.
#include "checks/level_net.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "checks/two_peg.h"

namespace levelrun {
namespace {

using Index = std::size_t;

// Net's unit. Beyond these an sd is a slip; they keep weights and their products finite.
constexpr double least_sd = 1e-9, greatest_sd = 1e9;

// Redundancy below this is rounding: nothing checks the observation.
constexpr double least_redundancy = 1e-8;

// mm for one set-up; source at misclosure_allowance's declaration.
constexpr double allowance_of_one = 5;

double variance_of(double sd) {
  const double s = std::clamp(sd, least_sd, greatest_sd);
  return s * s;
}

struct Arm {
  Index to = 0;
  double weight = 0;
};

// The unknown nodes with what pulls on them; known nodes are the ground.
struct Mesh {
  std::vector<bool> unknown;
  std::vector<std::vector<Arm>> arms;  // to unknown nodes
  std::vector<double> ground;          // weight to the ground
};

// Arms to the same node add up, as resistors side by side do: a point read a thousand times from
// one set-up then costs no more than one read once.
void merge_parallel(Mesh& mesh) {
  constexpr Index none = static_cast<Index>(-1);
  std::vector<Index> place(mesh.arms.size(), none);  // of the arm to each node
  for (std::vector<Arm>& arms : mesh.arms) {
    Index kept = 0;
    for (const Arm arm : arms) {
      if (place[arm.to] != none) {
        arms[place[arm.to]].weight += arm.weight;
        continue;
      }
      place[arm.to] = kept;
      arms[kept++] = arm;
    }
    arms.resize(kept);
    for (const Arm& arm : arms) place[arm.to] = none;
  }
}

struct Eliminated {
  double total = 0;         // weight of all its arms, ground included
  std::vector<Arm> shares;  // weight / total of each kept neighbour
};

}  // namespace

// The eliminated mesh: x = own pull / total + sum of share * x of the neighbours left.
class LevelFactor {
 public:
  explicit LevelFactor(const Mesh&);

  // The corrections x that the pulls (weight * observed correction) cause.
  std::vector<double> solve(const std::vector<double>& pull) const;
  double covariance(Index a, Index b) const;

  // A free part's datum is moved afterwards from one node to the mean of several.
  struct Datum {
    std::vector<Index> part;            // of each node
    std::vector<double> with_mean;      // of each node: covariance with its part's mean
    std::vector<double> mean_variance;  // of each part; parts that are not free have 0
  };
  Datum datum;

 private:
  enum class Kind { known, kept, eliminated };
  void choose(const Mesh&);
  void eliminate_points(const Mesh&);
  void eliminate_rest();

  std::vector<Kind> kind_;
  std::vector<Index> row_;  // of a kept or of an eliminated node
  std::vector<Index> kept_, eliminated_;
  std::vector<Eliminated> points_;  // as eliminated_
  Eigen::MatrixXd shares_;          // above the diagonal, kept rows; below: not used
  Eigen::VectorXd ground_, total_;  // of kept rows
  Eigen::MatrixXd kept_covariance_;
};

LevelFactor::LevelFactor(const Mesh& mesh) {
  choose(mesh);
  eliminate_points(mesh);
  eliminate_rest();
}

// Fewest arms first, so that points go before the set-ups that read them.
void LevelFactor::choose(const Mesh& mesh) {
  const Index n = mesh.unknown.size();
  kind_.assign(n, Kind::known);
  row_.assign(n, 0);
  std::vector<Index> order;
  for (Index i = 0; i < n; ++i)
    if (mesh.unknown[i]) order.push_back(i);
  std::stable_sort(order.begin(), order.end(),
                   [&](Index a, Index b) { return mesh.arms[a].size() < mesh.arms[b].size(); });
  for (const Index i : order) {
    const bool free = std::none_of(mesh.arms[i].begin(), mesh.arms[i].end(), [&](const Arm& arm) {
      return kind_[arm.to] == Kind::eliminated;
    });
    kind_[i] = free ? Kind::eliminated : Kind::kept;
    auto& list = free ? eliminated_ : kept_;
    row_[i] = list.size();
    list.push_back(i);
  }
}

void LevelFactor::eliminate_points(const Mesh& mesh) {
  const auto k = static_cast<Eigen::Index>(kept_.size());
  shares_ = Eigen::MatrixXd::Zero(k, k);  // weights, until eliminate_rest divides them
  ground_.resize(k);
  for (Index a = 0; a < kept_.size(); ++a) {
    ground_[a] = mesh.ground[kept_[a]];
    for (const Arm& arm : mesh.arms[kept_[a]])
      if (kind_[arm.to] == Kind::kept) shares_(a, row_[arm.to]) += arm.weight;
  }
  for (const Index i : eliminated_) {
    Eliminated point{mesh.ground[i], {}};
    for (const Arm& arm : mesh.arms[i]) point.total += arm.weight;
    for (const Arm& arm : mesh.arms[i])
      point.shares.push_back({row_[arm.to], arm.weight / point.total});
    for (Index a = 0; a < point.shares.size(); ++a) {
      const Arm& share = point.shares[a];
      ground_[share.to] += share.weight * mesh.ground[i];
      for (Index b = 0; b < point.shares.size(); ++b)  // the diagonal is never read
        shares_(share.to, point.shares[b].to) += share.weight * mesh.arms[i][b].weight;
    }
    points_.push_back(std::move(point));
  }
}

void LevelFactor::eliminate_rest() {
  const Eigen::Index k = ground_.size();
  total_.resize(k);
  for (Eigen::Index i = 0; i < k; ++i) {
    const Eigen::Index after = k - i - 1;
    const Eigen::RowVectorXd weights = shares_.row(i).tail(after);
    total_[i] = ground_[i] + weights.sum();
    shares_.row(i).tail(after) /= total_[i];
    const Eigen::VectorXd share = shares_.row(i).tail(after).transpose();
    ground_.tail(after) += share * ground_[i];
    shares_.bottomRightCorner(after, after).noalias() += share * weights;
  }
  kept_covariance_.resize(k, k);
  for (Eigen::Index i = k - 1; i >= 0; --i) {
    const Eigen::Index after = k - i - 1;
    const Eigen::RowVectorXd share = shares_.row(i).tail(after);
    const Eigen::RowVectorXd row = share * kept_covariance_.bottomRightCorner(after, after);
    kept_covariance_.row(i).tail(after) = row;
    kept_covariance_.col(i).tail(after) = row.transpose();
    kept_covariance_(i, i) = 1 / total_[i] + share.dot(row);
  }
}

std::vector<double> LevelFactor::solve(const std::vector<double>& pull) const {
  const Eigen::Index k = ground_.size();
  Eigen::VectorXd x(k);
  for (Eigen::Index a = 0; a < k; ++a) x[a] = pull[kept_[a]];
  for (Index p = 0; p < points_.size(); ++p)
    for (const Arm& share : points_[p].shares) x[share.to] += share.weight * pull[eliminated_[p]];
  for (Eigen::Index i = 0; i < k; ++i)
    x.tail(k - i - 1) += shares_.row(i).tail(k - i - 1).transpose() * x[i];
  for (Eigen::Index i = k - 1; i >= 0; --i)
    x[i] = x[i] / total_[i] + shares_.row(i).tail(k - i - 1).dot(x.tail(k - i - 1));

  std::vector<double> correction(kind_.size(), 0.0);
  for (Index a = 0; a < kept_.size(); ++a) correction[kept_[a]] = x[a];
  for (Index p = 0; p < points_.size(); ++p) {
    double& c = correction[eliminated_[p]];
    c = pull[eliminated_[p]] / points_[p].total;
    for (const Arm& share : points_[p].shares) c += share.weight * x[share.to];
  }
  return correction;
}

double LevelFactor::covariance(Index a, Index b) const {
  if (kind_[a] == Kind::known || kind_[b] == Kind::known) return 0;
  const Arm self_a{row_[a], 1}, self_b{row_[b], 1};
  const auto shares = [&](Index i, const Arm& self) {
    const bool gone = kind_[i] == Kind::eliminated;
    return gone ? std::span<const Arm>(points_[row_[i]].shares) : std::span(&self, 1);
  };
  double sum = a == b && kind_[a] == Kind::eliminated ? 1 / points_[row_[a]].total : 0.0;
  for (const Arm& p : shares(a, self_a))
    for (const Arm& q : shares(b, self_b))
      sum += p.weight * kept_covariance_(p.to, q.to) * q.weight;
  return sum;
}

namespace {

bool usable(const LevelNet& net, const HeightDifference& d) {
  return d.from < net.nodes && d.to < net.nodes && std::isfinite(d.difference) &&
         std::isfinite(d.sd) && d.sd > 0;
}

bool usable(const LevelNet& net, const GivenHeight& g) {
  return g.node < net.nodes && std::isfinite(g.height) && std::isfinite(g.sd) && g.sd >= 0;
}

// One connected part of the net and what its heights hang on.
struct Part {
  enum class Datum { none, known, free } datum = Datum::none;
  double reference = 0;  // heights are counted from here while computing
  Index anchor = 0;      // free: the node held until the datum is moved
  std::vector<GivenHeight> free_over;
};

// The net sorted out: what is fixed, what hangs together, and a start height for every node.
struct Prepared {
  std::vector<std::optional<double>> fixed;
  std::vector<Index> part_of;
  std::vector<Part> parts;
  std::vector<double> start;  // from the part's reference
};

std::vector<std::vector<Index>> readings_of(const LevelNet& net) {
  std::vector<std::vector<Index>> readings(net.nodes);
  for (Index i = 0; i < net.differences.size(); ++i) {
    const HeightDifference& d = net.differences[i];
    if (!usable(net, d)) continue;
    readings[d.from].push_back(i);
    readings[d.to].push_back(i);
  }
  return readings;
}

Index other_end(const HeightDifference& d, Index node) { return d.from == node ? d.to : d.from; }

Prepared prepared(const LevelNet& net) {
  Prepared p;
  const auto readings = readings_of(net);
  constexpr Index nowhere = static_cast<Index>(-1);
  p.part_of.assign(net.nodes, nowhere);
  std::vector<Index> queue;
  for (Index first = 0; first < net.nodes; ++first) {
    if (p.part_of[first] != nowhere) continue;
    p.part_of[first] = p.parts.size();
    queue.assign(1, first);
    for (Index head = 0; head < queue.size(); ++head)
      for (const Index r : readings[queue[head]]) {
        const Index to = other_end(net.differences[r], queue[head]);
        if (p.part_of[to] != nowhere) continue;
        p.part_of[to] = p.parts.size();
        queue.push_back(to);
      }
    p.parts.emplace_back();
  }

  p.fixed.resize(net.nodes);
  p.start.assign(net.nodes, 0.0);
  std::vector<bool> started(net.nodes, false);
  queue.clear();
  const auto hang = [&](Part::Datum datum, const GivenHeight& g) {
    Part& part = p.parts[p.part_of[g.node]];
    if (part.datum == Part::Datum::none) {
      part.datum = datum;
      part.reference = g.height;
      part.anchor = g.node;
    }
    if (started[g.node]) return;
    started[g.node] = true;
    p.start[g.node] = g.height - part.reference;
    queue.push_back(g.node);
  };
  // Fixed heights first: a node that is also observed starts from the height that holds.
  for (const GivenHeight& g : net.known)
    if (usable(net, g) && g.sd == 0 && !p.fixed[g.node]) {
      p.fixed[g.node] = g.height;
      hang(Part::Datum::known, g);
    }
  for (const GivenHeight& g : net.known)
    if (usable(net, g) && g.sd > 0) hang(Part::Datum::known, g);
  for (const GivenHeight& g : net.free_over) {
    if (!usable(net, g) || p.parts[p.part_of[g.node]].datum == Part::Datum::known) continue;
    if (p.parts[p.part_of[g.node]].datum == Part::Datum::none) hang(Part::Datum::free, g);
    p.parts[p.part_of[g.node]].free_over.push_back(g);
  }
  for (Index head = 0; head < queue.size(); ++head)
    for (const Index r : readings[queue[head]]) {
      const HeightDifference& d = net.differences[r];
      const Index to = other_end(d, queue[head]);
      if (started[to]) continue;
      started[to] = true;
      p.start[to] = p.start[queue[head]] + (d.from == to ? -d.difference : d.difference);
      queue.push_back(to);
    }
  return p;
}

CheckedObservation checked(double residual, double variance, double variance_of_adjusted) {
  CheckedObservation c{true, residual, 1 - variance_of_adjusted / variance, std::nullopt};
  c.redundancy = std::clamp(c.redundancy, 0.0, 1.0);
  if (c.redundancy < least_redundancy)
    c.redundancy = 0;
  else
    c.standardised = residual / std::sqrt(variance * c.redundancy);
  return c;
}

// Moves the datum of every free part from its anchor to the mean of its chosen nodes.
void free_datum(const Prepared& p, LevelFactor& factor, std::vector<double>& correction) {
  const Index nodes = correction.size();
  factor.datum.part = p.part_of;
  factor.datum.with_mean.assign(nodes, 0.0);
  factor.datum.mean_variance.assign(p.parts.size(), 0.0);
  std::vector<double> mean_of(nodes, 0.0), shift(p.parts.size(), 0.0);
  bool any = false;
  for (Index i = 0; i < p.parts.size(); ++i) {
    const double share = 1 / static_cast<double>(p.parts[i].free_over.size());
    for (const GivenHeight& g : p.parts[i].free_over) {
      any = true;
      mean_of[g.node] += share;
      const double given = g.height - p.parts[i].reference;
      shift[i] += share * (given - (p.start[g.node] + correction[g.node]));
    }
  }
  if (!any) return;
  factor.datum.with_mean = factor.solve(mean_of);
  for (Index i = 0; i < nodes; ++i) {
    if (p.parts[p.part_of[i]].datum != Part::Datum::free) continue;
    factor.datum.mean_variance[p.part_of[i]] += mean_of[i] * factor.datum.with_mean[i];
    correction[i] += shift[p.part_of[i]];
  }
}

}  // namespace

AdjustedLevels adjust_levels(const LevelNet& net) {
  const Prepared p = prepared(net);
  const auto part = [&](Index node) -> const Part& { return p.parts[p.part_of[node]]; };
  const auto tied = [&](Index node) { return part(node).datum != Part::Datum::none; };

  AdjustedLevels result;
  Mesh mesh{std::vector<bool>(net.nodes, false), std::vector<std::vector<Arm>>(net.nodes),
            std::vector<double>(net.nodes, 0.0)};
  for (Index i = 0; i < net.nodes; ++i) {
    const bool anchor = part(i).datum == Part::Datum::free && part(i).anchor == i;
    mesh.unknown[i] = tied(i) && !p.fixed[i] && !anchor;
    if (mesh.unknown[i]) --result.dof;
  }

  // What an observation asks of the corrections to the start heights.
  const auto asked = [&](const HeightDifference& d) {
    return d.difference - (p.start[d.to] - p.start[d.from]);
  };
  const auto asked_height = [&](const GivenHeight& g) {
    return (g.height - part(g.node).reference) - p.start[g.node];
  };
  std::vector<double> pull(net.nodes, 0.0);
  for (const HeightDifference& d : net.differences) {
    if (!usable(net, d) || !tied(d.from) || d.from == d.to) continue;
    const double w = 1 / variance_of(d.sd);
    pull[d.to] += w * asked(d);
    pull[d.from] -= w * asked(d);
    for (const auto& [at, end] : {std::pair{d.from, d.to}, std::pair{d.to, d.from}}) {
      if (mesh.unknown[end])
        mesh.arms[at].push_back({end, w});
      else
        mesh.ground[at] += w;
    }
  }
  for (const GivenHeight& g : net.known) {
    if (!usable(net, g) || g.sd == 0) continue;
    const double w = 1 / variance_of(g.sd);
    pull[g.node] += w * asked_height(g);
    mesh.ground[g.node] += w;
  }

  merge_parallel(mesh);

  const auto factor = std::make_shared<LevelFactor>(mesh);
  std::vector<double> correction = factor->solve(pull);

  // Residuals and redundancies do not depend on the datum: taken before it is moved.
  const auto book = [&](double residual, double sd, double variance_of_adjusted) {
    ++result.dof;
    result.chi_square += residual * residual / variance_of(sd);
    return checked(residual, variance_of(sd), variance_of_adjusted);
  };
  for (const HeightDifference& d : net.differences) {
    result.differences.emplace_back();
    if (!usable(net, d) || !tied(d.from)) continue;
    const double residual = (correction[d.to] - correction[d.from]) - asked(d);
    const double variance = factor->covariance(d.from, d.from) + factor->covariance(d.to, d.to) -
                            2 * factor->covariance(d.from, d.to);
    result.differences.back() = book(residual, d.sd, variance);
  }
  for (const GivenHeight& g : net.known) {
    result.known.emplace_back();
    if (!usable(net, g) || g.sd == 0) continue;
    const double residual = correction[g.node] - asked_height(g);
    result.known.back() = book(residual, g.sd, factor->covariance(g.node, g.node));
  }
  if (result.dof > 0) result.sigma0 = std::sqrt(result.chi_square / result.dof);

  free_datum(p, *factor, correction);
  result.factor = factor;
  result.heights.resize(net.nodes);
  result.untied.resize(p.parts.size());
  for (Index i = 0; i < net.nodes; ++i) {
    if (!tied(i)) {
      result.untied[p.part_of[i]].push_back(i);
      continue;
    }
    const double height = part(i).reference + (p.start[i] + correction[i]);
    const double variance = result.covariance(i, i);
    result.heights[i] = Estimate{p.fixed[i].value_or(height), std::sqrt(std::max(0.0, variance))};
  }
  std::erase_if(result.untied, [](const auto& nodes) { return nodes.empty(); });
  return result;
}

double AdjustedLevels::covariance(Index a, Index b) const {
  if (!factor) return 0;
  const double held = factor->covariance(a, b);
  const LevelFactor::Datum& datum = factor->datum;
  if (datum.part[a] != datum.part[b]) return held;
  return held - datum.with_mean[a] - datum.with_mean[b] + datum.mean_variance[datum.part[a]];
}

HeightDifference staff_reading(Index plane, Index point, double staff, double sd,
                               double collimation, double distance_m) {
  return {plane, point, -corrected_reading(staff, collimation, distance_m), sd};
}

double misclosure_allowance(int setups) {
  return allowance_of_one * std::sqrt(std::max(0, setups));
}

}  // namespace levelrun
