#include "app/install_day/accept_underside.h"

#include <cmath>

#include "app/entry/set_patch.h"
#include "checks/pointer.h"

namespace levelrun {

Json accept_underside_patch(const Json& document, const Survey& survey,
                            const UndersideProposal& proposal, const std::string& by,
                            const std::string& at) {
  for (Index r = 0; r < survey.rooms.size(); ++r) {
    if (survey.rooms[r].id != proposal.room) continue;
    const std::vector<LevelGroup>& groups = survey.rooms[r].level_groups;
    for (Index g = 0; g < groups.size(); ++g) {
      if (groups[g].id != proposal.group || !groups[g].underside_set) continue;
      const std::string path = pointer(r) + "/level_groups/" + std::to_string(g) + "/underside_set";
      const Json* was = value_at(document, path);
      Json set = was ? *was : Json::object();
      set["value"] = std::round(proposal.proposed * 10) / 10;
      set["by"] = by;
      set["at"] = at;
      set["released"] = groups[g].underside_set->released.value_or(groups[g].underside_set->value);
      return Json::array({{{"op", "replace"}, {"path", path}, {"value", set}}});
    }
  }
  return Json::array();
}

}  // namespace levelrun
