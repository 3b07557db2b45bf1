#include "checks/plinth_faces.h"

#include <algorithm>
#include <cmath>

#include "checks/flooring.h"
#include "checks/outline.h"

namespace levelrun {
namespace {

constexpr double sample_step = 100;           // mm
constexpr double joint_clear_of_niche = 150;  // mm; common practice, no source
constexpr double shortest_face = 20;          // mm: shorter is no board
constexpr double same_front = 1;              // mm: units whose fronts line up
constexpr double corner_reach = 1500;         // mm: how far off a corner's other run may lie
constexpr double step_width = 3e-6;           // mm between a step's two sides: more than rounding

struct Face {
  std::string name;
  double u1 = 0, v1 = 0, u2 = 0, v2 = 0;            // left to right as seen facing it
  std::vector<std::pair<double, double>> no_joint;  // along the face
};

bool carries_plinth(UnitKind kind) {
  return kind != UnitKind::space && kind != UnitKind::end_panel && kind != UnitKind::wall;
}

// Where the front of `other` crosses the line v = face_v of `run`, as u of `run`.
std::optional<double> crossing(const RunFrame& run, double face_v, const RunFrame& other,
                               double other_face_v) {
  const double cross = run.along.x * other.along.y - run.along.y * other.along.x;
  if (std::abs(cross) < 0.1) return std::nullopt;  // side by side, no corner between them
  const PlanPoint a = run.at(0, face_v), b = other.at(0, other_face_v);
  return ((b.x - a.x) * other.along.y - (b.y - a.y) * other.along.x) / cross;
}

double face_v(const PlacedUnit& unit, const Plinth& plinth) { return unit.front - plinth.setback; }

// The first (or last) unit of a run that carries its plinth.
const PlacedUnit* plinth_end(const Room& room, const PlacedRun& run, bool last) {
  const PlacedUnit* found = nullptr;
  for (const PlacedUnit& unit : run.units)
    if (carries_plinth(room.runs[unit.run].units[unit.unit].kind)) {
      found = &unit;
      if (!last) break;
    }
  return found;
}

std::optional<double> corner_end(const Room& room,
                                 const std::vector<std::optional<PlacedRun>>& runs, Index r,
                                 bool at_end, double v) {
  const PlacedRun& run = *runs[r];
  for (Index o = 0; o < runs.size(); ++o) {
    if (o == r || !runs[o]) continue;
    const RunEnd facing = at_end ? room.runs[o].starts_at : room.runs[o].ends_at;
    const PlacedUnit* unit = plinth_end(room, *runs[o], !at_end);
    if (facing != RunEnd::corner || !unit) continue;
    const Plinth& plinth = room.runs[o].furniture.plinth;
    const auto u = crossing(run.frame, v, runs[o]->frame, face_v(*unit, plinth));
    if (!u || std::abs(*u - (at_end ? run.length : 0)) > corner_reach) continue;
    return at_end ? *u + plinth.thickness : *u;
  }
  return std::nullopt;
}

std::vector<Face> faces_of(const Room& room, const RoomPlan& plan,
                           const std::vector<std::optional<PlacedRun>>& runs, Index r) {
  const Run& run = room.runs[r];
  const PlacedRun& placed = *runs[r];
  const Plinth& plinth = run.furniture.plinth;
  std::vector<Face> faces;

  int fronts = 0;
  for (Index i = 0; i < placed.units.size();) {
    if (!carries_plinth(run.units[i].kind)) {
      ++i;
      continue;
    }
    const double v = face_v(placed.units[i], plinth);
    Face face;
    bool on_legs = false;
    const Index first = i;
    for (; i < placed.units.size() && carries_plinth(run.units[i].kind) &&
           std::abs(face_v(placed.units[i], plinth) - v) < same_front;
         ++i) {
      on_legs = on_legs || stands_on_legs(run.units[i]);
      if (run.units[i].niche)
        face.no_joint.push_back({placed.units[i].left, placed.units[i].right});
    }
    if (!on_legs) continue;
    face.u1 = placed.units[first].left;
    face.u2 = placed.units[i - 1].right;
    face.v1 = face.v2 = v;
    if (first == 0) {
      if (run.starts_at == RunEnd::open) face.u1 += plinth.setback;
      if (run.starts_at == RunEnd::corner)
        face.u1 = corner_end(room, runs, r, false, v).value_or(face.u1);
      if (run.starts_at == RunEnd::wall && run.wall && run.from_along <= run.furniture.infill.max)
        face.u1 = -run.from_along;
    }
    if (i == placed.units.size()) {
      if (run.ends_at == RunEnd::open) face.u2 -= plinth.setback;
      if (run.ends_at == RunEnd::corner)
        face.u2 = corner_end(room, runs, r, true, v).value_or(face.u2);
      if (run.ends_at == RunEnd::wall && run.wall) {
        const double wall_end = plan.walls[*run.wall].length - run.from_along;
        if (wall_end - face.u2 <= run.furniture.infill.max) face.u2 = wall_end;
      }
    }
    face.name = ++fronts == 1 ? "front" : "front_" + std::to_string(fronts);
    for (auto& [from, to] : face.no_joint) {
      from -= face.u1;
      to -= face.u1;
    }
    faces.push_back(std::move(face));
  }
  if (faces.empty()) return faces;

  const bool free_standing = !run.wall;
  const double behind = free_standing ? plinth.setback + plinth.thickness : 0;
  const double left_front = faces.front().v1 - plinth.thickness;
  const double right_front = faces.back().v2 - plinth.thickness;
  const double left_u = run.starts_at == RunEnd::open ? plinth.setback : 0;
  const double right_u = placed.length - (run.ends_at == RunEnd::open ? plinth.setback : 0);
  if (run.starts_at == RunEnd::open)
    faces.push_back({"left", left_u, behind, left_u, left_front, {}});
  if (run.ends_at == RunEnd::open)
    faces.push_back({"right", right_u, right_front, right_u, behind, {}});
  if (free_standing && (run.starts_at == RunEnd::open || run.ends_at == RunEnd::open))
    faces.push_back({"back", right_u, plinth.setback, left_u, plinth.setback, {}});
  return faces;
}

// Where a face is jointed, along it: whole boards first, clear of niches.
std::vector<double> joints(const Face& face, double length, double stock) {
  std::vector<double> at;
  double done = 0;
  while (length - done > stock + 1e-6) {
    double joint = done + stock;
    for (bool moved = true; moved;) {
      moved = false;
      for (const auto& [from, to] : face.no_joint)
        if (joint > from - joint_clear_of_niche && joint < to + joint_clear_of_niche &&
            from - joint_clear_of_niche > done + shortest_face) {
          joint = from - joint_clear_of_niche;
          moved = true;
        }
    }
    at.push_back(done = joint);
  }
  return at;
}

PlanPoint place_along(const PlinthPiece& piece, double along) {
  const double t = along / piece.length;
  return {piece.from.x + (piece.to.x - piece.from.x) * t,
          piece.from.y + (piece.to.y - piece.from.y) * t};
}

// Where the floor is looked at under a piece. A board rests on a step's very edge, so both its
// sides are looked at; heights are still to come.
std::vector<ProfilePoint> places_under(const PlinthPiece& piece, const FloorSurface& floor) {
  std::vector<ProfilePoint> under;
  const auto area = [&](double along) { return floor.area_at(place_along(piece, along)); };
  const auto look_at = [&](double along) {
    if (!under.empty() && area(under.back().along) != area(along)) {
      double before = under.back().along, beyond = along;
      while (beyond - before > step_width) {
        const double middle = (before + beyond) / 2;
        (area(middle) == area(before) ? before : beyond) = middle;
      }
      if (before > under.back().along) under.push_back({before, 0});
      if (beyond < along) under.push_back({beyond, 0});
    }
    under.push_back({along, 0});
  };
  for (double along = 0; along < piece.length - 1e-6; along += sample_step) look_at(along);
  look_at(piece.length);
  return under;
}

}  // namespace

std::vector<PlinthPiece> plinth_pieces(const Survey& survey, Index room_index, const RoomPlan& plan,
                                       const std::vector<std::optional<PlacedRun>>& runs,
                                       const FloorSurface& floor) {
  const Room& room = survey.rooms[room_index];
  std::vector<PlinthPiece> pieces;
  for (Index r = 0; r < runs.size(); ++r) {
    if (!runs[r]) continue;
    for (const Face& face : faces_of(room, plan, runs, r)) {
      const PlanPoint a = runs[r]->frame.at(face.u1, face.v1);
      const PlanPoint b = runs[r]->frame.at(face.u2, face.v2);
      const double length = distance(a, b);
      if (length < shortest_face) continue;
      std::vector<double> ends = joints(face, length, room.runs[r].furniture.plinth.stock_length);
      ends.push_back(length);
      double from = 0;
      for (Index k = 0; k < ends.size(); ++k) {
        const auto at = [&](double t) {
          return PlanPoint{a.x + (b.x - a.x) * t / length, a.y + (b.y - a.y) * t / length};
        };
        PlinthPiece piece;
        piece.run = r;
        piece.face = face.name;
        piece.piece = int(k) + 1;
        piece.from = at(from);
        piece.to = at(ends[k]);
        piece.length = ends[k] - from;
        pieces.push_back(std::move(piece));
        from = ends[k];
      }
    }
  }

  // One question to the floor for all pieces together.
  std::vector<PlanPoint> places, band_places;
  std::vector<Index> first;
  for (PlinthPiece& piece : pieces) {
    first.push_back(places.size());
    piece.floor = places_under(piece, floor);
    for (const ProfilePoint& point : piece.floor) places.push_back(place_along(piece, point.along));
    band_places.push_back(piece.from);
    band_places.push_back({(piece.from.x + piece.to.x) / 2, (piece.from.y + piece.to.y) / 2});
    band_places.push_back(piece.to);
  }
  const auto bare = floor.heights(places);
  const auto bands = floor.estimates(band_places);
  for (Index i = 0; i < pieces.size(); ++i) {
    PlinthPiece& piece = pieces[i];
    for (Index k = 0; k < piece.floor.size(); ++k) {
      const auto height = bare[first[i] + k];
      if (!height) {
        piece.floor.clear();
        break;
      }
      const Index area = floor.area_at(places[first[i] + k]);
      piece.floor[k].height = *height + laid_over_bare(room, Floor::plinth, area).thickness.value;
    }
    if (piece.floor.empty()) continue;
    piece.hull = upper_hull(piece.floor);
    const auto lower = [](ProfilePoint p, ProfilePoint q) { return p.height < q.height; };
    piece.lowest = std::min_element(piece.hull.begin(), piece.hull.end(), lower)->height;
    piece.highest = std::max_element(piece.hull.begin(), piece.hull.end(), lower)->height;
    for (Index k = 0; k < 3; ++k)
      if (const auto& band = bands[3 * i + k])
        piece.sd = std::max(
            piece.sd, std::hypot(band->sd, laid_over_bare(room, Floor::plinth,
                                                          floor.area_at(band_places[3 * i + k]))
                                               .thickness.sd));
  }
  return pieces;
}

}  // namespace levelrun
