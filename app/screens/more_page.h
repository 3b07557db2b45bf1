// What else is read on Walk round than the page asks for: a length at another height, a further
// diagonal, the angle of a corner, a ceiling; chosen by keys, its place typed on the pad. The
// reading is then asked for like any other.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/drawing/drawing.h"
#include "app/entry/protocol.h"
#include "app/jobs/session.h"
#include "app/screens/screen_context.h"

namespace levelrun {

struct MoreToRead {
  bool open = false;
  enum class What { none, length, diagonal, angle, ceiling };
  What what = What::none;
  std::vector<Index> chosen;  // walls or corners, as they are asked
  bool placed = false;        // all is chosen; numbers are left to type
  bool degrees = false, own_legs = false, other_height = false;
  std::optional<std::pair<double, double>> legs;
  std::optional<Index> setup;  // of a ceiling that is read from its level line
  std::optional<Spot> at;      // of a ceiling, mm, roughly, by a tap
  std::vector<double> numbers;
  std::string typed;

  Protocol added;           // asked for since the page was opened
  bool just_added = false;  // the page's own asks have to be made anew
};

// Begins with the corner chosen already.
void ask_corner(MoreToRead&, Index corner);

// Stands instead of the page while it is open; false: it is not. draw_plan gives the view.
bool draw_more_page(ScreenContext&, Box, Session&, MoreToRead&,
                    const std::function<DrawingView(Box)>& draw_plan);

}  // namespace levelrun
