// Parts of the floor: areas with a step between them, and where nobody may drill into it. Their
// corners are put down place after place on the pad, or by taps on the plan.
#pragma once

#include <string>
#include <vector>

#include "app/screens/form.h"
#include "app/screens/plan_place.h"

namespace levelrun {

struct FloorAreasEntry {
  bool open = false;
  FormState form;
  enum class Adding { none, area, no_drill };
  Adding adding = Adding::none;
  std::vector<Json> corners;  // of the one being added, as the file has places
  bool asking_why = false;    // of no drilling
  std::string why;            // being typed
  PlacePad pad;
  ViewMoves view;

  bool back();  // one step; false: its list is on show
};

void draw_floor_areas_page(ScreenContext&, Box, Session&, FloorAreasEntry&);

}  // namespace levelrun
