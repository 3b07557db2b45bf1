#include "tests/bench/kitchen.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <vector>

#include "tests/simulate/random.h"

namespace levelrun {
namespace {

using Json = nlohmann::ordered_json;
struct Point {
  double x, y;
};

double whole(double mm) { return std::round(mm); }
double half(double mm) { return std::round(2 * mm) / 2; }

// Clockwise from 0,0 along +x, then down the right side and back in steps to the left.
std::vector<Point> outline(int corners, double width) {
  std::vector<Point> out{{0, 0}, {width, 0}};
  const int steps = (corners - 2) / 2;
  const double step = width / steps;
  double y = -3200;
  for (int i = 0; i < steps; ++i) {
    out.push_back({width - i * step, y});
    if (i + 1 == steps) break;
    out.push_back({width - (i + 1) * step, y});
    y += (i % 2 ? 150 : -150);
  }
  out.push_back({0, y});
  return out;
}

double angle_at(const std::vector<Point>& c, std::size_t i) {
  const Point a = c[(i + c.size() - 1) % c.size()], b = c[i], d = c[(i + 1) % c.size()];
  const double cross = (b.x - a.x) * (d.y - b.y) - (b.y - a.y) * (d.x - b.x);
  return cross < 0 ? 90 : 270;  // clockwise: a right turn is an inner right angle
}

}  // namespace

std::string kitchen_text(const KitchenSize& size, std::uint64_t seed) {
  Random random(seed);
  // Wide enough for its units along the first wall (half of them) and two more walls.
  const int along_first = std::max(1, size.units / 2);
  const double width = std::max(4200.0, along_first * 500.0 + 700);
  const std::vector<Point> corners = outline(size.corners, width);
  const auto floor = [&](double x, double y) {
    return 4 * std::sin(x / 900 + double(seed % 7)) + 3 * std::cos(y / 700) - x / 500;
  };

  Json room = {{"id", "K"}, {"name", "Kitchen"}};
  const std::size_t n = corners.size();
  for (std::size_t i = 0; i < n; ++i)
    room["corners"].push_back(
        {{"id", "C" + std::to_string(i + 1)}, {"angle", angle_at(corners, i)}});
  for (std::size_t i = 0; i < n; ++i) {
    const Point a = corners[i], b = corners[(i + 1) % n];
    const double length = std::hypot(b.x - a.x, b.y - a.y), lean = random.normal(2);
    Json wall = {{"id", "W" + std::to_string(i + 1)},
                 {"from", "C" + std::to_string(i + 1)},
                 {"to", "C" + std::to_string((i + 1) % n + 1)},
                 {"build", "masonry"}};
    for (const double height : {100.0, 900.0, 2000.0}) {
      double booked = whole(length + (height - 900) / 1000 * lean + random.normal(0.7));
      if (size.wrong_length && i == 1 && height == 900) booked += 90;
      wall["lengths"].push_back({{"height", height}, {"length", booked}, {"instrument", "DM"}});
    }
    if (i < 2)
      for (const double height : {100.0, 900.0, 2000.0})
        for (double along = 100; along < length; along += 700)
          wall["offsets"].push_back({{"along", along},
                                     {"height", height},
                                     {"offset", half(60 + 2 * std::sin(along / 800))},
                                     {"instrument", "GA"}});
    room["walls"].push_back(wall);
  }
  for (const auto& [from, to] : {std::pair<std::size_t, std::size_t>{0, 2}, {1, n - 1}})
    for (int twice = 0; twice < 2; ++twice)
      room["diagonals"].push_back({{"from", "C" + std::to_string(from + 1)},
                                   {"to", "C" + std::to_string(to + 1)},
                                   {"length", whole(std::hypot(corners[to].x - corners[from].x,
                                                               corners[to].y - corners[from].y) +
                                                    random.normal(0.7))},
                                   {"instrument", "DM"}});

  Json points = Json::array({{{"id", "BM"}, {"off_floor", true}}});
  std::vector<Json> readings(size.setups, Json::array());
  std::vector<double> planes;
  for (int s = 0; s < size.setups; ++s) {
    planes.push_back(half(random.uniform(1000, 1400)));
    readings[s].push_back({{"point", "BM"}, {"staff", half(planes[s] + random.normal(0.7))}});
  }
  const int columns = std::max(2, int(std::round(std::sqrt(size.readings * width / 3000))));
  for (int i = 0; i < size.readings; ++i) {
    const double x = 100 + (width - 200) * (i % columns) / (columns - 1);
    const double y = -100 - 2800.0 * double(i / columns) / std::max(1, size.readings / columns);
    const std::string id = "P" + std::to_string(i + 1);
    points.push_back({{"id", id}, {"place", {{"x", whole(x)}, {"y", whole(y)}}}});
    const int s = i % size.setups;
    readings[s].push_back(
        {{"point", id}, {"staff", half(planes[s] - floor(x, y) + random.normal(0.7))}});
  }
  Json setups = Json::array();
  for (int s = 0; s < size.setups; ++s)
    setups.push_back(
        {{"id", "S" + std::to_string(s + 1)}, {"instrument", "LL"}, {"readings", readings[s]}});
  room["levels"] = {{"benchmark", {{"point", "BM"}}}, {"points", points}, {"setups", setups}};
  room["flooring"] = {
      {"laid", Json::array({{{"name", "tile and bed"}, {"thickness", 15}, {"to", "wall"}}})}};
  room["services"] = Json::array({{{"id", "W"},
                                   {"kind", "waste"},
                                   {"wall", "W1"},
                                   {"along", 900},
                                   {"height", 380},
                                   {"projection", 34},
                                   {"diameter", 40}}});

  const auto run = [&](const char* id, const char* wall, double from, const char* start,
                       const char* end, int first, int count) {
    Json units = Json::array();
    for (int i = 0; i < count; ++i)
      units.push_back({{"id", "U" + std::to_string(first + i)}, {"kind", "base"}, {"width", 500}});
    return Json{{"id", id},           {"wall", wall},   {"from_along", from},
                {"starts_at", start}, {"ends_at", end}, {"units", units}};
  };
  const int second = std::min(size.units - along_first, 5);
  room["runs"].push_back(run("A", "W1", 40, "wall", "corner", 1, along_first));
  if (second > 0) room["runs"].push_back(run("B", "W2", 620, "corner", "open", 100000, second));
  // The rest stands free, in rows.
  for (int left = size.units - along_first - second, row = 0; left > 0; ++row) {
    const int count = std::min(left, 7);
    Json island = run("I", "W1", 0, "open", "open", 200000 + row * 10, count);
    island["id"] = "I" + std::to_string(row);
    island.erase("wall");
    island.erase("from_along");
    island["origin"] = {{"x", 300.0 + 10 * row}, {"y", -1300.0}};
    island["bearing"] = 0;
    room["runs"].push_back(island);
    left -= count;
  }
  room["level_groups"] = Json::array({{{"id", "A"}, {"asked_height", 905}}});

  const Json survey = {
      {"format", "levelrun-survey"},
      {"version", 1},
      {"job", {{"reference", "B-" + std::to_string(seed)}, {"surveyor", "t.v."}}},
      {"instruments", Json::array({{{"id", "DM"}, {"kind", "distance_meter"}, {"sd", 1}},
                                   {{"id", "LL"}, {"kind", "laser_level"}, {"sd", 0.7}},
                                   {{"id", "GA"}, {"kind", "gauge"}, {"sd", 0.5}}})},
      {"furniture",
       {{"plinth", {{"height", 150}}},
        {"legs",
         Json::array(
             {{{"id", "M"}, {"min", 90}, {"max", 220}, {"supplied", 150}, {"pitch", 1.5}}})}}},
      {"rooms", Json::array({room})}};
  return survey.dump(2) + "\n";
}

}  // namespace levelrun
