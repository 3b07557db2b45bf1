// Services that come out of the floor and stand on no wall: a soil pipe, a gully, a floor duct. Put
// there by kind, x and y; what else there is to say of them is in their form.
#pragma once

#include <optional>
#include <string>

#include "app/screens/form.h"
#include "app/screens/plan_place.h"

namespace levelrun {

struct FloorServicesEntry {
  bool open = false;
  FormState form;
  std::optional<Index> chosen;  // the service whose fields are open
  bool adding = false;
  std::string kind;  // of the one being added; empty: being asked
  PlacePad pad;
  ViewMoves view;

  bool back();  // one step; false: its list is on show
};

void draw_floor_services_page(ScreenContext&, Box, Session&, FloorServicesEntry&);

}  // namespace levelrun
