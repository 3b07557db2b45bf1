#include "checks/unit_levelling.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double default_sd = 2;      // mm: staff read without a named instrument
constexpr double in_line = 50;        // mm: corners that spread less one way show no slope there
constexpr double at_stop = 1e-6;      // mm
constexpr double feasible_to = 1e-7;  // mm
constexpr int halvings = 60;          // of a search over the common level: to 1e-12 mm
constexpr double no_better = 1e-9;    // mm² of a whole group: a level is as good as another

// u, v in metres about the corners' middle, so that the three terms of a plane weigh alike.
struct Axes {
  double u = 0, v = 0;
  Eigen::RowVector3d row(double at_u, double at_v) const {
    return {1, (at_u - u) / 1000, (at_v - v) / 1000};
  }
};

struct Stop {
  Index leg = 0;
  bool longest = false;
};

struct Levelled {
  bool solved = false;
  Eigen::Vector3d plane = Eigen::Vector3d::Zero();
  std::vector<Stop> binding;
  double squares = 0;
};

// minimise |e + M p|² subject to lowest <= L p <= highest. Three unknowns, so at most three
// stops bind: every set of them is tried, and the one that is feasible with all multipliers of the
// right sign is the minimum (Karush, Kuhn, Tucker; the problem is strictly convex).
class PlaneFit {
 public:
  PlaneFit(std::span<const ReadCorner> corners, std::span<const TurnableLeg> legs) : legs_(legs) {
    for (const ReadCorner& c : corners) {
      axes_.u += c.u / double(corners.size());
      axes_.v += c.v / double(corners.size());
    }
    corner_rows_.resize(Eigen::Index(corners.size()), 3);
    above_.resize(Eigen::Index(corners.size()));
    for (std::size_t i = 0; i < corners.size(); ++i) {
      corner_rows_.row(Eigen::Index(i)) = axes_.row(corners[i].u, corners[i].v);
      above_[Eigen::Index(i)] = corners[i].above;
    }
    leg_rows_.resize(Eigen::Index(legs.size()), 3);
    for (std::size_t i = 0; i < legs.size(); ++i)
      leg_rows_.row(Eigen::Index(i)) = axes_.row(legs[i].u, legs[i].v);
    normal_ = corner_rows_.transpose() * corner_rows_;
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> spread(normal_);
    determined_ = corners.size() >= 3 && spread.eigenvalues()[0] > in_line * in_line * 1e-6;
  }

  bool determined() const { return determined_; }
  const Eigen::Matrix3d& normal() const { return normal_; }
  Eigen::RowVector3d leg_row(std::size_t i) const { return leg_rows_.row(Eigen::Index(i)); }

  // The corners lie `down` lower against the level aimed at.
  Levelled solve(double down = 0) const {
    Levelled best;
    if (!determined_) return best;
    const Eigen::VectorXd e = above_.array() - down;
    const std::size_t stops = 2 * legs_.size();
    const auto stop = [](std::size_t s) { return Stop{s / 2, s % 2 == 1}; };
    if (try_stops(e, {}, best)) return best;
    for (std::size_t a = 0; a < stops; ++a)
      if (try_stops(e, {stop(a)}, best)) return best;
    for (std::size_t a = 0; a < stops; ++a)
      for (std::size_t b = a + 1; b < stops; ++b)
        if (a / 2 != b / 2 && try_stops(e, {stop(a), stop(b)}, best)) return best;
    for (std::size_t a = 0; a < stops; ++a)
      for (std::size_t b = a + 1; b < stops; ++b)
        for (std::size_t c = b + 1; c < stops; ++c)
          if (a / 2 != b / 2 && b / 2 != c / 2 && try_stops(e, {stop(a), stop(b), stop(c)}, best))
            return best;
    return best;
  }

  Eigen::VectorXd residuals(const Levelled& levelled, double down) const {
    return (above_.array() - down).matrix() + corner_rows_ * levelled.plane;
  }

 private:
  double limit(const Stop& s) const {
    return s.longest ? legs_[s.leg].highest : legs_[s.leg].lowest;
  }

  bool try_stops(const Eigen::VectorXd& e, const std::vector<Stop>& binding, Levelled& out) const {
    const Eigen::Index n = Eigen::Index(binding.size());
    Eigen::MatrixXd system = Eigen::MatrixXd::Zero(3 + n, 3 + n);
    Eigen::VectorXd right(3 + n);
    system.topLeftCorner(3, 3) = normal_;
    right.head(3) = -corner_rows_.transpose() * e;
    for (Eigen::Index i = 0; i < n; ++i) {
      const Stop& s = binding[std::size_t(i)];
      system.row(3 + i).head(3) = leg_rows_.row(Eigen::Index(s.leg));
      system.col(3 + i).head(3) = leg_rows_.row(Eigen::Index(s.leg)).transpose();
      right[3 + i] = limit(s);
    }
    const Eigen::FullPivLU<Eigen::MatrixXd> lu(system);
    if (!lu.isInvertible()) return false;  // legs in line: another set says the same
    const Eigen::VectorXd x = lu.solve(right);
    const Eigen::Vector3d plane = x.head(3);
    for (Eigen::Index i = 0; i < n; ++i) {
      // The gradient pushes a leg against its stop, not away from it.
      const bool pushes =
          binding[std::size_t(i)].longest ? x[3 + i] >= -feasible_to : x[3 + i] <= feasible_to;
      if (!pushes) return false;
    }
    for (std::size_t i = 0; i < legs_.size(); ++i) {
      const double raise = leg_row(i).dot(plane);
      if (raise < legs_[i].lowest - feasible_to || raise > legs_[i].highest + feasible_to)
        return false;
    }
    out.solved = true;
    out.plane = plane;
    out.binding = binding;
    out.squares = (e + corner_rows_ * plane).squaredNorm();
    return true;
  }

  std::span<const TurnableLeg> legs_;
  Axes axes_;
  Eigen::MatrixXd corner_rows_, leg_rows_;
  Eigen::VectorXd above_;
  Eigen::Matrix3d normal_;
  bool determined_ = false;
};

Turned turned(const PlaneFit& fit, std::span<const ReadCorner> corners,
              std::span<const TurnableLeg> legs, double down) {
  Turned out;
  const Levelled levelled = fit.solve(down);
  if (!levelled.solved) return out;
  out.solved = true;
  out.squares = levelled.squares;
  double variance = 0;
  for (const ReadCorner& c : corners) variance += c.sd * c.sd / double(corners.size());
  const Eigen::Matrix3d cofactors = fit.normal().inverse();
  for (std::size_t i = 0; i < legs.size(); ++i) {
    const Eigen::RowVector3d row = fit.leg_row(i);
    out.raise.push_back(row.dot(levelled.plane));
    out.sd.push_back(std::sqrt(variance * row.dot(cofactors * row.transpose())));
    out.end_stop.push_back(EndStop::none);
  }
  for (const Stop& s : levelled.binding) {
    out.end_stop[s.leg] = s.longest ? EndStop::longest : EndStop::shortest;
    out.raise[s.leg] = s.longest ? legs[s.leg].highest : legs[s.leg].lowest;
  }
  const Eigen::VectorXd residual = fit.residuals(levelled, down);
  out.residual.assign(residual.data(), residual.data() + residual.size());
  return out;
}

// A unit that was read, with what turning it needs.
struct Cabinet {
  UnitLevelResult result;
  std::vector<ReadCorner> corners;
  std::vector<TurnableLeg> legs;
  std::vector<double> heights, pitches;  // of the legs; pitch 0: not known
  std::vector<Index> readings;           // of the corners, in install.unit_levels
  bool asked_back = false;
};

class Levelling {
 public:
  Levelling(const RoomFacts& f, const std::vector<GroupResult>& groups,
            const std::vector<LegResult>& legs, const std::vector<DaySetUpResult>& setups)
      : f_(f), groups_(groups), legs_(legs), setups_(setups) {}

  UnitLevels all() {
    for (Index r = 0; r < f_.runs.size(); ++r)
      if (f_.runs[r])
        for (const PlacedUnit& unit : f_.runs[r]->units) take(r, unit);
    // Cabinets that share a level: of one group, and tied, or read from one untied set-up.
    std::vector<char> done(cabinets_.size(), 0);
    for (std::size_t i = 0; i < cabinets_.size(); ++i) {
      if (done[i]) continue;
      std::vector<Cabinet*> together;
      for (std::size_t k = i; k < cabinets_.size(); ++k) {
        const UnitLevelResult& a = cabinets_[i].result;
        const UnitLevelResult& b = cabinets_[k].result;
        if (done[k] || a.group != b.group || a.relative != b.relative ||
            (a.relative && a.setup != b.setup))
          continue;
        done[k] = 1;
        together.push_back(&cabinets_[k]);
      }
      level(together);
    }
    for (Cabinet& c : cabinets_) out_.units.push_back(std::move(c.result));
    return std::move(out_);
  }

 private:
  const DaySetUpResult* setup_of(const std::string& id) const {
    for (const DaySetUpResult& s : setups_)
      if (s.setup == id) return &s;
    return nullptr;
  }

  bool mine(const UnitLevel& reading, const std::string& unit) const {
    return reading.unit == unit && reading.room == f_.room.id;
  }

  // The last reading of each corner since its legs were turned last; from the set-up that read this
  // unit last.
  std::vector<std::pair<Index, const UnitLevel*>> readings_of(const std::string& unit) const {
    const auto& all = f_.survey.install.unit_levels;
    std::vector<std::pair<Index, const UnitLevel*>> out;
    for (Index i = all.size(); i-- > 0;) {
      if (!mine(all[i], unit) || !all[i].turned.empty()) continue;
      if (!out.empty() && out.front().second->setup != all[i].setup) continue;
      const bool later = std::any_of(out.begin(), out.end(), [&](const auto& one) {
        return one.second->corner == all[i].corner;
      });
      if (!later) out.push_back({i, &all[i]});
    }
    std::reverse(out.begin(), out.end());
    return out;
  }

  double set_height(const std::string& unit, const std::string& position, double scheduled) const {
    const auto& set = f_.survey.install.set_legs;
    for (Index i = set.size(); i-- > 0;)
      if (set[i].unit == unit && set[i].position == position && set[i].room == f_.room.id)
        return set[i].height;
    return scheduled;
  }

  void take(Index r, const PlacedUnit& placed) {
    const Run& run = f_.room.runs[r];
    const Unit& unit = run.units[placed.unit];
    const auto readings = readings_of(unit.id);
    if (readings.empty()) return turned_since(run, unit);
    const auto group = std::find_if(groups_.begin(), groups_.end(),
                                    [&](const GroupResult& g) { return g.id == run.level_group; });
    Cabinet c;
    c.result.room = f_.room.id;
    c.result.group = run.level_group;
    c.result.unit = unit.id;
    c.result.setup = readings.front().second->setup;
    const DaySetUpResult* setup = setup_of(c.result.setup);
    c.result.relative = !setup || !setup->height || group == groups_.end();
    if (placed.top_offset <= placed.offset) {
      c.result.says = unit.id + ": its height is not given, so its top has no level.";
      c.asked_back = true;
    }
    const double aim = c.result.relative ? 0 : group->underside + placed.top_offset;
    double sd = default_sd;
    for (const SetUp& s : f_.survey.install.setups)
      if (s.id == c.result.setup && s.instrument) sd = f_.survey.instruments[*s.instrument].sd;
    for (const auto& [index, reading] : readings) {
      const bool left = reading->corner.ends_with("left");
      const bool front = reading->corner.starts_with("front");
      const double above = c.result.relative ? -reading->staff - placed.top_offset
                                             : *setup->height - reading->staff - aim;
      if (!c.result.relative && std::abs(above) > far_off_level && !c.asked_back) {
        ask(index, above, *setup->height - aim, "its level");
        c.result.says = unit.id + ": a reading of it is asked back.";
        c.asked_back = true;
      }
      c.corners.push_back(
          {left ? placed.left : placed.right, front ? placed.front : placed.back, above, sd});
      c.result.corners.push_back({reading->corner, above, above});
      c.readings.push_back(index);
    }
    add_legs(c, unit, placed);
    cabinets_.push_back(std::move(c));
  }

  // Read, then its legs turned: where it stands now nobody knows until it is read again.
  void turned_since(const Run& run, const Unit& unit) {
    const auto& all = f_.survey.install.unit_levels;
    const auto old = std::find_if(all.rbegin(), all.rend(),
                                  [&](const UnitLevel& one) { return mine(one, unit.id); });
    if (old == all.rend()) return;
    Cabinet c;
    c.result.room = f_.room.id;
    c.result.group = run.level_group;
    c.result.unit = unit.id;
    c.result.setup = old->setup;
    c.result.says = unit.id + ": its legs were turned since it was read; read it again.";
    c.asked_back = true;
    cabinets_.push_back(std::move(c));
  }

  void add_legs(Cabinet& c, const Unit& unit, const PlacedUnit& placed) {
    for (const PlacedLeg& leg : placed.legs) {
      const auto scheduled = std::find_if(legs_.begin(), legs_.end(), [&](const LegResult& l) {
        return l.unit == unit.id && l.position == leg.position;
      });
      const LegType& type = f_.room.runs[placed.run].furniture.legs[*placed.leg_type];
      const double middle = (type.min + type.max) / 2;  // where not even the floor is known
      const double height =
          set_height(unit.id, leg.position,
                     scheduled != legs_.end() && scheduled->height ? *scheduled->height : middle);
      c.heights.push_back(height);
      c.pitches.push_back(type.pitch.value_or(0));
      c.legs.push_back({leg.u, leg.v, type.min - height, type.max - height});
      c.result.legs.push_back({leg.position, 0, 0, {}, height, EndStop::none});
    }
  }

  void ask(Index index, double above, double expected, const char* than) {
    const UnitLevel& reading = f_.survey.install.unit_levels[index];
    Finding f;
    f.code = "cabinet far off its level";
    f.severity = Severity::query;
    f.id = reading.unit + "/" + reading.corner;
    f.at = "/install/unit_levels/" + std::to_string(index);
    f.measured = reading.staff;
    f.limit = expected;
    f.unit = "mm";
    f.source = "±" + millimetres(far_off_level) + "; common practice, no source";
    f.says = reading.unit + " " + spaced(reading.corner) + " reads " + millimetres(reading.staff) +
             ", which is " + decimal(std::abs(above)) + (above > 0 ? " above " : " below ") + than +
             ": the staff would read " + decimal(expected) + " on its top.";
    f.remedy = "Read it again, in mm, on the top of the cabinet.";
    out_.findings.push_back(std::move(f));
  }

  // Where no U says how high tops stand, the others do.
  void ask_back_far_ones(const std::vector<Cabinet*>& together) {
    std::vector<double> tops;
    for (const Cabinet* c : together)
      if (!c->asked_back)
        for (const ReadCorner& corner : c->corners) tops.push_back(corner.above);
    if (tops.empty()) return;
    std::nth_element(tops.begin(), tops.begin() + long(tops.size() / 2), tops.end());
    const double middle = tops[tops.size() / 2];
    for (Cabinet* c : together)
      for (std::size_t i = 0; i < c->corners.size() && !c->asked_back; ++i) {
        const double off = c->corners[i].above - middle;
        if (std::abs(off) <= far_off_level) continue;
        const double staff = f_.survey.install.unit_levels[c->readings[i]].staff;
        ask(c->readings[i], off, staff + off, "the others");
        c->result.says = c->result.unit + ": a reading of it is asked back.";
        c->asked_back = true;
      }
  }

  void level(const std::vector<Cabinet*>& together) {
    if (together.front()->result.relative) ask_back_far_ones(together);
    std::vector<Cabinet*> usable;
    std::vector<PlaneFit> fits;
    for (Cabinet* c : together) {
      PlaneFit fit(c->corners, c->legs);
      const std::string& unit = c->result.unit;
      if (c->asked_back || c->legs.empty() || !fit.determined()) {
        if (c->result.says.empty())
          c->result.says = c->legs.empty()
                               ? unit + " stands on no legs."
                               : unit + ": three corners that are not in line are needed.";
        c->result.legs.clear();
        continue;
      }
      usable.push_back(c);
      fits.push_back(std::move(fit));
    }
    if (usable.empty()) return;
    const double common = common_level(fits, usable);
    for (std::size_t i = 0; i < usable.size(); ++i) finish(*usable[i], fits[i], common);
  }

  // Least squares of the whole group at a level; empty where the legs of a unit leave no plane.
  static double squares_at(const std::vector<PlaneFit>& fits, double common) {
    double out = 0;
    for (const PlaneFit& fit : fits) {
      const Levelled one = fit.solve(common);
      out += one.solved ? one.squares : 1e6;
    }
    return out;
  }

  static double common_level(const std::vector<PlaneFit>& fits, const std::vector<Cabinet*>& of) {
    // Start: U, or where an untied group's legs turn least, which is the mean of its tops.
    double start = 0, count = 0;
    double least = 0, most = 0;
    for (const Cabinet* c : of)
      for (const ReadCorner& corner : c->corners) {
        least = count > 0 ? std::min(least, corner.above) : corner.above;
        most = count > 0 ? std::max(most, corner.above) : corner.above;
        start += corner.above;
        ++count;
      }
    start = of.front()->result.relative ? start / count : 0;
    // squares_at is convex in the level. Its minimum lies among the tops, or where every leg is
    // at an end, which is no further off than the legs travel.
    double travel = 0;
    for (const Cabinet* c : of)
      for (const TurnableLeg& leg : c->legs)
        travel = std::max({travel, std::abs(leg.lowest), std::abs(leg.highest)});
    double low = std::min(start, least - travel), high = std::max(start, most + travel);
    const double at_start = squares_at(fits, start);
    for (int i = 0; i < 2 * halvings; ++i) {
      const double a = low + (high - low) / 3, b = high - (high - low) / 3;
      if (squares_at(fits, a) <= squares_at(fits, b))
        high = b;
      else
        low = a;
    }
    const double best = (low + high) / 2, at_best = squares_at(fits, best);
    if (at_start <= at_best + no_better) return start;
    // Of all levels that are as good, the nearest to the start.
    double far = best, near = start;
    for (int i = 0; i < halvings; ++i) {
      const double middle = (far + near) / 2;
      (squares_at(fits, middle) <= at_best + no_better ? far : near) = middle;
    }
    return far;
  }

  void finish(Cabinet& c, const PlaneFit& fit, double common) {
    UnitLevelResult& r = c.result;
    r.common = r.relative ? 0 : common;
    double worst = 0, worst_after = 0;
    const Turned turn = turned(fit, c.corners, c.legs, common);
    for (std::size_t i = 0; i < r.corners.size(); ++i) {
      r.corners[i].above = c.corners[i].above - common;
      r.corners[i].residual = turn.solved ? turn.residual[i] : r.corners[i].above;
      worst = std::max(worst, std::abs(r.corners[i].above));
      worst_after = std::max(worst_after, std::abs(r.corners[i].residual));
    }
    r.worst = worst;
    r.level = worst <= level_tolerance + at_stop;
    if (!turn.solved) {
      r.legs.clear();
      r.says = r.unit + ": its legs stand outside their range, so no turn is given.";
      return;
    }
    r.worst_after = worst_after;
    std::string stops;
    for (std::size_t i = 0; i < r.legs.size(); ++i) {
      LegTurn& leg = r.legs[i];
      leg.raise = turn.raise[i];
      leg.sd = turn.sd[i];
      leg.height = c.heights[i] + leg.raise;
      leg.end_stop = turn.end_stop[i];
      if (c.pitches[i] > 0) leg.turns = leg.raise / c.pitches[i];
      if (leg.end_stop != EndStop::none)
        stops += (stops.empty() ? "" : ", ") + spaced(leg.position) +
                 (leg.end_stop == EndStop::longest ? " at its longest" : " at its shortest");
    }
    const std::string where =
        r.relative ? "in itself"
        : std::abs(common) < at_stop
            ? "at U"
            : decimal(std::abs(common)) + (common < 0 ? " below U" : " above U");
    if (r.level)
      r.says = r.unit + " is level " + where + ", all corners within " + decimal(level_tolerance) +
               ": leave it.";
    else if (stops.empty() && worst_after <= level_tolerance)
      r.says = r.unit + " is out by up to " + decimal(worst) + "; turn its legs as given.";
    else if (stops.empty())
      r.says = r.unit + " is twisted: " + decimal(worst_after) + " stays whatever is turned.";
    else
      r.says = r.unit + ": leg " + stops + "; " + decimal(worst_after) +
               " stays. Pack under it, or move the run's level.";
    if (!r.level && !r.relative && std::abs(common) > level_tolerance)
      r.says += " The run can only be level " + decimal(std::abs(common)) +
                (common < 0 ? " below" : " above") + " U.";
  }

  const RoomFacts& f_;
  const std::vector<GroupResult>& groups_;
  const std::vector<LegResult>& legs_;
  const std::vector<DaySetUpResult>& setups_;
  std::vector<Cabinet> cabinets_;
  UnitLevels out_;
};

}  // namespace

Turned turn_legs(std::span<const ReadCorner> corners, std::span<const TurnableLeg> legs) {
  return turned(PlaneFit(corners, legs), corners, legs, 0);
}

UnitLevels unit_levelling(const RoomFacts& facts, const std::vector<GroupResult>& groups,
                          const std::vector<LegResult>& legs,
                          const std::vector<DaySetUpResult>& setups) {
  if (facts.survey.install.unit_levels.empty()) return {};
  return Levelling(facts, groups, legs, setups).all();
}

}  // namespace levelrun
