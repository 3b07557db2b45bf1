#include "app/install_day/day_asks.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "app/entry/set_patch.h"
#include "app/install_day/legs_to_set.h"
#include "checks/flooring.h"
#include "checks/outline.h"
#include "checks/placing.h"
#include "checks/room_plan.h"

namespace levelrun {
namespace {

// mm; common practice, no source
constexpr double from_end = 300;      // of a run: where its floor is measured
constexpr double before_front = 150;  // out of the fitter's way, and clear of the plinth
constexpr double same_place = 250;    // a booking this near answers for the place
constexpr double gauge_sd = 1;        // of a floor's thickness taken with a rule at its edge

std::optional<Index> level_instrument(const Survey& survey) {
  for (Index i = 0; i < survey.instruments.size(); ++i)
    if (survey.instruments[i].kind == InstrumentKind::laser_level ||
        survey.instruments[i].kind == InstrumentKind::optical_level)
      return i;
  return std::nullopt;
}

// The last set-up of the day that is of this room, or of none yet.
std::optional<Index> day_setup(const Survey& survey, Index room) {
  std::optional<Index> found;
  for (Index s = 0; s < survey.install.setups.size(); ++s) {
    const auto& readings = survey.install.setups[s].readings;
    if (readings.empty() || readings.front().room == room) found = s;
  }
  return found;
}

// Heights of the floor there stayed as surveyed: nothing is stripped from under it or laid on it.
bool keeps_its_height(const Room& room, const LevelPoint& point) {
  if (point.off_floor) return true;
  const Index area = point.area.value_or(0);
  return stripped_underfoot(room, point, area) == 0 &&
         laid_over_bare(room, Floor::finished, area).each.empty();
}

bool was_skipped(const Room& room, const Ask& ask) {
  return !ask.booked && std::any_of(room.skipped.begin(), room.skipped.end(),
                                    [&](const Skipped& one) { return one.what == ask.name; });
}

// What could not be reached is not asked for again.
void leave_out_skipped(const Room& room, std::vector<Ask>& asks) {
  std::erase_if(asks, [&](const Ask& ask) { return was_skipped(room, ask); });
}

struct FloorPlace {
  std::string name, caption;
  PlanPoint at;
};

std::vector<FloorPlace> floor_places(const Survey& survey, Index room, const RoomPlan& plan) {
  std::vector<FloorPlace> places;
  const auto runs = placed_runs(survey, room, plan);
  for (Index r = 0; r < runs.size(); ++r) {
    if (!runs[r] || runs[r]->length <= 0) continue;
    const std::string& id = survey.rooms[room].runs[r].id;
    double front = 0;
    for (const PlacedUnit& unit : runs[r]->units) front = std::max(front, unit.front);
    const double length = runs[r]->length;
    if (length < 3 * from_end) {
      places.push_back(
          {id + " middle", "floor before it", runs[r]->frame.at(length / 2, front + before_front)});
      continue;
    }
    places.push_back(
        {id + " left", "floor before it", runs[r]->frame.at(from_end, front + before_front)});
    places.push_back({id + " right", "floor before it",
                      runs[r]->frame.at(length - from_end, front + before_front)});
  }
  return places;
}

Expected planned_thickness(const Room& room, Index area) {
  const Estimate planned = laid_over_bare(room, Floor::finished, area).thickness;
  return {{planned.value, std::hypot(planned.sd, gauge_sd)}, false, "from the plan"};
}

std::string unit_level_at(Index i) { return "/install/unit_levels/" + std::to_string(i); }

Json rounded(PlanPoint p) { return {{"x", long(std::lround(p.x))}, {"y", long(std::lround(p.y))}}; }

}  // namespace

std::vector<Ask> day_level_asks(const Survey& survey, Index room_index) {
  std::vector<Ask> asks;
  const auto setup = day_setup(survey, room_index);
  if (!setup) return asks;
  const Room& room = survey.rooms[room_index];
  const SetUp& day = survey.install.setups[*setup];
  const std::string list = "/install/setups/" + std::to_string(*setup) + "/readings";
  std::vector<Index> points;
  if (room.levels.benchmark) points.push_back(room.levels.benchmark->point);
  for (Index p = 0; p < room.levels.points.size(); ++p)
    if ((points.empty() || p != points.front()) && keeps_its_height(room, room.levels.points[p]))
      points.push_back(p);
  // What was read besides is shown too, so that it can be measured again.
  for (const StaffReading& reading : day.readings)
    if (reading.room == room_index &&
        std::find(points.begin(), points.end(), reading.point) == points.end())
      points.push_back(reading.point);
  for (const Index p : points) {
    const LevelPoint& point = room.levels.points[p];
    Ask ask;
    ask.id = "install/setups/" + day.id + "@" + point.id;
    ask.name = point.id + " staff";
    ask.caption = "from " + day.id + ", the level set up today";
    ask.kind = point.off_floor ? ReadingKind::mark : ReadingKind::staff;
    ask.at = list + "/-";
    ask.field = "staff";
    ask.entry = {{"point", point.id}};
    ask.room = room_index;
    ask.point = p;
    ask.by = day.instrument;
    for (Index i = 0; i < day.readings.size(); ++i)
      if (day.readings[i].room == room_index && day.readings[i].point == p) {
        ask.booked = list + "/" + std::to_string(i) + "/staff";
        ask.value = day.readings[i].staff;
      }
    asks.push_back(std::move(ask));
  }
  // A benchmark that could not be reached comes last: another set-up may see it.
  std::stable_partition(asks.begin(), asks.end(),
                        [&](const Ask& ask) { return !was_skipped(room, ask); });
  return asks;
}

std::vector<Ask> laid_floor_asks(const Survey& survey, Index room_index, bool by_staff) {
  std::vector<Ask> asks;
  if (room_index >= survey.rooms.size()) return asks;
  const Room& room = survey.rooms[room_index];
  const RoomPlan plan = adjust_room(survey, room_index);
  std::vector<FloorPlace> places = floor_places(survey, room_index, plan);
  const auto setup = day_setup(survey, room_index);
  const auto make = [&](const FloorPlace& place, bool staff) {
    Ask ask;
    ask.name = place.name;
    ask.caption = place.caption;
    ask.id = "install/finished_floor@" + place.name;
    ask.kind = staff ? ReadingKind::staff : ReadingKind::thickness;
    ask.at = "/install/finished_floor/-";
    ask.field = staff ? "staff" : "thickness";
    ask.room = room_index;
    ask.entry = {{"place", rounded(place.at)}};
    if (survey.rooms.size() > 1) ask.entry["room"] = room.id;
    if (staff) {
      ask.entry["setup"] = survey.install.setups[*setup].id;
      ask.by = survey.install.setups[*setup].instrument;
    } else {
      ask.planned = planned_thickness(room, 0);
    }
    return ask;
  };
  const auto& booked = survey.install.finished_floor;
  std::set<Index> answered;
  std::vector<Ask> extra;
  for (Index i = 0; i < booked.size(); ++i) {
    if (!booked[i].room.empty() && booked[i].room != room.id) continue;
    const bool staff = !booked[i].thickness;
    if (staff && !setup) continue;
    const auto at = plan.at(booked[i].place);
    std::optional<Index> near;
    for (Index p = 0; at && p < places.size(); ++p)
      if (!answered.contains(p) && distance(*at, places[p].at) < same_place) near = p;
    Ask ask = make(near ? places[*near]
                        : FloorPlace{"Floor " + std::to_string(i + 1), "where it was measured",
                                     at.value_or(PlanPoint{})},
                   staff);
    ask.booked = "/install/finished_floor/" + std::to_string(i) + (staff ? "/staff" : "/thickness");
    ask.value = staff ? booked[i].staff : *booked[i].thickness;
    ask.own = i;
    if (near) answered.insert(*near);
    asks.push_back(std::move(ask));
  }
  for (Index p = 0; p < places.size(); ++p)
    if (!answered.contains(p)) asks.push_back(make(places[p], by_staff && setup));
  leave_out_skipped(room, asks);
  return asks;
}

std::vector<Ask> cabinet_asks(const Survey& survey, Index room_index) {
  std::vector<Ask> asks;
  const auto setup = day_setup(survey, room_index);
  if (!setup || room_index >= survey.rooms.size()) return asks;
  const SetUp& day = survey.install.setups[*setup];
  const auto& booked = survey.install.unit_levels;
  for (const Run& run : survey.rooms[room_index].runs)
    for (const Unit& unit : run.units) {
      if (!stands_on_legs(unit)) continue;
      for (const char* corner : {"front_left", "front_right", "back_left", "back_right"}) {
        Ask ask;
        ask.name = unit.id + " " + corner;
        std::replace(ask.name.begin(), ask.name.end(), '_', ' ');
        ask.caption = "top of the cabinet, from " + day.id;
        ask.id = "install/unit_levels@" + unit.id + "@" + corner;
        ask.kind = ReadingKind::mark;
        ask.at = "/install/unit_levels/-";
        ask.field = "staff";
        ask.room = room_index;
        ask.entry = {{"unit", unit.id}, {"corner", corner}, {"setup", day.id}};
        if (survey.rooms.size() > 1) ask.entry["room"] = survey.rooms[room_index].id;
        ask.by = day.instrument;
        // The last one counts: a cabinet is read again after its legs were turned.
        for (Index i = 0; i < booked.size(); ++i)
          if (booked[i].room == survey.rooms[room_index].id && booked[i].unit == unit.id &&
              booked[i].corner == corner && booked[i].setup == day.id && booked[i].turned.empty()) {
            ask.booked = unit_level_at(i) + "/staff";
            ask.value = booked[i].staff;
            ask.own = i;
          }
        asks.push_back(std::move(ask));
      }
    }
  leave_out_skipped(survey.rooms[room_index], asks);
  return asks;
}

Json turned_patch(const Json& document, const Survey& survey, Index room,
                  const UnitLevelResult& unit, const std::string& at, const std::string& by) {
  std::vector<LegSet> legs;
  for (const LegTurn& turn : unit.legs)
    legs.push_back({unit.unit, turn.position, std::round(turn.height * 10) / 10});
  Json patch = set_legs_patch(document, survey, room, legs, at, by);
  const auto& booked = survey.install.unit_levels;
  for (Index i = 0; i < booked.size(); ++i)
    if (booked[i].room == survey.rooms[room].id && booked[i].unit == unit.unit &&
        booked[i].turned.empty())
      patch.push_back({{"op", "add"}, {"path", unit_level_at(i) + "/turned"}, {"value", at}});
  return patch;
}

bool to_be_read_again(const Survey& survey, Index room, const std::string& unit) {
  bool turned = false, again = false;
  for (const UnitLevel& one : survey.install.unit_levels)
    if (one.room == survey.rooms[room].id && one.unit == unit)
      (one.turned.empty() ? again : turned) = true;
  return turned && !again;
}

Json day_setup_patch(const Json& document, const Survey& survey) {
  std::set<std::string> taken;
  for (const SetUp& setup : survey.install.setups) taken.insert(setup.id);
  for (const Room& room : survey.rooms)
    for (const SetUp& setup : room.levels.setups) taken.insert(setup.id);
  std::string id;
  for (int n = 1; id.empty() || taken.contains(id); ++n) id = "Day " + std::to_string(n);
  Json setup = {{"id", id}, {"readings", Json::array()}};
  if (const auto instrument = level_instrument(survey))
    setup["instrument"] = survey.instruments[*instrument].id;
  if (!value_at(document, "/install/setups"))
    return set_patch(document, "/install/setups", Json::array({setup}));
  return Json::array({{{"op", "add"}, {"path", "/install/setups/-"}, {"value", setup}}});
}

}  // namespace levelrun
