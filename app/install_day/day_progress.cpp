#include "app/install_day/day_progress.h"

#include "app/install_day/cuts_to_make.h"
#include "app/install_day/day_asks.h"
#include "app/install_day/legs_to_set.h"
#include "checks/install_tasks.h"

namespace levelrun {

const std::vector<StaffPage>& DayProgress::pages(Session& session) {
  if (session.version() == version_ && session.room == room_ && !pages_.empty()) return pages_;
  version_ = session.version();
  room_ = session.room;
  pages_ = {{"Arrival", "Arrival", 0, 0, ""},
            {"Setting out", "Set out", 0, 0, ""},
            {"Legs", "Legs", 0, 0, ""},
            {"Plinths", "Plinths", 0, 0, ""},
            {"Hand-over", "Hand-over", 0, 0, ""}};
  const RoomResult* result = session.room_result();
  if (!result) return pages_;
  for (const Ask& ask : laid_floor_asks(session.survey(), room_, false)) {
    pages_[0].done += ask.booked.has_value();
    ++pages_[0].all;
  }
  const InstallTasks tasks = install_tasks(session.survey(), session.results());
  for (const InstallTask& task : tasks.tasks)
    if (task.stage == TaskStage::mark && task.room == result->id) {
      pages_[1].done += task.state != TaskState::open;
      ++pages_[1].all;
    }
  const LegsToSet legs = legs_to_set(session.survey(), room_, *result, session.drawn().runs,
                                     session.results().install);
  pages_[2].done = legs.set();
  pages_[2].all = int(legs.legs.size());
  for (const CutToMake& cut : cuts_to_make(session.survey(), *result, tasks)) {
    pages_[3].done += cut.done;
    ++pages_[3].all;
  }
  pages_[4].done = tasks.done + tasks.not_needed;
  pages_[4].all = pages_[4].done + tasks.open;
  for (StaffPage& page : pages_)
    if (page.all > page.done) page.left = std::to_string(page.all - page.done) + " left";
  // The whole checklist is done, but the job is not signed off.
  if (pages_[4].left.empty() && pages_[4].all > 0 && !session.signed_off())
    pages_[4].left = "to sign";
  return pages_;
}

}  // namespace levelrun
