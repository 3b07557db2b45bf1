#include "app/entry/protocol.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "checks/completeness.h"
#include "checks/face_lines.h"
#include "checks/room_plan.h"

namespace levelrun {
namespace {

constexpr double usual_height = 900;  // mm; of lengths, offsets and the plan
// mm; of a wall's second length, where a leaning side wall would else not show beside a run: under
// the top of wall and tall units, above what stands on a worktop. Common practice, no source.
constexpr double second_height = 2000, second_height_apart = 300;
// mm; a run's ceiling is read about over the middle of its wall units: common practice, no source.
constexpr double ceiling_out = 300;

void add_once(std::vector<double>& values, double value) {
  if (std::none_of(values.begin(), values.end(),
                   [&](double v) { return std::abs(v - value) <= same_line; }))
    values.push_back(value);
}

double width_of(const Run& run) {
  double width = 0;
  for (const Unit& unit : run.units) width += unit.width;
  return width;
}

std::optional<double> length_of(const Wall& wall) {
  const WallLength* nearest = nullptr;
  for (const WallLength& l : wall.lengths)
    if (l.out == 0 &&
        (!nearest || std::abs(l.height - usual_height) < std::abs(nearest->height - usual_height)))
      nearest = &l;
  return nearest ? std::optional(nearest->length) : std::nullopt;
}

void sort_lengths(std::vector<Protocol::LengthAt>& lengths) {
  std::stable_sort(lengths.begin(), lengths.end(),
                   [](const auto& a, const auto& b) { return a.height < b.height; });
}

void sort_offsets(std::vector<Protocol::OffsetAt>& offsets) {
  std::stable_sort(offsets.begin(), offsets.end(), [](const auto& a, const auto& b) {
    return a.height != b.height ? a.height < b.height : a.along < b.along;
  });
}

// Booked lengths and those still wanting, from the floor up.
void add_lengths(Protocol& out, const Room& room) {
  std::vector<double> heights;
  for (const Wall& wall : room.walls)
    for (const WallLength& l : wall.lengths)
      if (std::find(heights.begin(), heights.end(), l.height) == heights.end())
        heights.push_back(l.height);
  if (heights.empty()) heights.push_back(usual_height);
  for (Index w = 0; w < room.walls.size(); ++w) {
    std::vector<Protocol::LengthAt>& lengths = out.walls[w].lengths;
    // Beyond its own heights a wall is asked for those of the others only where units will stand.
    const bool carries = std::any_of(room.runs.begin(), room.runs.end(),
                                     [&](const Run& run) { return run.wall == w; });
    const bool as_it_is = !carries && !lengths.empty();
    for (const double height : carries ? heights : std::vector<double>{usual_height})
      if (!as_it_is && std::none_of(lengths.begin(), lengths.end(), [&](const auto& l) {
            return l.height == height && l.out == 0;
          }))
        lengths.push_back({height, 0});
    if (run_beside_unseen_lean(room, w) &&
        std::none_of(lengths.begin(), lengths.end(), [](const auto& l) {
          return std::abs(l.height - usual_height) >= second_height_apart;
        }))
      lengths.push_back({second_height, 0});
    sort_lengths(lengths);
  }
}

void add_diagonals(Protocol& out, const Room& room, std::span<const MeasureNext> wanted) {
  const auto add = [&](Index from, Index to) {
    if (std::none_of(out.diagonals.begin(), out.diagonals.end(), [&](const auto& d) {
          return (d.from == from && d.to == to) || (d.from == to && d.to == from);
        }))
      out.diagonals.push_back({from, to, usual_height});
  };
  const Index n = room.corners.size();
  if (n == 4) {
    add(0, 2);
    add(1, 3);
  }
  if (n == 6)
    for (Index c = 0; c < n; ++c)
      if (room.corners[c].angle > 180) add(c, (c + 3) % n);
  // The results name a diagonal as the room's plan does.
  for (const MeasureNext& next : wanted)
    for (Index a = 0; a < n; ++a)
      for (Index b = 0; b < n; ++b)
        if (a != b && next.what == "diagonal " + room.corners[a].id + " to " + room.corners[b].id)
          add(a, b);
}

// Above 180 the triangle would lie in the wall.
bool takes_triangle(const Room& room, Index corner) { return room.corners[corner].angle < 180; }

void add_angles(Protocol& out, const Survey& survey, const Room& room) {
  const auto carries = [&](const Wall& wall) {
    const Index w = Index(&wall - room.walls.data());
    return std::any_of(room.runs.begin(), room.runs.end(),
                       [&](const Run& run) { return run.wall == w; });
  };
  const bool has_square =
      std::any_of(survey.instruments.begin(), survey.instruments.end(),
                  [](const Instrument& i) { return i.kind == InstrumentKind::square; });
  for (Index c = 0; c < room.corners.size(); ++c) {
    const auto read = [&](const Protocol::AngleOf& a) { return a.corner == c; };
    std::size_t walls = 0;
    for (const Wall& wall : room.walls)
      walls += (wall.from == c || wall.to == c) && carries(wall) ? 1 : 0;
    if (walls < 2 || std::any_of(out.angles.begin(), out.angles.end(), read)) continue;
    Protocol::AngleOf angle;
    angle.corner = c;
    if (!has_square) {
      const auto legs = usual_legs(room, c);
      if (legs.empty()) continue;
      angle.legs = legs.front();
    }
    out.angles.push_back(angle);
  }
}

void add_ceilings(Protocol& out, const Room& room) {
  if (!out.ceilings.empty()) return;
  const auto add = [&](Index wall, double along) {
    Place place;
    place.wall = wall;
    place.along = std::round(along);
    place.out = ceiling_out;
    out.ceilings.push_back({place, {}});
  };
  for (const Run& run : room.runs)
    if (run.wall) add(*run.wall, run.from_along + width_of(run) / 2);
  if (!out.ceilings.empty()) return;
  for (Index w = 0; w < room.walls.size(); ++w)
    if (const auto length = length_of(room.walls[w]); length && room.walls[w].furnished)
      add(w, *length / 2);
}

void add_staff(Protocol& out, const Room& room) {
  const Levels& levels = room.levels;
  if (levels.setups.empty()) return;
  std::vector<char> read(levels.points.size(), 0);
  for (const SetUp& setup : levels.setups)
    for (const StaffReading& r : setup.readings) read[r.point] = 1;
  std::optional<Index> benchmark;
  if (levels.benchmark) benchmark = levels.benchmark->point;
  for (Index s = 0; s < levels.setups.size(); ++s) {
    const bool last = s + 1 == levels.setups.size();
    std::vector<Index> booked, benchmarks;
    for (const Index p : out.staff[s]) (p == benchmark ? benchmarks : booked).push_back(p);
    if (last) {
      for (Index p = 0; p < read.size(); ++p)
        if (!read[p] && p != benchmark) booked.push_back(p);
      std::stable_sort(booked.begin(), booked.end());
    }
    if (benchmark) {
      booked.insert(booked.begin(), *benchmark);
      const std::size_t more = benchmarks.empty() ? 0 : benchmarks.size() - 1;
      // Read again when the floor has been, to tell that nothing moved meanwhile.
      const bool again = last && booked.size() > 1;
      booked.insert(booked.end(), again ? std::max<std::size_t>(more, 1) : more, *benchmark);
    }
    out.staff[s] = std::move(booked);
  }
}

void add_offsets(Protocol& out, const Room& room, UsualSpacing spacing) {
  for (Index w = 0; w < room.walls.size(); ++w) {
    const Wall& wall = room.walls[w];
    const std::optional<double> length = length_of(wall);
    if (!wall.furnished || !length || !(spacing.offset_spacing > 0)) continue;
    std::vector<Protocol::OffsetAt>& offsets = out.walls[w].offsets;
    std::vector<double> alongs, heights;
    for (const auto& o : offsets) add_once(alongs, o.along);
    const double between = *length - 2 * spacing.offset_ends;
    const int steps = std::max(1, int(std::ceil(between / spacing.offset_spacing)));
    const std::vector<double> read = alongs;
    for (int k = 0; k <= steps && between > 0; ++k) {
      const double along = std::round(spacing.offset_ends + between * k / steps);
      if (std::none_of(read.begin(), read.end(),
                       [&](double a) { return std::abs(a - along) <= spacing.offset_spacing / 2; }))
        alongs.push_back(along);
    }
    for (const auto& o : offsets) add_once(heights, o.height);
    add_once(heights, usual_height);
    for (const double height : heights)
      for (const double along : alongs)
        if (std::none_of(offsets.begin(), offsets.end(), [&](const auto& o) {
              return std::abs(o.height - height) <= same_line &&
                     std::abs(o.along - along) <= same_line;
            }))
          offsets.push_back({along, height});
    sort_offsets(offsets);
  }
}

bool is_pipe(ServiceKind kind) {
  return kind == ServiceKind::cold_water || kind == ServiceKind::hot_water ||
         kind == ServiceKind::waste || kind == ServiceKind::soil_stack ||
         kind == ServiceKind::gas || kind == ServiceKind::duct;
}

// usual: what is not given but might be is in too.
void add_details(Protocol& out, const Room& room, bool usual) {
  const auto add = [&](bool service, Index index, const char* field, bool wanted) {
    Protocol::Detail detail{service, index, field};
    if (detail_value(room, detail) || (usual && wanted)) out.details.push_back(std::move(detail));
  };
  for (Index i = 0; i < room.openings.size(); ++i) {
    const Opening& opening = room.openings[i];
    add(false, i, "left", true);
    add(false, i, "width", true);
    add(false, i, "sill", opening.kind == OpeningKind::window);
    add(false, i, "height", true);
    add(false, i, "above", true);
    add(false, i, "undercut", opening.kind == OpeningKind::door);
  }
  for (Index i = 0; i < room.services.size(); ++i) {
    const Service& service = room.services[i];
    const bool on_wall = service.place.wall.has_value();
    if (on_wall) add(true, i, "along", true);
    add(true, i, "height", on_wall);
    add(true, i, "projection", on_wall);
    // Width and height of it are given together or not at all, so neither can be asked alone.
    add(true, i, "diameter", is_pipe(service.kind) && !service.width);
    add(true, i, "width", false);
    add(true, i, "height_of", false);
  }
}

}  // namespace

std::optional<double> detail_value(const Room& room, const Protocol::Detail& detail) {
  const auto unless_0 = [](double x) { return x != 0 ? std::optional(x) : std::nullopt; };
  const std::string& field = detail.field;
  if (detail.service) {
    const Service& s = room.services[detail.index];
    if (field == "along") return s.place.along;
    if (field == "height") return s.height ? std::optional(s.height->value) : std::nullopt;
    if (field == "projection") return unless_0(s.projection);
    return field == "diameter" ? s.diameter : field == "width" ? s.width : s.height_of;
  }
  const Opening& o = room.openings[detail.index];
  if (field == "left") return o.left;
  if (field == "width") return o.width;
  if (field == "sill") return unless_0(o.sill.value);
  if (field == "height") return o.height;
  return field == "above" ? o.above : o.undercut;
}

static Protocol places_read(const Room& room) {
  Protocol out;
  for (const Wall& wall : room.walls) {
    Protocol::WallPlaces& places = out.walls.emplace_back();
    for (const WallLength& l : wall.lengths) places.lengths.push_back({l.height, l.out});
    for (const WallOffset& o : wall.offsets) places.offsets.push_back({o.along, o.height});
  }
  for (const Diagonal& d : room.diagonals) out.diagonals.push_back({d.from, d.to, d.height});
  for (const CornerAngle& a : room.angles) {
    Protocol::AngleOf& angle = out.angles.emplace_back();
    angle.corner = a.corner;
    if (!a.degrees) angle.legs = std::pair(a.triangle.a, a.triangle.b);
    angle.height = a.height;
  }
  for (const CeilingReading& c : room.ceilings) out.ceilings.push_back({c.place, c.height.setup});
  for (const SetUp& setup : room.levels.setups) {
    std::vector<Index>& points = out.staff.emplace_back();
    for (const StaffReading& r : setup.readings) points.push_back(r.point);
  }
  return out;
}

Protocol protocol_of(const Survey& survey, Index room) {
  Protocol out = places_read(survey.rooms[room]);
  add_details(out, survey.rooms[room], false);
  return out;
}

Protocol usual_protocol(const Survey& survey, Index room_index, std::span<const MeasureNext> wanted,
                        UsualSpacing spacing) {
  const Room& room = survey.rooms[room_index];
  Protocol out = places_read(room);
  add_lengths(out, room);
  add_diagonals(out, room, wanted);
  add_angles(out, survey, room);
  add_ceilings(out, room);
  add_staff(out, room);
  add_offsets(out, room, spacing);
  add_details(out, room, true);
  return out;
}

namespace {

bool same(const Protocol::LengthAt& a, const Protocol::LengthAt& b) {
  return a.height == b.height && a.out == b.out;
}
bool same(const Protocol::OffsetAt& a, const Protocol::OffsetAt& b) {
  return a.along == b.along && a.height == b.height;
}
bool same(const Protocol::DiagonalOf& a, const Protocol::DiagonalOf& b) {
  return a.from == b.from && a.to == b.to && a.height == b.height;
}
bool same(const Protocol::AngleOf& a, const Protocol::AngleOf& b) {
  return a.corner == b.corner && a.legs == b.legs && a.height == b.height;
}
bool same(const Protocol::CeilingAt& a, const Protocol::CeilingAt& b) {
  const Place &p = a.place, &q = b.place;
  return a.setup == b.setup && p.wall == q.wall &&
         (p.wall ? p.along == q.along && p.out == q.out : p.x == q.x && p.y == q.y);
}

template <class Places>
void add_missing(Places& places, const Places& more) {
  for (std::size_t i = 0; i < more.size(); ++i) {
    const auto is_it = [&](const auto& one) { return same(one, more[i]); };
    const auto wanted = std::count_if(more.begin(), more.begin() + std::ptrdiff_t(i) + 1, is_it);
    if (std::count_if(places.begin(), places.end(), is_it) < wanted) places.push_back(more[i]);
  }
}

}  // namespace

void add_places(Protocol& out, const Protocol& more) {
  for (Index w = 0; w < std::min(out.walls.size(), more.walls.size()); ++w) {
    add_missing(out.walls[w].lengths, more.walls[w].lengths);
    sort_lengths(out.walls[w].lengths);
  }
  add_missing(out.diagonals, more.diagonals);
  add_missing(out.angles, more.angles);
  add_missing(out.ceilings, more.ceilings);
}

void keep_offsets(Protocol& out, const Survey& survey, Index room, Index wall,
                  const std::vector<Protocol::OffsetAt>& places) {
  std::vector<Protocol::OffsetAt> kept;
  for (const WallOffset& read : survey.rooms[room].walls[wall].offsets)
    kept.push_back({read.along, read.height});
  add_missing(kept, places);
  sort_offsets(kept);
  out.walls[wall].offsets = std::move(kept);
}

std::vector<std::pair<double, double>> usual_legs(const Room& room, Index corner) {
  std::vector<std::pair<double, double>> out;
  if (!takes_triangle(room, corner)) return out;
  // From the corner along the wall that ends there, and along the one that begins there.
  std::optional<double> ends, begins;
  for (const Wall& wall : room.walls) {
    if (wall.to == corner) ends = length_of(wall);
    if (wall.from == corner) begins = length_of(wall);
  }
  for (const double unit : {300.0, 400.0, 200.0})
    for (const bool turned : {false, true}) {
      const double a = (turned ? 4 : 3) * unit, b = (turned ? 3 : 4) * unit;
      if ((ends && *ends < a) || (begins && *begins < b)) continue;
      out.push_back({a, b});
      break;
    }
  return out;
}

}  // namespace levelrun
