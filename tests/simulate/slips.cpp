// How often is a slip noticed, and how often is the right length and value named first?
//
// Rooms: rectangles and L-shapes in turn, walls 1.2 to 5.2 m, corners true to 0.3 degrees, lengths
// booked to the millimetre with 1 mm sd. "Three heights": each wall at 100, 900 and 2,000, walls
// leaning 3 mm/m sd, every diagonal inside the room twice. "Once": walls plumb, each wall and each
// diagonal once. One slip a room in a wall length; "mixed" draws its kind as often as the search
// expects it; others of at least 18 mm. "At all heights": the three lengths of one wall off by the
// same amount, that of digits swapped in the one at 900; no figure is asked of it.
//
//   simulate_slips [rooms] [seed]
// Exit 1 when a figure of the table is missed by more than its sampling error.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <string>
#include <vector>

#include "checks/room_plan.h"
#include "tests/simulate/random.h"

using namespace levelrun;

namespace {

struct Corner2 {
  double x, y;
};

// Clockwise from 0,0; an L has its re-entrant corner at the fifth.
std::vector<Corner2> outline(Random& random, bool l_shape) {
  const double w = random.uniform(2600, 5200), d = random.uniform(2400, 4600);
  if (!l_shape) return {{0, 0}, {w, 0}, {w, -d}, {0, -d}};
  const double u = random.uniform(0.4, 0.6) * w, v = random.uniform(0.5, 0.6) * d;
  return {{0, 0}, {w, 0}, {w, -d}, {u, -d}, {u, -v}, {0, -v}};
}

bool inside(const std::vector<Corner2>& c, double x, double y) {
  bool in = false;
  for (std::size_t i = 0, k = c.size() - 1; i < c.size(); k = i++)
    if ((c[i].y > y) != (c[k].y > y) &&
        x < (c[k].x - c[i].x) * (y - c[i].y) / (c[k].y - c[i].y) + c[i].x)
      in = !in;
  return in;
}

// A line of sight between two corners that are no wall.
bool sees(const std::vector<Corner2>& c, std::size_t a, std::size_t b) {
  for (double t = 0.05; t < 0.96; t += 0.05)
    if (!inside(c, c[a].x + t * (c[b].x - c[a].x), c[a].y + t * (c[b].y - c[a].y))) return false;
  return true;
}

Survey surveyed(Random& random, bool l_shape, bool once) {
  const auto ideal = outline(random, l_shape);
  auto c = ideal;
  for (Corner2& p : c) {  // corners a few mm off
    p.x += random.normal(8);
    p.y += random.normal(8);
  }
  const std::size_t n = c.size();
  const auto booked = [&](double true_length) {
    return std::round(true_length + random.normal(1));
  };
  const auto length = [&](std::size_t a, std::size_t b) {
    return std::hypot(c[b].x - c[a].x, c[b].y - c[a].y);
  };
  Survey survey;
  survey.job.reference = "SIM";
  Instrument meter;
  meter.id = "DM";
  meter.kind = InstrumentKind::distance_meter;
  meter.sd = 1.05;  // its noise and the rounding to a millimetre
  survey.instruments.push_back(meter);
  Room room;
  room.id = "K";
  for (std::size_t i = 0; i < n; ++i)
    room.corners.push_back({"C" + std::to_string(i + 1), l_shape && i == 4 ? 270.0 : 90.0});
  for (std::size_t i = 0; i < n; ++i) {
    Wall wall;
    wall.id = "W" + std::to_string(i + 1);
    wall.from = i;
    wall.to = (i + 1) % n;
    const double lean = once ? 0 : random.normal(3);
    for (const double height : {100.0, 900.0, 2000.0})
      if (!once || height == 900)
        wall.lengths.push_back(
            {height, 0, booked(length(i, wall.to) + (height - 900) / 1000 * lean), 0});
    room.walls.push_back(wall);
  }
  for (std::size_t a = 0; a < n; ++a)
    for (std::size_t b = a + 2; b < n; ++b) {
      if ((a == 0 && b == n - 1) || !sees(ideal, a, b)) continue;
      for (int twice = 0; twice < (once ? 1 : 2); ++twice)
        room.diagonals.push_back({a, b, booked(length(a, b)), 900, 0});
    }
  survey.rooms.push_back(std::move(room));
  return survey;
}

enum class Slip { swapped, misread, counted, tape_mark, centimetres, inches };
constexpr const char* slip_names[] = {"digits swapped",  "digit misread", "100 or 1000 out",
                                      "tape's 100 mark", "cm for mm",     "inches for mm"};

// What is booked for a true length; empty when that slip cannot happen to it.
std::optional<double> slipped(Random& random, double length, Slip slip) {
  std::string digits = std::to_string(std::llround(length));
  switch (slip) {
    case Slip::swapped: {
      const std::size_t i = random.below(digits.size() - 1);
      std::swap(digits[i], digits[i + 1]);
      if (digits[0] == '0') return {};
      break;
    }
    case Slip::misread: {
      const std::size_t i = random.below(digits.size());
      digits[i] = char('0' + int(random.below(10)));
      if (digits[0] == '0') return {};
      break;
    }
    case Slip::counted: {
      const double by[] = {-1000, -100, 100, 1000};
      return length + by[random.below(4)];
    }
    case Slip::tape_mark:
      return length + 100;
    case Slip::centimetres:
      return std::round(length / 10);
    case Slip::inches:
      return std::round(length / 25.4);
  }
  return std::stod(digits);
}

struct Tally {
  int rooms = 0, noticed = 0, first = 0;
  double share(int n) const { return rooms ? 100.0 * n / rooms : 0; }
};

bool accused(const RoomPlan& plan) { return plan.summary.global_test != GlobalTest::pass; }

Slip drawn(Random& random) {
  const double at = random.uniform(0, 0.90);
  double up_to = 0;
  const double prior[] = {0.40, 0.20, 0.15, 0.08, 0.04, 0.03};
  for (int k = 0; k < 6; ++k)
    if (at < (up_to += prior[k])) return Slip(k);
  return Slip::inches;
}

Tally simulate(Random& random, int rooms, bool once, std::optional<Slip> only,
               std::vector<Tally>* by_kind = nullptr) {
  Tally tally;
  while (tally.rooms < rooms) {
    Survey survey = surveyed(random, tally.rooms % 2 == 1, once);
    auto& walls = survey.rooms[0].walls;
    const std::size_t w = random.below(walls.size());
    auto& lengths = walls[w].lengths;
    const std::size_t k = random.below(lengths.size());
    const double right = lengths[k].length;
    const Slip slip = only ? *only : drawn(random);
    const auto wrong = slipped(random, right, slip);
    if (!wrong || std::abs(*wrong - right) < 18) continue;
    lengths[k].length = *wrong;
    const RoomPlan plan = adjust_room(survey, 0);
    const std::string at = "/rooms/0/walls/" + std::to_string(w) + "/lengths/" + std::to_string(k);
    const auto& suspects = plan.summary.suspects;
    const bool named = !suspects.empty() && suspects[0].at == at &&
                       std::abs(suspects[0].value - right) < (slip >= Slip::centimetres ? 26 : 0.5);
    for (Tally* t : {&tally, by_kind ? &(*by_kind)[Index(slip)] : nullptr}) {
      if (!t) continue;
      ++t->rooms;
      t->noticed += accused(plan);
      t->first += named;
    }
  }
  return tally;
}

// One wall misbooked alike at its three heights.
Tally simulate_alike(Random& random, int rooms) {
  Tally tally;
  while (tally.rooms < rooms) {
    Survey survey = surveyed(random, tally.rooms % 2 == 1, false);
    auto& walls = survey.rooms[0].walls;
    const std::size_t w = random.below(walls.size());
    const double right = walls[w].lengths[1].length;
    const auto wrong = slipped(random, right, Slip::swapped);
    if (!wrong || std::abs(*wrong - right) < 18) continue;
    for (WallLength& l : walls[w].lengths) l.length += *wrong - right;
    const RoomPlan plan = adjust_room(survey, 0);
    const auto& suspects = plan.summary.suspects;
    ++tally.rooms;
    tally.noticed += accused(plan);
    tally.first += !suspects.empty() &&
                   suspects[0].at == "/rooms/0/walls/" + std::to_string(w) + "/lengths/1" &&
                   std::abs(suspects[0].value - right) < 0.5;
  }
  return tally;
}

bool figures_met = true;

// percent may fall short of the target by two standard errors of the sample.
const char* against(double percent, double target, int rooms) {
  const double error = 200 * std::sqrt(target / 100 * (1 - target / 100) / rooms);
  if (percent >= target) return "met";
  figures_met = figures_met && percent >= target - error;
  return percent >= target - error ? "met within sampling error" : "MISSED";
}

}  // namespace

int main(int count, char** words) {
  const int rooms = count > 1 ? std::atoi(words[1]) : 400;
  const auto seed = std::uint64_t(count > 2 ? std::atoi(words[2]) : 1);
  for (const bool once : {false, true}) {
    std::printf("%s\n", once ? "Each length and diagonal once, walls plumb"
                             : "Three heights, diagonals twice, walls leaning 3 mm/m sd");
    Random random(seed * 100 + once);
    int alarms = 0;
    for (int i = 0; i < rooms; ++i)
      alarms += accused(adjust_room(surveyed(random, i % 2 == 1, once), 0));
    std::printf("  clean rooms accused          %5.1f %%  (target at most 1: %s)\n",
                100.0 * alarms / rooms, against(100.0 - 100.0 * alarms / rooms, 99, rooms));

    const Tally swapped = simulate(random, rooms, once, Slip::swapped);
    std::printf("  digits swapped, noticed      %5.1f %%  (target 99: %s)\n",
                swapped.share(swapped.noticed), against(swapped.share(swapped.noticed), 99, rooms));
    const double target = once ? 93 : 97;
    std::printf("  right length and value first %5.1f %%  (target %.0f: %s)\n",
                swapped.share(swapped.first), target,
                against(swapped.share(swapped.first), target, rooms));
    std::vector<Tally> by_kind(6);
    const Tally mixed = simulate(random, rooms, once, std::nullopt, &by_kind);
    std::printf("  mixed slips, right first     %5.1f %%  (target 75: %s); noticed %.1f %%\n",
                mixed.share(mixed.first), against(mixed.share(mixed.first), 75, rooms),
                mixed.share(mixed.noticed));
    for (Index k = 0; k < 6; ++k)
      std::printf("    %-18s %4d rooms  noticed %5.1f %%  right first %5.1f %%\n", slip_names[k],
                  by_kind[k].rooms, by_kind[k].share(by_kind[k].noticed),
                  by_kind[k].share(by_kind[k].first));
    if (once) continue;
    const Tally alike = simulate_alike(random, rooms);
    std::printf("  swapped at all heights, right first %5.1f %%; noticed %.1f %%\n",
                alike.share(alike.first), alike.share(alike.noticed));
  }
  return figures_met ? 0 : 1;
}
