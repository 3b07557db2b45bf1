#include "app/entry/propose_points.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "app/entry/set_patch.h"
#include "checks/outline.h"
#include "checks/placing.h"
#include "checks/room_plan.h"

namespace levelrun {
namespace {

constexpr double apart = 350;  // mm: below it one reading serves both; common practice, no source

std::string levels_of(Index room) { return "/rooms/" + std::to_string(room) + "/levels"; }

// Lists and benchmark that a reading needs, where they are missing.
void add_missing(Json& patch, const Json& document, const Survey& survey, Index room) {
  const std::string at = levels_of(room);
  if (!value_at(document, at))
    patch.push_back({{"op", "add"}, {"path", at}, {"value", Json::object()}});
  if (!value_at(document, at + "/points"))
    patch.push_back({{"op", "add"}, {"path", at + "/points"}, {"value", Json::array()}});
  if (!survey.rooms[room].levels.benchmark) {
    patch.push_back({{"op", "add"},
                     {"path", at + "/points/-"},
                     {"value", {{"id", "BM"}, {"off_floor", true}}}});
    patch.push_back(
        {{"op", "add"}, {"path", at + "/benchmark"}, {"value", {{"point", "BM"}, {"height", 0}}}});
  }
}

Json setup_named(const Survey& survey, const std::string& id) {
  Json setup = {{"id", id}};
  for (const Instrument& i : survey.instruments)
    if (i.kind == InstrumentKind::laser_level || i.kind == InstrumentKind::optical_level) {
      setup["instrument"] = i.id;
      break;
    }
  setup["readings"] = Json::array();
  return setup;
}

void add_setup(Json& patch, const Json& document, const Survey& survey, Index room) {
  std::set<std::string> taken;
  for (const SetUp& setup : survey.rooms[room].levels.setups) taken.insert(setup.id);
  std::string id = "A";
  for (int n = 0; taken.contains(id); ++n)
    id = n < 25 ? std::string(1, char('B' + n)) : "set-up " + std::to_string(n + 2);
  const std::string list = levels_of(room) + "/setups";
  if (!value_at(document, list))
    patch.push_back({{"op", "add"}, {"path", list}, {"value", Json::array()}});
  patch.push_back({{"op", "add"}, {"path", list + "/-"}, {"value", setup_named(survey, id)}});
}

}  // namespace

Json propose_points_patch(const Json& document, const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  const RoomPlan plan = adjust_room(survey, room_index);
  std::vector<PlanPoint> there;
  std::set<std::string> taken;
  for (const LevelPoint& point : room.levels.points) {
    taken.insert(point.id);
    if (point.place)
      if (const auto at = plan.at(*point.place)) there.push_back(*at);
  }
  Json points = Json::array();
  int next = 1;
  const auto runs = placed_runs(survey, room_index, plan);
  for (Index r = 0; r < runs.size(); ++r) {
    if (!runs[r]) continue;
    for (const bool back : {true, false})
      for (const PlacedUnit& unit : runs[r]->units)
        for (const PlacedLeg& leg : unit.legs) {
          const bool behind = leg.v < (unit.back + unit.front) / 2;
          if (behind != back || std::any_of(there.begin(), there.end(), [&](PlanPoint p) {
                return distance(p, leg.place) < apart;
              }))
            continue;
          there.push_back(leg.place);
          std::string id;
          do id = "P" + std::to_string(next++);
          while (taken.contains(id));
          Json place;
          if (const RunFrame& frame = runs[r]->frame; frame.wall)
            place = {{"wall", room.walls[*frame.wall].id},
                     {"along", std::round(room.runs[r].from_along + leg.u)},
                     {"out", std::round(frame.line + leg.v)}};
          else
            place = {{"x", std::round(leg.place.x)}, {"y", std::round(leg.place.y)}};
          points.push_back({{"id", id}, {"place", place}});
        }
  }
  Json patch = Json::array();
  if (points.empty()) return patch;
  add_missing(patch, document, survey, room_index);
  for (Json& point : points)
    patch.push_back({{"op", "add"},
                     {"path", levels_of(room_index) + "/points/-"},
                     {"value", std::move(point)}});
  if (room.levels.setups.empty()) add_setup(patch, document, survey, room_index);
  return patch;
}

Json new_setup_patch(const Json& document, const Survey& survey, Index room) {
  Json patch = Json::array();
  add_missing(patch, document, survey, room);
  add_setup(patch, document, survey, room);
  return patch;
}

}  // namespace levelrun
