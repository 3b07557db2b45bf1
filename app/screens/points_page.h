// The points that levels are read at, the benchmark and the set-ups: put down by x and y or along
// a wall, one after another on the pad; renamed, moved and taken out in a list.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/drawing/drawing.h"
#include "app/jobs/session.h"
#include "app/screens/floor_areas_page.h"
#include "app/screens/floor_services_page.h"
#include "app/screens/form.h"
#include "app/screens/screen_context.h"

namespace levelrun {

struct PointsEntry {
  bool open = false;
  FormState form;
  std::optional<Index> chosen;  // the point whose fields are open
  enum class Adding { none, choosing_wall, points };
  Adding adding = Adding::none;
  std::optional<Index> wall;  // they stand along it; else x and y
  std::optional<double> sd;   // of their places; empty: not asked yet
  std::vector<double> numbers;
  std::optional<Spot> at;  // mm, roughly, by a tap
  std::string typed, refused;
  std::size_t added = 0;
  FloorAreasEntry areas;
  FloorServicesEntry services;

  bool back();  // one step towards the list of points; false: it is on show
};

// Stands instead of the page while it is open; false: it is not. draw_plan gives the view.
bool draw_points_page(ScreenContext&, Box, Session&, PointsEntry&,
                      const std::function<DrawingView(Box)>& draw_plan);

}  // namespace levelrun
