#include <algorithm>

#include "app/drawing/service_symbols.h"
#include "app/pack/pack_pages.h"
#include "app/text_number.h"
#include "checks/floor_surface.h"
#include "checks/flooring.h"

namespace levelrun {
namespace {

constexpr double from_corner = 50;  // mm along and out: where the floor at a wall's end is meant;
                                    // common practice, no source

// The floor as it will be in front of the units, or as it was laid if that was measured.
class FinishedFloor {
 public:
  FinishedFloor(const PackMatter& m, Index room)
      : levels_(adjust_room_levels(m.survey(), room)),
        floor_(m.survey(), room, m.rooms[room].plan, levels_),
        laid_(m.survey().rooms[room]) {
    if (!m.results.install) return;
    for (const LaidFloorResult& f : m.results.install->laid_floor)
      if (f.room == laid_.id && f.laid && f.layer_at < laid_.flooring.laid.size())
        laid_.flooring.laid[f.layer_at].thickness = *f.laid;
  }

  double laid_at(PlanPoint p) const {
    return laid_over_bare(laid_, Floor::finished, floor_.area_at(p)).thickness.value;
  }
  // Above the benchmark; empty: the floor was not read there.
  Unknown at(const std::optional<PlanPoint>& p) const {
    if (!p) return {};
    const auto bare = floor_.estimates({&*p, 1})[0];
    return bare ? Unknown(bare->value + laid_at(*p)) : std::nullopt;
  }

 private:
  const RoomLevels levels_;
  const FloorSurface floor_;
  Room laid_;
};

Unknown above(Unknown height, Unknown floor) {
  return height && floor ? Unknown(*height - *floor) : std::nullopt;
}

std::string listed(const std::string& head, const std::vector<std::string>& parts) {
  std::string words;
  for (const std::string& part : parts) words += (words.empty() ? head : "; ") + part;
  return words + ".";
}

}  // namespace

std::vector<std::string> wall_heights(const PackMatter& m, Index r, Index wall) {
  const RoomToDraw& drawn = m.rooms[r];
  const Room& room = m.survey().rooms[r];
  const RoomResult& result = m.results.rooms[r];
  const char d = m.decimal();
  if (!drawn.plan.known) return {};
  const FinishedFloor floor(m, r);
  const auto place = [&](double along) {
    Place p;
    p.wall = wall;
    p.along = along;
    p.out = from_corner;
    return drawn.plan.at(p);
  };
  std::vector<std::string> ends, services, voids;
  const auto at_ends = [&](const std::string& what, double height, double from, double to) {
    ends.push_back(what + " " + shown(above(height, floor.at(place(from))), 1, d) + " to " +
                   shown(above(height, floor.at(place(to))), 1, d));
  };
  for (const GroupResult& g : result.groups) {
    // From the first to the last of its units here: beyond them another floor may lie.
    Unknown from, to;
    for (Index i = 0; i < room.runs.size() && i < drawn.runs.size(); ++i) {
      const Run& run = room.runs[i];
      if (run.wall != wall || run.level_group != g.id || run.units.empty() || !drawn.runs[i])
        continue;
      from = std::min(from.value_or(run.from_along), run.from_along);
      to = std::max(to.value_or(0), run.from_along + drawn.runs[i]->length);
    }
    if (from)
      at_ends((result.groups.size() > 1 ? "U " + g.id : "U") + " along its units", g.underside,
              *from, *to);
  }
  if (!drawn.planes.empty() && drawn.planes[0])
    at_ends("level line along the wall", drawn.planes[0]->value, from_corner,
            drawn.walls[wall].length - from_corner);

  const bool stripped = std::any_of(room.flooring.existing.begin(), room.flooring.existing.end(),
                                    [](const ExistingLayer& layer) { return layer.strip; });
  bool from_surveyed = false;
  for (const Service& s : room.services) {
    if (s.place.wall != wall) continue;
    Unknown high;
    const auto at = drawn.plan.at(s.place);
    const char* as_surveyed = "";
    if (s.height && s.height->setup) {
      if (*s.height->setup < drawn.planes.size() && drawn.planes[*s.height->setup])
        high = above(drawn.planes[*s.height->setup]->value + s.height->value, floor.at(at));
    } else if (s.height && stripped) {  // what lies there now may go, or stop short of the wall
      high = s.height->value;
      as_surveyed = "*";
      from_surveyed = true;
    } else if (s.height && at) {
      high = s.height->value - floor.laid_at(*at);
    }
    services.push_back(s.id + " (" + service_letters(s.kind) + ") " +
                       shown_short(s.place.along, 1, d) + " along, " + shown(high, 0, d) +
                       as_surveyed + " high");
  }
  for (const RunVoidResult& v : result.run_voids)
    for (const Run& run : room.runs)
      if (run.id == v.run && run.wall == wall)
        voids.push_back(
            "run " + v.run + " " + shown_short(v.here, 1, d) + " as ordered" +
            (v.needed ? ", " + shown(v.needed, 1, d) + " needed for " + v.service : std::string()));

  std::vector<std::string> lines;
  if (!ends.empty()) lines.push_back(listed("Above the finished floor, left end to right: ", ends));
  if (!services.empty())
    lines.push_back(listed("Services, above the finished floor: ", services) +
                    (from_surveyed ? " * above the floor as it was surveyed." : ""));
  if (!voids.empty()) lines.push_back(listed("Void behind the units: ", voids));
  return lines;
}

}  // namespace levelrun
