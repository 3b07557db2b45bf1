// Question: what network do a room's measurements make, and what does it say with some left out?
// Method: one observation for each booked number; a lean term for a pair of corners measured off
// 900 high, a scale term for an instrument that states one; Gauss-Newton (plan_net.h) from a walk
// round with the nominal angles. The walk's misclosure is shared out by length, so the start does
// not depend on the corner where the walk starts.
#include "checks/room_net.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double plan_height = 900;  // mm; the plan is drawn here
constexpr double lean_sd = 4;        // mm/m; common practice, no source
constexpr double default_sd = 2;     // mm; a tape, where no instrument is named
constexpr double default_angle =
    0.3;  // degrees; a square without sd_deg. Common practice, no source
constexpr double nominal_angle =
    0.6;  // degrees; sd of an unmeasured corner. Common practice, no source
// Degrees. From here on a line in front of one wall no longer meets the next at a useful place.
constexpr double straight_on = 170;
// mm. Rank is missing when a corner is less certain than this, its later neighbours known.
// Without nominal angles a looser corner would better take one; with them it is not known at all.
constexpr double loose_corner = 50;
constexpr double lost_corner = 2000;

// Weights of the walk that finds missing lengths; only a start, so rough (no source).
constexpr double walk_closes_to = 10;    // mm
constexpr double walk_diagonal_to = 50;  // mm
constexpr double walk_guess_to = 3000;   // mm
constexpr double walk_guess = 3000;      // mm; a wall in a room of which nothing is known
constexpr int walk_rounds = 12;

double radians(double degrees) { return degrees * std::numbers::pi / 180; }

double median(std::vector<double>& values) {
  std::sort(values.begin(), values.end());
  const std::size_t middle = values.size() / 2;
  return values.size() % 2 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
}

}  // namespace

bool RoomNet::usable(const Room& room) {
  const Index n = room.corners.size();
  const auto next = [n](const Wall& w) { return w.from < n && w.to == (w.from + 1) % n; };
  return n >= 3 && std::all_of(room.walls.begin(), room.walls.end(), next);
}

RoomNet::RoomNet(const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  const Index n = room.corners.size();
  wall_of_side_.resize(n);
  lengths_of_side_.resize(n);
  for (Index w = 0; w < room.walls.size(); ++w) wall_of_side_[room.walls[w].from] = w;

  double sum = 0;
  for (const Corner& c : room.corners) sum += c.angle;
  const double misfit = static_cast<double>(n - 2) * 180 - sum;
  for (const Corner& c : room.corners) interior_.push_back(c.angle + misfit / double(n));
  heading_.resize(n);
  double heading = 0;
  for (Index i = 0; i < n; ++i) {
    const Index side = (first_side_ + i) % n;
    if (i > 0) heading -= 180 - interior_[side];
    heading_[side] = {std::cos(radians(heading)), std::sin(radians(heading))};
  }

  given_.points.resize(n);
  given_.points[0].fixed = true;
  given_.level = {first_side_, (first_side_ + 1) % n};
  add_lengths(survey, room_index);
  add_diagonals(survey, room_index);
  add_angles(survey, room_index);
  add_leans();

  add_nominal_angles();
  net_ = PlanAdjustment(given_);
}

// Where a measurement of `out` in front of the wall stops: at the next wall, unless the room goes
// on round a re-entrant corner (then square to the corner itself).
bool RoomNet::stops_at_next_wall(Index corner) const { return interior_[corner] < straight_on; }

void RoomNet::add_lengths(const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  const Index n = room.corners.size();
  for (Index w = 0; w < room.walls.size(); ++w) {
    const Wall& wall = room.walls[w];
    const std::string at = pointer(room_index, "walls", w) + "/lengths/";
    for (Index k = 0; k < wall.lengths.size(); ++k) {
      const WallLength& l = wall.lengths[k];
      RoomReading r{RoomReadingKind::length,
                    at + std::to_string(k),
                    wall.id + "/lengths/" + std::to_string(k),
                    "length of " + wall.id,
                    l.height,
                    l.out,
                    l.length,
                    default_sd,
                    wall.from,
                    wall.to};
      if (wall.lengths.size() > 1 || l.height != plan_height)
        r.name += " at " + millimetres(l.height) + " high";
      if (l.out != 0) r.name += ", " + millimetres(l.out) + " out";
      NetObservation o;
      double at_wall = l.length;
      if (l.out != 0) {
        o.out = l.out;
        if (stops_at_next_wall(wall.from)) {
          o.before = (wall.from + n - 1) % n;
          at_wall += l.out / std::tan(radians(interior_[wall.from]));
        }
        if (stops_at_next_wall(wall.to)) {
          o.after = (wall.to + 1) % n;
          at_wall += l.out / std::tan(radians(interior_[wall.to]));
        }
      }
      lengths_of_side_[wall.from].push_back({readings_.size(), at_wall});
      add_distance(std::move(r), o, survey, l.instrument);
    }
  }
}

void RoomNet::add_diagonals(const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  const Index n = room.corners.size();
  std::map<std::pair<Index, Index>, int> seen;
  for (Index k = 0; k < room.diagonals.size(); ++k) {
    const Diagonal& d = room.diagonals[k];
    RoomReading r{RoomReadingKind::diagonal,
                  pointer(room_index, "diagonals", k),
                  room.corners[d.from].id + "-" + room.corners[d.to].id + "/diagonals/" +
                      std::to_string(seen[{d.from, d.to}]++),
                  "diagonal " + room.corners[d.from].id + " to " + room.corners[d.to].id,
                  d.height,
                  0,
                  d.length,
                  default_sd,
                  d.from,
                  d.to};
    if (d.height != plan_height) r.name += " at " + millimetres(d.height) + " high";
    if ((d.from + 1) % n == d.to) lengths_of_side_[d.from].push_back({readings_.size(), d.length});
    if ((d.to + 1) % n == d.from) lengths_of_side_[d.to].push_back({readings_.size(), d.length});
    add_distance(std::move(r), NetObservation{}, survey, d.instrument);
  }
}

void RoomNet::add_distance(RoomReading reading, NetObservation o, const Survey& survey,
                           std::optional<Index> instrument) {
  if (instrument) {
    reading.sd = survey.instruments[*instrument].sd;
    const double scale_sd = survey.instruments[*instrument].sd_per_m;
    if (scale_sd > 0) {
      scale_of_instrument_.resize(survey.instruments.size());
      std::optional<Index>& scale = scale_of_instrument_[*instrument];
      if (!scale) {
        scale = given_.scales.size();
        given_.scales.push_back(scale_sd);
      }
      o.scale = NetTerm{*scale, reading.measured / 1000};
    }
  }
  o.from = reading.from;
  o.to = reading.to;
  o.value = reading.measured;
  o.sd = reading.sd;
  readings_.push_back(std::move(reading));
  given_.observations.push_back(o);
}

void RoomNet::add_angles(const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  std::map<Index, int> seen;
  for (Index k = 0; k < room.angles.size(); ++k) {
    const CornerAngle& a = room.angles[k];
    const Instrument* by = a.instrument ? &survey.instruments[*a.instrument] : nullptr;
    const std::string& id = room.corners[a.corner].id;
    RoomReading r{RoomReadingKind::angle,
                  pointer(room_index, "angles", k),
                  id + "/angles/" + std::to_string(seen[a.corner]++),
                  "angle at " + id,
                  a.height,
                  0,
                  0,
                  0,
                  a.corner,
                  a.corner};
    NetObservation o = interior_angle(a.corner);
    if (a.degrees) {
      r.measured = *a.degrees;
      r.sd = by && by->sd_deg ? *by->sd_deg : default_angle;
    } else {
      // Both legs were set out with the same tape: their sd reaches `across` by its slopes.
      const CornerAngle::Triangle& t = a.triangle;
      const double cosine = std::cos(radians(interior_[a.corner]));
      const double slope_a = (t.a - t.b * cosine) / t.across;
      const double slope_b = (t.b - t.a * cosine) / t.across;
      r.kind = RoomReadingKind::triangle;
      r.name = "triangle at " + id;
      r.measured = t.across;
      r.sd = (by ? by->sd : default_sd) * std::sqrt(1 + slope_a * slope_a + slope_b * slope_b);
      o.kind = NetKind::across;
      o.leg_from = t.a;
      o.leg_to = t.b;
    }
    o.value = r.measured;
    o.sd = r.sd;
    readings_.push_back(std::move(r));
    given_.observations.push_back(o);
  }
}

// A pair all of whose readings are at plan height has no use for a lean term.
void RoomNet::add_leans() {
  const Index n = given_.points.size();
  const auto pair_of = [n](const RoomReading& r) {
    return std::min(r.from, r.to) * n + std::max(r.from, r.to);
  };
  std::map<Index, Index> lean_of_pair;
  for (const RoomReading& r : readings_)
    if (r.from != r.to && r.height != plan_height &&
        lean_of_pair.try_emplace(pair_of(r), given_.leans.size()).second)
      given_.leans.push_back(lean_sd);
  for (Index i = 0; i < readings_.size(); ++i) {
    const auto found = lean_of_pair.find(pair_of(readings_[i]));
    if (found != lean_of_pair.end())
      given_.observations[i].lean =
          NetTerm{found->second, (readings_[i].height - plan_height) / 1000};
  }
}

void RoomNet::add_nominal_angles() {
  std::vector<char> measured(given_.points.size(), 0);
  for (const RoomReading& r : readings_)
    if (r.from == r.to) measured[r.from] = 1;
  for (Index c = 0; c < measured.size(); ++c) {
    if (measured[c]) continue;
    NetObservation o = interior_angle(c);
    o.value = interior_[c];
    o.sd = nominal_angle;
    given_.observations.push_back(o);
    nominal_of_.push_back(c);
  }
}

// Clockwise corners: the room is on the right, so its angle runs anticlockwise from the corner
// before to the corner after.
NetObservation RoomNet::interior_angle(Index corner) const {
  const Index n = given_.points.size();
  NetObservation o;
  o.kind = NetKind::angle;
  o.at = corner;
  o.from = (corner + n - 1) % n;
  o.to = (corner + 1) % n;
  return o;
}

bool RoomNet::assumed(Index corner) const {
  return assumed_ && std::find(nominal_of_.begin(), nominal_of_.end(), corner) != nominal_of_.end();
}

std::vector<char> RoomNet::all_used() const {
  std::vector<char> used(given_.observations.size(), 1);
  if (!assumed_) std::fill(used.begin() + std::ptrdiff_t(readings_.size()), used.end(), char{0});
  return used;
}

NetState RoomNet::solve(std::span<const char> used, double hopeless) {
  return net_.solve(walk(used), used, assumed_ ? lost_corner : loose_corner, hopeless);
}

// The most promising start first: what it reaches tells early which others are hopeless.
std::vector<LeftOut> RoomNet::each_left_out(std::span<const char> used,
                                            std::span<const Index> candidates) {
  std::vector<char> without(used.begin(), used.end());
  std::vector<double> at_start;
  std::vector<std::vector<NetPoint>> starts;
  std::vector<std::size_t> order;
  for (const Index i : candidates) {
    without[i] = 0;
    starts.push_back(walk(without));
    at_start.push_back(net_.chi_square_at(starts.back(), without));
    without[i] = used[i];
    order.push_back(order.size());
  }
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return at_start[a] < at_start[b]; });
  std::vector<std::optional<LeftOut>> found(candidates.size());
  double reached = std::numeric_limits<double>::infinity();
  for (const std::size_t k : order) {
    const Index i = candidates[k];
    without[i] = 0;
    if (net_.solve(starts[k], without, assumed_ ? lost_corner : loose_corner, hopeless(reached)) ==
        NetState::solved) {
      found[k] =
          LeftOut{i, net_.chi_square(), net_.predict(given_.observations[i]), like_described()};
      if (found[k]->like_described) reached = std::min(reached, net_.chi_square());
    }
    without[i] = used[i];
  }
  std::vector<LeftOut> out;
  for (const std::optional<LeftOut>& l : found)
    if (l) out.push_back(*l);
  return out;
}

// The middle one of a side's used lengths; with one of three 1,000 out the walk stays right.
std::optional<double> RoomNet::side_length(Index side, std::span<const char> used) const {
  std::vector<double> lengths;
  for (const SideLength& l : lengths_of_side_[side])
    if (used[l.reading]) lengths.push_back(l.at_wall);
  if (lengths.empty()) return std::nullopt;
  return median(lengths);
}

// All sides' lengths: those not measured are what closes the walk, agrees with the diagonals, or
// else is like the other walls; headings stay nominal.
std::vector<double> RoomNet::walk_lengths(std::span<const char> used) const {
  const Index n = given_.points.size();
  std::vector<double> lengths(n), known;
  std::vector<Index> missing;
  for (Index side = 0; side < n; ++side) {
    const std::optional<double> measured = side_length(side, used);
    if (measured) known.push_back(lengths[side] = *measured);
    if (!measured) missing.push_back(side);
  }
  if (missing.empty()) return lengths;
  const double guess = known.empty() ? walk_guess : median(known);
  for (Index side : missing) lengths[side] = guess;

  const auto m = static_cast<Eigen::Index>(missing.size());
  Eigen::MatrixXd normal(m, m);
  Eigen::VectorXd right(m), slope(m);
  const auto observe = [&](double residual, double sd) {
    normal += slope * slope.transpose() / (sd * sd);
    right -= slope * residual / (sd * sd);
  };
  std::vector<NetPoint> walked(n + 1);  // to each corner, and back to the first
  for (int round = 0; round < walk_rounds; ++round) {
    normal.setZero();
    right.setZero();
    for (Index side = 0; side < n; ++side)
      walked[side + 1] = {walked[side].x + lengths[side] * heading_[side].x,
                          walked[side].y + lengths[side] * heading_[side].y};
    const NetPoint miss = walked[n];
    for (Eigen::Index j = 0; j < m; ++j) slope(j) = heading_[missing[std::size_t(j)]].x;
    observe(miss.x, walk_closes_to);
    for (Eigen::Index j = 0; j < m; ++j) slope(j) = heading_[missing[std::size_t(j)]].y;
    observe(miss.y, walk_closes_to);
    for (Index i = 0; i < readings_.size(); ++i) {
      const RoomReading& r = readings_[i];
      if (r.kind != RoomReadingKind::diagonal || !used[i]) continue;
      const Index a = std::min(r.from, r.to), b = std::max(r.from, r.to);
      const NetPoint way{walked[b].x - walked[a].x, walked[b].y - walked[a].y};
      const double length = std::hypot(way.x, way.y);
      if (!(length > 1)) continue;
      for (Eigen::Index j = 0; j < m; ++j) {
        const Index side = missing[std::size_t(j)];
        const bool on_the_way = side >= a && side < b;
        slope(j) = on_the_way ? (way.x * heading_[side].x + way.y * heading_[side].y) / length : 0;
      }
      observe(length - r.measured, walk_diagonal_to);
    }
    for (Eigen::Index j = 0; j < m; ++j) {
      normal(j, j) += 1 / (walk_guess_to * walk_guess_to);
      right(j) -= (lengths[missing[std::size_t(j)]] - guess) / (walk_guess_to * walk_guess_to);
    }
    const Eigen::VectorXd step = normal.ldlt().solve(right);
    for (Eigen::Index j = 0; j < m; ++j) {
      double& length = lengths[missing[std::size_t(j)]];
      length = std::max(length + step(j), 1.0);
    }
    if (!(step.lpNorm<Eigen::Infinity>() > 0.1)) break;
  }
  return lengths;
}

// From corner `from` along the sides to corner `to` (n = all the way round).
NetPoint RoomNet::stretch(Index from, Index to, const std::vector<double>& lengths) const {
  NetPoint sum;
  for (Index side = from; side < to; ++side) {
    sum.x += lengths[side] * heading_[side].x;
    sum.y += lengths[side] * heading_[side].y;
  }
  return sum;
}

std::vector<NetPoint> RoomNet::walk(std::span<const char> used) const {
  const Index n = given_.points.size();
  const std::vector<double> lengths = walk_lengths(used);
  const NetPoint miss = stretch(0, n, lengths);
  double whole = 0, walked = 0;
  for (double l : lengths) whole += l;
  std::vector<NetPoint> corners(n);
  NetPoint here;
  for (Index c = 0; c < n; ++c) {
    corners[c].x = here.x - miss.x * walked / whole;
    corners[c].y = here.y - miss.y * walked / whole;
    here.x += lengths[c] * heading_[c].x;
    here.y += lengths[c] * heading_[c].y;
    walked += lengths[c];
  }
  // The shared-out miss has turned the first wall a little.
  const NetPoint a = corners[first_side_], b = corners[(first_side_ + 1) % n], origin = corners[0];
  const double length = std::max(std::hypot(b.x - a.x, b.y - a.y), 1e-9);
  const double cosine = (b.x - a.x) / length, sine = (b.y - a.y) / length;
  for (NetPoint& p : corners) {
    const double x = p.x - origin.x, y = p.y - origin.y;
    p = {cosine * x + sine * y, cosine * y - sine * x};
  }
  corners[0].fixed = true;
  const Index next = (first_side_ + 1) % n;
  const double level = first_side_ == 0 || next == 0 ? 0 : corners[first_side_].y;
  corners[first_side_].y = corners[next].y = level;
  return corners;
}

RoomNet::Closure RoomNet::closure(std::span<const char> used) const {
  const Index n = given_.points.size();
  const NetPoint miss = stretch(0, n, walk_lengths(used));
  Closure out;
  out.miss = std::hypot(miss.x, miss.y);
  for (Index side = 0; side < n; ++side) {
    const SideLength* only = nullptr;
    int count = 0;
    for (const SideLength& l : lengths_of_side_[side])
      if (used[l.reading]) {
        only = &l;
        ++count;
      }
    if (count == 1)
      out.without.push_back(
          {only->reading, std::abs(miss.x * heading_[side].y - miss.y * heading_[side].x)});
  }
  return out;
}

bool RoomNet::like_described() const {
  if (!makes_a_room(net_.points())) return false;
  for (Index c = 0; c < interior_.size(); ++c)
    if (std::abs(std::remainder(net_.value(interior_angle(c)) - interior_[c], 360.0)) >
        not_that_corner)
      return false;
  return true;
}

bool makes_a_room(std::span<const NetPoint> corners) {
  const std::size_t n = corners.size();
  const auto side = [&](std::size_t a, std::size_t b, std::size_t c) {
    const NetPoint &p = corners[a], &q = corners[b], &r = corners[c];
    return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  };
  double twice_area = 0;  // anticlockwise is positive
  for (std::size_t i = 0; i + 1 < n; ++i) twice_area += side(0, i, i + 1);
  if (!(twice_area < 0)) return false;  // nor is NaN a room
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 2; j < n; ++j) {
      const std::size_t k = (j + 1) % n;
      if (k == i) continue;
      const bool parts_jk = (side(i, i + 1, j) > 0) != (side(i, i + 1, k) > 0);
      if (parts_jk && (side(j, k, i) > 0) != (side(j, k, i + 1) > 0)) return false;
    }
  return true;
}

std::vector<LeftOut> ranked(std::vector<LeftOut> all) {
  const auto other = [](const LeftOut& l) { return !l.like_described; };
  if (!std::all_of(all.begin(), all.end(), other)) std::erase_if(all, other);
  std::stable_sort(all.begin(), all.end(),
                   [](const LeftOut& a, const LeftOut& b) { return a.chi_square < b.chi_square; });
  return all;
}

}  // namespace levelrun
