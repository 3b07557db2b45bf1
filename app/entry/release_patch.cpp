#include "app/entry/release_patch.h"

#include <algorithm>
#include <cmath>

#include "app/entry/set_patch.h"
#include "checks/pointer.h"

namespace levelrun {

Json answer_patch(const Json& document, const std::string& finding, const std::string& says,
                  const std::string& by, const std::string& at, bool releases) {
  if (says.empty() || by.empty() || at.empty()) return Json::array();
  Json answer = {{"finding", finding}, {"says", says}, {"by", by}, {"at", at}};
  if (releases) answer["releases"] = true;
  if (value_at(document, "/install/answers"))
    return Json::array({{{"op", "add"}, {"path", "/install/answers/-"}, {"value", answer}}});
  return set_patch(document, "/install/answers", Json::array({answer}));
}

Json release_patch(const Json& document, const Survey& survey, const Results& results,
                   const std::string& by, const std::string& at) {
  Json patch = Json::array();
  if (!results.manufacture.open || by.empty() || at.empty()) return patch;
  for (Index r = 0; r < survey.rooms.size() && r < results.rooms.size(); ++r) {
    const std::vector<LevelGroup>& groups = survey.rooms[r].level_groups;
    const std::string list = pointer(r) + "/level_groups";
    bool has_list = value_at(document, list) != nullptr;
    for (const GroupResult& group : results.rooms[r].groups) {
      const Json set = {{"value", std::round(group.underside * 10) / 10}, {"by", by}, {"at", at}};
      const auto facts = std::find_if(groups.begin(), groups.end(),
                                      [&](const LevelGroup& g) { return g.id == group.id; });
      if (facts != groups.end()) {
        if (facts->underside_set) continue;
        patch.push_back(
            {{"op", "add"},
             {"path", list + "/" + std::to_string(facts - groups.begin()) + "/underside_set"},
             {"value", set}});
        continue;
      }
      if (!has_list) patch.push_back({{"op", "add"}, {"path", list}, {"value", Json::array()}});
      has_list = true;
      patch.push_back({{"op", "add"},
                       {"path", list + "/-"},
                       {"value", {{"id", group.id}, {"underside_set", set}}}});
    }
  }
  return patch;
}

Json reopened(const Json& document) {
  Json out = document;
  if (!out.is_object() || !out.contains("job") || !out["job"].is_object()) return out;
  const Json revision = out["job"].value("revision", Json(1));
  out["job"]["revision"] = (revision.is_number_integer() ? revision.get<int>() : 1) + 1;
  if (out.contains("install") && out["install"].is_object()) {
    const Json answers = out["install"].value("answers", Json::array());
    out.erase("install");
    if (!answers.empty()) out["install"] = {{"answers", answers}};
  }
  if (out.contains("rooms") && out["rooms"].is_array())
    for (Json& room : out["rooms"])
      if (room.is_object() && room.contains("level_groups") && room["level_groups"].is_array())
        for (Json& group : room["level_groups"])
          if (group.is_object()) group.erase("underside_set");
  return out;
}

}  // namespace levelrun
