#include "app/drawing/elevation_drawing.h"

#include <algorithm>
#include <cmath>

#include "app/drawing/level_notes.h"
#include "app/drawing/pen.h"
#include "app/drawing/service_symbols.h"
#include "app/drawing/wall_routes.h"
#include "app/text_number.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

constexpr double asked_high = 1000;  // mm: where a service without a height has its "?"
constexpr int floor_steps = 24;
constexpr int most_reserved = 400;  // boxes along one stretch, however far it is zoomed

float caption(float text_scale) { return lettering_height(TextHeight::caption, text_scale); }

class ElevationDrawer {
 public:
  ElevationDrawer(const Survey& survey, const RoomToDraw& drawn, const RoomResult* results,
                  Index wall, const DrawingView& view, const ElevationOptions& options,
                  float text_scale)
      : room_(survey.rooms[drawn.room]),
        drawn_(drawn),
        results_(results),
        w_(wall),
        options_(options),
        extent_(wall_extent(survey, drawn, wall)),
        around_(elevation_edges(view.box, text_scale, extent_.window).around),
        times_(float(std::clamp(view.scale * 5.5, 0.6, 1.0))),
        pen_(out_, view, text_scale) {
    out_.scale = float(view.scale);
    datum_ = surveyed_floor(drawn, wall).value_or(0);
  }

  Drawing draw() {
    for (Index r = 0; r < drawn_.runs.size(); ++r)
      if (drawn_.runs[r] && room_.runs[r].wall == w_) run(r);
    face();
    no_drill();
    for (Index o = 0; o < room_.openings.size(); ++o)
      if (room_.openings[o].wall == w_) opening(o);
    floors();
    datums();
    if (options_.placing) placing(at(options_.placing->x, options_.placing->y));
    std::vector<Index> services;
    for (Index s = 0; s < room_.services.size(); ++s)
      if (room_.services[s].place.wall == w_) services.push_back(s);
    routes();
    for (const Index s : services) symbol(s);
    // Beside routes room is scarce: names come first there, for they have to stand at their
    // symbols.
    if (routes_.empty()) notes();
    for (const Index s : services) service_name(s);
    reserve_routes();
    if (!routes_.empty()) notes();
    if (around_ != Around::nothing) dimensions();
    for (Index r = 0; r < drawn_.runs.size(); ++r)
      if (drawn_.runs[r] && room_.runs[r].wall == w_) unit_names(r);
    return std::move(out_);
  }

 private:
  double floor_at(double along) const {
    return wall_floor(drawn_, w_, along).value_or(datum_) - datum_;
  }
  double height_of(const MeasuredHeight& h) const { return above_floor(h, drawn_, datum_); }
  Spot at(double along, double high) const { return pen_.view().at(along, high); }
  std::vector<Spot> rectangle(double left, double low, double right, double high) const {
    return {at(left, high), at(right, high), at(right, low), at(left, low)};
  }
  Box box(double left, double low, double right, double high) const {
    const Spot a = at(left, high), b = at(right, low);
    return {a.x, a.y, b.x - a.x, b.y - a.y};
  }
  Ink ink_of(const std::string& fact, Ink usual) const {
    return !fact.empty() && fact == options_.chosen ? Ink::crayon : usual;
  }
  std::string whole(double value) const { return shown(value, 0, options_.decimal); }
  std::string level(double value) const { return shown_change(value, 1, options_.decimal); }

  const GroupResult* group_of(const Run& run) const {
    if (results_)
      for (const GroupResult& g : results_->groups)
        if (g.id == run.level_group) return &g;
    return nullptr;
  }
  double underside_of(const Run& run) const {
    const GroupResult* group = group_of(run);
    return group ? group->underside - datum_ : run.furniture.plinth.height;
  }

  void run(Index r) {
    const Run& run = room_.runs[r];
    const double underside = underside_of(run);
    std::optional<double> base_top, base_left;
    double base_right = 0;
    for (const PlacedUnit& unit : drawn_.runs[r]->units) {
      const Unit& facts = run.units[unit.unit];
      const double left = run.from_along + unit.left, right = run.from_along + unit.right;
      const double low = underside + unit.offset, high = underside + unit.top_offset;
      const std::string fact = unit_fact(r, unit.unit);
      const bool hangs = facts.kind == UnitKind::wall;
      pen_.stroke(rectangle(left, low, right, high), ink_of(fact, Ink::rule), LineWidth::thin,
                  hangs ? Dash::double_dot : Dash::solid, true);
      for (const PlacedLeg& leg : unit.legs) {
        const double u = run.from_along + leg.u;
        pen_.stroke({at(u, low), at(u, floor_at(u))}, Ink::rule);
      }
      if (hangs && run.furniture.wall_unit.rail_drop) {
        const double rail = high - *run.furniture.wall_unit.rail_drop;
        pen_.stroke({at(left, rail), at(right, rail)}, Ink::rule, LineWidth::thin, Dash::dashed);
      }
      if (facts.kind == UnitKind::base || facts.kind == UnitKind::appliance) {
        base_top = std::max(base_top.value_or(high), high);
        base_left = std::min(base_left.value_or(left), left);
        base_right = std::max(base_right, right);
      }
      pen_.fact(fact, box(left, low, right, high));
    }
    if (base_top)
      pen_.stroke(
          rectangle(*base_left, *base_top, base_right, *base_top + run.furniture.worktop.thickness),
          Ink::rule, LineWidth::thin, Dash::solid, true);
  }

  std::string unit_fact(Index r, Index unit) const {
    return pointer(drawn_.room, "runs", r) + "/units/" + std::to_string(unit);
  }

  // Names yield to all other lettering: up the unit until one stands free.
  void unit_names(Index r) {
    const Run& run = room_.runs[r];
    const double underside = underside_of(run);
    const float em = caption(pen_.text_scale());
    for (const PlacedUnit& unit : drawn_.runs[r]->units) {
      const Unit& facts = run.units[unit.unit];
      const bool hangs = facts.kind == UnitKind::wall;
      const Box b = box(run.from_along + unit.left, underside + unit.offset,
                        run.from_along + unit.right, underside + unit.top_offset);
      std::string rail;
      if (results_)
        for (const ClearanceResult& c : results_->clearances)
          if (c.what == "rail height" && c.at == unit_fact(r, unit.unit) && c.clear)
            rail = "rail " + whole(*c.clear);
      Lettering l;
      l.ink = Ink::soft;
      l.on_blank = false;
      for (const std::string& words : {facts.id, rail}) {
        l.text = words;
        if (words.empty() || lettering_width(l, pen_.text_scale()) > b.w - 4) continue;
        for (float in = em; in < b.h - em * 0.6f; in += em * 0.5f) {
          l.at = {b.middle().x, hangs ? b.y + in : b.bottom() - in};
          if (pen_.letter(l)) break;
        }
      }
    }
  }

  // Ceiling and ends; dotted where nobody has read it.
  void face() {
    const double high = extent_.height, wide = extent_.length;
    if (const auto& skirting = room_.walls[w_].skirting)
      pen_.stroke({at(0, skirting->height), at(wide, skirting->height)}, Ink::rule);
    pen_.stroke({at(0, floor_at(0)), at(0, high)}, Ink::ink, LineWidth::face);
    pen_.stroke({at(wide, floor_at(wide)), at(wide, high)}, Ink::ink, LineWidth::face);
    pen_.stroke({at(0, high), at(wide, high)}, Ink::ink, LineWidth::face,
                extent_.ceiling_read ? Dash::solid : Dash::dotted);
    reserve_frame(box(0, 0, wide, high), 3);
    if (extent_.ceiling_read) return;
    Lettering l;
    l.text = "ceiling ?";
    l.at = at(wide / 2, high);
    l.at.y += caption(pen_.text_scale());
    l.ink = Ink::blue;
    pen_.letter(l);
  }

  void no_drill() {
    for (Index i = 0; i < room_.no_drill.size(); ++i) {
      const NoDrill& n = room_.no_drill[i];
      if (n.wall != w_ || !n.outline.empty()) continue;
      const std::string fact = pointer(drawn_.room, "no_drill", i);
      const Ink ink = ink_of(fact, Ink::ink);
      const double right = n.along + n.width, top = n.height + n.height_of;
      pen_.stroke(rectangle(n.along, n.height, right, top), ink, LineWidth::thin, Dash::dashed,
                  true);
      const Box b = box(n.along, n.height, right, top);
      sparse_hatch(b, ink);
      pen_.fact(fact, b);
      Lettering l;
      l.ink = ink;
      l.at = b.middle();
      for (const char* words : {"do not drill", "ND"}) {
        l.text = words;
        if (lettering_width(l, pen_.text_scale()) < b.w - 4 && pen_.letter(l)) break;
      }
    }
  }

  // Strokes upwards to the right, so far apart that what lies in the zone still reads.
  void sparse_hatch(Box b, Ink ink) {
    constexpr float apart = 24;  // dp
    for (float x = b.x - b.h + apart / 2; x < b.right(); x += apart) {
      const float left = std::max(x, b.x), right = std::min(x + b.h, b.right());
      if (right - left < 1) continue;
      Stroke stroke{{{left, b.bottom() - (left - x)}, {right, b.bottom() - (right - x)}}};
      stroke.ink = ink;
      stroke.texture = true;
      out_.primitives.push_back(std::move(stroke));
    }
  }

  void opening(Index i) {
    const Opening& o = room_.openings[i];
    const std::string fact = pointer(drawn_.room, "openings", i);
    const Ink ink = ink_of(fact, Ink::ink);
    const double low = height_of(o.sill), high = low + o.height, right = o.left + o.width;
    pen_.area(rectangle(o.left, low, right, high), Ink::sheet);
    pen_.stroke(rectangle(o.left, low, right, high), ink, LineWidth::outline, Dash::solid, true);
    if (o.kind == OpeningKind::window) {
      const double edge = std::min({60.0, o.width / 6, o.height / 6});
      pen_.stroke(rectangle(o.left + edge, low + edge, right - edge, high - edge), ink,
                  LineWidth::thin, Dash::solid, true);
      const double middle = (o.left + right) / 2;
      pen_.stroke({at(middle, low + edge), at(middle, high - edge)}, ink);
    }
    if (o.board) pen_.area(rectangle(o.left - 40, low - o.board->thickness, right + 40, low), ink);
    if (o.architrave > 0)
      pen_.stroke({at(o.left - o.architrave, low), at(o.left - o.architrave, high + o.architrave),
                   at(right + o.architrave, high + o.architrave), at(right + o.architrave, low)},
                  Ink::rule);
    const Box b = box(o.left, low, right, high);
    reserve_frame(b, 2);
    pen_.fact(fact, b);
  }

  // Lettering crosses no frame.
  void reserve_frame(Box b, float half) {
    pen_.reserve({b.x - half, b.y, 2 * half, b.h});
    pen_.reserve({b.right() - half, b.y, 2 * half, b.h});
    pen_.reserve({b.x, b.y - half, b.w, 2 * half});
    pen_.reserve({b.x, b.bottom() - half, b.w, 2 * half + 2});
  }

  // Bare floor with hatch under it, finished floor dashed.
  void floors() {
    std::vector<Spot> bare;
    for (int i = 0; i <= floor_steps; ++i) {
      const double along = extent_.length * i / floor_steps;
      bare.push_back(at(along, floor_at(along)));
    }
    for (std::size_t i = 0; i + 1 < bare.size(); ++i)
      pen_.hatch(bare[i], bare[i + 1], {0, 1}, DrawingPen::Hatch::diagonal);
    const Spot end = bare.back();
    pen_.stroke(std::move(bare), Ink::ink, LineWidth::face);
    double laid = 0;
    for (const LaidLayer& layer : room_.flooring.laid)
      if (!layer.area) laid += layer.thickness;
    const auto bare_end = wall_floor(drawn_, w_, extent_.length);
    if (laid > 0)
      pen_.stroke({at(0, floor_at(0) + laid), at(extent_.length, floor_at(extent_.length) + laid)},
                  Ink::ink, LineWidth::thin, Dash::dashed);
    if (!bare_end) return;
    if (laid > 0)
      notes_.push_back({at(extent_.length, floor_at(extent_.length) + laid), "FFL",
                        level(*bare_end + laid), Ink::ink, LevelNote::Kind::surface_from_above});
    notes_.push_back({end, "SSL", level(*bare_end), Ink::ink, LevelNote::Kind::surface_from_below});
  }

  void datums() {
    std::vector<const GroupResult*> drawn;
    for (Index r = 0; r < drawn_.runs.size(); ++r) {
      const Run& run = room_.runs[r];
      const GroupResult* group = group_of(run);
      if (!group || run.wall != w_ || run.units.empty()) continue;
      if (std::find(drawn.begin(), drawn.end(), group) != drawn.end()) continue;
      drawn.push_back(group);
      datum(group->underside, results_->groups.size() > 1 ? "U " + group->id : "U", false);
    }
    if (!drawn_.planes.empty() && drawn_.planes[0]) {
      const double high = drawn_.planes[0]->value - datum_;
      if (high > 0 && high < extent_.height) datum(drawn_.planes[0]->value, "level line", true);
    }
  }

  void datum(double above_benchmark, const std::string& letters, bool two_lines) {
    const Spot left = at(0, above_benchmark - datum_),
               right = at(extent_.length, above_benchmark - datum_);
    pen_.stroke({{left.x - 6, left.y}, {right.x + 14, right.y}}, Ink::blue, LineWidth::thin,
                Dash::chain);
    notes_.push_back(
        {right, letters, level(above_benchmark), Ink::blue, LevelNote::Kind::datum, two_lines});
  }

  // In the column beside the wall; where there is none, datums on the wall itself.
  void notes() {
    if (around_ == Around::all) return draw_level_notes(pen_, std::move(notes_));
    for (const LevelNote& note : notes_) {
      if (note.kind != LevelNote::Kind::datum) continue;
      Lettering l;
      l.text = note.letters + " " + note.value;
      l.ink = note.ink;
      l.bold = true;
      const float half = lettering_width(l, pen_.text_scale()) / 2;
      const float off = caption(pen_.text_scale()) * 0.75f;
      const Spot left = at(0, 0);
      bool done = false;
      for (float x = note.at.x - half - 6; !done && x - half > left.x; x -= half)
        for (const float y : {note.at.y - off, note.at.y + off}) {
          l.at = {x, y};
          if ((done = pen_.letter(l))) break;
        }
    }
  }

  void placing(Spot spot) {
    for (const float d : {0.f, 0.7f, 1.4f}) pen_.disc(spot, 12 + d, Ink::blue, false);
    pen_.reserve({spot.x - 14, spot.y - 14, 28, 28});
  }

  Ink service_ink(Index i) const {
    const Service& s = room_.services[i];
    if (results_)
      for (const ServiceResult& r : results_->services)
        if (r.service == s.id && r.verdict && *r.verdict != Verdict::within) return Ink::crayon;
    return ink_of(pointer(drawn_.room, "services", i), s.height ? Ink::ink : Ink::blue);
  }

  Spot service_spot(const Service& s) const {
    return at(s.place.along, s.height ? height_of(*s.height) : asked_high);
  }

  void routes() {
    for (const WallRoute& way : routes_on_wall(room_, drawn_, w_, datum_)) {
      std::vector<Spot> spots;
      for (const PlanPoint& bend : way) spots.push_back(at(bend.x, bend.y));
      pen_.stroke(spots, Ink::ink, LineWidth::outline, Dash::dashed);
      routes_.push_back(std::move(spots));
    }
  }

  // A short route would vanish under lettering.
  void reserve_routes() {
    constexpr float half = 3, apart = 4;  // dp
    for (const std::vector<Spot>& way : routes_)
      for (std::size_t i = 0; i + 1 < way.size(); ++i) {
        const Spot a = way[i], b = way[i + 1];
        const int parts =
            std::clamp(int(std::hypot(b.x - a.x, b.y - a.y) / apart), 1, most_reserved);
        for (int n = 0; n <= parts; ++n) {
          const float t = float(n) / float(parts);
          pen_.reserve(
              {a.x + (b.x - a.x) * t - half, a.y + (b.y - a.y) * t - half, 2 * half, 2 * half});
        }
      }
  }

  void symbol(Index i) {
    const Service& s = room_.services[i];
    const Spot c = service_spot(s);
    const Ink ink = service_ink(i);
    Box taken{c.x - 9, c.y - 9, 18, 18};
    if (!s.height) {
      pen_.stroke({{c.x, c.y - 16}, {c.x, c.y + 16}}, ink, LineWidth::thin, Dash::chain);
      taken = {c.x - 1, c.y - 16, 2, 32};
    } else if (const Box b = service_symbol(pen_, s.kind, c, ink, times_); !b.empty()) {
      taken = b;
    } else {
      const double wide = s.width.value_or(300) / 2, high = s.height_of.value_or(300) / 2;
      const double middle = height_of(*s.height), along = s.place.along;
      pen_.stroke(rectangle(along - wide, middle - high, along + wide, middle + high), ink,
                  LineWidth::outline, Dash::solid, true);
      taken = {c.x - 1, c.y - 1, 2, 2};  // its letters stand in it
    }
    pen_.reserve(taken);
    pen_.fact(pointer(drawn_.room, "services", i), {c.x - 14, c.y - 14, 28, 28});
  }

  // Beside its symbol, or further off on a leader.
  void service_name(Index i) {
    const Service& s = room_.services[i];
    const Spot c = service_spot(s);
    Lettering l;
    l.text = service_letters(s.kind) + (s.height ? "" : " ?");
    l.ink = service_ink(i);
    l.bold = true;
    const float half = lettering_width(l, pen_.text_scale()) / 2;
    const float em = caption(pen_.text_scale());
    const float side = half + 9 * times_ + 4, over = 9 * times_ + em * 0.62f;
    const float far_over = over + em * 1.2f;
    const float foot = std::max(c.y, at(0, 0).y);
    for (const Spot off : {Spot{side, 0}, Spot{0, -over}, Spot{0, over}, Spot{-side, 0},
                           Spot{side, -over}, Spot{-side, -over}, Spot{0, -far_over},
                           Spot{0, far_over}, Spot{side, far_over}, Spot{-side, far_over}}) {
      l.at = {c.x + off.x, c.y + off.y};
      if (l.at.y > foot || !pen_.letter(l)) continue;
      if (std::abs(off.y) >= far_over) {
        const float way = off.y < 0 ? -1.f : 1.f;
        pen_.stroke({{c.x, c.y + way * 9 * times_}, {c.x + off.x * 0.4f, l.at.y - way * em * 0.5f}},
                    l.ink);
      }
      return;
    }
  }

  void dimensions() {
    const Spot left = at(0, extent_.height), right = at(extent_.length, extent_.height);
    // Openings chained, then the whole.
    std::vector<double> marks = {0, extent_.length};
    for (const Opening& o : room_.openings)
      if (o.wall == w_) {
        marks.push_back(std::clamp(o.left, 0.0, extent_.length));
        marks.push_back(std::clamp(o.left + o.width, 0.0, extent_.length));
      }
    std::sort(marks.begin(), marks.end());
    const bool chained = marks.size() > 2 && around_ != Around::length;
    const float outer = chain_away + chain_step * pen_.text_scale();
    for (std::size_t i = 0; chained && i + 1 < marks.size(); ++i) {
      Lettering number;
      number.text = whole(marks[i + 1] - marks[i]);
      // A piece too short for its number goes without: the list has where things begin.
      if (lettering_width(number, pen_.text_scale()) + 6 >
          (marks[i + 1] - marks[i]) * pen_.view().scale)
        continue;
      pen_.dimension(at(marks[i], extent_.height), at(marks[i + 1], extent_.height), {0, -1},
                     chain_away, number.text);
    }
    const auto& lengths = room_.walls[w_].lengths;
    const bool unread = drawn_.guessed && lengths.empty();
    std::string overall = whole(drawn_.guessed && !unread ? lengths[0].length : extent_.length);
    if (unread) overall = room_.walls[w_].id + " ?";
    if (!drawn_.guessed && w_ < drawn_.plan.walls.size()) {
      const double half = band95 * drawn_.plan.walls[w_].length_sd;
      overall += " ±" + (half < 0.95 ? shown(std::max(half, 0.1), 1, options_.decimal)
                                     : whole(std::ceil(half - 0.05)));
      if (lengths.empty()) overall = "(" + overall + ")";
    }
    pen_.dimension(left, right, {0, -1}, chained ? outer : overall_away, overall,
                   unread ? Ink::blue : Ink::ink, unread);
    if (around_ == Around::length) return;
    const Spot foot = at(0, 0);
    const bool parts = extent_.window && around_ == Around::all;
    if (parts)
      for (const Opening& o : room_.openings) {
        if (o.wall != w_ || o.kind != OpeningKind::window) continue;
        const double low = height_of(o.sill), high = low + o.height;
        pen_.dimension(foot, at(0, low), {-1, 0}, chain_away, whole(low));
        pen_.dimension(at(0, low), at(0, high), {-1, 0}, chain_away, whole(o.height));
        if (extent_.height - high > 1)
          pen_.dimension(at(0, high), left, {-1, 0}, chain_away, whole(extent_.height - high));
        break;
      }
    const std::string high = whole(extent_.height);
    pen_.dimension(foot, left, {-1, 0}, parts ? outer : overall_away,
                   extent_.ceiling_read ? high : "(" + high + ")");
  }

  const Room& room_;
  const RoomToDraw& drawn_;
  const RoomResult* results_;
  Index w_;
  const ElevationOptions& options_;
  WallExtent extent_;
  Around around_;
  float times_;
  double datum_ = 0;
  std::vector<LevelNote> notes_;
  std::vector<std::vector<Spot>> routes_;
  Drawing out_;
  DrawingPen pen_;
};

}  // namespace

Drawing elevation_drawing(const Survey& survey, const RoomToDraw& drawn, const RoomResult* results,
                          Index wall, const DrawingView& view, const ElevationOptions& options,
                          float text_scale) {
  if (wall >= drawn.walls.size() || drawn.room >= survey.rooms.size()) return {};
  return ElevationDrawer(survey, drawn, results, wall, view, options, text_scale).draw();
}

}  // namespace levelrun
