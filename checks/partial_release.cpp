#include "checks/partial_release.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

namespace levelrun {
namespace {

// mm: as far as a service may lie from where it was booked, and a unit from where it stands, on
// top of the place's own 20 (common practice, no source).
constexpr double near_service = 100;

// mm: no unit is deeper, and nothing on a wall stands out further (common practice, no source).
constexpr double deepest_unit = 1000, farthest_out = 600;

using By = const Finding*;  // the first finding that reaches something; null: none

// Holds and queries that are about a height: their answers change the floor, legs, boards and
// undersides, and no carcass but the one they name.
constexpr std::string_view about_heights[] = {
    "no level suits all",          "no level is sure to suit all",
    "asked height not kept",       "leg too long for the floor",
    "leg too short for the floor", "leg near the end of its range",
    "no leg type named",           "plinth too short",
    "sealed edge would be cut",    "floor not read along a plinth",
    "floor not read under legs",
};

// What is open in one room, by what it may still change.
struct Open {
  By everything = nullptr, heights = nullptr, plan = nullptr;
  std::map<Index, By> faces;     // of walls
  std::map<Index, By> services;  // walls whose services may move
  std::map<Index, By> openings;  // walls
  std::map<Index, By> runs;
  std::map<std::pair<Index, Index>, By> units;
  By services_anywhere = nullptr;
};

void first(By& by, By f) {
  if (!by) by = f;
}
template <class Key>
void first(std::map<Key, By>& by, Key key, By f) {
  by.emplace(key, f);
}

std::vector<std::string> steps(const std::string& at) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < at.size();) {
    const std::size_t end = std::min(at.find('/', i + 1), at.size());
    out.push_back(at.substr(i + 1, end - i - 1));
    i = end;
  }
  return out;
}

std::optional<Index> index_at(const std::vector<std::string>& at, std::size_t step,
                              std::size_t size) {
  if (step >= at.size() || at[step].empty() ||
      at[step].find_first_not_of("0123456789") != std::string::npos || at[step].size() > 6)
    return std::nullopt;
  const Index index = Index(std::atoi(at[step].c_str()));
  return index < size ? std::optional(index) : std::nullopt;
}

bool is_about_heights(const Finding& f) {
  return std::find(std::begin(about_heights), std::end(about_heights), f.code) !=
         std::end(about_heights);
}

void service_may_move(Open& open, const Place& place, By f) {
  if (place.wall)
    first(open.services, *place.wall, f);
  else
    first(open.services_anywhere, f);
}

// at: the steps after /rooms/N.
void open_in_room(const Room& room, Open& open, const std::vector<std::string>& at, By f) {
  const std::string list = at.size() > 2 ? at[2] : "";
  const auto is = [&](std::initializer_list<std::string_view> names) {
    return std::find(names.begin(), names.end(), list) != names.end();
  };
  if (list.empty() && f->code == "wall lengths do not close") return first(open.plan, f);
  if (list.empty() && f->code == "plan cannot be computed") return first(open.plan, f);
  if (is({"levels", "flooring", "floor_areas", "level_groups", "ceilings"}))
    return first(open.heights, f);
  if (is({"corners", "angles", "diagonals"})) return first(open.plan, f);
  if (list == "walls") {
    const auto wall = index_at(at, 3, room.walls.size());
    const std::string what = at.size() > 4 ? at[4] : "";
    if (!wall) return first(open.everything, f);
    if (what == "lengths") return first(open.plan, f);
    first(open.faces, *wall, f);
    if (what == "offsets" || what == "offsets_from" || what == "build" || what == "finish" ||
        what == "skirting" || what == "coving" || what == "furnished")
      return;
    first(open.plan, f);
    return first(open.services, *wall, f);
  }
  if (list == "openings") {
    const auto opening = index_at(at, 3, room.openings.size());
    if (!opening) return first(open.everything, f);
    first(open.openings, room.openings[*opening].wall, f);
    return first(open.heights, f);
  }
  if (list == "services") {
    const auto service = index_at(at, 3, room.services.size());
    if (!service) return first(open.everything, f);
    service_may_move(open, room.services[*service].place, f);
    for (const RoutePoint& p : room.services[*service].route) service_may_move(open, p.place, f);
    if (const auto& end = room.services[*service].connects_at)
      service_may_move(open, end->place, f);
    return;
  }
  if (list == "runs") {
    const auto run = index_at(at, 3, room.runs.size());
    if (!run) return first(open.everything, f);
    first(open.heights, f);
    const auto unit = at.size() > 4 && at[4] == "units"
                          ? index_at(at, 5, room.runs[*run].units.size())
                          : std::nullopt;
    if (unit) return first(open.units, std::pair(*run, *unit), f);
    if (!is_about_heights(*f)) first(open.runs, *run, f);
    return;
  }
  first(open.everything, f);
}

// ---- What depends on it -------------------------------------------------------------------------

class RoomParts {
 public:
  RoomParts(const Room& room, const RoomResult& results, const Open& open)
      : room_(room), results_(results), open_(open) {}

  void list(std::vector<PartToCut>& out) const {
    for (Index r = 0; r < room_.runs.size(); ++r) {
      const Run& run = room_.runs[r];
      for (Index u = 0; u < run.units.size(); ++u)
        if (is_cut(run, run.units[u]))
          out.push_back({room_.id, run.id, run.units[u].id, false, id_of(by_unit(r, u))});
      std::set<std::string> faces;
      for (const PlinthResult& p : results_.plinths)
        if (p.run == run.id && faces.insert(p.face).second)
          out.push_back({room_.id, run.id, p.face, true, id_of(by_face())});
    }
  }

 private:
  const Room& room_;
  const RoomResult& results_;
  const Open& open_;

  static std::string id_of(By f) { return f ? f->id : std::string(); }

  // Carcasses and panels whose sizes are known.
  bool is_cut(const Run& run, const Unit& unit) const {
    switch (unit.kind) {
      case UnitKind::base:
      case UnitKind::corner_post:
      case UnitKind::wall:
        return unit.width > 0;
      case UnitKind::tall:
        return unit.width > 0 && (unit.height || run.furniture.tall_height);
      case UnitKind::end_panel:
        return std::any_of(results_.end_panels.begin(), results_.end_panels.end(),
                           [&](const EndPanelResult& p) {
                             return p.run == run.id && p.unit == unit.id && p.front && p.back;
                           });
      default:
        return false;
    }
  }

  // One surface and one plan carry every cut of a room: whatever moves them moves all.
  By by_face() const {
    for (const By f : {open_.everything, open_.plan, open_.heights})
      if (f) return f;
    for (const auto* map : {&open_.faces, &open_.openings, &open_.runs})
      if (!map->empty()) return map->begin()->second;
    return open_.units.empty() ? nullptr : open_.units.begin()->second;
  }

  bool beside(Index a, Index b) const {
    const Wall &one = room_.walls[a], &other = room_.walls[b];
    return a != b && (one.from == other.to || one.to == other.from);
  }
  bool at_wall(const Run& run, Index wall) const {
    return run.wall && (*run.wall == wall || beside(*run.wall, wall));
  }
  bool ends_at_something(const Run& run) const {
    return !(run.starts_at == RunEnd::open || run.starts_at == RunEnd::end_panel) ||
           !(run.ends_at == RunEnd::open || run.ends_at == RunEnd::end_panel);
  }

  Unknown length_of(Index wall) const {
    const auto corner = [&](Index c) {
      return std::find_if(results_.corners.begin(), results_.corners.end(),
                          [&](const CornerResult& r) { return r.id == room_.corners[c].id; });
    };
    const auto a = corner(room_.walls[wall].from), b = corner(room_.walls[wall].to);
    if (a == results_.corners.end() || b == results_.corners.end() || !a->x || !a->y || !b->x ||
        !b->y)
      return std::nullopt;
    return std::hypot(*b->x - *a->x, *b->y - *a->y);
  }

  // A service on a wall beside the run's, close enough to their corner to stand beside or behind a
  // unit there, or anywhere in the run.
  bool round_the_corner(const Run& run, const Place& place, double left, double right, double size,
                        bool any_unit) const {
    if (!beside(*run.wall, *place.wall)) return false;
    const Wall &own = room_.walls[*run.wall], &other = room_.walls[*place.wall];
    const Unknown own_length = length_of(*run.wall), other_length = length_of(*place.wall);
    if (!own_length || !other_length) return true;
    // At both corners in a room of two walls, say: then either.
    for (const bool at_left : {true, false}) {
      if (at_left ? own.from != other.to : own.to != other.from) continue;
      const double along = at_left ? *other_length - place.along : place.along;
      const double away = at_left ? left : *own_length - right;
      if (along < deepest_unit + near_service + size &&
          (any_unit || away < farthest_out + near_service + size))
        return true;
    }
    return false;
  }

  // Could a service that is moved along a wall stand behind or beside a unit? Nothing on a wall
  // stands behind a run that is on none.
  bool may_stand_behind(const Run& run, Index unit, Index wall) const {
    if (!run.wall) return false;
    if (*run.wall == wall) return true;
    if (!beside(*run.wall, wall)) return false;
    const auto [left, right] = span(run, unit);
    Place corner;
    corner.wall = wall;
    for (const double along : {0.0, length_of(wall).value_or(0)}) {
      corner.along = along;
      if (round_the_corner(run, corner, left, right, 0, false)) return true;
    }
    return false;
  }

  // Along the run's wall.
  static std::pair<double, double> span(const Run& run, Index unit) {
    double left = run.from_along;
    for (Index u = 0; u < unit; ++u) left += run.units[u].width;
    return {left, left + run.units[unit].width};
  }

  // Is a service of the room near the unit, or near the run at all?
  bool near(const Run& run, std::optional<Index> unit) const {
    double left = run.from_along, right = run.from_along;
    if (unit) std::tie(left, right) = span(run, *unit);
    for (const Service& s : room_.services) {
      std::vector<const Place*> places = {&s.place};
      for (const RoutePoint& p : s.route) places.push_back(&p.place);
      if (s.connects_at) places.push_back(&s.connects_at->place);
      const double size = std::max(s.diameter.value_or(0), s.width.value_or(0));
      double from = 1e300, to = -1e300;
      bool elsewhere = false, round = false;
      for (const Place* p : places) {
        if (!p->wall) return true;  // off every wall: anywhere
        if (!run.wall) continue;    // behind a run off the walls there is no wall's service
        if (*p->wall == *run.wall) {
          from = std::min(from, p->along);
          to = std::max(to, p->along);
          continue;
        }
        elsewhere = true;
        round = round || round_the_corner(run, *p, left, right, size, !unit);
      }
      if (round) return true;
      if (from > to) continue;
      // Along two walls: it goes by way of one of the corners.
      if (!unit || elsewhere) return true;
      const double reach = near_service + size;
      if (from - reach < right && left < to + reach) return true;
    }
    // What the results have found behind it, whatever the above says.
    if (unit)
      for (const ServiceResult& s : results_.services) {
        const std::string& id = run.units[*unit].id;
        if (std::find(s.units.begin(), s.units.end(), id) != s.units.end()) return true;
        for (const NotchResult& n : s.notches)
          if (n.unit == id) return true;
      }
    return false;
  }

  By by_unit(Index r, Index u) const {
    const Run& run = room_.runs[r];
    const Unit& unit = run.units[u];
    if (open_.everything) return open_.everything;
    if (const auto at = open_.units.find({r, u}); at != open_.units.end()) return at->second;
    for (const auto& [other, f] : open_.runs) {
      const Run& there = room_.runs[other];
      // Runs that meet at a corner; of those off the walls nobody knows.
      if (other == r || !run.wall || !there.wall || at_wall(run, *there.wall)) return f;
    }
    if (open_.services_anywhere) return open_.services_anywhere;
    for (const auto& [wall, f] : open_.services)
      if (may_stand_behind(run, u, wall)) return f;
    for (const auto& [wall, f] : open_.openings)
      if (!run.wall || *run.wall == wall) return f;
    if (run.wall && ends_at_something(run)) {
      if (open_.plan) return open_.plan;
      for (const auto& [wall, f] : open_.faces)
        if (at_wall(run, wall)) return f;
    }
    // Should a unit before it get wider, it stands somewhere else.
    for (const auto& [at, f] : open_.units)
      if (at.first == r && !is_about_heights(*f) && near(run, std::nullopt)) return f;
    const bool hangs_on_heights = unit.kind == UnitKind::tall || unit.kind == UnitKind::wall ||
                                  unit.kind == UnitKind::end_panel || near(run, u);
    if (!hangs_on_heights) return nullptr;
    return by_face();
  }
};

}  // namespace

std::vector<PartToCut> parts_to_cut(const Survey& survey, const Results& results) {
  std::vector<Open> open(survey.rooms.size());
  for (const Finding& f : results.findings) {
    if (f.severity == Severity::note || f.answered) continue;
    const std::vector<std::string> at = steps(f.at);
    const auto room =
        at.size() >= 2 && at[0] == "rooms" ? index_at(at, 1, open.size()) : std::nullopt;
    if (room) {
      open_in_room(survey.rooms[*room], open[*room], at, &f);
      continue;
    }
    for (Open& one : open) first(one.everything, &f);
  }
  std::vector<PartToCut> out;
  for (Index r = 0; r < survey.rooms.size() && r < results.rooms.size(); ++r)
    RoomParts(survey.rooms[r], results.rooms[r], open[r]).list(out);
  return out;
}

std::vector<std::string> may_cut(const std::vector<PartToCut>& parts, bool several_rooms) {
  std::vector<std::string> out;
  for (const PartToCut& p : parts) {
    if (!p.barred_by.empty()) continue;
    out.push_back((several_rooms ? p.room + "/" : "") +
                  (p.face ? "plinth " + p.run + " " + p.name : p.name));
  }
  return out;
}

}  // namespace levelrun
