#include "app/drawing/plan_drawing.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "app/drawing/floor_drawing.h"
#include "app/drawing/pen.h"
#include "app/text_number.h"
#include "checks/outline.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

constexpr float dimension_away = 34;
constexpr double thin_unit = 100;  // mm wide: narrower is a panel or a filler
constexpr float face_clear = 3;    // dp
constexpr int arc_steps = 16;

Spot plus(Spot a, Spot b, float k) { return {a.x + b.x * k, a.y + b.y * k}; }

class PlanDrawer {
 public:
  PlanDrawer(const Survey& survey, const RoomToDraw& drawn, const RoomResult* results,
             const DrawingView& view, const PlanOptions& options, float text_scale)
      : room_(survey.rooms[drawn.room]),
        drawn_(drawn),
        results_(results),
        options_(options),
        pen_(out_, view, text_scale) {
    out_.scale = float(view.scale);
  }

  Drawing draw() {
    if (drawn_.walls.empty()) return out_;
    if (options_.points)
      for (const auto& p : drawn_.points)
        if (p.at) pen_.reserve({pen_.at(*p.at).x - 6, pen_.at(*p.at).y - 6, 12, 12});
    if (options_.contours) floor_drawing(pen_, drawn_, options_.vague, options_.decimal);
    if (options_.units) units();
    for (Index w = 0; w < drawn_.walls.size(); ++w) wall(w);
    for (Index o = 0; o < room_.openings.size(); ++o) opening(o);
    if (options_.past) past_corner();
    corner_names();
    if (options_.point_in_use) point_in_use();
    if (options_.dimensions) dimensions();
    if (options_.diagonals) diagonals();
    if (options_.points) points();
    return std::move(out_);
  }

 private:
  // On the sheet y runs down.
  static Spot on_sheet(PlanPoint v) { return {float(v.x), float(-v.y)}; }
  Spot behind(Index w) const {
    const Spot o = on_sheet(drawn_.walls[w].out);
    return {-o.x, -o.y};
  }
  PlanPoint on_wall(Index w, double along, double out = 0) const {
    const WallLine& line = drawn_.walls[w];
    return {line.from.x + line.along.x * along + line.out.x * out,
            line.from.y + line.along.y * along + line.out.y * out};
  }
  std::string band(double value, double sd) const {
    const double half = band95 * sd;
    return shown(value, 0, options_.decimal) + " ±" +
           (half < 0.95 ? shown(std::max(half, 0.1), 1, options_.decimal)
                        : shown(std::ceil(half - 0.05), 0, options_.decimal));
  }
  bool is_chosen(const std::string& at) const {
    return !options_.chosen.empty() && options_.chosen == at;
  }

  // Stretches of a wall that no opening interrupts, along.
  std::vector<std::pair<double, double>> solid_stretches(Index w) const {
    std::vector<std::pair<double, double>> holes;
    for (const Opening& o : room_.openings)
      if (o.wall == w) holes.push_back({o.left, o.left + o.width});
    std::sort(holes.begin(), holes.end());
    std::vector<std::pair<double, double>> out;
    double at = 0;
    const double length = drawn_.walls[w].length;
    for (const auto& [from, to] : holes) {
      if (from > at) out.push_back({at, std::min(from, length)});
      at = std::max(at, to);
    }
    if (at < length) out.push_back({at, length});
    return out;
  }

  void wall(Index w) {
    const Wall& facts = room_.walls[w];
    const std::string at = pointer(drawn_.room, "walls", w);
    const bool crayon = is_chosen(at) || (options_.past && options_.past->wall == w);
    const bool measured = !facts.lengths.empty() || (drawn_.plan.known && !drawn_.guessed);
    const auto hatch = facts.build == WallBuild::masonry || facts.build == WallBuild::dot_and_dab
                           ? DrawingPen::Hatch::diagonal
                       : facts.build == WallBuild::unknown ? DrawingPen::Hatch::none
                                                           : DrawingPen::Hatch::upright;
    for (const auto& [from, to] : solid_stretches(w)) {
      const Spot a = pen_.at(on_wall(w, from)), b = pen_.at(on_wall(w, to));
      pen_.hatch(a, b, behind(w), hatch);
      pen_.stroke({a, b}, crayon ? Ink::crayon : Ink::ink, LineWidth::face,
                  measured ? Dash::solid : Dash::dotted);
    }
    const Spot a = pen_.at(drawn_.walls[w].from), b = pen_.at(drawn_.walls[w].to);
    pen_.fact(at, {std::min(a.x, b.x) - 10, std::min(a.y, b.y) - 10, std::abs(a.x - b.x) + 20,
                   std::abs(a.y - b.y) + 20});
  }

  void opening(Index i) {
    const Opening& o = room_.openings[i];
    const Spot back = behind(o.wall);
    const Spot a = pen_.at(on_wall(o.wall, o.left)), b = pen_.at(on_wall(o.wall, o.left + o.width));
    const bool crayon = is_chosen(pointer(drawn_.room, "openings", i));
    const Ink ink = crayon ? Ink::crayon : Ink::ink;
    if (o.kind == OpeningKind::window) {
      for (const float d : {0.f, 4.f, 8.f}) pen_.stroke({plus(a, back, d), plus(b, back, d)}, ink);
    }
    for (const Spot jamb : {a, b})
      pen_.stroke({jamb, plus(jamb, back, 9)}, ink, LineWidth::outline);
    if (o.kind == OpeningKind::door && o.opens &&
        (*o.opens == Opens::in_left || *o.opens == Opens::in_right)) {
      const bool left = *o.opens == Opens::in_left;
      const double hinge = left ? o.left : o.left + o.width;
      std::vector<Spot> arc;
      for (int n = 0; n <= arc_steps; ++n) {
        const double t = std::numbers::pi / 2 * n / arc_steps;
        arc.push_back(pen_.at(on_wall(o.wall, hinge + (left ? 1 : -1) * o.width * std::cos(t),
                                      o.width * std::sin(t))));
      }
      pen_.stroke({pen_.at(on_wall(o.wall, hinge)), arc.back()}, ink, LineWidth::thin);
      pen_.stroke(arc, crayon ? Ink::crayon : Ink::rule);
    }
    pen_.fact(pointer(drawn_.room, "openings", i),
              {std::min(a.x, b.x) - 6, std::min(a.y, b.y) - 6, std::abs(a.x - b.x) + 12,
               std::abs(a.y - b.y) + 12});
  }

  void corner_names() {
    for (Index c = 0; c < drawn_.corners.size(); ++c) {
      Spot away{0, 0};
      for (Index w = 0; w < room_.walls.size(); ++w)
        if (room_.walls[w].from == c || room_.walls[w].to == c) away = plus(away, behind(w), 1);
      const float length = std::hypot(away.x, away.y);
      if (length < 0.3f) continue;
      Lettering l;
      l.text = room_.corners[c].id;
      l.bold = true;
      l.at = plus(pen_.at(drawn_.corners[c]), away, 26 / length);
      pen_.letter(l);
    }
  }

  void dimensions() {
    const auto order_by_length = [&] {
      std::vector<Index> order(drawn_.walls.size());
      for (Index w = 0; w < order.size(); ++w) order[w] = w;
      std::stable_sort(order.begin(), order.end(), [&](Index a, Index b) {
        return drawn_.walls[a].length > drawn_.walls[b].length;
      });
      return order;
    }();
    for (const Index w : order_by_length) {
      if (options_.past && options_.past->wall == w) continue;
      const Spot a = pen_.at(drawn_.walls[w].from), b = pen_.at(drawn_.walls[w].to);
      const bool measured = !room_.walls[w].lengths.empty();
      if (drawn_.guessed) {
        if (measured)
          pen_.dimension(a, b, behind(w), dimension_away,
                         shown(room_.walls[w].lengths[0].length, 0, options_.decimal));
        else
          pen_.dimension(a, b, behind(w), dimension_away, room_.walls[w].id + " ?", Ink::blue,
                         true);
        continue;
      }
      const WallLine& line = drawn_.plan.walls[w];
      const bool assumed = results_ && room_.walls[w].from < results_->corners.size() && !measured;
      std::string text = band(line.length, line.length_sd);
      if (assumed) text = "(" + text + ")";
      pen_.dimension(a, b, behind(w), dimension_away, text);
    }
  }

  void past_corner() {
    const auto& past = *options_.past;
    const WallLine& line = drawn_.walls[past.wall];
    const Spot a = pen_.at(line.from);
    const PlanPoint end = on_wall(past.wall, past.length);
    const Spot b = pen_.at(end), back = behind(past.wall);
    if (past.length > line.length) {
      pen_.stroke({pen_.at(line.to), b}, Ink::crayon, LineWidth::face);
      pen_.stroke({plus(b, back, -7), plus(b, back, 7)}, Ink::crayon, LineWidth::outline);
    }
    const double off = past.length - line.length;
    const std::string length = shown(past.length, 0, options_.decimal);
    const std::string words = length + ", " + shown(std::abs(off), 0, options_.decimal) +
                              (off > 0 ? " past " : " short of ") +
                              room_.corners[room_.walls[past.wall].to].id;
    if (!pen_.dimension(a, b, back, dimension_away, words, Ink::crayon, true))
      pen_.dimension(a, b, back, dimension_away, length, Ink::crayon, true);
    if (!past.expected) return;
    const std::string others = "(" + band(past.expected->value, past.expected->sd) + ")";
    const float under = dimension_away + 28;
    if (!pen_.dimension(a, pen_.at(line.to), back, under, others + ", from the others", Ink::blue))
      pen_.dimension(a, pen_.at(line.to), back, under, others, Ink::blue);
  }

  void diagonals() {
    for (Index d = 0; d < room_.diagonals.size(); ++d) {
      const Diagonal& diagonal = room_.diagonals[d];
      const Spot a = pen_.at(drawn_.corners[diagonal.from]),
                 b = pen_.at(drawn_.corners[diagonal.to]);
      const bool crayon = is_chosen(pointer(drawn_.room, "diagonals", d));
      pen_.stroke({a, b}, crayon ? Ink::crayon : Ink::ink);
      Lettering l;
      l.text = shown(diagonal.length, 0, options_.decimal);
      l.ink = crayon ? Ink::crayon : Ink::ink;
      for (const float t : {0.32f, 0.68f, 0.2f, 0.8f, 0.44f}) {
        l.at = {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
        if (pen_.letter(l)) break;
      }
    }
  }

  void units() {
    struct Name {
      Lettering lettering;
      Box box;
      bool thin = false;
    };
    std::vector<Name> names;
    for (Index r = 0; r < drawn_.runs.size(); ++r) {
      if (!drawn_.runs[r]) continue;
      const Run& run = room_.runs[r];
      for (const PlacedUnit& unit : drawn_.runs[r]->units) {
        const Unit& facts = run.units[unit.unit];
        const auto corner = [&](double u, double v) {
          return pen_.at(drawn_.runs[r]->frame.at(u, v));
        };
        const std::vector<Spot> outline = {
            corner(unit.left, unit.back), corner(unit.right, unit.back),
            corner(unit.right, unit.front), corner(unit.left, unit.front)};
        const std::string at =
            pointer(drawn_.room, "runs", r) + "/units/" + std::to_string(unit.unit);
        const bool crayon = is_chosen(at) || is_chosen(pointer(drawn_.room, "runs", r));
        const bool above = facts.kind == UnitKind::wall;
        const Ink ink = crayon ? Ink::crayon : options_.units_fixed ? Ink::ink : Ink::rule;
        pen_.stroke(
            outline, ink,
            crayon || (options_.units_fixed && !above) ? LineWidth::outline : LineWidth::thin,
            above                  ? Dash::double_dot
            : options_.units_fixed ? Dash::solid
                                   : Dash::dashed,
            true);
        Box box{outline[0].x, outline[0].y, 0, 0};
        for (const Spot p : outline) {
          const float right = std::max(box.right(), p.x), bottom = std::max(box.bottom(), p.y);
          box.x = std::min(box.x, p.x);
          box.y = std::min(box.y, p.y);
          box.w = right - box.x;
          box.h = bottom - box.y;
        }
        pen_.fact(at, box);
        if (!options_.units_fixed || above) continue;
        Lettering l;
        l.text = facts.id;
        l.ink = crayon ? Ink::crayon : Ink::soft;
        names.push_back({std::move(l), box, facts.width < thin_unit});
      }
    }
    // Once all outlines are there, so that none runs through a name.
    for (Name& name : names) unit_name(name.lettering, name.box, name.thin);
  }

  // In its box; of an end panel, which never has room for it, beside it.
  void unit_name(Lettering& l, const Box& box, bool thin) {
    const float wide = lettering_width(l, pen_.text_scale()),
                high = lettering_height(l.height, pen_.text_scale());
    const Spot middle = box.middle();
    const float across = box.w / 2 + wide / 2 + 6, down = box.h / 2 + high * 0.7f;
    if (wide + 4 < box.w && high < box.h) {
      l.at = middle;
      pen_.letter(l);
      return;
    }
    if (!thin || std::max(box.w, box.h) < 24) return;
    for (const Spot at : {Spot{middle.x, middle.y + down}, Spot{middle.x, middle.y - down},
                          Spot{middle.x + across, middle.y}, Spot{middle.x - across, middle.y}}) {
      l.at = at;
      if (pen_.letter(l)) return;
    }
  }

  void point_in_use() {
    const auto& p = drawn_.points[*options_.point_in_use];
    if (!p.at) return;
    const Spot at = pen_.at(*p.at);
    Lettering l;
    l.text = room_.levels.points[*options_.point_in_use].id;
    l.height = TextHeight::body;
    l.bold = true;
    l.ink = Ink::blue;
    l.at = at;
    l.on_blank = false;
    const float radius = std::max(20.f, lettering_width(l, pen_.text_scale()) / 2 + 6);
    pen_.disc(at, radius, Ink::sheet);
    for (const float d : {0.f, 0.7f, 1.4f}) pen_.disc(at, radius + d, Ink::blue, false);
    pen_.letter(l, true);
    pen_.reserve({at.x - radius, at.y - radius, 2 * radius, 2 * radius});
  }

  std::string point_height(const RoomToDraw::Point& p) const {
    if (!options_.bare_heights || p.stripped == 0)
      return shown_change(p.height->value, 1, options_.decimal);
    return "(" + shown_change(p.height->value - p.stripped, 1, options_.decimal) + ")";
  }

  // Lettering keeps off the faces of walls.
  void reserve_faces() {
    for (const WallLine& line : drawn_.walls) {
      const Spot a = pen_.at(line.from), b = pen_.at(line.to);
      const float length = std::hypot(b.x - a.x, b.y - a.y);
      const int parts = std::clamp(int(length / (2 * face_clear)), 1, 400);
      for (int n = 0; n <= parts; ++n) {
        const float t = float(n) / float(parts);
        pen_.reserve({a.x + (b.x - a.x) * t - face_clear, a.y + (b.y - a.y) * t - face_clear,
                      2 * face_clear, 2 * face_clear});
      }
    }
  }

  void points() {
    reserve_faces();
    const auto benchmark = room_.levels.benchmark;
    for (Index i = 0; i < drawn_.points.size(); ++i) {
      const auto& p = drawn_.points[i];
      if (!p.at || (options_.point_in_use && *options_.point_in_use == i)) continue;
      const Spot at = pen_.at(*p.at);
      const std::string where = pointer(drawn_.room) + "/levels/points/" + std::to_string(i);
      pen_.fact(where, {at.x - 12, at.y - 12, 24, 24});
      const bool crayon = is_chosen(where);
      Lettering l;
      l.ink = Ink::ink;
      if (p.booked) {
        const Ink ink = crayon ? Ink::crayon : Ink::ink;
        pen_.stroke({{at.x - 5, at.y - 5}, {at.x + 5, at.y + 5}}, ink, LineWidth::outline);
        pen_.stroke({{at.x - 5, at.y + 5}, {at.x + 5, at.y - 5}}, ink, LineWidth::outline);
        if (p.height) l.text = point_height(p);
        if (crayon) l.ink = Ink::crayon;
      } else {
        pen_.disc(at, 4, Ink::blue, false);
        l.text = room_.levels.points[i].id;
        l.ink = Ink::blue;
      }
      if (benchmark && benchmark->point == i) {
        l.text = room_.levels.points[i].id +
                 (p.height ? " " + shown(p.height->value, 1, options_.decimal) : "");
        l.ink = Ink::blue;
        l.bold = true;
      }
      if (l.text.empty()) continue;
      const float half = lettering_width(l, pen_.text_scale()) / 2;
      const float down = lettering_height(l.height, pen_.text_scale()) * 0.8f;
      // Beside it, then above and below, then further off; a leader leads there.
      const Spot sides[] = {{1, 1}, {1, -1}, {-1, 1}, {-1, -1}, {0, 1}, {0, -1}, {1, 0}, {-1, 0}};
      const int tries = options_.bare_heights ? 3 * 8 : 8;  // on paper: a screen can be zoomed
      for (int n = 0; n < tries; ++n) {
        const Spot side = sides[n % 8];
        const float further = float(n / 8) * down * 1.6f;
        const Spot off{side.x * (half + 10 + (side.y == 0 ? further : 0)),
                       side.y * (down + (side.x == 0 ? 6 : 0) + further)};
        l.at = {at.x + off.x, at.y + off.y};
        if (!pen_.letter(l)) continue;
        if (p.booked) {
          const float reach =
              std::max(std::abs(off.y) - lettering_height(l.height, pen_.text_scale()) * 0.4f, 4.f);
          pen_.stroke({{at.x + side.x * 4, at.y + side.y * 4},
                       {at.x + side.x * 9, at.y + side.y * std::max(reach, 8.f)}},
                      Ink::ink);
        }
        break;
      }
    }
  }

  Drawing out_;
  const Room& room_;
  const RoomToDraw& drawn_;
  const RoomResult* results_;
  const PlanOptions& options_;
  DrawingPen pen_;
};

}  // namespace

Drawing plan_drawing(const Survey& survey, const RoomToDraw& drawn, const RoomResult* results,
                     const DrawingView& view, const PlanOptions& options, float text_scale) {
  return PlanDrawer(survey, drawn, results, view, options, text_scale).draw();
}

DrawingView plan_view(const RoomToDraw& drawn, Box box, bool dimensions, float text_scale) {
  DrawingView view;
  view.box = box;
  if (drawn.corners.empty()) return view;
  double x0 = 1e300, x1 = -1e300, y0 = 1e300, y1 = -1e300;
  for (const PlanPoint& p : drawn.corners) {
    x0 = std::min(x0, p.x), x1 = std::max(x1, p.x);
    y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
  }
  const float edge = dimensions ? 40 + 24 * text_scale : 40;
  view.x = (x0 + x1) / 2;
  view.y = (y0 + y1) / 2;
  view.scale = std::max(1e-4, std::min((box.w - 2 * edge) / std::max(1.0, x1 - x0),
                                       (box.h - 2 * edge) / std::max(1.0, y1 - y0)));
  return view;
}

}  // namespace levelrun
