// Question: the most likely places of a net's points, and how its measurements check each other.
// Method: Gauss-Newton on the normal equations N dx = g, Cholesky (skyline.h). A lean term touches
// one pair of points only, so it is eliminated first (Schur complement) and N keeps the size of the
// coordinates and scales. A free net adds B B' to N, B the conditions on the datum points, and
// takes E (E'B B'E)^-1 E' off the covariance, E the shifts and the turn that N does not see
// (inner constraints; F. Krumm, Geodetic Network Adjustment Examples, rev. 3.5, 2020).
#include "checks/plan_net.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

#include "checks/net_rows.h"
#include "checks/skyline.h"

namespace levelrun {
namespace {

constexpr double degrees = 180 / std::numbers::pi;
constexpr int most_iterations = 30;
constexpr int most_halvings = 12;
constexpr int hope = 3;  // steps; the first ones take off almost all that there is to take off
// Unit of length. Each step is a hundredth of the one before or less, so the next is < 1e-9.
constexpr double last_step = 1e-7;
// Of a step against the one before: a slower approach takes the residuals' curvature (Newton).
constexpr double slow = 0.1;  // trial, no source
// Of a pivot against its diagonal: rounding leaves some 1e-15 of a true 0 (trial, no source).
constexpr double smallest_pivot = 1e-12;
constexpr double least = 1e-9;  // keeps a distance or a sine of 0 from dividing

// One lean term's part of the normal equations, kept apart so that it can be eliminated.
struct Lean {
  std::vector<int> columns;
  std::vector<double> coupling;  // N between the term and each of these columns
  double pivot = 0, gradient = 0;
};

}  // namespace

struct PlanAdjustment::Work : NetUnknowns {
  PlanNet net;
  std::vector<Lean> lean_parts;

  std::vector<NetPoint> start;
  std::vector<char> used;
  std::vector<NetRow> rows;
  std::vector<double> residuals;
  double chi_square = 0;

  // What a step starts from, kept for halving it.
  std::vector<NetPoint> points_before;
  std::vector<double> leans_before, scales_before;

  Skyline normal;
  Eigen::MatrixXd conditions, covariance;
  Eigen::VectorXd gradient, step, lean_step;
  bool covariance_made = false;
  double condition_weight = 1;  // any: for rounding only

  explicit Work(PlanNet given) : NetUnknowns(given), net(std::move(given)) {
    residuals.resize(net.observations.size());
    lean_parts.resize(net.leans.size());
    for (const NetObservation& o : net.observations) {
      rows.push_back(linearised(o));
      if (!o.lean) continue;
      const NetRow& row = rows.back();
      std::vector<int>& columns = lean_parts[o.lean->term].columns;
      columns.insert(columns.end(), row.column.begin(), row.column.begin() + row.count);
    }
    for (Lean& part : lean_parts) {
      std::sort(part.columns.begin(), part.columns.end());
      part.columns.erase(std::unique(part.columns.begin(), part.columns.end()), part.columns.end());
      part.coupling.resize(part.columns.size());
    }
    normal = Skyline(first_columns());
    gradient.resize(unknowns);
    step.resize(unknowns);
    lean_step.resize(static_cast<Eigen::Index>(leans.size()));
  }

  // Of each row of N: the first unknown that an observation or a lean term ties it to.
  std::vector<int> first_columns() const {
    std::vector<int> starts(static_cast<std::size_t>(unknowns), 0);
    if (!net.datum.empty()) return starts;
    std::iota(starts.begin(), starts.end(), 0);
    const auto tie = [&](std::span<const int> columns) {
      for (const int c : columns)
        for (const int d : columns) starts[std::size_t(c)] = std::min(starts[std::size_t(c)], d);
    };
    for (const NetRow& row : rows) tie({row.column.data(), std::size_t(row.count)});
    for (const Lean& part : lean_parts) tie(part.columns);
    return starts;
  }

  static double difference(const NetObservation& o, double value) {
    const double v = value - o.value;
    return o.kind == NetKind::angle ? std::remainder(v, 360.0) : v;
  }

  void look_at(std::size_t i) {
    rows[i] = linearised(net.observations[i]);
    residuals[i] = difference(net.observations[i], rows[i].value);
  }

  void evaluate() {
    chi_square = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (!used[i]) continue;
      look_at(i);
      const double sd = net.observations[i].sd;
      chi_square += residuals[i] * residuals[i] / (sd * sd);
    }
    for (std::size_t k = 0; k < leans.size(); ++k)
      chi_square += leans[k] * leans[k] / (net.leans[k] * net.leans[k]);
    for (std::size_t k = 0; k < scales.size(); ++k)
      chi_square += scales[k] * scales[k] / (net.scales[k] * net.scales[k]);
  }

  void assemble() {
    normal.set_zero();
    gradient.setZero();
    for (std::size_t k = 0; k < scales.size(); ++k) {
      const double weight = 1 / (net.scales[k] * net.scales[k]);
      const int c = coordinates + static_cast<int>(k);
      normal(c, c) = weight;
      gradient(c) = -weight * scales[k];
    }
    for (std::size_t k = 0; k < leans.size(); ++k) {
      Lean& part = lean_parts[k];
      part.pivot = 1 / (net.leans[k] * net.leans[k]);
      part.gradient = -part.pivot * leans[k];
      std::fill(part.coupling.begin(), part.coupling.end(), 0.0);
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (!used[i]) continue;
      const NetObservation& o = net.observations[i];
      const NetRow& row = rows[i];
      const double weight = 1 / (o.sd * o.sd);
      for (int a = 0; a < row.count; ++a) {
        const double slope = weight * row.slope[a];
        gradient(row.column[a]) -= slope * residuals[i];
        for (int b = 0; b < row.count; ++b)
          if (row.column[b] <= row.column[a])
            normal(row.column[a], row.column[b]) += slope * row.slope[b];
      }
      if (!o.lean) continue;
      Lean& part = lean_parts[o.lean->term];
      part.pivot += weight * o.lean->factor * o.lean->factor;
      part.gradient -= weight * o.lean->factor * residuals[i];
      for (int a = 0; a < row.count; ++a)
        coupling(part, row.column[a]) += weight * o.lean->factor * row.slope[a];
    }
    for (const Lean& part : lean_parts)
      for (std::size_t a = 0; a < part.columns.size(); ++a) {
        const double share = part.coupling[a] / part.pivot;
        gradient(part.columns[a]) -= share * part.gradient;
        for (std::size_t b = 0; b <= a; ++b)
          normal(part.columns[a], part.columns[b]) -= share * part.coupling[b];
      }
    if (!net.datum.empty()) add_conditions();
  }

  static double& coupling(Lean& part, int column) {
    const auto found = std::lower_bound(part.columns.begin(), part.columns.end(), column);
    return part.coupling[static_cast<std::size_t>(found - part.columns.begin())];
  }

  // Two shifts and a turn of the given points, a column each; the turn about their middle.
  Eigen::MatrixXd movements(const std::vector<NetPoint>& where, bool of_datum_only) const {
    Eigen::MatrixXd m = Eigen::MatrixXd::Zero(unknowns, 3);
    double x = 0, y = 0, size = 0;
    for (Index p : net.datum) {
      x += where[p].x / static_cast<double>(net.datum.size());
      y += where[p].y / static_cast<double>(net.datum.size());
    }
    for (Index p : net.datum) size = std::max(size, std::hypot(where[p].x - x, where[p].y - y));
    std::vector<char> moves(where.size(), !of_datum_only);
    for (Index p : net.datum) moves[p] = 1;
    for (Index p = 0; p < where.size(); ++p) {
      if (!moves[p] || column_x[p] < 0) continue;
      m(column_x[p], 0) = 1;
      m(column_y[p], 1) = 1;
      m(column_x[p], 2) = -(where[p].y - y) / size;
      m(column_y[p], 2) = (where[p].x - x) / size;
    }
    return m;
  }

  void add_conditions() {
    double trace = 0;
    for (int c = 0; c < unknowns; ++c) trace += normal(c, c);
    condition_weight = std::max(trace / unknowns, least);
    Eigen::Vector3d met = Eigen::Vector3d::Zero();
    for (Index p : net.datum)
      if (column_x[p] >= 0)
        met += conditions.row(column_x[p]).transpose() * (points[p].x - start[p].x) +
               conditions.row(column_y[p]).transpose() * (points[p].y - start[p].y);
    for (int a = 0; a < unknowns; ++a)
      for (int b = 0; b <= a; ++b)
        normal(a, b) += condition_weight * conditions.row(a).dot(conditions.row(b));
    gradient -= condition_weight * conditions * met;
  }

  // The largest sd of a coordinate with those behind it known; infinite when rank is missing.
  double weakest() {
    double largest = 0;
    if (!normal.factorise()) return std::numeric_limits<double>::infinity();
    for (int c = 0; c < coordinates; ++c) {
      const double pivot = normal.pivot(c);
      if (!(pivot * pivot > smallest_pivot * normal(c, c)))
        return std::numeric_limits<double>::infinity();
      largest = std::max(largest, 1 / pivot);
    }
    return largest;
  }

  // What Gauss-Newton leaves out of the second derivatives: residuals times the curvature of what
  // is measured. Without it large residuals slow the approach to a crawl. Enough of it: `across`,
  // `out` and the leans, which bend little or not at all, stay as they are.
  void add_curvature() {
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const NetObservation& o = net.observations[i];
      if (!used[i] || o.kind == NetKind::across) continue;
      const double pull = residuals[i] / (o.sd * o.sd);
      if (o.kind == NetKind::distance) {
        const auto [x, y] = between(o.from, o.to);
        const double length = std::max(std::sqrt(x * x + y * y), least);
        const double bend = pull / (length * length * length);
        add_bend(o.from, o.to, bend * y * y, -bend * x * y, bend * x * x);
      } else {
        add_turning(o.at, o.to, pull * degrees);
        add_turning(o.at, o.from, -pull * degrees);
      }
    }
  }
  std::pair<double, double> between(Index from, Index to) const {
    return {points[to].x - points[from].x, points[to].y - points[from].y};
  }
  // Times the curvature of a ray's bearing.
  void add_turning(Index from, Index to, double times) {
    const auto [x, y] = between(from, to);
    const double square = std::max(x * x + y * y, least);
    const double bend = times / (square * square);
    add_bend(from, to, bend * 2 * x * y, bend * (y * y - x * x), -bend * 2 * x * y);
  }
  // The second derivatives of something that depends on the difference of two points.
  void add_bend(Index from, Index to, double xx, double xy, double yy) {
    const std::array<int, 4> column{column_x[from], column_y[from], column_x[to], column_y[to]};
    for (std::size_t a = 0; a < 4; ++a)
      for (std::size_t b = 0; b < 4; ++b) {
        if (column[b] < 0 || column[b] > column[a]) continue;
        const double bend = a % 2 != b % 2 ? xy : a % 2 ? yy : xx;
        normal(column[a], column[b]) += a / 2 == b / 2 ? bend : -bend;
      }
  }

  void find_step() {
    step = gradient;
    normal.solve(step);
    for (std::size_t k = 0; k < leans.size(); ++k) {
      const Lean& part = lean_parts[k];
      double g = part.gradient;
      for (std::size_t a = 0; a < part.columns.size(); ++a)
        g -= part.coupling[a] * step(part.columns[a]);
      lean_step(static_cast<Eigen::Index>(k)) = g / part.pivot;
    }
  }

  void move(double share) {
    for (std::size_t p = 0; p < points.size(); ++p) {
      if (column_x[p] >= 0) points[p].x = points_before[p].x + share * step(column_x[p]);
      if (column_y[p] >= 0) points[p].y = points_before[p].y + share * step(column_y[p]);
    }
    for (std::size_t k = 0; k < leans.size(); ++k)
      leans[k] = leans_before[k] + share * lean_step(static_cast<Eigen::Index>(k));
    for (std::size_t k = 0; k < scales.size(); ++k)
      scales[k] = scales_before[k] + share * step(coordinates + static_cast<Eigen::Index>(k));
    evaluate();
  }

  void go_to_start() {
    points = start;
    std::fill(leans.begin(), leans.end(), 0.0);
    std::fill(scales.begin(), scales.end(), 0.0);
    covariance_made = false;
    evaluate();
  }

  NetState solve(double largest_sd, double hopeless) {
    go_to_start();
    if (!net.datum.empty()) conditions = movements(start, true);
    double length = 0, length_before = 0;  // of the last two steps
    bool crawls = false;
    for (int iteration = 0; iteration < most_iterations; ++iteration) {
      if (iteration == hope && chi_square > hopeless) return NetState::hopeless;
      assemble();
      crawls = crawls || (iteration > 1 && length > slow * length_before);
      if (crawls) add_curvature();
      double sd = weakest();
      const bool curved = crawls && std::isfinite(sd);
      if (crawls && !curved) {  // bent too far from a minimum
        assemble();
        sd = weakest();
      }
      if (!std::isfinite(sd) || (iteration == 0 && sd > largest_sd)) return NetState::undetermined;
      find_step();
      points_before = points;
      leans_before = leans;
      scales_before = scales;
      const double before = chi_square;
      double share = 1;
      move(share);
      // Rounding may make the last steps worse by a trifle; that is no reason to halve them.
      for (int n = 0; n < most_halvings && !(chi_square <= before * (1 + 1e-9) + 1e-9); ++n)
        move(share /= 2);
      if (!(chi_square <= before * (1 + 1e-9) + 1e-9)) return NetState::diverged;
      length_before = length;
      length = share * step.head(coordinates).lpNorm<Eigen::Infinity>();
      if (length < last_step) return finished(curved, sd, largest_sd);
    }
    return NetState::diverged;
  }

  // Covariances are of the normal equations alone.
  NetState finished(bool curved, double sd, double largest_sd) {
    if (curved) {
      assemble();
      sd = weakest();
    }
    for (std::size_t i = 0; i < rows.size(); ++i)
      if (!used[i]) look_at(i);
    return sd > largest_sd ? NetState::undetermined : NetState::solved;
  }

  const Eigen::MatrixXd& covariances() {
    if (covariance_made) return covariance;
    covariance_made = true;
    covariance = normal.inverse();
    if (!net.datum.empty()) {
      const Eigen::MatrixXd unseen = movements(points, false);
      const Eigen::Matrix3d seen = conditions.transpose() * unseen;
      const Eigen::Matrix3d square = condition_weight * seen.transpose() * seen;
      covariance -= unseen * square.inverse() * unseen.transpose();
    }
    return covariance;
  }

  // A row with its lean term put as -coupling / pivot * the rest.
  struct Whole {
    std::vector<int> columns;
    std::vector<double> slopes;
  };
  void write_whole(const NetObservation& o, const NetRow& row, Whole& whole) const {
    whole.columns.assign(row.column.begin(), row.column.begin() + row.count);
    whole.slopes.assign(row.slope.begin(), row.slope.begin() + row.count);
    if (!o.lean) return;
    const Lean& part = lean_parts[o.lean->term];
    for (std::size_t a = 0; a < part.columns.size(); ++a) {
      const double slope = -o.lean->factor * part.coupling[a] / part.pivot;
      const auto same = std::find(whole.columns.begin(), whole.columns.end(), part.columns[a]);
      if (same != whole.columns.end()) {
        whole.slopes[std::size_t(same - whole.columns.begin())] += slope;
      } else {
        whole.columns.push_back(part.columns[a]);
        whole.slopes.push_back(slope);
      }
    }
  }
  Whole first, second;  // scratch, kept for their memory

  double covariance_of(const NetObservation& o, const NetRow& row, const NetObservation& other,
                       const NetRow& other_row) {
    const Eigen::MatrixXd& q = covariances();
    write_whole(o, row, first);
    write_whole(other, other_row, second);
    double sum = 0;
    for (std::size_t a = 0; a < first.columns.size(); ++a)
      for (std::size_t b = 0; b < second.columns.size(); ++b)
        sum += first.slopes[a] * second.slopes[b] * q(first.columns[a], second.columns[b]);
    if (o.lean && other.lean && o.lean->term == other.lean->term)  // what is its own
      sum += o.lean->factor * other.lean->factor / lean_parts[o.lean->term].pivot;
    return sum;
  }

  double variance(const NetObservation& o, const NetRow& row) {
    return std::max(covariance_of(o, row, o, row), 0.0);
  }

  // For one or a few, at less cost than all covariances: |L^-1 slopes|^2.
  double lone_variance(const NetObservation& o, const NetRow& row) {
    if (covariance_made || !net.datum.empty()) return variance(o, row);
    write_whole(o, row, first);
    step.setZero();
    int from = unknowns;
    for (std::size_t a = 0; a < first.columns.size(); ++a) {
      step(first.columns[a]) += first.slopes[a];
      from = std::min(from, first.columns[a]);
    }
    normal.solve_lower(step, from);
    const double own =
        o.lean ? o.lean->factor * o.lean->factor / lean_parts[o.lean->term].pivot : 0;
    return step.squaredNorm() + own;
  }

  double sd(int column) {
    return column < 0 ? 0 : std::sqrt(std::max(covariances()(column, column), 0.0));
  }

  int dof() const {
    const int free = net.datum.empty() ? 0 : 3;
    const auto booked = std::count_if(used.begin(), used.end(), [](char u) { return u != 0; });
    return static_cast<int>(booked) - coordinates + free;
  }
};

PlanAdjustment::PlanAdjustment(PlanNet net) : work_(std::make_unique<Work>(std::move(net))) {}
PlanAdjustment::~PlanAdjustment() = default;
PlanAdjustment::PlanAdjustment(PlanAdjustment&&) noexcept = default;
PlanAdjustment& PlanAdjustment::operator=(PlanAdjustment&&) noexcept = default;

const PlanNet& PlanAdjustment::net() const { return work_->net; }

NetState PlanAdjustment::solve() {
  const std::vector<char> all(work_->net.observations.size(), 1);
  return solve(work_->net.points, all);
}

NetState PlanAdjustment::solve(std::span<const NetPoint> start, std::span<const char> used,
                               double largest_sd, double hopeless) {
  work_->start.assign(start.begin(), start.end());
  work_->used.assign(used.begin(), used.end());
  return work_->solve(largest_sd, hopeless);
}

double PlanAdjustment::chi_square_at(std::span<const NetPoint> start, std::span<const char> used) {
  work_->start.assign(start.begin(), start.end());
  work_->used.assign(used.begin(), used.end());
  work_->go_to_start();
  return work_->chi_square;
}

const std::vector<NetPoint>& PlanAdjustment::points() const { return work_->points; }
double PlanAdjustment::lean(Index i) const { return work_->leans[i]; }
double PlanAdjustment::scale(Index i) const { return work_->scales[i]; }
double PlanAdjustment::chi_square() const { return work_->chi_square; }
int PlanAdjustment::dof() const { return work_->dof(); }

double PlanAdjustment::sigma0() const { return dof() > 0 ? std::sqrt(chi_square() / dof()) : 0; }

double PlanAdjustment::residual(Index i) const { return work_->residuals[i]; }

double PlanAdjustment::redundancy(Index i) const {
  const NetObservation& o = work_->net.observations[i];
  const double booked = o.sd * o.sd, known = work_->variance(o, work_->rows[i]);
  return work_->used[i] ? std::clamp(1 - known / booked, 0.0, 1.0) : booked / (booked + known);
}

double PlanAdjustment::covariance(Index i, Index j) const {
  const std::vector<NetObservation>& o = work_->net.observations;
  return work_->covariance_of(o[i], work_->rows[i], o[j], work_->rows[j]);
}

double PlanAdjustment::covariance(const NetObservation& a, const NetObservation& b) const {
  return work_->covariance_of(a, work_->linearised(a), b, work_->linearised(b));
}

double PlanAdjustment::standardised(Index i) const {
  const double r = redundancy(i), sd = work_->net.observations[i].sd;
  if (r < unchecked) return 0;
  // A residual against a solution without the observation is 1 / r times the one within it.
  return residual(i) * (work_->used[i] ? 1 / std::sqrt(r) : std::sqrt(r)) / sd;
}

Estimate PlanAdjustment::predict(const NetObservation& o) const {
  const NetRow row = work_->linearised(o);
  return {row.value, std::sqrt(work_->lone_variance(o, row))};
}

double PlanAdjustment::value(const NetObservation& o) const { return work_->linearised(o).value; }

double PlanAdjustment::sd_x(Index p) const { return work_->sd(work_->column_x[p]); }
double PlanAdjustment::sd_y(Index p) const { return work_->sd(work_->column_y[p]); }

}  // namespace levelrun
