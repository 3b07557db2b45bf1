#include "app/install_day/task_patch.h"

#include "app/entry/set_patch.h"

namespace levelrun {

Json task_patch(const Json& document, const std::string& id, const std::string& state,
                const std::string& at, const std::string& by, const std::string& note) {
  Json entry = {{"id", id}, {"state", state}, {"at", at}, {"by", by}};
  if (!note.empty()) entry["note"] = note;
  const Json* list = value_at(document, "/install/tasks");
  if (!list) return set_patch(document, "/install/tasks", Json::array({entry}));
  for (std::size_t i = 0; i < list->size(); ++i) {
    const std::string old = "/install/tasks/" + std::to_string(i);
    const Json* same = value_at(document, old + "/id");
    if (!same || *same != id) continue;
    Json changed = (*list)[i];
    changed.erase("note");
    changed.update(entry);
    return Json::array({{{"op", "replace"}, {"path", old}, {"value", changed}}});
  }
  return Json::array({{{"op", "add"}, {"path", "/install/tasks/-"}, {"value", entry}}});
}

}  // namespace levelrun
