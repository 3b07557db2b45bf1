#include "app/entry/wall_edits.h"

#include <algorithm>
#include <set>

#include "app/entry/set_patch.h"

namespace levelrun {
namespace {

Json number(double value) { return value == double(long(value)) ? Json(long(value)) : Json(value); }

// A height and what it is from, beside each other in the thing that has it.
void add_height(Json& thing, const char* field, const OnWall& place) {
  thing[field] = number(place.height);
  if (!place.setup.empty()) thing["from"] = place.setup;
}

template <class List>
std::string free_id(const List& list, const std::string& stem) {
  std::set<std::string> taken;
  for (const auto& one : list) taken.insert(one.id);
  std::string id;
  int n = 1;
  do id = stem + std::to_string(n++);
  while (taken.contains(id));
  return id;
}

}  // namespace

std::string service_stem(const std::string& kind) {
  static const std::pair<const char*, const char*> stems[] = {
      {"socket", "SO"}, {"cold_water", "CW"}, {"hot_water", "HW"},
      {"waste", "W"},   {"gas", "G"},         {"switch", "SW"},
      {"data", "D"},    {"duct", "DU"},       {"soil_stack", "SP"}};
  for (const auto& [name, stem] : stems)
    if (kind == name) return stem;
  return "X";
}

Json add_to_room_patch(const Json& document, Index room, const std::string& list, Json value) {
  const std::string at = "/rooms/" + std::to_string(room) + "/" + list;
  Json patch = Json::array();
  if (!value_at(document, at))
    patch.push_back({{"op", "add"}, {"path", at}, {"value", Json::array()}});
  patch.push_back({{"op", "add"}, {"path", at + "/-"}, {"value", std::move(value)}});
  return patch;
}

Json add_service_patch(const Json& document, const Survey& survey, Index room, Index wall,
                       const std::string& kind, const OnWall& place) {
  Json value = {{"id", free_id(survey.rooms[room].services, service_stem(kind))},
                {"kind", kind},
                {"wall", survey.rooms[room].walls[wall].id},
                {"along", number(place.along)}};
  add_height(value, "height", place);
  return add_to_room_patch(document, room, "services", std::move(value));
}

Json add_opening_patch(const Json& document, const Survey& survey, Index room, Index wall,
                       const std::string& kind, const OnWall& place, double width, double height) {
  Json value = {{"id", free_id(survey.rooms[room].openings, kind + " ")},
                {"wall", survey.rooms[room].walls[wall].id},
                {"kind", kind},
                {"left", number(place.along)},
                {"width", number(width)},
                {"height", number(height)}};
  if (kind == "window") add_height(value, "sill", place);
  return add_to_room_patch(document, room, "openings", std::move(value));
}

Json add_no_drill_patch(const Json& document, const Survey& survey, Index room, Index wall,
                        const OnWall& place, double width, double height_of,
                        const std::string& why) {
  return add_to_room_patch(document, room, "no_drill",
                           {{"wall", survey.rooms[room].walls[wall].id},
                            {"along", number(place.along)},
                            {"height", number(place.height)},
                            {"width", number(width)},
                            {"height_of", number(height_of)},
                            {"why", why}});
}

Json remove_patch(const std::string& at) { return Json::array({{{"op", "remove"}, {"path", at}}}); }

}  // namespace levelrun
