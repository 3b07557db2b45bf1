#include "app/drawing/elevation_view.h"

#include <algorithm>

#include "app/drawing/level_notes.h"

namespace levelrun {
namespace {

constexpr double unread_ceiling = 2400;  // mm: drawn this high until somebody knows
constexpr float below = 24;              // dp under the floor
constexpr float bare_edge = 14;          // dp where nothing stands

float caption(float text_scale) { return lettering_height(TextHeight::caption, text_scale); }

}  // namespace

ElevationEdges elevation_edges(const Box& box, float text_scale, bool window) {
  const float line = caption(text_scale) * 1.25f + 8;
  const float one = overall_away + line + 4;
  const float two = chain_away + chain_step * text_scale + line + 4;
  ElevationEdges e{Around::all, window ? two : one, level_notes_width(text_scale), two,
                   below + caption(text_scale) * 1.2f};
  if ((one + below) * 2 > box.h)
    return {Around::nothing, bare_edge, bare_edge, bare_edge / 2, bare_edge};
  if ((e.top + e.low) * 2 > box.h) return {Around::length, bare_edge, bare_edge, one, below};
  if (e.left + e.right > box.w * 0.5f) return {Around::little, one, bare_edge, e.top, e.low};
  return e;
}

std::optional<double> wall_floor(const RoomToDraw& drawn, Index wall, double along) {
  const HeightGrid& g = drawn.floor;
  if (wall >= drawn.walls.size() || g.nx == 0 || g.ny == 0) return {};
  const WallLine& line = drawn.walls[wall];
  // A grid point may lie behind the wall: then the next one out.
  for (const double out : {100.0, 150.0, 200.0, 300.0}) {
    const double x = (line.from.x + line.along.x * along + line.out.x * out - g.x) / g.step;
    const double y = (line.from.y + line.along.y * along + line.out.y * out - g.y) / g.step;
    const auto i = std::size_t(std::clamp(x + 0.5, 0.0, double(g.nx - 1)));
    const auto k = std::size_t(std::clamp(y + 0.5, 0.0, double(g.ny - 1)));
    if (const auto& height = g.height[g.index(i, k)]) return height;
  }
  return {};
}

std::optional<double> surveyed_floor(const RoomToDraw& drawn, Index wall) {
  if (wall >= drawn.walls.size()) return {};
  const auto bare = wall_floor(drawn, wall, drawn.walls[wall].length / 2);
  return bare ? std::optional(*bare + drawn.stripped[wall]) : std::nullopt;
}

double above_floor(const MeasuredHeight& h, const RoomToDraw& drawn, double floor) {
  if (!h.setup || *h.setup >= drawn.planes.size() || !drawn.planes[*h.setup]) return h.value;
  return drawn.planes[*h.setup]->value + h.value - floor;
}

WallExtent wall_extent(const Survey& survey, const RoomToDraw& drawn, Index wall) {
  WallExtent out;
  if (wall >= drawn.walls.size()) return out;
  out.length = drawn.walls[wall].length;
  const Room& room = survey.rooms[drawn.room];
  const double floor = surveyed_floor(drawn, wall).value_or(0);
  double sum_here = 0, sum = 0;
  int here = 0, all = 0;
  for (const CeilingReading& c : room.ceilings) {
    const double high = above_floor(c.height, drawn, floor);
    sum += high, ++all;
    if (c.place.wall == wall) sum_here += high, ++here;
  }
  out.ceiling_read = all > 0;
  out.height = here > 0 ? sum_here / here : all > 0 ? sum / all : unread_ceiling;
  for (const Opening& o : room.openings)
    out.window = out.window || (o.wall == wall && o.kind == OpeningKind::window);
  return out;
}

DrawingView elevation_view(const WallExtent& extent, Box box, float text_scale) {
  DrawingView view;
  view.box = box;
  const ElevationEdges e = elevation_edges(box, text_scale, extent.window);
  view.scale =
      std::max(1e-4, std::min(double(box.w - e.left - e.right) / std::max(1.0, extent.length),
                              double(box.h - e.top - e.low) / std::max(1.0, extent.height)));
  // The middle of what is shown, edges counted.
  view.x = extent.length / 2 + double(e.right - e.left) / 2 / view.scale;
  view.y = extent.height / 2 + double(e.top - e.low) / 2 / view.scale;
  return view;
}

}  // namespace levelrun
