// Every screen: reads facts, keeps what is half typed, and changes facts only through the session.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/entry/finding_rows.h"
#include "app/entry/schedule_rows.h"
#include "app/install_day/day_progress.h"
#include "app/install_day/day_screens.h"
#include "app/jobs/job_list.h"
#include "app/jobs/revisions.h"
#include "app/screens/app.h"
#include "app/screens/compare_screen.h"
#include "app/screens/form.h"
#include "app/screens/more_page.h"
#include "app/screens/offset_places.h"
#include "app/screens/outline_page.h"
#include "app/screens/photo_parts.h"
#include "app/screens/points_page.h"
#include "app/screens/progress.h"
#include "app/screens/reading.h"
#include "app/screens/screen_context.h"
#include "app/screens/two_peg_page.h"
#include "app/touch/show_drawing.h"
#include "app/touch/staff.h"

namespace levelrun {

struct JobsScreen {
  std::vector<Problem> problems;  // of the file that was asked for last
  std::string problem_path;
  std::string said;  // what came of the last deed
  std::vector<JobLine> jobs;
  bool listed = false;    // false: look again
  bool choosing = false;  // what a new job starts from
  bool opening = false;   // a path is being typed
  std::string path;
  std::string reference;  // of the new job
  OutlineEntry outline;   // of its room, where it is walked
  std::size_t like = 0;   // which job's instruments and furniture it takes, from 1; 0: the usual
  std::string search;
  JobOrder order = JobOrder::oldest;
};
struct SettingsScreen {
  std::string author;
  std::string said;  // what came of the last deed
  bool started = false;
};
struct JobScreen {
  FormState form;
  std::string said;  // what came of the last deed
  PhotoEntry photos;
  bool adding_room = false;
  OutlineEntry outline;  // of a room walked round: the one being added, else this one again
};

struct WalkScreen {
  ReadingEntry entry;
  MoreToRead more;
  ViewMoves view;
};
struct LevelsScreen {
  ReadingEntry entry;
  ViewMoves view;
  std::string said;  // what came of the last deed
  TwoPegEntry two_peg;
  PointsEntry points;
  Index setup = 0;
};
struct WallsScreen {
  ReadingEntry entry;
  ViewMoves view;
  Index wall = 0;
  std::string chosen;    // JSON Pointer of the service or opening chosen
  bool reading = false;  // the pad stands instead of the lists
  PhotoEntry photos;
  bool about = false;  // the form of what is chosen, else of the wall, stands instead of the page
  FormState form;
  OffsetPlaces places;
  // A thing being put on the wall: what, then where by a tap, then exact by the pad.
  struct Putting {
    bool open = false, opening = false;
    std::string kind;             // empty: being asked
    std::optional<Spot> at;       // mm
    std::vector<double> numbers;  // exact ones, in the order they are asked
    std::optional<Index> setup;   // the height is from its level line, else from the floor
    std::string typed;
    std::string refused;  // why it was not taken
    std::string why;      // of no drilling: in words, being typed
  } putting;
  std::string said;  // what came of the last deed
};
struct RunsScreen {
  ViewMoves view;
  Index run = 0;
  std::optional<Index> unit;  // chosen; else the next one is typed
  // What the pad types; width: of the unit chosen, else of the next one.
  enum class Field {
    width,
    starts_at,
    x,
    y,
    turned,
    worktop,
    niche_least,
    niche_most,
    height,
    depth,
    bottom
  };
  Field field = Field::width;
  int kind = 0;  // of the next unit
  std::string typed;
  std::string refused;         // why it was not taken
  bool choosing_wall = false;  // for a new run
  bool about_run = false;      // the keys are the run's own
  std::size_t units_seen = 0;  // of this run, when last drawn; 0: not yet
  bool about = false;          // the run's form stands instead of the page
  FormState form;
};
struct FindingsScreen {
  std::string chosen;  // label of the line that is open; empty: the first that needs a person
  bool closed = false, cautions = false;
  int list = 0;  // findings, then the schedules
  ViewMoves view;

  // Worked out when first needed, for one state of the survey.
  std::vector<FindingRow> findings;
  std::vector<ScheduleRow> schedule;
  std::string mark;  // of the schedule on show, where it is printed on a sheet
  int version = -1, schedule_version = -1, schedule_list = 0;
};
struct ReleaseScreen {
  std::string chosen, says, by;
  bool closed = false, answering = false, lets_pass = false;
  bool reopening = false;  // when this frame is drawn
  std::string said;        // what came of the last deed
  ViewMoves view, wall_view;
  std::vector<FindingRow> findings;
  int version = -1;

  // What changed since the revision before, where its file is on this machine.
  std::shared_ptr<const EarlierRevision> earlier;
  std::string earlier_of;            // the path that it was looked for
  std::vector<std::string> changed;  // empty: nothing, or no earlier revision
  std::string may_cut;               // in one line
};

struct Screens {
  JobsScreen jobs;
  SettingsScreen settings;
  JobScreen job;
  WalkScreen walk;
  LevelsScreen levels;
  WallsScreen walls;
  RunsScreen runs;
  FindingsScreen findings;
  ReleaseScreen release;
  CompareScreen compare;  // opened from Release
  Progress progress;
  ArrivalScreen arrival;
  SettingOutScreen setting_out;
  LegsScreen legs;
  PlinthsScreen plinths;
  HandOverScreen hand_over;
  DayProgress day_progress;

  bool back(Page);      // closes what is open on a page; false: nothing is
  void room_changed();  // forgets what belongs to the room left
  void page_left();     // forgets digits that no field took
};

void draw_jobs_screen(ScreenContext&, Box, JobsScreen&);
void draw_settings_screen(ScreenContext&, Box, SettingsScreen&);
void draw_job_screen(ScreenContext&, Box, Session&, JobScreen&);
void draw_walk_screen(ScreenContext&, Box, Session&, WalkScreen&);
void draw_levels_screen(ScreenContext&, Box, Session&, LevelsScreen&);
void draw_walls_screen(ScreenContext&, Box, Session&, WallsScreen&);
void draw_runs_screen(ScreenContext&, Box, Session&, RunsScreen&);
void draw_findings_screen(ScreenContext&, Box, Session&, FindingsScreen&);
void draw_release_screen(ScreenContext&, Box, Session&, ReleaseScreen&);

}  // namespace levelrun
