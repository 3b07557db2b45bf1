#include "app/entry/wall_edits.h"

#include <algorithm>
#include <set>

#include "app/drawing/service_symbols.h"
#include "app/entry/set_patch.h"
#include "survey/words.h"

namespace levelrun {
namespace {

Json number(double value) { return value == double(long(value)) ? Json(long(value)) : Json(value); }

// A height and what it is from, beside each other in the thing that has it.
void add_height(Json& thing, const char* field, const OnWall& place) {
  thing[field] = number(place.height);
  if (!place.setup.empty()) thing["from"] = place.setup;
}

void take_ids(const Json* list, std::set<std::string>& taken) {
  if (!list || !list->is_array()) return;
  for (const Json& one : *list) {
    if (const auto id = one.find("id"); id != one.end() && id->is_string())
      taken.insert(id->get<std::string>());
    if (const auto units = one.find("units"); units != one.end()) take_ids(&*units, taken);
  }
}

}  // namespace

std::string service_stem(const std::string& kind) {
  if (kind == "waste") return "WA";  // W1 would be read as a wall
  for (std::size_t k = 0; k < service_words.size(); ++k) {
    const std::string letters = service_letters(ServiceKind(k));
    if (kind == service_words[k] && letters != "?") return letters;
  }
  return "X";
}

std::string free_id_in_room(const Json& document, Index room, const std::string& stem) {
  std::set<std::string> taken;
  for (const char* list : {"walls", "corners", "openings", "services", "runs"})
    take_ids(value_at(document, "/rooms/" + std::to_string(room) + "/" + list), taken);
  int n = 1;
  while (taken.contains(stem + std::to_string(n))) ++n;
  return stem + std::to_string(n);
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
  Json value = {{"id", free_id_in_room(document, room, service_stem(kind))},
                {"kind", kind},
                {"wall", survey.rooms[room].walls[wall].id},
                {"along", number(place.along)}};
  add_height(value, "height", place);
  return add_to_room_patch(document, room, "services", std::move(value));
}

Json add_opening_patch(const Json& document, const Survey& survey, Index room, Index wall,
                       const std::string& kind, const OnWall& place, double width, double height) {
  Json value = {{"id", free_id_in_room(document, room, kind + " ")},
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
