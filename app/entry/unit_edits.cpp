#include "app/entry/unit_edits.h"

#include <algorithm>
#include <set>

#include "app/entry/set_patch.h"

namespace levelrun {
namespace {

Json number(double value) { return value == double(long(value)) ? Json(long(value)) : Json(value); }

Json add(const std::string& path, Json value) {
  return {{"op", "add"}, {"path", path}, {"value", std::move(value)}};
}

Json added_run(const Json& document, const Survey& survey, Index room, Json run) {
  std::set<std::string> taken;
  for (const Run& other : survey.rooms[room].runs) taken.insert(other.id);
  std::string id = "S";
  for (char c = 'S'; c < 'Z' && taken.contains(id); ++c) id = std::string(1, char(c + 1));
  for (int n = 2; taken.contains(id); ++n) id = "S" + std::to_string(n);
  Json whole = {{"id", id}};
  whole.update(run);
  whole["units"] = Json::array();
  const std::string list = "/rooms/" + std::to_string(room) + "/runs";
  Json patch = Json::array();
  if (!value_at(document, list)) patch.push_back(add(list, Json::array()));
  patch.push_back(add(list + "/-", std::move(whole)));
  return patch;
}

}  // namespace

std::string run_pointer(Index room, Index run) {
  return "/rooms/" + std::to_string(room) + "/runs/" + std::to_string(run);
}

std::string unit_pointer(Index room, Index run, Index unit) {
  return run_pointer(room, run) + "/units/" + std::to_string(unit);
}

Json add_run_patch(const Json& document, const Survey& survey, Index room, Index wall,
                   double along) {
  return added_run(document, survey, room,
                   {{"wall", survey.rooms[room].walls[wall].id},
                    {"from_along", number(along)},
                    {"starts_at", "wall"},
                    {"ends_at", "wall"}});
}

Json add_island_patch(const Json& document, const Survey& survey, Index room, double x, double y) {
  return added_run(document, survey, room,
                   {{"origin", {{"x", number(x)}, {"y", number(y)}}},
                    {"bearing", 0},
                    {"starts_at", "open"},
                    {"ends_at", "open"}});
}

Json delete_run_patch(Index room, Index run) {
  return Json::array({{{"op", "remove"}, {"path", run_pointer(room, run)}}});
}

Json add_units_patch(const Survey& survey, Index room, Index run, const std::string& kind,
                     const std::vector<double>& widths) {
  std::set<std::string> taken;
  for (const Run& other : survey.rooms[room].runs)
    for (const Unit& unit : other.units) taken.insert(unit.id);
  const std::string& letter = survey.rooms[room].runs[run].id;
  Json patch = Json::array();
  int n = 1;
  for (const double width : widths) {
    while (taken.contains(letter + std::to_string(n))) ++n;
    patch.push_back(
        add(run_pointer(room, run) + "/units/-",
            {{"id", letter + std::to_string(n++)}, {"kind", kind}, {"width", number(width)}}));
  }
  return patch;
}

Json add_unit_patch(const Survey& survey, Index room, Index run, const std::string& kind,
                    double width) {
  return add_units_patch(survey, room, run, kind, {width});
}

Json delete_unit_patch(Index room, Index run, Index unit) {
  return Json::array({{{"op", "remove"}, {"path", unit_pointer(room, run, unit)}}});
}

Json move_unit_patch(const Survey& survey, Index room, Index run, Index unit, bool right) {
  const Index count = survey.rooms[room].runs[run].units.size();
  if (right ? unit + 1 >= count : unit == 0) return Json::array();
  return Json::array({{{"op", "move"},
                       {"from", unit_pointer(room, run, unit)},
                       {"path", unit_pointer(room, run, right ? unit + 1 : unit - 1)}}});
}

Json unit_patch(const Json& document, Index room, Index run, Index unit, const std::string& field,
                const Json& value) {
  return set_patch(document, unit_pointer(room, run, unit) + "/" + field, value);
}

Json niche_patch(const Json& document, const Survey& survey, Index room, Index run, Index unit,
                 bool most, double height) {
  const std::optional<Niche>& niche = survey.rooms[room].runs[run].units[unit].niche;
  const double other = !niche ? height
                       : most ? std::min(niche->min_height, height)
                              : std::max(niche->max_height, height);
  Json value = {{"min_height", number(most ? other : height)},
                {"max_height", number(most ? height : other)}};
  const std::string at = unit_pointer(room, run, unit) + "/niche";
  if (const Json* before = value_at(document, at); before && before->is_object()) {
    Json whole = *before;
    whole.update(value);
    value = std::move(whole);
  }
  return set_patch(document, at, value);
}

std::vector<std::string> level_groups_of(const Room& room) {
  std::vector<std::string> out;
  for (const LevelGroup& group : room.level_groups) out.push_back(group.id);
  for (const Run& run : room.runs)
    if (std::find(out.begin(), out.end(), run.level_group) == out.end())
      out.push_back(run.level_group);
  return out;
}

Json list_level_groups_patch(const Json& document, const Survey& survey, Index room) {
  const std::string list = "/rooms/" + std::to_string(room) + "/level_groups";
  Json patch = Json::array();
  if (!value_at(document, list)) patch.push_back(add(list, Json::array()));
  const std::vector<std::string> groups = level_groups_of(survey.rooms[room]);
  for (std::size_t g = survey.rooms[room].level_groups.size(); g < groups.size(); ++g)
    patch.push_back(add(list + "/-", {{"id", groups[g]}}));
  return patch;
}

Json own_level_group_patch(const Json& document, const Survey& survey, Index room, Index run) {
  const std::vector<std::string> groups = level_groups_of(survey.rooms[room]);
  const auto taken = [&](const std::string& id) {
    return std::find(groups.begin(), groups.end(), id) != groups.end();
  };
  std::string id = "A";
  for (char c = 'A'; c < 'Z' && taken(id); ++c) id = std::string(1, char(c + 1));
  for (int n = 2; taken(id); ++n) id = "A" + std::to_string(n);
  Json patch = list_level_groups_patch(document, survey, room);
  patch.push_back(add("/rooms/" + std::to_string(room) + "/level_groups/-", {{"id", id}}));
  patch.push_back(add(run_pointer(room, run) + "/level_group", id));
  return patch;
}

Json asked_height_patch(const Json& document, const Survey& survey, Index room,
                        const std::string& group, double height) {
  const std::vector<std::string> groups = level_groups_of(survey.rooms[room]);
  const auto g = std::size_t(std::find(groups.begin(), groups.end(), group) - groups.begin());
  const std::string list = "/rooms/" + std::to_string(room) + "/level_groups";
  const std::string field = list + "/" + std::to_string(g) + "/asked_height";
  if (g < survey.rooms[room].level_groups.size()) return set_patch(document, field, number(height));
  Json patch = list_level_groups_patch(document, survey, room);
  patch.push_back(g < groups.size()
                      ? add(field, number(height))
                      : add(list + "/-", {{"id", group}, {"asked_height", number(height)}}));
  return patch;
}

}  // namespace levelrun
