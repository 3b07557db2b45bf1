// Where plinth boards stand, what floor each piece stands on, and how it rests there.
//
// Faces of a run: its front (broken by spaces and by end panels that reach the floor), a return
// at each open end, and the back of a run that stands free with an open end (an island). The front
// is carried into a side wall when no more than an infill is left, and to the other run's face at
// an inside corner, where the run that ends there passes behind the one that starts. Open ends are
// set back like the front. Left and right are as seen facing the board. A face longer than the
// stock is jointed: whole boards first, no joint within 150 of a niche (common practice, no
// source).
#pragma once

#include <span>
#include <string>
#include <vector>

#include "checks/floor_surface.h"
#include "checks/placing.h"
#include "checks/profile.h"

namespace levelrun {

struct PlinthPiece {
  Index run = 0;
  std::string face;  // front, front_2 …, left, right, back
  int piece = 1;     // of its face, from the left
  PlanPoint from, to;
  double length = 0;
  // The plinth floor under the board's face, every 100 mm, at both ends and on both sides of a
  // step between floor areas; along from the piece's own left end. Empty when the floor was not
  // read there.
  std::vector<ProfilePoint> floor;
  std::vector<ProfilePoint> hull;  // what a stiff board rests on
  double sd = 0;                   // of the plinth floor, the largest of ends and middle
  double lowest = 0, highest = 0;  // of the hull
};

std::vector<PlinthPiece> plinth_pieces(const Survey&, Index room, const RoomPlan&,
                                       const std::vector<std::optional<PlacedRun>>&,
                                       const FloorSurface&);

}  // namespace levelrun
