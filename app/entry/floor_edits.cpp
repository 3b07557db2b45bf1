#include "app/entry/floor_edits.h"

#include "app/entry/rename.h"
#include "app/entry/set_patch.h"
#include "app/entry/wall_edits.h"

namespace levelrun {
namespace {

std::string in_room(Index room, const char* list) {
  return "/rooms/" + std::to_string(room) + "/" + list;
}

}  // namespace

Json floor_area_patch(const Json& document, Index room, const std::vector<Json>& outline) {
  return add_to_room_patch(
      document, room, "floor_areas",
      {{"id", free_id_in(document, in_room(room, "floor_areas"), "Area ")}, {"outline", outline}});
}

Json take_out_area_patch(const Json& document, Index room, Index area) {
  const std::string at = in_room(room, "floor_areas") + "/" + std::to_string(area);
  Json patch = Json::array();
  const Json* id = value_at(document, at + "/id");
  const std::string points = in_room(room, "levels/points");
  const Json* list = value_at(document, points);
  for (std::size_t p = 0; id && list && p < list->size(); ++p)
    if (const auto in = (*list)[p].find("area"); in != (*list)[p].end() && *in == *id)
      patch.push_back({{"op", "remove"}, {"path", points + "/" + std::to_string(p) + "/area"}});
  patch.push_back({{"op", "remove"}, {"path", at}});
  return patch;
}

Json floor_no_drill_patch(const Json& document, Index room, const std::vector<Json>& outline,
                          const std::string& why) {
  return add_to_room_patch(document, room, "no_drill", {{"outline", outline}, {"why", why}});
}

Json floor_service_patch(const Json& document, Index room, const std::string& kind,
                         const Json& place) {
  const std::string id = free_id_in_room(document, room, service_stem(kind));
  return add_to_room_patch(document, room, "services",
                           {{"id", id}, {"kind", kind}, {"place", place}});
}

}  // namespace levelrun
