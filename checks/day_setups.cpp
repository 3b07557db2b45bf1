#include "checks/day_setups.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "checks/critical_values.h"
#include "checks/flooring.h"
#include "checks/human_slips.h"
#include "checks/level_net.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double default_sd = 2;        // mm: tape, where no instrument is named
constexpr double false_alarms = 0.005;  // of the search for a moved point, per set-up
constexpr double distinct = 2;          // in w squared: nearer than that, it cannot be told
constexpr double testable = 1e-9;       // mm², least variance of a residual that tests anything
constexpr double slip_fits = 3;         // mm: a slip of the hand explains a reading to this

// The room's points once more, for what their heights have in common.
AdjustedLevels surveyed_points(const Room& room, const RoomLevels& levels) {
  LevelNet net;
  const Index points = room.levels.points.size();
  net.nodes = points + room.levels.setups.size();
  for (const LevelReading& reading : levels.readings)
    if (reading.used)
      net.differences.push_back(
          staff_reading(points + reading.setup, reading.point, reading.drop, reading.sd));
  if (room.levels.benchmark)
    net.known.push_back({room.levels.benchmark->point, room.levels.benchmark->height, 0});
  for (const KnownHeight& known : room.levels.known)
    net.known.push_back({known.point, known.height, known.sd});
  return adjust_levels(net);
}

// Its height is today what it was when it was surveyed.
bool lasts(const Room& room, Index p) {
  const LevelPoint& point = room.levels.points[p];
  if (point.off_floor || (room.levels.benchmark && room.levels.benchmark->point == p)) return true;
  const Index area = point.area.value_or(0);
  return stripped_underfoot(room, point, area) == 0 &&
         laid_over_bare(room, Floor::finished, area).each.empty();
}

struct Tie {
  Index reading = 0;  // in the set-up's list
  Index point = 0;
  double drop = 0;      // staff, collimation taken off
  std::size_t row = 0;  // in the result's points
  bool used = true;
};

class Tying {
 public:
  Tying(const Survey& survey, Index room, const AdjustedLevels& points, Index setup)
      : room_(survey.rooms[room]), points_(points), setup_(survey.install.setups[setup]) {
    sd_ = setup_.instrument ? survey.instruments[*setup_.instrument].sd : default_sd;
    at_ = "/install/setups/" + std::to_string(setup);
    out_.setup = setup_.id;
    out_.room = room_.id;
    for (Index i = 0; i < setup_.readings.size(); ++i) {
      const StaffReading& read = setup_.readings[i];
      if (read.room != room) continue;
      DaySetUpResult::Point point;
      point.point = room_.levels.points[read.point].id;
      point.lasting = lasts(room_, read.point);
      const double drop = read.staff - setup_.collimation * read.distance_m.value_or(0);
      if (const auto height = points_.heights[read.point]) {
        point.known = height->value;
        point.setup_height = height->value + drop;
        if (point.lasting) ties_.push_back({i, read.point, drop, out_.points.size(), true});
      }
      out_.points.push_back(std::move(point));
    }
  }

  DaySetUpResult tie() {
    while (enough()) {
      const std::vector<Tie*> used = in_use();
      const SetUpMean mean = mean_of(used);
      const auto [worst, candidates] = disagreeing(mean);
      for (std::size_t i = 0; i < used.size(); ++i) {
        DaySetUpResult::Point& point = out_.points[used[i]->row];
        point.residual = -mean.residuals[i];
        point.standardised = mean.standardised[i];
        if (point.standardised) *point.standardised = -*point.standardised;
        point.verdict = mean.standardised[i] ? Agreement::agrees : Agreement::unchecked;
      }
      if (candidates.empty()) {
        settle(mean, used);
        return std::move(out_);
      }
      if (candidates.size() > 1) {
        for (const std::size_t c : candidates)
          out_.points[used[c]->row].verdict = Agreement::one_of;
        contradiction(used, candidates);
        return std::move(out_);
      }
      reject(*used[worst]);
    }
    too_little();
    return std::move(out_);
  }

  std::vector<Finding> findings;

 private:
  std::vector<Tie*> in_use() {
    std::vector<Tie*> out;
    for (Tie& t : ties_)
      if (t.used) out.push_back(&t);
    return out;
  }
  bool is_benchmark(Index point) const {
    return room_.levels.benchmark && room_.levels.benchmark->point == point;
  }
  int distinct_points() const {
    std::set<Index> points;
    for (const Tie& t : ties_)
      if (t.used) points.insert(t.point);
    return int(points.size());
  }
  bool enough() const {
    return distinct_points() >= points_needed ||
           std::any_of(ties_.begin(), ties_.end(),
                       [&](const Tie& t) { return t.used && is_benchmark(t.point); });
  }

  SetUpMean mean_of(const std::vector<Tie*>& used) const {
    const std::size_t n = used.size();
    std::vector<double> heights, covariance(n * n);
    for (std::size_t i = 0; i < n; ++i) {
      heights.push_back(*out_.points[used[i]->row].setup_height);
      for (std::size_t k = 0; k < n; ++k)
        covariance[i * n + k] =
            points_.covariance(used[i]->point, used[k]->point) + (i == k ? sd_ * sd_ : 0);
    }
    return setup_mean(heights, covariance);
  }

  // The reading that agrees least, and all that cannot be told from it; none: they agree.
  static std::pair<std::size_t, std::vector<std::size_t>> disagreeing(const SetUpMean& mean) {
    int checked = 0;
    double largest = 0;
    std::size_t worst = 0;
    for (std::size_t i = 0; i < mean.standardised.size(); ++i) {
      if (!mean.standardised[i]) continue;
      ++checked;
      if (std::abs(*mean.standardised[i]) > largest) {
        largest = std::abs(*mean.standardised[i]);
        worst = i;
      }
    }
    std::vector<std::size_t> candidates;
    if (checked == 0 || largest <= sidak_limit(false_alarms, checked)) return {worst, candidates};
    for (std::size_t i = 0; i < mean.standardised.size(); ++i)
      if (mean.standardised[i] && std::pow(*mean.standardised[i], 2) > largest * largest - distinct)
        candidates.push_back(i);
    return {worst, candidates};
  }

  void settle(const SetUpMean& mean, const std::vector<Tie*>& used) {
    out_.height = mean.height.value;
    out_.sd = mean.height.sd;
    for (const Tie* t : used) {
      out_.by_benchmark = out_.by_benchmark || is_benchmark(t->point);
      const DaySetUpResult::Point& point = out_.points[t->row];
      out_.sum += (out_.sum.empty() ? "" : "; ") + point.point + " " + term(*point.known) + " + " +
                  decimal(t->drop) + " = " + decimal(*point.setup_height);
    }
    if (used.size() > 1)
      out_.sum +=
          "; weighted mean " + decimal(mean.height.value) + " ±" + decimal(band95 * mean.height.sd);
    unlikely(*used.front());
    // Rejected ones, against what was settled.
    for (const Tie& t : ties_)
      if (!t.used) {
        DaySetUpResult::Point& point = out_.points[t.row];
        point.residual = mean.height.value - *point.setup_height;
        moved(t, *point.residual);
      }
  }

  // The highest floor that was read; empty: none was.
  std::optional<double> highest_floor() const {
    std::optional<double> out;
    for (Index p = 0; p < room_.levels.points.size(); ++p)
      if (const auto height = points_.heights[p]; height && !room_.levels.points[p].off_floor)
        out = std::max(out.value_or(height->value), height->value);
    return out;
  }

  void unlikely(const Tie& t) {
    const auto floor = highest_floor();
    if (!floor) return;
    const auto odd = unlikely_level(t.drop, *out_.points[t.row].known, *floor);
    if (!odd) return;
    const std::string& name = room_.levels.points[t.point].id;
    const double staff = setup_.readings[t.reading].staff;
    Finding f = start("the day's level is unlikely", setup_.id);
    f.measured = odd->above;
    f.limit = odd->above < low_level ? low_level : high_level;
    f.unit = "mm";
    f.source = "common practice, no source";
    f.says = "With " + name + " read " + millimetres(staff) + ", set-up " + setup_.id + " stands " +
             decimal(std::abs(odd->above)) + (odd->above < 0 ? " below" : " above") +
             " the highest floor.";
    if (!odd->meant.empty()) f.says += " It may be " + odd->meant + ".";
    if (!odd->can_be) f.says += " The set-up has no height.";
    f.remedy = "Read " + name + " again, in mm.";
    findings.push_back(std::move(f));
    if (odd->can_be) return;
    out_.height.reset();
    out_.sd.reset();
  }

  void reject(Tie& t) {
    t.used = false;
    DaySetUpResult::Point& point = out_.points[t.row];
    point.verdict = Agreement::rejected;
    point.standardised.reset();
  }

  Finding start(const char* code, std::string id) const {
    Finding f;
    f.code = code;
    f.severity = Severity::query;
    f.id = std::move(id);
    f.at = at_;
    return f;
  }

  // up: how much higher than surveyed the reading says that the point is now.
  void moved(const Tie& t, double up) {
    const std::string& name = room_.levels.points[t.point].id;
    const double staff = setup_.readings[t.reading].staff;
    Finding f = start("point does not agree with the survey", setup_.id + "/" + name);
    f.at += "/readings/" + std::to_string(t.reading);
    f.measured = staff;
    f.limit = staff + up;
    f.unit = "mm";
    f.source = "Šidák limit for 0.5 % false alarms a set-up";
    f.says = name + " reads " + millimetres(staff) + " from " + setup_.id + "; the others say " +
             decimal(staff + up) + ". It moved by " + decimal(std::abs(up)) +
             ", or it was misread; it is left out.";
    for (const HumanSlip& slip : human_slips(staff))
      if (std::abs(slip.value - (staff + up)) < slip_fits) {
        f.says += " It may be " + millimetres(slip.value) + " (" + std::string(slip.kind) + ").";
        break;
      }
    f.remedy = "Read it again; if it moved, do not use it.";
    findings.push_back(std::move(f));
  }

  void contradiction(const std::vector<Tie*>& used, const std::vector<std::size_t>& candidates) {
    Finding f = start("the day's level does not agree", setup_.id);
    std::string names;
    double least = 1e300, most = -1e300;
    for (const std::size_t c : candidates) {
      const DaySetUpResult::Point& point = out_.points[used[c]->row];
      names += (names.empty() ? "" : ", ") + point.point;
      least = std::min(least, *point.setup_height);
      most = std::max(most, *point.setup_height);
    }
    f.measured = most - least;
    f.unit = "mm";
    f.source = "Šidák limit for 0.5 % false alarms a set-up";
    f.says = "Set-up " + setup_.id + ": one of " + names +
             " moved or was misread (they differ by " + decimal(most - least) +
             "), and the rest cannot tell which. The set-up has no height.";
    f.remedy = "Read them again, and one more point that lasts.";
    findings.push_back(std::move(f));
  }

  void too_little() {
    for (DaySetUpResult::Point& point : out_.points)
      if (point.verdict == Agreement::agrees) point.verdict = Agreement::unchecked;
    int gone = 0;
    for (const DaySetUpResult::Point& point : out_.points) gone += !point.lasting;
    Finding f = start("the day's level is tied to too little", setup_.id);
    f.measured = distinct_points();
    f.limit = points_needed;
    f.unit = "points";
    f.source = "geometry: of two points that disagree nobody can say which moved";
    f.says = "Set-up " + setup_.id + " reads neither the benchmark nor three points that keep " +
             "their surveyed height, but " + std::to_string(distinct_points()) + ".";
    if (gone > 0)
      f.says += " " + std::to_string(gone) + " more stand on floor that was stripped or laid over.";
    f.says += " The set-up has no height.";
    f.remedy = "Read the benchmark; if it is gone, three marks or points of untouched floor.";
    findings.push_back(std::move(f));
  }

  const Room& room_;
  const AdjustedLevels& points_;
  const SetUp& setup_;
  double sd_ = default_sd;
  std::string at_;
  std::vector<Tie> ties_;
  DaySetUpResult out_;
};

}  // namespace

SetUpMean setup_mean(std::span<const double> heights, std::span<const double> covariance) {
  const Eigen::Index n = Eigen::Index(heights.size());
  const Eigen::Map<const Eigen::MatrixXd> c(covariance.data(), n, n);
  const Eigen::MatrixXd inverse = c.llt().solve(Eigen::MatrixXd::Identity(n, n));
  const Eigen::VectorXd weight = inverse.rowwise().sum();
  const double total = weight.sum();
  // About the first height, so that large heights cost no digits.
  Eigen::VectorXd above(n);
  for (Eigen::Index i = 0; i < n; ++i) above[i] = heights[std::size_t(i)] - heights[0];
  const double mean = weight.dot(above) / total;
  SetUpMean out;
  out.height = {heights[0] + mean, std::sqrt(1 / total)};
  const Eigen::VectorXd residual = above.array() - mean;
  const Eigen::VectorXd scaled = inverse * residual;
  // Cofactors of C^-1 v: C^-1 (C - 1 1'/total) C^-1.
  for (Eigen::Index i = 0; i < n; ++i) {
    out.residuals.push_back(residual[i]);
    const double variance = inverse(i, i) - weight[i] * weight[i] / total;
    const bool tests = n > 1 && variance > testable * inverse(i, i);
    out.standardised.push_back(tests ? std::optional(scaled[i] / std::sqrt(variance))
                                     : std::nullopt);
  }
  return out;
}

std::optional<UnlikelyLevel> unlikely_level(double staff, double known, double floor) {
  const auto above = [&](double read) { return known + read - floor; };
  const auto likely = [&](double read) {
    return above(read) >= low_level && above(read) <= high_level;
  };
  if (likely(staff)) return std::nullopt;
  UnlikelyLevel out;
  out.above = above(staff);
  out.can_be = out.above >= lowest_level && out.above <= highest_level;
  const std::pair<double, const char*> meant[] = {{staff * 10, "cm for mm"},
                                                  {staff * 1000, "metres for mm"},
                                                  {staff * 25.4, "inches for mm"},
                                                  {staff / 10, "a digit too many"}};
  for (const auto& [read, kind] : meant)
    if (likely(read))
      out.meant += (out.meant.empty() ? "" : " or ") + millimetres(read) + " (" + kind + ")";
  return out;
}

DaySetUps day_setups(const Survey& survey, Index room, const RoomLevels& levels) {
  DaySetUps out;
  std::optional<AdjustedLevels> points;
  for (Index s = 0; s < survey.install.setups.size(); ++s) {
    const SetUp& setup = survey.install.setups[s];
    // One that reads nothing yet is told of once, in the first room.
    const bool here = setup.readings.empty()
                          ? room == 0
                          : std::any_of(setup.readings.begin(), setup.readings.end(),
                                        [&](const StaffReading& r) { return r.room == room; });
    if (!here) continue;
    if (!points) points = surveyed_points(survey.rooms[room], levels);
    Tying tying(survey, room, *points, s);
    out.results.push_back(tying.tie());
    for (Finding& f : tying.findings) out.findings.push_back(std::move(f));
  }
  return out;
}

}  // namespace levelrun
