#include "checks/room_levels.h"

#include <algorithm>
#include <cmath>

#include "checks/critical_values.h"
#include "checks/level_net.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double default_sd = 2;            // mm: tape, where no instrument is named
constexpr double global_alpha = 0.001;      // of the chi-square test
constexpr double false_alarms = 0.005;      // of the search for a wrong reading, per room
constexpr double testable = 1e-6;           // least redundancy that checks anything
constexpr double distinct = 2;              // in w squared: nearer than that, it cannot be told
constexpr double detectable_factor = 4.13;  // 0.1 % level, 80 % power (Baarda)
constexpr double detectable_most = 30;      // mm: beyond, a reading is unchecked
constexpr int most_rejections = 3;

struct Net {
  LevelNet net;
  std::vector<Index> reading;  // of each difference, into RoomLevels::readings
};

// Nodes: points, then set-ups.
Net net_of(const Room& room, const RoomLevels& levels) {
  Net out;
  const Index points = room.levels.points.size();
  out.net.nodes = points + room.levels.setups.size();
  for (Index i = 0; i < levels.readings.size(); ++i) {
    const LevelReading& reading = levels.readings[i];
    if (!reading.used) continue;
    out.net.differences.push_back(
        staff_reading(points + reading.setup, reading.point, reading.drop, reading.sd));
    out.reading.push_back(i);
  }
  if (room.levels.benchmark)
    out.net.known.push_back({room.levels.benchmark->point, room.levels.benchmark->height, 0});
  for (const KnownHeight& known : room.levels.known)
    out.net.known.push_back({known.point, known.height, known.sd});
  return out;
}

std::vector<LevelReading> booked(const Survey& survey, const Room& room) {
  std::vector<LevelReading> out;
  for (Index s = 0; s < room.levels.setups.size(); ++s) {
    const SetUp& setup = room.levels.setups[s];
    for (Index r = 0; r < setup.readings.size(); ++r) {
      const StaffReading& read = setup.readings[r];
      const double sd = setup.instrument ? survey.instruments[*setup.instrument].sd : default_sd;
      out.push_back({s, r, read.point, read.staff - setup.collimation * read.distance_m.value_or(0),
                     sd, true});
    }
  }
  return out;
}

}  // namespace

RoomLevels adjust_room_levels(const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  const auto& setups = room.levels.setups;
  const Index points = room.levels.points.size();
  RoomLevels out;
  out.readings = booked(survey, room);
  const auto reading_at = [&](const LevelReading& reading) {
    return pointer(room_index, "levels/setups", reading.setup) + "/readings/" +
           std::to_string(reading.reading);
  };
  const auto reading_name = [&](const LevelReading& reading) {
    return room.levels.points[reading.point].id + " from set-up " + setups[reading.setup].id;
  };

  // Reject what can be told to be wrong, largest first; stop where it cannot be told.
  std::vector<Index> rejected, suspected;
  Net net = net_of(room, out);
  AdjustedLevels adjusted = adjust_levels(net.net);
  const auto chi_square_fails = [&] {
    return adjusted.dof > 0 &&
           adjusted.chi_square > chi_square_quantile(1 - global_alpha, adjusted.dof);
  };
  const bool failed_first = chi_square_fails();
  bool accused = false;
  for (int round = 0; round <= most_rejections; ++round) {
    Index count = 0;
    double largest = 0;
    Index worst = 0;
    for (Index i = 0; i < adjusted.differences.size(); ++i) {
      const CheckedObservation& checked = adjusted.differences[i];
      if (!checked.standardised || checked.redundancy < testable) continue;
      ++count;
      if (std::abs(*checked.standardised) > largest) {
        largest = std::abs(*checked.standardised);
        worst = i;
      }
    }
    if (count == 0 || largest <= sidak_limit(false_alarms, int(count))) break;
    accused = true;
    suspected.clear();
    for (Index i = 0; i < adjusted.differences.size(); ++i)
      if (const auto w = adjusted.differences[i].standardised;
          w && adjusted.differences[i].redundancy >= testable &&
          *w * *w > largest * largest - distinct)
        suspected.push_back(net.reading[i]);
    if (suspected.size() > 1 || round == most_rejections) break;
    rejected.push_back(net.reading[worst]);
    out.readings[net.reading[worst]].used = false;
    suspected.clear();
    net = net_of(room, out);
    adjusted = adjust_levels(net.net);
  }

  out.net.dof = adjusted.dof;
  out.net.sigma0 = adjusted.sigma0;
  if (adjusted.dof > 0)
    out.net.global_test = chi_square_fails()  ? GlobalTest::fail
                          : !rejected.empty() ? GlobalTest::cured
                                              : GlobalTest::pass;

  // Heights; what is tied to nothing has none.
  out.points.assign(adjusted.heights.begin(), adjusted.heights.begin() + points);
  out.planes.assign(adjusted.heights.begin() + points, adjusted.heights.end());
  for (LevelReading& reading : out.readings)
    if (!out.planes[reading.setup]) reading.used = false;

  std::vector<const CheckedObservation*> check_of(out.readings.size(), nullptr);
  for (Index i = 0; i < net.reading.size(); ++i)
    check_of[net.reading[i]] = &adjusted.differences[i];
  std::vector<double> best_redundancy(points, 0);
  std::vector<bool> read(points, false), in_use(points, false), one_of(points, false);
  for (Index i = 0; i < out.readings.size(); ++i) {
    const LevelReading& reading = out.readings[i];
    const CheckedObservation* check = check_of[i];
    read[reading.point] = true;
    if (reading.used) in_use[reading.point] = true;
    ObservationResult result;
    result.at = reading_at(reading);
    result.measured = setups[reading.setup].readings[reading.reading].staff;
    const bool was_rejected = std::find(rejected.begin(), rejected.end(), i) != rejected.end();
    const bool is_suspected = std::find(suspected.begin(), suspected.end(), i) != suspected.end();
    if (reading.used && check && check->used) {
      // A staff reading grows as the point falls.
      result.residual = -check->residual;
      result.adjusted = result.measured - check->residual;
      result.redundancy = check->redundancy;
      if (check->standardised) result.standardised = -*check->standardised;
      if (check->redundancy >= testable)
        result.detectable = detectable_factor * reading.sd / std::sqrt(check->redundancy);
      best_redundancy[reading.point] = std::max(best_redundancy[reading.point], check->redundancy);
    } else if (was_rejected && out.points[reading.point] && out.planes[reading.setup]) {
      const double adjusted_drop =
          out.planes[reading.setup]->value - out.points[reading.point]->value;
      result.adjusted = result.measured + adjusted_drop - reading.drop;
      result.residual = *result.adjusted - result.measured;
    }
    one_of[reading.point] = one_of[reading.point] || is_suspected;
    result.verdict = was_rejected   ? Agreement::rejected
                     : is_suspected ? Agreement::one_of
                     : !result.detectable || *result.detectable > detectable_most
                         ? Agreement::unchecked
                         : Agreement::agrees;
    out.reading_results.push_back(std::move(result));
  }

  for (Index p = 0; p < points; ++p) {
    LevelResult result;
    result.point = room.levels.points[p].id;
    if (out.points[p]) {
      result.height = out.points[p]->value;
      result.sd = out.points[p]->sd;
    }
    result.left_out = !out.points[p] && read[p];
    result.verdict = result.left_out || (read[p] && !in_use[p] && !rejected.empty())
                         ? Agreement::rejected
                     : one_of[p]                     ? Agreement::one_of
                     : best_redundancy[p] < testable ? Agreement::unchecked
                                                     : Agreement::agrees;
    out.results.push_back(std::move(result));
  }

  for (Index s = 0; s < setups.size(); ++s) {
    const SetUp& setup = setups[s];
    if (!out.planes[s] && !setup.readings.empty()) {
      Finding loose;
      loose.code = "set-up tied to nothing";
      loose.severity = Severity::hold;
      loose.id = setup.id;
      loose.at = pointer(room_index, "levels/setups", s);
      loose.measured = 0;
      loose.limit = 1;
      loose.unit = "points shared";
      loose.source = "geometry: one point in common ties two set-ups";
      loose.says = "Set-up " + setup.id + " shares no point with the rest: its " +
                   std::to_string(setup.readings.size()) + " readings are left out.";
      loose.remedy = "From where it stands, read the benchmark or a point read before.";
      out.findings.push_back(std::move(loose));
    }
    if (setup.collimation != 0)
      for (const StaffReading& reading : setup.readings)
        if (!reading.distance_m) {
          Finding far;
          far.code = "distance not booked";
          far.severity = Severity::query;
          far.id = setup.id;
          far.at = pointer(room_index, "levels/setups", s);
          far.measured = setup.collimation;
          far.unit = "mm/m";
          far.says = "Set-up " + setup.id + " has a collimation error, but " +
                     room.levels.points[reading.point].id + " has no distance: not corrected.";
          far.remedy = "Book the distance to each point read from " + setup.id + ".";
          out.findings.push_back(std::move(far));
          break;
        }
  }
  for (const Index i : rejected) {
    const ObservationResult& result = out.reading_results[i];
    Finding wrong;
    wrong.code = "staff reading does not agree";
    wrong.severity = Severity::query;
    wrong.id = room.levels.points[out.readings[i].point].id;
    wrong.at = result.at;
    wrong.measured = result.measured;
    wrong.limit = result.adjusted;
    wrong.unit = "mm";
    wrong.says = "Staff on " + reading_name(out.readings[i]) + " reads " +
                 millimetres(result.measured) +
                 (result.adjusted ? "; the others say " + decimal(*result.adjusted) : "") +
                 ". It is left out.";
    wrong.remedy = "Read it again.";
    out.findings.push_back(std::move(wrong));
  }
  if (!suspected.empty() || (failed_first && !accused)) {
    Finding open;
    open.code = "levels do not close";
    open.severity = Severity::hold;
    open.id = "levels";
    open.at = pointer(room_index) + "/levels";
    open.measured = out.net.sigma0;
    open.limit = std::sqrt(chi_square_quantile(1 - global_alpha, std::max(adjusted.dof, 1)) /
                           std::max(adjusted.dof, 1));
    open.unit = "sigma-nought";
    open.source = "chi-square test at 0.1 %";
    std::string names;
    for (const Index i : suspected)
      names += (names.empty() ? "" : ", ") + reading_name(out.readings[i]);
    open.says = names.empty() ? "The level readings differ by more than their instruments explain."
                              : "One of these staff readings is wrong, and the rest cannot tell "
                                "which: " +
                                    names + ".";
    open.remedy = suspected.empty()
                      ? "Check the instrument's sd, then read a shared point again."
                      : "Read " + reading_name(out.readings[suspected.front()]) + " again first.";
    out.findings.push_back(std::move(open));
  }
  return out;
}

}  // namespace levelrun
