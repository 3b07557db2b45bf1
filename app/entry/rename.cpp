#include "app/entry/rename.h"

#include <set>
#include <vector>

#include "app/entry/set_patch.h"

namespace levelrun {
namespace {

struct Names {
  const Json& document;
  const std::string& old_id;
  const std::string& id;
  Json patch = Json::array();

  void set(const std::string& at) {
    patch.push_back({{"op", "replace"}, {"path", at}, {"value", id}});
  }

  // Every member `name` under `at` that holds the old id.
  void under(const std::string& at, const std::string& name) {
    if (const Json* value = value_at(document, at)) walk(*value, at, name);
  }

 private:
  void walk(const Json& value, const std::string& at, const std::string& name) {
    if (value.is_array()) {
      for (std::size_t i = 0; i < value.size(); ++i)
        walk(value[i], at + "/" + std::to_string(i), name);
    } else if (value.is_object()) {
      for (const auto& member : value.items()) {
        // Names of ours only: what needs escaping in a pointer is no field that names a thing.
        if (member.key().find_first_of("~/") != std::string::npos) continue;
        const std::string where = at + "/" + member.key();
        if (member.key() == name && member.value() == old_id)
          set(where);
        else
          walk(member.value(), where, name);
      }
    }
  }
};

}  // namespace

Json rename_patch(const Json& document, const std::string& at, const std::string& id) {
  const Json* now = value_at(document, at + "/id");
  const std::string old_id = now && now->is_string() ? now->get<std::string>() : "";
  Names names{document, old_id, id};
  if (!now) return names.patch;
  names.set(at + "/id");
  const std::string list = at.substr(0, at.rfind('/'));
  // "/rooms/2" of whatever lies in it.
  const std::size_t end = at.find('/', 7);
  const std::string room = at.starts_with("/rooms/") ? at.substr(0, end) : "";
  if (list == "/instruments") {
    names.under("/rooms", "instrument");
    names.under("/install", "instrument");
  } else if (list == "/furniture/legs") {
    names.under("/rooms", "leg");
  } else if (list == "/rooms") {
    names.under("/install", "room");
  } else if (list == room + "/levels/points") {
    names.under(room + "/levels", "point");
    // The day's set-ups name points without their room: theirs is the only one of that id.
    std::size_t rooms_with_it = 0;
    if (const Json* rooms = value_at(document, "/rooms"); rooms && rooms->is_array())
      for (std::size_t r = 0; r < rooms->size(); ++r)
        if (const Json* points =
                value_at(document, "/rooms/" + std::to_string(r) + "/levels/points"))
          for (const Json& point : *points) rooms_with_it += point.value("id", "") == old_id;
    if (rooms_with_it == 1) names.under("/install/setups", "point");
  } else if (list == room + "/floor_areas") {
    names.under(room + "/levels/points", "area");
    names.under(room + "/flooring", "area");
  } else if (list == room + "/level_groups") {
    names.under(room + "/runs", "level_group");
    // A run that names none is in the group that is usual.
    const Json* runs = value_at(document, room + "/runs");
    for (std::size_t r = 0; runs && old_id == Run{}.level_group && r < runs->size(); ++r)
      if (!(*runs)[r].contains("level_group"))
        names.patch.push_back({{"op", "add"},
                               {"path", room + "/runs/" + std::to_string(r) + "/level_group"},
                               {"value", id}});
  } else if (list == room + "/levels/setups") {
    // Walls and diagonals have a `from` too: a corner.
    for (const char* with_heights : {"/openings", "/services", "/ceilings"})
      names.under(room + with_heights, "from");
  }
  return names.patch;
}

std::string free_id_in(const Json& document, const std::string& list, const std::string& stem) {
  std::set<std::string> taken;
  if (const Json* values = value_at(document, list); values && values->is_array())
    for (const Json& one : *values)
      if (const auto id = one.find("id"); id != one.end() && id->is_string())
        taken.insert(id->get<std::string>());
  int n = 1;
  while (taken.contains(stem + std::to_string(n))) ++n;
  return stem + std::to_string(n);
}

}  // namespace levelrun
