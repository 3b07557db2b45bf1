#include "app/drawing/contours.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace levelrun {
namespace {

constexpr double most_share = 0.9;  // of the grid's cells that the lines must be apart in
constexpr std::size_t most_levels = 400;

// An edge of the grid: between a point and the next one to the right (0) or above (1).
using Edge = std::pair<std::size_t, int>;

}  // namespace

std::vector<Contour> contours(const HeightGrid& g, double interval) {
  double low = 1e300, high = -1e300;
  for (const auto& h : g.height)
    if (h) low = std::min(low, *h), high = std::max(high, *h);
  std::vector<Contour> out;
  if (low > high || g.nx < 2 || g.ny < 2) return out;
  const double first = std::ceil(low / interval), last = std::floor(high / interval);
  if (last - first > double(most_levels)) return out;
  for (double n = first; n <= last; ++n) {
    const double level = n * interval;
    // A grid point exactly on the level counts as above it, so no line touches itself.
    const auto above = [&](std::size_t p) { return *g.height[p] >= level; };
    std::map<Edge, std::vector<Edge>> joined;
    std::vector<Edge> order;
    const auto join = [&](Edge a, Edge b) {
      for (const auto& [from, to] : {std::pair{a, b}, std::pair{b, a}}) {
        auto& list = joined[from];
        if (list.empty()) order.push_back(from);
        list.push_back(to);
      }
    };
    for (std::size_t k = 0; k + 1 < g.ny; ++k)
      for (std::size_t i = 0; i + 1 < g.nx; ++i) {
        if (!g.whole(i, k)) continue;
        const std::size_t p[4] = {g.index(i, k), g.index(i + 1, k), g.index(i + 1, k + 1),
                                  g.index(i, k + 1)};
        if (!g.height[p[0]] || !g.height[p[1]] || !g.height[p[2]] || !g.height[p[3]]) continue;
        const Edge edges[4] = {{p[0], 0}, {p[1], 1}, {p[3], 0}, {p[0], 1}};
        std::vector<Edge> crossed;
        for (int e = 0; e < 4; ++e)
          if (above(p[e]) != above(p[(e + 1) % 4])) crossed.push_back(edges[e]);
        if (crossed.size() == 2) {
          join(crossed[0], crossed[1]);
        } else if (crossed.size() == 4) {
          const double middle =
              (*g.height[p[0]] + *g.height[p[1]] + *g.height[p[2]] + *g.height[p[3]]) / 4;
          const bool split = (middle >= level) == above(p[0]);
          join(edges[0], split ? edges[1] : edges[3]);
          join(edges[2], split ? edges[3] : edges[1]);
        }
      }
    const auto crossing = [&](const Edge& e) {
      const std::size_t a = e.first, b = e.second == 0 ? a + 1 : a + g.nx;
      const double t = (level - *g.height[a]) / (*g.height[b] - *g.height[a]);
      const PlanPoint p = g.at(a % g.nx, a / g.nx), q = g.at(b % g.nx, b / g.nx);
      return PlanPoint{p.x + (q.x - p.x) * t, p.y + (q.y - p.y) * t};
    };
    // Open lines from their ends first, then the rings.
    const auto follow = [&](Edge at) {
      Contour line{level, {crossing(at)}};
      const Edge start = at;
      while (!joined[at].empty()) {
        const Edge to = joined[at].front();
        joined[at].erase(joined[at].begin());
        std::erase(joined[to], at);
        line.points.push_back(crossing(to));
        at = to;
        if (at == start) break;
      }
      if (line.points.size() > 1) out.push_back(std::move(line));
    };
    for (const Edge& e : order)
      if (joined[e].size() == 1) follow(e);
    for (const Edge& e : order)
      if (!joined[e].empty()) follow(e);
  }
  return out;
}

double contour_interval(const HeightGrid& g, double apart) {
  std::vector<double> slopes;
  for (std::size_t k = 0; k + 1 < g.ny; ++k)
    for (std::size_t i = 0; i + 1 < g.nx; ++i) {
      const auto &a = g.height[g.index(i, k)], &b = g.height[g.index(i + 1, k)],
                 &c = g.height[g.index(i, k + 1)];
      if (a && b && c && g.whole(i, k)) slopes.push_back(std::hypot(*b - *a, *c - *a) / g.step);
    }
  if (slopes.empty()) return 10;
  const auto nth = slopes.begin() + std::ptrdiff_t(double(slopes.size() - 1) * most_share);
  std::nth_element(slopes.begin(), nth, slopes.end());
  for (const double interval : {1.0, 2.0, 5.0})
    if (interval >= *nth * apart) return interval;
  return 10;
}

}  // namespace levelrun
