// The pages of the install day: what the fitter reads off on the floor, and what is ticked.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/install_day/cuts_to_make.h"
#include "app/install_day/day_changes.h"
#include "app/install_day/legs_to_set.h"
#include "app/jobs/session.h"
#include "app/screens/reading.h"
#include "app/screens/screen_context.h"
#include "app/touch/show_drawing.h"

namespace levelrun {

struct ArrivalScreen {
  int part = 0;  // laid floor, level, what changed
  bool by_staff = false;
  ReadingEntry floor, level;
  ViewMoves view;
  std::vector<ChangedLine> lines;  // worked out for one state of the survey
  int version = -1;
};

struct LegsScreen {
  std::optional<Index> leg;  // on the card, in the order of setting; empty: the next that is open
  LegsToSet legs;            // worked out for one state of the survey
  int version = -1;
  Index room = 0;
};

struct PlinthsScreen {
  std::optional<Index> cut;  // drawn; empty: the next that is to be made
  std::vector<CutToMake> cuts;
  int version = -1;
  Index room = 0;
};

void draw_arrival_screen(ScreenContext&, Box, Session&, ArrivalScreen&);
void draw_legs_screen(ScreenContext&, Box, Session&, LegsScreen&);
void draw_plinths_screen(ScreenContext&, Box, Session&, PlinthsScreen&);

}  // namespace levelrun
