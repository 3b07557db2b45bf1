// How much of each page is done, for the staff: readings booked of those asked for.
#pragma once

#include <vector>

#include "app/jobs/session.h"
#include "app/touch/staff.h"

namespace levelrun {

// Whether anything was read in any room: before that nothing can be judged.
bool anything_measured(const Survey&);
// Whether there is a point that the floor is read at.
bool has_floor_point(const Room&);

class Progress {
 public:
  // Job, Walk round, Levels, Walls, Runs, Findings, Release, of the room on show.
  const std::vector<StaffPage>& pages(const Session&);

 private:
  std::vector<StaffPage> pages_;
  int version_ = -1;
  Index room_ = 0;
};

}  // namespace levelrun
