// What an elevation shows of its wall: how long and high it is, where its floor lies, and how much
// room its dimensions and levels take around it.
#pragma once

#include <optional>

#include "app/drawing/drawing.h"
#include "app/drawing/room_to_draw.h"

namespace levelrun {

struct WallExtent {
  double length = 0, height = 0;  // mm; height: of the ceilings read at the wall, else in the room
  bool ceiling_read = false;      // false: drawn 2,400 high until somebody knows
  bool window = false;            // its heights are chained beside the overall one
};
WallExtent wall_extent(const Survey&, const RoomToDraw&, Index wall);

// The bare floor above the benchmark at the wall's foot, mm; empty: not known.
std::optional<double> wall_floor(const RoomToDraw&, Index wall, double along);

// The floor that was surveyed, with what will be stripped of it, above the benchmark at the wall's
// middle, mm: what heights "from the floor" count from. Empty: not known.
std::optional<double> surveyed_floor(const RoomToDraw&, Index wall);

// A measured height above a floor that lies so far above the benchmark, mm.
double above_floor(const MeasuredHeight&, const RoomToDraw&, double floor);

// How much stands around the wall: all; no column of levels and one of heights; its length only;
// nothing.
enum class Around { all, little, length, nothing };

struct ElevationEdges {  // dp
  Around around = Around::all;
  float left = 0, right = 0, top = 0, low = 0;
};
ElevationEdges elevation_edges(const Box&, float text_scale, bool window);

// dp from the face to the chained dimensions and to an overall one alone; from one to the next.
inline constexpr float chain_away = 14, overall_away = 20, chain_step = 24;

// Fits the wall into the box with room for what stands around it.
DrawingView elevation_view(const WallExtent&, Box, float text_scale = 1);

}  // namespace levelrun
