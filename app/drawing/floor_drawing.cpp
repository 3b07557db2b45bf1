#include "app/drawing/floor_drawing.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/text_number.h"
#include "checks/outline.h"

namespace levelrun {
namespace {

constexpr float contour_apart = 6;  // dp: most of them
// dp: nearer than this, 0.6 mm of paper, they are left out; they would run into one black band.
constexpr double contour_least = 4;
constexpr float step_strokes = 12, step_stroke = 6;  // dp apart, and long
constexpr float dots_apart = 12;                     // dp

Spot plus(Spot a, Spot b, float k) { return {a.x + b.x * k, a.y + b.y * k}; }

// Where two floor areas meet: the edge, strokes down its fall, and how far down.
void steps(DrawingPen& pen, const RoomToDraw& drawn, char decimal) {
  for (const RoomToDraw::Step& step : drawn.steps) {
    const bool right_lower = step.fall >= 0;
    const Spot a = pen.at(right_lower ? step.from : step.to),
               b = pen.at(right_lower ? step.to : step.from);
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    if (length < 1) continue;
    // Down is to the right of a → b in the plan, so on the sheet too.
    const Spot along{(b.x - a.x) / length, (b.y - a.y) / length}, down{-along.y, along.x};
    pen.stroke({a, b}, Ink::ink, LineWidth::outline);
    for (float t = step_strokes / 2; t < length; t += step_strokes) {
      const Spot p = plus(a, along, t);
      pen.stroke({p, plus(p, down, step_stroke)}, Ink::ink);
    }
    Lettering l;
    l.text = "step " + shown(std::abs(step.fall), 0, decimal);
    l.bold = true;
    l.turned = std::abs(along.y) > std::abs(along.x) ? 90.f : 0.f;
    const float off = step_stroke + lettering_height(l.height, pen.text_scale()) * 0.7f;
    for (const float t : {0.5f, 0.3f, 0.7f, 0.15f, 0.85f}) {
      l.at = plus(plus(a, along, length * t), down, off);
      if (pen.letter(l)) break;
    }
  }
}

}  // namespace

void floor_drawing(DrawingPen& pen, const RoomToDraw& drawn, double vague, char decimal) {
  const HeightGrid& g = drawn.floor;
  const double interval = contour_interval(g, contour_apart / pen.view().scale);
  const auto vague_at = [&](PlanPoint p) {
    const double i = (p.x - g.x) / g.step, k = (p.y - g.y) / g.step;
    const std::size_t n = std::min(g.nx - 1, std::size_t(std::max(0.0, i + 0.5)));
    const std::size_t m = std::min(g.ny - 1, std::size_t(std::max(0.0, k + 0.5)));
    const std::size_t index = g.index(n, m);
    return !g.height[index] || g.sd[index] > vague;
  };
  steps(pen, drawn, decimal);
  // How far apart lines of equal height lie at a place, dp.
  const auto apart_at = [&](PlanPoint p, double between) {
    const auto i = std::size_t(std::clamp((p.x - g.x) / g.step, 0.0, double(g.nx - 2))),
               k = std::size_t(std::clamp((p.y - g.y) / g.step, 0.0, double(g.ny - 2)));
    const auto &h = g.height[g.index(i, k)], &right = g.height[g.index(i + 1, k)],
               &up = g.height[g.index(i, k + 1)];
    if (!h || !right || !up) return 1e9;
    const double slope = std::hypot(*right - *h, *up - *h) / g.step;
    return slope > 0 ? between / slope * pen.view().scale : 1e9;
  };
  for (const Contour& line : contours(g, interval)) {
    const bool fifth = std::abs(std::remainder(line.height, 5 * interval)) < 1e-6;
    std::vector<Spot> part;
    std::vector<Spot> longest;
    const auto end_part = [&] {
      pen.stroke(part, Ink::rule, fifth ? LineWidth::outline : LineWidth::thin);
      if (part.size() > longest.size()) longest = part;
      part.clear();
    };
    for (const PlanPoint& p : line.points) {
      if (inside(drawn.corners, p) && !vague_at(p) &&
          apart_at(p, fifth ? 5 * interval : interval) >= contour_least)
        part.push_back(pen.at(p));
      else
        end_part();
    }
    end_part();
    if (!fifth || longest.size() < 4) continue;
    Lettering l;
    l.text = shown_change(line.height, 0, decimal);
    if (line.height == 0) l.text = "0";
    l.bold = true;
    l.ink = Ink::soft;
    l.at = longest[longest.size() / 2];
    pen.letter(l);
  }
  // Where nothing is known well enough the map dissolves into dots.
  const double step = dots_apart / pen.view().scale;
  const double x1 = g.x + g.step * double(g.nx), y1 = g.y + g.step * double(g.ny);
  if (g.nx == 0 || (x1 - g.x) / step * ((y1 - g.y) / step) > 20000) return;
  for (double y = g.y + step / 2; y < y1; y += step)
    for (double x = g.x + step / 2; x < x1; x += step)
      if (inside(drawn.corners, {x, y}) && vague_at({x, y}))
        pen.drawing().primitives.push_back(Disc{pen.at({x, y}), 1, Ink::rule, true, true});
}

std::string floor_map_notes(const RoomToDraw& room) {
  std::string out;
  const auto on_layers = [](const RoomToDraw::Point& p) { return p.booked && p.stripped != 0; };
  if (std::any_of(room.points.begin(), room.points.end(), on_layers))
    out = "In brackets: less what will be stripped there.";
  if (!room.steps.empty())
    out += (out.empty() ? "" : " ") + std::string("At a step strokes run down.");
  return out;
}

}  // namespace levelrun
