#include "checks/quantities.h"

#include <algorithm>
#include <cmath>

#include "checks/words.h"

namespace levelrun {
namespace {

const Unit* unit_named(const Run& run, const std::string& id) {
  for (const Unit& unit : run.units)
    if (unit.id == id) return &unit;
  return nullptr;
}

const LegType* leg_type_of(const Room& room, const std::string& unit, const std::string& type) {
  for (const Run& run : room.runs)
    if (unit_named(run, unit))
      for (const LegType& leg : run.furniture.legs)
        if (leg.id == type) return &leg;
  return nullptr;
}

void add_legs(Quantities& out, const Room& room, const RoomResult& results) {
  const std::size_t first = out.legs.size();
  for (const LegResult& leg : results.legs) {
    auto at = std::find_if(out.legs.begin() + std::ptrdiff_t(first), out.legs.end(),
                           [&](const Quantities::Legs& l) { return l.type == leg.type; });
    if (at == out.legs.end()) {
      Quantities::Legs kind;
      kind.room = room.id;
      kind.type = leg.type;
      if (const LegType* type = leg_type_of(room, leg.unit, leg.type)) {
        kind.least = type->min;
        kind.most = type->max;
        kind.supplied = type->supplied;
      }
      at = out.legs.insert(out.legs.end(), kind);
    }
    ++at->count;
    if (!leg.height) {
      ++at->not_known;
      continue;
    }
    at->not_within += leg.verdict != Verdict::within;
    at->shortest = std::min(at->shortest.value_or(*leg.height), *leg.height);
    at->tallest = std::max(at->tallest.value_or(*leg.height), *leg.height);
  }
}

void add_boards(Quantities& out, const Room& room, const RoomResult& results) {
  const std::size_t first = out.boards.size();
  for (const Board& board : results.boards) {
    auto at =
        std::find_if(out.boards.begin() + std::ptrdiff_t(first), out.boards.end(),
                     [&](const Quantities::Boards& b) {
                       return b.height == board.height && b.stock_length == board.stock_length;
                     });
    if (at == out.boards.end()) {
      Quantities::Boards kind;
      kind.room = room.id;
      kind.height = board.height;
      kind.stock_length = board.stock_length;
      for (const Run& run : room.runs)
        if (run.furniture.plinth.height == board.height)
          kind.thickness = std::max(kind.thickness, run.furniture.plinth.thickness);
      at = out.boards.insert(out.boards.end(), kind);
    }
    ++at->count;
    at->pieces += int(board.pieces.size());
    at->offcuts += board.offcut;
  }
}

// The most that things of one kind are scribed by on a wall; empty: not measured.
Unknown most_scribe(const RoomResult& results, const std::string& wall, const char* of) {
  Unknown most;
  for (const WallResult& w : results.walls)
    if (w.wall == wall)
      for (const RestResult& rest : w.rests)
        if (rest.of == of && rest.scribe)
          most = std::max(most.value_or(*rest.scribe), *rest.scribe);
  return most;
}

// The wall that a run's wall meets at its left or right end.
const Wall* side_wall(const Room& room, const Run& run, bool right) {
  if (!run.wall) return nullptr;
  const Wall& behind = room.walls[*run.wall];
  for (const Wall& wall : room.walls)
    if (right ? wall.from == behind.to : wall.to == behind.from) return &wall;
  return nullptr;
}

bool fills(const Unit& unit) {
  return unit.kind == UnitKind::infill || unit.kind == UnitKind::corner_post ||
         unit.kind == UnitKind::space;
}

// As high as the front it stands beside.
Unknown front_height(const Run& run, bool right) {
  const auto height = [&](const Unit& unit) -> Unknown {
    if (unit.height) return unit.height;
    switch (unit.kind) {
      case UnitKind::tall:
        return run.furniture.tall_height;
      case UnitKind::wall:
        return run.furniture.wall_unit.height;
      default:
        return run.furniture.base_height;
    }
  };
  const auto beside = [](const Unit& unit) { return !fills(unit); };
  if (right) {
    const auto at = std::find_if(run.units.rbegin(), run.units.rend(), beside);
    return at == run.units.rend() ? Unknown() : height(*at);
  }
  const auto at = std::find_if(run.units.begin(), run.units.end(), beside);
  return at == run.units.end() ? Unknown() : height(*at);
}

// "32.0 + 4.0 + 15.0 = 51.0"; what is not there is left out.
std::string sum_of(double total, std::initializer_list<double> terms) {
  std::string out;
  for (const double t : terms)
    if (t != 0) out += (out.empty() ? "" : " + ") + term(t);
  return out + " = " + decimal(total);
}

void add_infills(Quantities& out, const Room& room, const RoomResult& results) {
  for (const FitResult& fit : results.fits) {
    const auto run = std::find_if(room.runs.begin(), room.runs.end(),
                                  [&](const Run& r) { return r.id == fit.run; });
    if (run == room.runs.end()) continue;
    for (const bool right : {false, true}) {
      const Unknown& width = right ? fit.infill_right : fit.infill_left;
      if (!width || *width <= 0) continue;
      Quantities::Panel p;
      p.kind = "infill";
      p.room = room.id;
      p.run = run->id;
      p.place = right ? "right" : "left";
      p.width = width;
      p.height = p.order_height = front_height(*run, right);
      p.thickness = run->furniture.front_thickness;
      const Wall* side = side_wall(room, *run, right);
      const double scribe = side ? most_scribe(results, side->id, "infill").value_or(0) : 0;
      const double taper = fit.taper.value_or(0);
      p.order_width = *width + taper + scribe + scribe_over;
      p.verdict = fit.verdict;
      p.sum = sum_of(*p.order_width, {*width, taper, scribe, scribe_over});
      out.panels.push_back(std::move(p));
    }
  }
}

void add_end_panels(Quantities& out, const Room& room, const RoomResult& results) {
  for (const EndPanelResult& panel : results.end_panels) {
    const auto run = std::find_if(room.runs.begin(), room.runs.end(),
                                  [&](const Run& r) { return r.id == panel.run; });
    if (run == room.runs.end()) continue;
    const Unit* unit = unit_named(*run, panel.unit);
    if (!unit) continue;
    const Furniture& furniture = run->furniture;
    Quantities::Panel p;
    p.kind = "end panel";
    p.room = room.id;
    p.run = run->id;
    p.place = unit->id;
    p.thickness = unit->width;
    const double off = furniture.back == BackKind::standing_off ? furniture.void_depth : 0;
    p.width = unit->depth.value_or(furniture.base_depth) + off;
    const double scribe =
        run->wall ? most_scribe(results, room.walls[*run->wall].id, "end_panel").value_or(0) : 0;
    // One that stands free meets no wall.
    const double over = run->wall ? scribe_over : 0;
    p.order_width = *p.width + scribe + over;
    p.sum = "width " + sum_of(*p.order_width, {*p.width, scribe, over});
    if (panel.front && panel.back) {
      p.height = std::max(*panel.front, *panel.back);
      const double band = band95 * panel.sd.value_or(0);
      p.order_height = *p.height + band + scribe_over;
      p.sum += "; height " + sum_of(*p.order_height, {*p.height, band, scribe_over});
    }
    out.panels.push_back(std::move(p));
  }
}

void add_voids(Quantities& out, const Room& room, const RoomResult& results) {
  for (const Run& run : room.runs) {
    Quantities::Void v;
    v.room = room.id;
    v.run = run.id;
    v.back = run.furniture.back == BackKind::standing_off ? "standing_off" : "recessed";
    const bool hung =
        !run.units.empty() && std::all_of(run.units.begin(), run.units.end(), [](const Unit& u) {
          return u.kind == UnitKind::wall || fills(u);
        });
    v.ordered = run.furniture.void_depth;
    if (hung) v.ordered = run.furniture.wall_unit.void_depth.value_or(v.ordered);
    for (const RunVoidResult& needed : results.run_voids)
      if (needed.run == run.id) {
        v.ordered = needed.here;
        v.needed = needed.needed;
        v.sd = needed.sd;
        v.service = needed.service;
        v.verdict = needed.verdict;
      }
    out.voids.push_back(std::move(v));
  }
}

}  // namespace

Quantities quantities(const Survey& survey, const Results& results) {
  Quantities out;
  for (Index r = 0; r < survey.rooms.size() && r < results.rooms.size(); ++r) {
    const Room& room = survey.rooms[r];
    const RoomResult& result = results.rooms[r];
    add_legs(out, room, result);
    add_boards(out, room, result);
    add_infills(out, room, result);
    add_end_panels(out, room, result);
    add_voids(out, room, result);
    for (const ServiceResult& service : result.services)
      for (const NotchResult& notch : service.notches)
        out.notches.push_back({room.id, service.service, notch});
    for (const WorktopResult& top : result.worktops) out.worktops.push_back({room.id, top});
  }
  return out;
}

}  // namespace levelrun
