#include "checks/next_minute.h"

#include <algorithm>
#include <cmath>

#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// mm of the legs' rms sd. A fifth of the last digit that a leg's height is printed to: less moves
// no printed number, and costs the same minute. Common practice, no source.
constexpr double worth_a_minute = 0.02;

constexpr std::size_t most_steps = 5;   // what one can keep in mind; common practice, no source
constexpr double one_place = 150;       // mm: legs this near need the same reading
constexpr double apart = 400;           // mm between places looked at
constexpr std::size_t most_places = 8;  // the least known; 16 gained nothing in simulation
constexpr double place_sd = 20;         // mm, as the survey file takes it

// Legs that stand together.
struct Target {
  Index leg = 0;  // the first of them
  double count = 0, variance = 0;
  PlanPoint middle;
};

std::vector<Target> targets_of(const RoomFacts& f) {
  std::vector<Target> out;
  for (Index i = 0; i < f.legs.size(); ++i) {
    const LegPlace& leg = f.legs[i];
    if (!leg.bare) continue;
    auto same = std::find_if(out.begin(), out.end(), [&](const Target& t) {
      const double x = f.legs[t.leg].place.x - leg.place.x, y = f.legs[t.leg].place.y - leg.place.y;
      return x * x + y * y <= one_place * one_place;  // many pairs: without a root
    });
    if (same == out.end()) same = out.insert(out.end(), {i, 0, leg.bare->sd * leg.bare->sd, {}});
    ++same->count;
    same->middle.x += (leg.place.x - same->middle.x) / same->count;
    same->middle.y += (leg.place.y - same->middle.y) / same->count;
  }
  return out;
}

// The least known places, no two close to each other.
std::vector<Index> places_to_try(const RoomFacts& f, const std::vector<Target>& targets) {
  std::vector<Index> order(targets.size());
  for (Index i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](Index a, Index b) { return targets[a].variance > targets[b].variance; });
  std::vector<Index> out;
  for (const Index t : order) {
    if (out.size() == most_places) break;
    const PlanPoint place = f.legs[targets[t].leg].place;
    if (std::all_of(out.begin(), out.end(), [&](Index other) {
          return distance(f.legs[targets[other].leg].place, place) >= apart;
        }))
      out.push_back(t);
  }
  return out;
}

// The set-up that stands last and what a reading from it is worth.
struct Standing {
  Index setup = 0;
  double sd = 1;
};
std::optional<Standing> last_set_up(const RoomFacts& f) {
  std::optional<Standing> out;
  for (const LevelReading& reading : f.levels.readings)
    if (reading.used && f.levels.planes[reading.setup] && (!out || reading.setup >= out->setup))
      out = Standing{reading.setup, reading.sd};
  return out;
}

class FloorSteps {
 public:
  explicit FloorSteps(const RoomFacts& f) : f_(f), targets_(targets_of(f)) {
    const auto standing = last_set_up(f);
    if (targets_.empty() || !standing) return;
    setup_ = standing->setup;
    tried_ = places_to_try(f, targets_);
    std::vector<NewReading> readings;
    for (const Index t : tried_)
      readings.push_back({f.legs[targets_[t].leg].place, setup_, standing->sd, place_sd});
    if (f.room.levels.benchmark) readings.push_back({{}, setup_, standing->sd, 0});
    std::vector<PlanPoint> places;
    for (const Target& t : targets_) places.push_back(t.middle);
    areas_ = f.floor.foreseen(readings, places);
    taken_.resize(readings.size());
    for (const LegPlace& leg : f.legs)
      if (const auto bearing = leg.bearing()) {
        total_ += bearing->sd * bearing->sd;
        ++legs_;
      }
  }

  void add(std::vector<NextMinute::Step>& steps) {
    while (steps.size() < most_steps) {
      const auto best = best_reading();
      if (!best) return;
      const double before = rms();
      total_ -= reduction(*best);
      const double gain = before - rms();
      if (gain < worth_a_minute) return;
      steps.push_back(step(*best, before));
      take(*best);
    }
  }

 private:
  double rms() const { return std::sqrt(std::max(0.0, total_) / legs_); }

  double reduction(Index reading) const {
    double out = 0;
    for (const Foreseen& area : areas_) {
      const auto row = std::find(area.readings.begin(), area.readings.end(), reading);
      if (row == area.readings.end()) continue;
      const auto at = Index(row - area.readings.begin());
      const double* covariance = &area.covariances[at * area.width()];
      if (!(covariance[at] > 0)) continue;
      double sum = 0;
      for (Index t = 0; t < area.targets.size(); ++t) {
        const double shared = covariance[area.readings.size() + t];
        sum += targets_[area.targets[t]].count * shared * shared;
      }
      out += sum / covariance[at];
    }
    return out;
  }

  std::optional<Index> best_reading() const {
    std::optional<Index> best;
    double most = 0;
    for (Index r = 0; r < taken_.size(); ++r) {
      if (taken_[r]) continue;
      const double here = reduction(r);
      if (here > most * (1 + 1e-9)) {
        most = here;
        best = r;
      }
    }
    return best;
  }

  // What everything shares once the reading is known.
  void take(Index reading) {
    taken_[reading] = 1;
    for (Foreseen& area : areas_) {
      const auto row = std::find(area.readings.begin(), area.readings.end(), reading);
      if (row == area.readings.end()) continue;
      const auto at = Index(row - area.readings.begin());
      const std::vector<double> known(
          area.covariances.begin() + std::ptrdiff_t(at * area.width()),
          area.covariances.begin() + std::ptrdiff_t((at + 1) * area.width()));
      for (Index i = 0; i < area.readings.size(); ++i) {
        const double share = known[i] / known[at];
        for (Index k = 0; k < known.size(); ++k)
          area.covariances[i * area.width() + k] -= share * known[k];
      }
    }
  }

  NextMinute::Step step(Index reading, double before) const {
    NextMinute::Step out;
    out.before = before;
    out.after = rms();
    out.gain = before - rms();
    if (reading < tried_.size()) {
      const LegPlace& leg = f_.legs[targets_[tried_[reading]].leg];
      const Run& run = f_.room.runs[leg.run];
      out.what =
          "floor at " + run.units[leg.unit].id + " " + spaced(leg.placed->legs[leg.leg].position);
      out.at = pointer(f_.index, "runs", leg.run) + "/units/" + std::to_string(leg.unit);
      out.x = leg.place.x;
      out.y = leg.place.y;
    } else {
      const Levels& levels = f_.room.levels;
      out.what = "benchmark " + levels.points[levels.benchmark->point].id + " again, from set-up " +
                 levels.setups[setup_].id;
      out.at = pointer(f_.index) + "/levels/benchmark";
    }
    out.why = "legs are known to ±" + decimal(band95 * before, 2) + " (rms), then to ±" +
              decimal(band95 * *out.after, 2);
    return out;
  }

  const RoomFacts& f_;
  std::vector<Target> targets_;
  std::vector<Index> tried_;  // targets; reading r is at tried_[r], the one behind at the benchmark
  std::vector<Foreseen> areas_;
  std::vector<char> taken_;
  Index setup_ = 0;
  double total_ = 0, legs_ = 0;  // sum of the legs' variances, and how many there are
};

void add_plan_steps(const RoomFacts& f, std::vector<NextMinute::Step>& steps) {
  for (const std::string& what : f.plan.missing) {
    if (steps.size() == most_steps) return;
    NextMinute::Step step;
    step.what = what;
    step.at = pointer(f.index);
    step.why = "the plan cannot be worked out without it";
    steps.push_back(std::move(step));
  }
  for (const MeasureNext& next : f.plan.summary.measure_next) {
    if (steps.size() == most_steps) return;
    NextMinute::Step step;
    step.what = next.what;
    step.at = pointer(f.index);
    step.before = next.before;
    step.after = next.after;
    if (next.before && next.after) step.gain = *next.before - *next.after;
    step.why = next.why;
    steps.push_back(std::move(step));
  }
}

}  // namespace

NextMinute next_minute(const RoomFacts& f, std::size_t missing) {
  NextMinute out;
  add_plan_steps(f, out.measure);
  FloorSteps(f).add(out.measure);
  out.stop = out.measure.empty() && missing == 0;
  if (!out.measure.empty())
    out.says = "Next: " + out.measure.front().what + ".";
  else if (out.stop)
    out.says = "Stop: nothing measured in a minute would help.";
  else
    out.says = "Only what is missing would help: see the list.";
  return out;
}

}  // namespace levelrun
