#include "app/jobs/new_job.h"

#include <algorithm>
#include <cctype>

#include "app/entry/set_patch.h"

namespace levelrun {
namespace {

// sd of one booked reading: tape and staff as usually read (common practice, no source); distance
// meter: half of a maker's ±2 mm, which is a 2 sigma figure (ISO 16331-1 conditions).
Json usual_instruments() {
  return Json::array({{{"id", "DM"}, {"kind", "distance_meter"}, {"sd", 1.0}},
                      {{"id", "TAPE"}, {"kind", "tape"}, {"sd", 2.0}},
                      {{"id", "LASER"}, {"kind", "laser_level"}, {"sd", 0.7}}});
}

// A common range of adjustable legs; common practice, no source.
Json usual_legs() {
  return Json::array(
      {{{"id", "100–150"}, {"min", 100}, {"max", 150}, {"supplied", 120}, {"pitch", 1.5}},
       {{"id", "145–210"}, {"min", 145}, {"max", 210}, {"supplied", 165}, {"pitch", 1.5}}});
}

// level: the instrument of its first set-up; empty: not said.
Json empty_room(const std::string& id, const std::string& name, const RoomStart& start,
                const std::string& level) {
  Json corners = Json::array(), walls = Json::array();
  const std::size_t n = start.corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    Json corner = {{"id", "C" + std::to_string(i + 1)}};
    if (start.corners[i] != 90) corner["angle"] = number_as_written(start.corners[i]);
    corners.push_back(corner);
    Json wall = {{"id", "W" + std::to_string(i + 1)},
                 {"from", "C" + std::to_string(i + 1)},
                 {"to", "C" + std::to_string((i + 1) % n + 1)}};
    if (i < start.rough.size() && start.rough[i])
      wall["rough"] = number_as_written(*start.rough[i]);
    walls.push_back(wall);
  }
  Json setup = {{"id", "A"}, {"readings", Json::array()}};
  if (!level.empty()) setup["instrument"] = level;
  return {{"id", id},
          {"name", name},
          {"corners", corners},
          {"walls", walls},
          {"levels",
           {{"benchmark", {{"point", "BM"}}},
            {"points", Json::array({{{"id", "BM"}, {"off_floor", true}}})},
            {"setups", Json::array({setup})}}}};
}

std::string first_level(const Json& document) {
  for (const Json& one : document.value("instruments", Json::array()))
    if (one.value("kind", "") == "laser_level" || one.value("kind", "") == "optical_level")
      return one.value("id", "");
  return {};
}

Json on_wall(const char* wall, double along, double out) {
  return {{"wall", wall}, {"along", along}, {"out", out}};
}

}  // namespace

const std::vector<UsualRoom>& usual_rooms() {
  static const std::vector<UsualRoom> rooms = {
      {"4 corners", {{90, 90, 90, 90}, {}}},
      {"6 corners, one inside", {{90, 90, 90, 90, 270, 90}, {}}},
      {"8 corners, chimney breast", {{90, 90, 90, 90, 270, 90, 90, 270}, {}}}};
  return rooms;
}

Json new_job(const std::string& reference, const std::string& surveyor, const std::string& date,
             const RoomStart& start, const Json& like) {
  Json job = {{"reference", reference}};
  if (!surveyor.empty()) job["surveyor"] = surveyor;
  job["surveyed_on"] = date;
  Json out = {{"format", "levelrun-survey"},
              {"version", 1},
              {"job", job},
              {"instruments", usual_instruments()},
              {"furniture", {{"legs", usual_legs()}}}};
  if (like.is_object()) {
    for (const char* name : {"instruments", "furniture"}) {
      out.erase(name);
      if (like.contains(name)) out[name] = like[name];
    }
    const Json its_job = like.value("job", Json::object());
    for (const char* name : {"tolerance_table", "show"})
      if (its_job.contains(name)) out["job"][name] = its_job[name];
  }
  out["rooms"] = Json::array({empty_room("R1", "Kitchen", start, first_level(out))});
  return out;
}

Json practice_job(const std::string& surveyor, const std::string& date) {
  Json out = new_job("PRACTICE", surveyor, date, usual_rooms().front().start);
  out["job"]["notes"] =
      "Type these as if you read them. Walk round: W1 2412 (at 2000 high too), W2 3006, W3 2410, "
      "W4 3060 (two digits "
      "are swapped: see what the page says, then book 3006), diagonals 3854. Levels, from BM on: "
      "1300, 1304, 1306, 1309, 1303, 1307, 1310, BM again 1300.";
  Json& room = out["rooms"][0];
  room["diagonals"] = Json::array();
  room["runs"] = Json::array(
      {{{"id", "S"},
        {"wall", "W1"},
        {"from_along", 40},
        {"starts_at", "wall"},
        {"ends_at", "open"},
        {"units",
         Json::array({{{"id", "S1"}, {"kind", "base"}, {"width", 600}},
                      {{"id", "S2"}, {"kind", "base"}, {"width", 600}, {"houses", "sink"}},
                      {{"id", "S3"}, {"kind", "base"}, {"width", 800}, {"drawers", true}}})}}});
  const double at[][2] = {{100, 80}, {900, 80}, {2000, 80}, {100, 520}, {900, 520}, {2000, 520}};
  int n = 1;
  for (const auto& p : at)
    room["levels"]["points"].push_back(
        {{"id", "P" + std::to_string(n++)}, {"place", on_wall("W1", p[0], p[1])}});
  return out;
}

Json next_revision(const Json& document) {
  Json out = document;
  if (!out.is_object() || !out.contains("job")) return out;
  const int revision = out["job"].value("revision", 1);
  out["job"]["revision"] = revision + 1;
  out.erase("install");
  return out;
}

std::string job_file_name(const Json& document) {
  const Json job = document.value("job", Json::object());
  std::string name;
  for (const char c : job.value("reference", std::string("job")))
    name += std::isalnum(static_cast<unsigned char>(c)) || c == '-' || c == '_' ? c : '_';
  const int revision = job.value("revision", 1);
  if (revision > 1) name += "-rev" + std::to_string(revision);
  return (name.empty() ? "job" : name) + ".levelrun.json";
}

Json room_patch(const Json& document, const RoomStart& start) {
  // The next number that no room has yet.
  const Json rooms = document.value("rooms", Json::array());
  std::size_t n = rooms.size() + 1;
  const auto taken = [&](const std::string& id) {
    return std::any_of(rooms.begin(), rooms.end(),
                       [&](const Json& room) { return room.value("id", "") == id; });
  };
  while (taken("R" + std::to_string(n))) ++n;
  const Json room = empty_room("R" + std::to_string(n), "Room " + std::to_string(n), start,
                               first_level(document));
  if (rooms.empty())
    return Json::array({{{"op", "add"}, {"path", "/rooms"}, {"value", Json::array({room})}}});
  return Json::array({{{"op", "add"}, {"path", "/rooms/-"}, {"value", room}}});
}

Json outline_patch(const Json& document, std::size_t room, const RoomStart& start) {
  const std::string at = "/rooms/" + std::to_string(room);
  const Json& now = document.at(Json::json_pointer(at));
  Json fresh = empty_room("", "", start, "");
  const auto put = [&](const std::string& path, const Json& value) {
    return Json{{"op", "add"}, {"path", at + path}, {"value", value}};
  };
  Json patch = Json::array();
  if (now["corners"].size() != start.corners.size()) {
    const Json bare = empty_room("", "", start, first_level(document));
    for (const auto& [name, value] : now.items())
      if (name != "id" && name != "name" && name != "corners" && name != "walls" &&
          !value.empty() && (!bare.contains(name) || value != bare.at(name)))
        return patch;
    for (const Json& wall : now["walls"])
      for (const auto& [name, value] : wall.items())
        if (name != "id" && name != "from" && name != "to" && name != "rough") return patch;
    patch.push_back(put("/corners", fresh["corners"]));
    patch.push_back(put("/walls", fresh["walls"]));
    return patch;
  }
  // The wall that goes from a corner need not stand at the same place of its list.
  Json corners = now["corners"], walls = now["walls"];
  for (std::size_t i = 0; i < corners.size(); ++i) {
    corners[i].erase("angle");
    if (fresh["corners"][i].contains("angle")) corners[i]["angle"] = fresh["corners"][i]["angle"];
    for (Json& wall : walls) {
      if (wall["from"] != corners[i]["id"]) continue;
      wall.erase("rough");
      if (fresh["walls"][i].contains("rough")) wall["rough"] = fresh["walls"][i]["rough"];
    }
  }
  patch.push_back(put("/corners", corners));
  patch.push_back(put("/walls", walls));
  return patch;
}

}  // namespace levelrun
