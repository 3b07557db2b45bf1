// The pages of the install day: what the fitter reads off on the floor, and what is ticked.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/install_day/cuts_to_make.h"
#include "app/install_day/day_changes.h"
#include "app/install_day/legs_to_set.h"
#include "app/jobs/session.h"
#include "app/screens/photo_parts.h"
#include "app/screens/reading.h"
#include "app/screens/screen_context.h"
#include "app/touch/show_drawing.h"
#include "checks/install_tasks.h"
#include "checks/setting_out.h"
#include "checks/sign_off.h"

namespace levelrun {

struct ArrivalScreen {
  int part = 0;  // laid floor, level, what changed
  bool by_staff = false;
  ReadingEntry floor, level;
  ViewMoves view;
  std::vector<ChangedLine> lines;  // worked out for one state of the survey
  int version = -1;
};

// The marks on one wall, or where a run stands that is at none.
struct MarkStation {
  std::string id;             // of the wall, or of the run
  std::optional<Index> wall;  // empty: a run that stands free
  std::string task;           // its id in the checklist; "": none
  bool done = false;
};
struct SettingOutScreen {
  Index at = 0;
  std::string chosen;  // label of the mark shown in the drawing
  ViewMoves view;
  std::vector<MarkStation> stations;  // worked out for one state of the survey
  SettingOut marks;
  int version = -1;
  Index room = 0;
};

// Levels of set cabinets, and the turns that follow.
struct LevelCheck {
  bool open = false, turns = false;
  ReadingEntry entry;
  std::string unit;  // whose turns are on the card; empty: the first that is not level
  ViewMoves view;
};

struct LegsScreen {
  std::optional<Index> leg;  // on the card, in the order of setting; empty: the next that is open
  LevelCheck check;
  LegsToSet legs;  // worked out for one state of the survey
  int version = -1;
  Index room = 0;
};

struct PlinthsScreen {
  std::optional<Index> cut;  // drawn; empty: the next that is to be made
  std::vector<CutToMake> cuts;
  int version = -1;
  Index room = 0;
};

struct HandOverScreen {
  int part = 0;      // checklist, snags, sign-off
  std::string task;  // chosen; empty: the first that is open
  bool task_closed = false, to_chosen = true;
  bool asking_why = false;  // why the chosen task is not needed
  std::string why;
  std::optional<Index> snag;
  std::string snag_text, said;
  PhotoEntry photos;     // of snags
  bool placing = false;  // where the chosen snag is
  ViewMoves snag_view;
  std::string by, role, note, reopen_why;
  bool by_started = false;
  InstallTasks tasks;  // worked out for one state of the survey
  SignOffState state;
  bool changed_since = false;  // it was signed off
  int version = -1;
};

void draw_arrival_screen(ScreenContext&, Box, Session&, ArrivalScreen&);
void draw_setting_out_screen(ScreenContext&, Box, Session&, SettingOutScreen&);
void draw_legs_screen(ScreenContext&, Box, Session&, LegsScreen&);
void draw_plinths_screen(ScreenContext&, Box, Session&, PlinthsScreen&);
void draw_hand_over_screen(ScreenContext&, Box, Session&, HandOverScreen&);

// Snags, a part of Hand-over: `foot` for its keys.
void draw_snags(ScreenContext&, Box, Box foot, Session&, HandOverScreen&);
// Stands instead of the whole page: a photo large, or the plan on which a snag is placed. False:
// neither is open.
bool draw_snag_page(ScreenContext&, Box, Session&, HandOverScreen&);

// Stands instead of the Legs page while it is open.
void draw_level_check(ScreenContext&, Box, Session&, LevelCheck&);

}  // namespace levelrun
