// Simulated install days: after the tool's turns, do the cabinets stand level?
//
// A room 4,200 × 3,300 with a true floor (true_floor.h) is surveyed every 600 (0.7 mm sd) and U
// released. On the day the floor that reaches the wall is 0 to 4 mm off its plan; it is measured
// at six places (1 mm sd); the level is set up anew, tied to the benchmark or, every other day,
// to three marks. Legs are set to the heights asked for, 1.5 mm sd off. Each cabinet is rigid: its
// top is the plane through its leg tops. Every corner is read, turned once, and looked at.
//
// Readings of the cabinets are exact in the first run: every corner is then within 0.5 mm of the
// group's level, unless the tool says that an end stop keeps it off. With 0.3 and 0.7 mm sd of
// reading the rest is printed. Legs' bands must cover the truth in 93 % or more (they count the
// laid floor's sd).
//
//   simulate_days [days] [seed]
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "checks/solve.h"
#include "checks/unit_levelling.h"
#include "tests/simulate/random.h"
#include "tests/simulate/true_floor.h"

using namespace levelrun;

namespace {

constexpr double width = 4200, depth = 3300;  // mm
constexpr double survey_sd = 0.7, laid_sd = 1, setting_sd = 1.5, planned = 15;
constexpr const char* corner_names[] = {"front_left", "front_right", "back_left", "back_right"};

struct Tally {
  long cabinets = 0, at_stop = 0, stop_not_said = 0, corners = 0, level = 0;
  double worst = 0, square = 0;
  long legs = 0, covered = 0;
  long read_again = 0;  // set-ups of the day
};

// Plane a + b u + c v through points, by the normal equations.
struct Plane {
  double a = 0, b = 0, c = 0;
  double at(double u, double v) const { return a + b * u + c * v; }
};
struct Spot {
  double u, v, h;
};
// Least squares; the legs stand on a rectangle, so the axes through its middle part the unknowns.
Plane plane_through(const std::vector<Spot>& spots) {
  double u = 0, v = 0, h = 0, uu = 0, vv = 0, uh = 0, vh = 0;
  const double n = double(spots.size());
  for (const Spot& s : spots) {
    u += s.u / n;
    v += s.v / n;
    h += s.h / n;
  }
  for (const Spot& s : spots) {
    uu += (s.u - u) * (s.u - u);
    vv += (s.v - v) * (s.v - v);
    uh += (s.u - u) * (s.h - h);
    vh += (s.v - v) * (s.h - h);
  }
  Plane out;
  out.b = uh / uu;
  out.c = vh / vv;
  out.a = h - out.b * u - out.c * v;
  return out;
}

void add_reading(Survey& survey, SetUp& setup, Random& random, double plane, const char* id,
                 std::optional<Place> place, double height) {
  LevelPoint point;
  point.id = id;
  point.off_floor = !place;
  point.place = place;
  survey.rooms[0].levels.points.push_back(point);
  setup.readings.push_back(
      {survey.rooms[0].levels.points.size() - 1, plane - height + random.normal(survey_sd), {}});
}

void day(Random& random, bool to_marks, double reading_sd, Tally& tally) {
  const TrueFloor floor(random, width, depth);
  Survey survey;
  for (const double sd : {survey_sd, std::max(reading_sd, 0.01)}) {
    Instrument level;
    level.id = survey.instruments.empty() ? "L" : "F";
    level.kind = InstrumentKind::laser_level;
    level.sd = sd;
    survey.instruments.push_back(level);
  }
  LegType leg;
  leg.id = "any";
  leg.min = 100 + random.uniform(0, 30);  // some days legs run out
  leg.max = leg.min + 60;
  leg.pitch = 1.5;
  survey.furniture.legs.push_back(leg);
  Room room;
  room.id = "K";
  room.levels.benchmark = Levels::Benchmark{0, 0};
  LaidLayer layer;
  layer.name = "tile and bed";
  layer.thickness = planned;
  room.flooring.laid.push_back(layer);
  survey.rooms.push_back(room);

  SetUp surveyed;
  surveyed.id = "S";
  surveyed.instrument = 0;
  add_reading(survey, surveyed, random, 1200, "BM", {}, 0);
  const double marks[] = {300, 500, 700};
  for (int m = 0; m < 3; ++m)
    add_reading(survey, surveyed, random, 1200, ("M" + std::to_string(m + 1)).c_str(), {},
                marks[m]);
  for (double y = -100; y >= -depth; y -= 600)
    for (double x = 100; x <= width; x += 600)
      add_reading(survey, surveyed, random, 1200,
                  ("P" + std::to_string(survey.rooms[0].levels.points.size())).c_str(),
                  Place{{}, 0, 0, x, y, 5}, floor.height(x, y));
  survey.rooms[0].levels.setups.push_back(surveyed);
  for (const char* id : {"S", "T"}) {
    Run run;
    run.id = id;
    run.bearing = id[0] == 'S' ? 0 : -90;
    run.origin_x = id[0] == 'S' ? 0 : width;
    run.origin_y = id[0] == 'S' ? 0 : -700;
    run.furniture = survey.furniture;
    for (int i = 0; i < (id[0] == 'S' ? 5 : 4); ++i) {
      Unit unit;
      unit.id = id + std::to_string(i + 1);
      unit.width = i % 2 ? 400 : 600;
      run.units.push_back(unit);
    }
    survey.rooms[0].runs.push_back(run);
  }
  const Results planned_results = solve(survey);
  LevelGroup group;
  group.id = "A";
  group.underside_set =
      LevelGroup::SetUnderside{planned_results.rooms[0].groups[0].underside, "office", ""};
  survey.rooms[0].level_groups.push_back(group);

  // The day: level, laid floor.
  const double laid = planned + random.uniform(-4, 4);
  SetUp today;
  today.id = "D";
  today.instrument = 1;
  survey.install.setups.push_back(today);
  const auto read_level = [&](bool marks_read) {
    auto& readings = survey.install.setups[0].readings;
    readings.clear();
    const auto read_mark = [&](Index point, double height) {
      readings.push_back({point, 1400 - height + random.normal(reading_sd), {}, 0});
    };
    if (marks_read)
      for (Index m = 0; m < 3; ++m) read_mark(m + 1, marks[m]);
    else
      read_mark(0, 0);
  };
  read_level(to_marks);
  for (int i = 0; i < 6; ++i) {
    LaidFloorReading reading;
    reading.place = Place{{}, 0, 0, 500 + 500.0 * i, -900, 20};
    reading.thickness = laid + random.normal(laid_sd);
    survey.install.finished_floor.push_back(reading);
  }
  Results asked = solve(survey);
  // Of sound marks one set-up in 200 seems to disagree: then the benchmark is looked for.
  if (!asked.install->setups[0].height) {
    ++tally.read_again;
    read_level(false);
    asked = solve(survey);
  }
  const double underside = asked.rooms[0].groups[0].underside;

  // Legs set, cabinets read.
  struct Cabinet {
    std::string unit;
    std::vector<Spot> tops;
    std::vector<std::string> positions;
    double w;
  };
  std::vector<Cabinet> cabinets;
  for (const Run& run : survey.rooms[0].runs)
    for (const Unit& unit : run.units) {
      Cabinet c{unit.id, {}, {}, unit.width};
      for (const LegResult& l : asked.rooms[0].legs) {
        if (l.unit != unit.id) continue;
        const double truth = underside - floor.height(l.x, l.y) - laid;
        ++tally.legs;
        tally.covered += std::abs(*l.height - truth) <= band95 * *l.sd;
        const double set = std::clamp(*l.height + random.normal(setting_sd), leg.min, leg.max);
        survey.install.set_legs.push_back({l.unit, l.position, "", "", set, survey.rooms[0].id});
        const bool left = l.position.ends_with("left"), front = l.position.starts_with("front");
        c.tops.push_back({left ? 50 : unit.width - 50, front ? 460.0 : 60.0,
                          floor.height(l.x, l.y) + laid + set});
        c.positions.push_back(l.position);
      }
      const Plane top = plane_through(c.tops);
      for (const char* corner : corner_names) {
        const std::string name = corner;
        const double u = name.ends_with("left") ? 0 : unit.width;
        const double v = name.starts_with("front") ? 560 : 0;
        survey.install.unit_levels.push_back(
            {unit.id, corner, "D",
             1400 - (top.at(u, v) + survey.furniture.base_height) + random.normal(reading_sd),
             survey.rooms[0].id});
      }
      cabinets.push_back(std::move(c));
    }

  // Turned as told; the level aimed at counts from the day's own plane.
  const Results told = solve(survey);
  const double plane_error = *told.install->setups[0].height - 1400;
  for (const UnitLevelResult& u : told.install->unit_levels) {
    ++tally.cabinets;
    const auto c = std::find_if(cabinets.begin(), cabinets.end(),
                                [&](const Cabinet& one) { return one.unit == u.unit; });
    bool stopped = u.legs.empty();
    for (std::size_t i = 0; i < c->tops.size(); ++i)
      for (const LegTurn& turn : u.legs)
        if (turn.position == c->positions[i]) {
          c->tops[i].h += turn.raise;
          stopped = stopped || turn.end_stop != EndStop::none;
        }
    tally.at_stop += stopped;
    const Plane top = plane_through(c->tops);
    double worst = 0;
    for (const char* corner : corner_names) {
      const std::string name = corner;
      const double u_at = name.ends_with("left") ? 0 : c->w;
      const double v_at = name.starts_with("front") ? 560 : 0;
      const double off = top.at(u_at, v_at) + plane_error - underside - u.common;
      worst = std::max(worst, std::abs(off));
      if (stopped) continue;
      ++tally.corners;
      tally.level += std::abs(off) <= level_tolerance;
      tally.worst = std::max(tally.worst, std::abs(off));
      tally.square += off * off;
    }
    // A cabinet that is left off level must have been told of.
    tally.stop_not_said += stopped && worst > level_tolerance && reading_sd == 0 &&
                           u.says.find("stays") == std::string::npos &&
                           u.says.find("outside their range") == std::string::npos;
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int days = argc > 1 ? std::atoi(argv[1]) : 200;
  const int seed = argc > 2 ? std::atoi(argv[2]) : 1;
  bool good = true;
  for (const double reading_sd : {0.0, 0.3, 0.7}) {
    Random random{std::uint64_t(seed)};
    Tally tally;
    for (int d = 0; d < days; ++d) day(random, d % 2 == 1, reading_sd, tally);
    const double covered = 100.0 * double(tally.covered) / double(tally.legs);
    const double level = 100.0 * double(tally.level) / double(tally.corners);
    std::printf(
        "cabinets read ±%.1f sd  %d days, %ld cabinets, %ld at an end stop; corners within %.1f: "
        "%.1f %%, rms %.2f, worst %.2f; legs' bands cover %.1f %%; %ld levels read again\n",
        reading_sd, days, tally.cabinets, tally.at_stop, level_tolerance, level,
        std::sqrt(tally.square / double(tally.corners)), tally.worst, covered, tally.read_again);
    good = good && covered >= 93 && tally.corners > 0 && tally.stop_not_said == 0;
    if (reading_sd == 0) good = good && tally.level == tally.corners && tally.at_stop > 0;
  }
  if (!good) std::printf("FAILED\n");
  return good ? 0 : 1;
}
