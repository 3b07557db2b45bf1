// The checklist of the install day: what is to be done in this job, in working order, with
// cautions where work can hurt.
//
// A task's id is made of what it is about ("legs S4", "plinth S front"), so a tick in the file
// (install.tasks) still matches when the survey is solved again. Ids have at most 40 characters,
// as the file allows; a longer one ends in a checksum. In a survey of several rooms a second task
// of the same name has its room added.
// State: as ticked. A task that is not needed must say why, else it counts as open. Legs all set
// (install.set_legs) make their unit's task done without a tick, by whom and when they were last
// set. Ticks of tasks that the job no longer has are kept and listed in `unmatched`.
// Cautions defer to a licensed person and the local code; none is an approval.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

enum class TaskState { open, done, not_needed };

// Working order.
enum class TaskStage { arrive, mark, hang, set, level, fix, services, worktop, plinth, hand_over };

struct InstallTask {
  std::string id;
  TaskStage stage = TaskStage::arrive;
  std::string room;                   // id; "": the whole job
  std::string about;                  // ids of what it is about: unit, run, wall
  std::string says;                   // what to do, one sentence
  std::vector<std::string> cautions;  // sentences
  TaskState state = TaskState::open;
  std::string at, by, note;  // of the tick
  std::string trouble;       // why a tick does not count: "not needed, but no reason"
};

struct InstallTasks {
  std::vector<InstallTask> tasks;  // in working order
  int done = 0, not_needed = 0, open = 0;
  std::vector<Task> unmatched;  // ticks that belong to no task of this job
};

InstallTasks install_tasks(const Survey&, const Results&);

std::string_view word(TaskState);  // open, done, not_needed
std::string_view word(TaskStage);  // "arrive", "mark out", …

}  // namespace levelrun
