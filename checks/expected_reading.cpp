#include "checks/expected_reading.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <span>
#include <utility>
#include <vector>

#include "checks/area_surface.h"
#include "checks/face_lines.h"
#include "checks/floor_surface.h"
#include "checks/flooring.h"
#include "checks/level_net.h"
#include "checks/pointer.h"
#include "checks/room_judgement.h"
#include "checks/room_levels.h"
#include "checks/room_net.h"

namespace levelrun {
namespace {

// A wall that nobody measured yet, as a length of any size (mm; rough, no source).
constexpr double any_length = 3000, any_length_sd = 1000;
constexpr double says_nothing = 150;  // mm; less certain than this, an expected length helps nobody
constexpr double says_no_angle = 5;   // degrees; the same of an angle
constexpr double least_noise = 0.01;  // mm; a gauge stated as better than that is held to it
constexpr double plane_sd = 0.001;    // mm; a level plane read from itself
// How far a ceiling departs from its mean from place to place, and how many readings that
// belief counts for. Common practice, no source.
constexpr double ceiling_spread = 10, ceiling_belief = 2;

std::string from_others(std::size_t count, const char* what = "") {
  static const char* const words[] = {"none",  "one",   "two",  "three", "four",   "five",  "six",
                                      "seven", "eight", "nine", "ten",   "eleven", "twelve"};
  if (count == 1) return std::string("from the other one") + what;
  return "from the other " +
         (count < std::size(words) ? std::string(words[count]) : std::to_string(count)) + what;
}

template <class List>
void leave_out(List& list, std::optional<Index> at) {
  if (at && *at < list.size()) list.erase(list.begin() + std::ptrdiff_t(*at));
}

std::size_t used_readings(const RoomNet& net, const std::vector<char>& used) {
  return std::size_t(
      std::count(used.begin(), used.begin() + std::ptrdiff_t(net.readings().size()), char{1}));
}

Expected as_expected(const RoomNet& net, Estimate value, const std::vector<char>& used) {
  const std::size_t count = used_readings(net, used);
  return {value, net.assumed(),
          from_others(count, net.assumed() ? " and the corners as noted" : "")};
}

// Every side but one gets a length, rough where it has none.
void add_rough_lengths(Survey& survey, Index room_index, std::optional<Index> but) {
  Room& room = survey.rooms[room_index];
  std::vector<double> known;
  for (const Wall& wall : room.walls)
    if (!wall.lengths.empty()) known.push_back(wall.lengths.front().length);
  std::sort(known.begin(), known.end());
  Instrument rough;
  rough.sd = any_length_sd;
  survey.instruments.push_back(rough);
  for (Index w = 0; w < room.walls.size(); ++w)
    if (room.walls[w].lengths.empty() && w != but)
      room.walls[w].lengths.push_back({900, 0, known.empty() ? any_length : known[known.size() / 2],
                                       survey.instruments.size() - 1});
}

// The net of everything but the reading, and which of it to believe. Empty: not determined.
struct Others {
  RoomNet net;
  std::vector<char> used;
};
std::optional<Others> solved_others(const Survey& survey, Index room) {
  if (room >= survey.rooms.size() || !RoomNet::usable(survey.rooms[room])) return std::nullopt;
  Others out{RoomNet(survey, room), {}};
  RoomJudgement judged;
  if (judge_room(out.net, judged) != NetState::solved) return std::nullopt;
  out.used = std::move(judged.used);
  return out;
}
std::optional<Others> roughly_solved(Survey survey, Index room, std::optional<Index> but) {
  if (room >= survey.rooms.size() || !RoomNet::usable(survey.rooms[room])) return std::nullopt;
  if (std::all_of(survey.rooms[room].walls.begin(), survey.rooms[room].walls.end(),
                  [](const Wall& w) { return w.lengths.empty(); }))
    return std::nullopt;
  add_rough_lengths(survey, room, but);
  Others out{RoomNet(survey, room), {}};
  out.net.assume(true);
  out.used = out.net.all_used();
  if (out.net.solve(out.used) != NetState::solved || !out.net.like_described()) return std::nullopt;
  return out;
}

// with: the survey that holds the reading, at a JSON pointer; without: the same less that reading.
std::optional<Estimate> predicted(const Survey& with, Index room, const std::string& at,
                                  const Others& others) {
  RoomNet net(with, room);
  Index own = 0;
  while (own < net.readings().size() && net.readings()[own].at != at) ++own;
  if (own == net.readings().size()) return std::nullopt;
  net.assume(others.net.assumed());
  std::vector<char> used = others.used;
  used.insert(used.begin() + std::ptrdiff_t(own), char{0});
  if (used.size() != net.plan().net().observations.size() || net.solve(used) != NetState::solved)
    return std::nullopt;
  NetObservation o = net.plan().net().observations[own];
  if (o.scale) o.scale->factor = net.plan().value(o) / 1000;  // of the length as it will be
  return net.plan().predict(o);
}

// A length or a diagonal: `with` holds it at `at`, `less` does not.
std::optional<Expected> expected_distance(const Survey& with, const Survey& less, Index room,
                                          const std::string& at, std::optional<Index> wall) {
  if (const auto others = solved_others(less, room))
    if (const auto value = predicted(with, room, at, *others))
      return as_expected(others->net, *value, others->used);
  const auto others = roughly_solved(less, room, wall);
  if (!others) return std::nullopt;
  Survey rough = with;
  add_rough_lengths(rough, room, wall);
  const auto value = predicted(rough, room, at, *others);
  if (!value || value->sd > says_nothing) return std::nullopt;
  return Expected{*value, true, "from the walls so far and the corners as noted"};
}

std::optional<Expected> expected_at_corner(const Survey& survey, Index room, Index corner,
                                           std::optional<Index> without,
                                           std::optional<std::pair<double, double>> legs) {
  if (room >= survey.rooms.size()) return std::nullopt;
  Survey less = survey;
  leave_out(less.rooms[room].angles, without);
  auto others = solved_others(less, room);
  if (!others) others = roughly_solved(less, room, std::nullopt);
  if (!others || corner >= less.rooms[room].corners.size()) return std::nullopt;
  NetObservation o = others->net.interior_angle(corner);
  if (legs) {
    o.kind = NetKind::across;
    o.leg_from = legs->first;
    o.leg_to = legs->second;
  }
  const Estimate value = others->net.plan().predict(o);
  if (value.sd > (legs ? says_nothing : says_no_angle)) return std::nullopt;
  return as_expected(others->net, value, others->used);
}

// The set-up's plane less the floor at the point, as it lies under the staff.
std::optional<Expected> staff_from_floor(Survey& others, Index room_index, Index point, Index setup,
                                         RoomLevels read, const AdjustedLevels& adjusted,
                                         double rise) {
  Room& room = others.rooms[room_index];
  const LevelPoint asked = room.levels.points[point];
  if (asked.off_floor || !asked.place) return std::nullopt;
  const Index points = room.levels.points.size();
  read.points.assign(adjusted.heights.begin(), adjusted.heights.begin() + std::ptrdiff_t(points));
  read.planes.assign(adjusted.heights.begin() + std::ptrdiff_t(points), adjusted.heights.end());
  for (LevelReading& r : read.readings) r.used = r.used && read.planes[r.setup];

  // The plane itself becomes the benchmark, read without error.
  LevelPoint plane;
  plane.off_floor = true;
  room.levels.points.push_back(plane);
  room.levels.benchmark = Levels::Benchmark{points, 0};
  room.levels.known.clear();
  read.points.push_back(Estimate{0, 0});
  read.readings.push_back({setup, 0, points, 0, plane_sd, true});

  // Only places on walls need the plan.
  const auto on_wall = [](const std::optional<Place>& p) { return p && p->wall; };
  bool walls = false;
  for (const LevelPoint& p : room.levels.points) walls = walls || on_wall(p.place);
  for (const FloorArea& a : room.floor_areas)
    for (const Place& p : a.outline) walls = walls || p.wall;
  const RoomPlan plan = walls ? adjust_room(others, room_index) : RoomPlan{};
  const auto place = plan.at(*asked.place);
  if (!place) return std::nullopt;

  const FloorSurface floor(others, room_index, plan, read);
  const auto bare = floor.estimates(std::span(&*place, 1)).front();
  if (!bare) return std::nullopt;
  const Index area = asked.area.value_or(floor.area_at(*place));
  const double on_top = thickness_of(room, stripped_underfoot(room, asked, area));
  std::size_t count = 0;
  for (const LevelReading& r : read.readings)
    count += r.used && !room.levels.points[r.point].off_floor;
  return Expected{
      {rise - bare->value - on_top, bare->sd}, false, from_others(count, " on the floor")};
}

}  // namespace

std::optional<Expected> expected_length(const Survey& survey, Index room, Index wall, double height,
                                        std::optional<Index> without, double out,
                                        std::optional<Index> instrument) {
  if (room >= survey.rooms.size() || wall >= survey.rooms[room].walls.size()) return std::nullopt;
  Survey less = survey, with = survey;
  leave_out(less.rooms[room].walls[wall].lengths, without);
  // The reading comes last, so that the others keep their order.
  std::vector<WallLength>& lengths = with.rooms[room].walls[wall].lengths;
  WallLength own{height, out, any_length, instrument};
  if (without && *without < lengths.size()) own = lengths[*without];
  lengths = less.rooms[room].walls[wall].lengths;
  lengths.push_back(own);
  return expected_distance(
      with, less, room,
      pointer(room, "walls", wall) + "/lengths/" + std::to_string(lengths.size() - 1), wall);
}

std::optional<Expected> expected_diagonal(const Survey& survey, Index room, Index from, Index to,
                                          double height, std::optional<Index> without,
                                          std::optional<Index> instrument) {
  if (room >= survey.rooms.size()) return std::nullopt;
  const Index corners = survey.rooms[room].corners.size();
  if (from >= corners || to >= corners || from == to) return std::nullopt;
  Survey less = survey, with = survey;
  leave_out(less.rooms[room].diagonals, without);
  std::vector<Diagonal>& diagonals = with.rooms[room].diagonals;
  Diagonal own{from, to, any_length, height, instrument};
  if (without && *without < diagonals.size()) own = diagonals[*without];
  diagonals = less.rooms[room].diagonals;
  diagonals.push_back(own);
  return expected_distance(with, less, room, pointer(room, "diagonals", diagonals.size() - 1),
                           std::nullopt);
}

std::optional<Expected> expected_angle(const Survey& survey, Index room, Index corner,
                                       std::optional<Index> without) {
  return expected_at_corner(survey, room, corner, without, std::nullopt);
}

std::optional<Expected> expected_across(const Survey& survey, Index room, Index corner, double a,
                                        double b, std::optional<Index> without) {
  return expected_at_corner(survey, room, corner, without, std::pair(a, b));
}

std::optional<Expected> expected_staff(const Survey& survey, Index room_index, Index point,
                                       Index setup, std::optional<Index> without,
                                       std::optional<double> distance_m) {
  if (room_index >= survey.rooms.size()) return std::nullopt;
  Survey others = survey;
  Levels& levels = others.rooms[room_index].levels;
  if (point >= levels.points.size() || setup >= levels.setups.size()) return std::nullopt;
  leave_out(levels.setups[setup].readings, without);
  const double rise = levels.setups[setup].collimation * distance_m.value_or(0);

  // Heights are taken from the set-up's own plane, so that what point and plane share counts once.
  RoomLevels read = adjust_room_levels(others, room_index);
  const Index points = levels.points.size();
  LevelNet net;
  net.nodes = points + levels.setups.size();
  for (LevelReading& r : read.readings) {
    r.used = r.used || !read.planes[r.setup];  // tied to no benchmark, but to each other
    if (r.used) net.differences.push_back(staff_reading(points + r.setup, r.point, r.drop, r.sd));
  }
  if (levels.benchmark)
    for (const KnownHeight& k : levels.known)
      if (k.point != levels.benchmark->point)
        net.differences.push_back(
            {levels.benchmark->point, k.point, k.height - levels.benchmark->height, k.sd});
  net.known.push_back({points + setup, 0, 0});
  const AdjustedLevels adjusted = adjust_levels(net);
  if (const auto& height = adjusted.heights[point]) {
    const auto same = std::count_if(read.readings.begin(), read.readings.end(),
                                    [&](const LevelReading& r) { return r.point == point; });
    return Expected{{rise - height->value, height->sd},
                    false,
                    same > 1   ? "from its other readings"
                    : same > 0 ? "from its other reading"
                               : "from its known height"};
  }
  return staff_from_floor(others, room_index, point, setup, std::move(read), adjusted, rise);
}

std::optional<Expected> expected_offset(const Survey& survey, Index room, Index wall_index,
                                        double along, double height, std::optional<Index> without) {
  if (room >= survey.rooms.size() || wall_index >= survey.rooms[room].walls.size())
    return std::nullopt;
  const Wall& wall = survey.rooms[room].walls[wall_index];
  const bool comparable = wall.offsets_from == OffsetsFrom::plumb_plane;
  AreaReadings readings;
  for (Index i = 0; i < wall.offsets.size(); ++i) {
    const WallOffset& o = wall.offsets[i];
    if (i == without || (!comparable && std::abs(o.height - height) > same_line)) continue;
    FloorRow row;
    row.place = {o.along, comparable ? o.height : 0};
    row.point = i;
    row.value = o.offset;
    row.noise = std::max(offset_sd(survey, o), least_noise);
    readings.rows.push_back(row);
  }
  const std::size_t count = readings.rows.size();
  if (count == 0) return std::nullopt;
  const auto face = AreaSurface::fit(std::move(readings));
  if (!face) return std::nullopt;
  const PlanPoint at{along, comparable ? height : 0};
  const Estimate value = face->estimates(std::span(&at, 1)).front();
  if (!std::isfinite(value.value) || !std::isfinite(value.sd)) return std::nullopt;
  return Expected{value, false, from_others(count, " on this wall")};
}

std::optional<Expected> expected_ceiling(const Survey& survey, Index room,
                                         std::optional<Index> setup, std::optional<Index> without) {
  if (room >= survey.rooms.size()) return std::nullopt;
  std::vector<double> heights;
  const std::vector<CeilingReading>& ceilings = survey.rooms[room].ceilings;
  for (Index i = 0; i < ceilings.size(); ++i)
    if (i != without && ceilings[i].height.setup == setup)
      heights.push_back(ceilings[i].height.value);
  if (heights.empty()) return std::nullopt;
  const double n = double(heights.size());
  double mean = 0, squares = ceiling_belief * ceiling_spread * ceiling_spread;
  for (const double h : heights) mean += h / n;
  for (const double h : heights) squares += (h - mean) * (h - mean);
  // A new place departs from the mean as each of the others does.
  const double spread = std::sqrt(squares / (ceiling_belief + n - 1));
  return Expected{{mean, spread * std::sqrt(1 + 1 / n)}, false, from_others(heights.size())};
}

}  // namespace levelrun
