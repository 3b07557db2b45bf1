#include "app/screens/release_standing.h"

#include "app/screens/progress.h"

namespace levelrun {

ReleaseStanding release_standing(const Survey& survey, const Results& results) {
  ReleaseStanding out;
  bool any = false, all = true;
  for (const RoomResult& room : results.rooms)
    for (const GroupResult& group : room.groups) {
      any = true;
      all = all && group.set;
    }
  for (const Room& room : survey.rooms)
    for (const LevelGroup& group : room.level_groups)
      if (group.underside_set && group.underside_set->at >= out.at) {
        out.by = group.underside_set->by;
        out.at = group.underside_set->at;
      }
  const bool open = results.manufacture.open && anything_measured(survey);
  out.released = any && all && open;
  out.free = any && !all && open;
  return out;
}

}  // namespace levelrun
