// How far the day has come, for the staff: what is measured, marked, set, cut and ticked of what
// there is. Hand-over counts the checklist of the whole job, the others the room on show.
#pragma once

#include <vector>

#include "app/jobs/session.h"
#include "app/touch/staff.h"

namespace levelrun {

class DayProgress {
 public:
  // The day's pages in their order, of the room on show.
  const std::vector<StaffPage>& pages(Session&);

 private:
  std::vector<StaffPage> pages_;
  int version_ = -1;
  Index room_ = 0;
};

}  // namespace levelrun
