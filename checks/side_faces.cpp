// Question: how much does a side wall leave of a run's width?
// Method: the face is straight between readings and steps where a finish, a skirting or a board
// ends, so the narrowest place is at one of those or at an edge of what stands beside it.
#include "checks/side_faces.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "checks/measured_heights.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

constexpr double offsets_sd = 1;    // mm, of a face where its wall has no offsets: its plan line
                                    // alone; common practice, no source
constexpr double straight_on = 30;  // degrees from square within which a neighbour is a side wall
constexpr double architrave_thickness = 20;  // mm; common practice, no source
constexpr double lean_sd = 4;  // mm/m, of a wall before it is measured: as the room plan has it
constexpr double plan_height = 900;  // where the plan's lines lie
constexpr double tape_sd = 2;        // mm: no instrument named

bool spans(const Wall& wall, const FaceLine& line) {
  return wall.offsets[line.readings.back()].along - wall.offsets[line.readings.front()].along >
         same_line;
}

// Lowest and highest level line, if the offsets tell the wall's lean.
std::optional<std::pair<double, double>> lean_read(const Wall& wall) {
  if (wall.offsets_from != OffsetsFrom::plumb_plane) return std::nullopt;
  std::vector<FaceLine> lines = level_lines(wall);
  std::erase_if(lines, [&](const FaceLine& line) { return !spans(wall, line); });
  if (lines.size() < 2) return std::nullopt;
  return std::pair(lines.front().at, lines.back().at);
}

// What a wall's lengths gain with height, mm/m. Empty: not taken at two heights.
std::optional<Estimate> lengthening(const RoomFacts& f, Index index) {
  const Wall& wall = f.room.walls[index];
  const auto used = [&](Index i) {
    const std::string at = pointer(f.index, "walls", index) + "/lengths/" + std::to_string(i);
    return wall.lengths[i].out == 0 &&
           std::none_of(f.plan.observations.begin(), f.plan.observations.end(),
                        [&](const ObservationResult& o) {
                          return o.at == at && o.verdict == Agreement::rejected;
                        });
  };
  double weights = 0, heights = 0;
  std::vector<std::pair<Index, double>> taken;
  for (Index i = 0; i < wall.lengths.size(); ++i) {
    if (!used(i)) continue;
    const WallLength& length = wall.lengths[i];
    const double sd = length.instrument ? f.survey.instruments[*length.instrument].sd : tape_sd;
    taken.push_back({i, 1 / (sd * sd)});
    weights += taken.back().second;
    heights += taken.back().second * length.height;
  }
  double squares = 0, products = 0;
  for (const auto& [i, weight] : taken) {
    const double up = (wall.lengths[i].height - heights / weights) / 1000;
    squares += weight * up * up;
    products += weight * up * (wall.lengths[i].length - wall.lengths[taken.front().first].length);
  }
  if (squares <= 1e-9) return std::nullopt;
  const double precision = squares + 1 / (lean_sd * lean_sd);
  return Estimate{products / precision, 1 / std::sqrt(precision)};
}

}  // namespace

std::optional<SideFace> SideFace::of(const RoomFacts& f, Index run_index, bool right) {
  const Run& run = f.room.runs[run_index];
  if (!run.wall || !f.runs[run_index]) return std::nullopt;
  const Wall& own = f.room.walls[*run.wall];
  const Index corner = right ? own.to : own.from;
  for (Index w = 0; w < f.room.walls.size(); ++w) {
    if (w == *run.wall || (right ? f.room.walls[w].from : f.room.walls[w].to) != corner) continue;
    const WallLine &a = f.plan.walls[*run.wall], &b = f.plan.walls[w];
    const double cross = a.along.x * b.along.y - a.along.y * b.along.x;
    if (std::abs(cross) < std::cos(straight_on * std::numbers::pi / 180)) return std::nullopt;
    return SideFace(f, run_index, right, w);
  }
  return std::nullopt;
}

SideFace::SideFace(const RoomFacts& f, Index run, bool right, Index side)
    : f_(&f),
      side_(&f.room.walls[side]),
      line_(&f.plan.walls[side]),
      frame_(f.runs[run]->frame),
      right_(right),
      index_(side),
      offsets_(f.survey, *side_, 0, line_->length, HUGE_VAL) {
  const PlanPoint& way = line_->along;
  const double cross = frame_.along.x * way.y - frame_.along.y * way.x;
  const auto crosses = [&](double v) {
    const PlanPoint a = frame_.at(0, v);
    return ((line_->from.x - a.x) * way.y - (line_->from.y - a.y) * way.x) / cross;
  };
  at_line_ = crosses(0);
  slope_ = crosses(1) - at_line_;
  // The run is set out from its wall's left corner, so only the right one's place is in doubt.
  if (right) place_sd_ = f.plan.walls[*f.room.runs[run].wall].length_sd;
  add_openings();
  add_services();
  add_lean(run);
}

void SideFace::add_lean(Index run) {
  if (lean_read(*side_)) return;  // it is in the offsets
  const auto gain = lengthening(*f_, *f_->room.runs[run].wall);
  if (!gain) return;
  lean_ = {-gain->value / 2, gain->sd / 2};
  const Wall& own = f_->room.walls[*f_->room.runs[run].wall];
  for (Index w = 0; w < f_->room.walls.size(); ++w) {
    const Wall& other = f_->room.walls[w];
    if (w == *f_->room.runs[run].wall || (right_ ? other.to != own.from : other.from != own.to))
      continue;
    const auto read = lean_read(other);
    if (!read) continue;
    // At the corner that the other side wall and the run's own wall share.
    const double at = right_ ? f_->plan.walls[w].length : 0;
    const RunLine line(f_->survey, other, at, at, HUGE_VAL);
    const auto low = line.hollow(at, read->first), high = line.hollow(at, read->second);
    if (!low || !high) continue;
    const double other_lean = (low->value - high->value) / (read->second - read->first) * 1000;
    lean_ = {-gain->value - other_lean, gain->sd};
  }
}

void SideFace::add_openings() {
  for (const Opening& opening : f_->room.openings) {
    if (opening.wall != index_) continue;
    double sill = opening.sill.value;
    if (opening.sill.setup) {
      const Place place{index_, opening.left + opening.width / 2, 0, 0, 0, 0};
      const auto above = height_above_benchmark(*f_, opening.sill, place);
      const auto floor = height_above_benchmark(*f_, {}, place);
      if (!above || !floor) continue;
      sill = above->value - floor->value;
    }
    const double left = opening.left, right = left + opening.width, wide = opening.architrave;
    const double head = sill + opening.height;
    if (wide > 0) {
      const std::string name = "the architrave of " + opening.id;
      const double thick = architrave_thickness;
      things_.push_back({left - wide, left, sill, head + wide, thick, false, name});
      things_.push_back({right, right + wide, sill, head + wide, thick, false, name});
      things_.push_back({left, right, head, head + wide, thick, false, name});
    }
    if (opening.board)
      things_.push_back({left, right, sill - opening.board->thickness, sill,
                         opening.board->projection, false, "the board of " + opening.id});
  }
}

void SideFace::add_services() {
  for (const Service& service : f_->room.services) {
    if (service.place.wall != index_ || service.projection <= 0 || !service.height ||
        (service.action != ServiceAction::stay && service.action != ServiceAction::new_))
      continue;
    double middle = service.height->value;
    if (service.height->setup) {
      const auto above = height_above_benchmark(*f_, *service.height, service.place);
      const auto floor = height_above_benchmark(*f_, {}, service.place);
      if (!above || !floor) continue;
      middle = above->value - floor->value;
    }
    const double wide = service.width.value_or(service.diameter.value_or(0)) / 2;
    const double high = service.height_of.value_or(service.diameter.value_or(0)) / 2;
    things_.push_back({service.place.along - wide, service.place.along + wide, middle - high,
                       middle + high, service.projection, true, "service " + service.id});
  }
}

double SideFace::along(double v) const {
  const PlanPoint p = frame_.at(plan_u(v), v);
  return (p.x - line_->from.x) * line_->along.x + (p.y - line_->from.y) * line_->along.y;
}

double SideFace::v_of(double along) const {
  const double x = line_->from.x + along * line_->along.x - frame_.origin.x;
  const double y = line_->from.y + along * line_->along.y - frame_.origin.y;
  return x * frame_.out.x + y * frame_.out.y;
}

Estimate SideFace::face(double along, double height) const {
  Estimate out{0, offsets_sd};
  if (auto proudest = offsets_.proudest()) {
    const auto hollow = offsets_.hollow(along, height);
    if (!hollow) proudest = RunLine(f_->survey, *side_, along, along, height).proudest();
    out = {proudest->value - (hollow ? hollow->value : 0), proudest->sd};
  }
  const double up = (height - plan_height) / 1000;
  out.value += lean_.value * up;
  out.sd = std::hypot(out.sd, lean_.sd * up);
  for (const Finish& finish : side_->finish)
    if (finish.from_height.value_or(0) <= height && height <= finish.to_height.value_or(HUGE_VAL)) {
      out.value += finish.thickness;
      out.sd = std::hypot(out.sd, finish.sd.value_or(0));
    }
  if (side_->skirting && side_->skirting->stays && height <= side_->skirting->height)
    out.value += side_->skirting->thickness;
  return out;
}

const SideFace::Thing* SideFace::thing(double along, double height, bool with_services) const {
  const Thing* out = nullptr;
  for (const Thing& thing : things_)
    if ((with_services || !thing.service) && thing.from <= along && along <= thing.to &&
        thing.bottom <= height && height <= thing.top && (!out || thing.out > out->out))
      out = &thing;
  return out;
}

SideFace::Narrowest SideFace::narrowest(const BesideWall& box, bool with_services) const {
  std::vector<double> heights = {box.bottom, box.top};
  std::vector<double> alongs = {along(box.back), along(box.front)};
  const double from = std::min(alongs[0], alongs[1]), to = std::max(alongs[0], alongs[1]);
  const auto height = [&](double h) {
    if (h > box.bottom && h < box.top) heights.push_back(h);
  };
  const auto edge = [&](double a) {
    if (a > from && a < to) alongs.push_back(a);
  };
  for (const WallOffset& offset : side_->offsets) edge(offset.along);
  for (const FaceLine& line : level_lines(*side_)) height(line.at);
  for (const Finish& finish : side_->finish) {
    if (finish.from_height) height(*finish.from_height);
    if (finish.to_height) height(*finish.to_height);
  }
  if (side_->skirting) height(side_->skirting->height);
  for (const Thing& t : things_) {
    edge(t.from);
    edge(t.to);
    height(t.bottom);
    height(t.top);
  }
  std::optional<Narrowest> out;
  for (const double a : alongs)
    for (const double h : heights) {
      Estimate face = this->face(a, h);
      const Thing* stands = thing(a, h, with_services);
      if (stands) face.value += stands->out;
      const double u = plan_u(v_of(a)) + (right_ ? -face.value : face.value);
      if (out && (right_ ? u >= out->u : u <= out->u)) continue;
      out = Narrowest{u, std::hypot(face.sd, place_sd_), face.value, stands ? stands->name : ""};
    }
  return *out;
}

}  // namespace levelrun
