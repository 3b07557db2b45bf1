#include "app/drawing/elevation_drawing.h"

#include <algorithm>
#include <cmath>

#include "app/drawing/pen.h"
#include "app/text_number.h"
#include "checks/face_lines.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

constexpr double unread_ceiling = 2400;  // mm: drawn this high until somebody knows
constexpr double near_worktop = 200;     // mm: readings this near 900 make the face's line
constexpr float side_edge = 76, right_edge = 150, top_edge = 62, low_edge = 30;

std::string whole(double value, char decimal) { return shown(value, 0, decimal); }

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
        pen_(out_, view, text_scale) {
    out_.scale = float(view.scale);
    datum_ = floor_at(extent_.length / 2);
  }

  Drawing draw() {
    units();
    face();
    for (Index o = 0; o < room_.openings.size(); ++o)
      if (room_.openings[o].wall == w_) opening(o);
    floors();
    lines();
    for (Index s = 0; s < room_.services.size(); ++s)
      if (room_.services[s].place.wall == w_ && room_.services[s].height) service(s);
    if (options_.placing) {
      const Spot at = pen_.view().at(options_.placing->x, options_.placing->y);
      for (const float d : {0.f, 0.7f, 1.4f}) pen_.disc(at, 12 + d, Ink::blue, false);
    }
    dimensions();
    return std::move(out_);
  }

 private:
  // Bare floor above the benchmark, at the wall's foot.
  double floor_at(double along) const {
    const HeightGrid& g = drawn_.floor;
    if (w_ >= drawn_.walls.size() || g.nx == 0) return 0;
    const WallLine& line = drawn_.walls[w_];
    const double x = line.from.x + line.along.x * along + line.out.x * 100;
    const double y = line.from.y + line.along.y * along + line.out.y * 100;
    const auto i = std::size_t(std::clamp((x - g.x) / g.step + 0.5, 0.0, double(g.nx - 1)));
    const auto k = std::size_t(std::clamp((y - g.y) / g.step + 0.5, 0.0, double(g.ny - 1)));
    return g.height[g.index(i, k)].value_or(0);
  }
  // A height above the benchmark, on the sheet.
  double up(double above_benchmark) const { return above_benchmark - datum_; }
  double height_of(const MeasuredHeight& h) const {
    if (!h.setup) return h.value;
    if (*h.setup < drawn_.planes.size() && drawn_.planes[*h.setup])
      return up(drawn_.planes[*h.setup]->value + h.value);
    return h.value;
  }
  Spot at(double along, double high) const { return pen_.view().at(along, high); }
  bool chosen(const std::string& fact) const { return !fact.empty() && fact == options_.chosen; }
  std::vector<Spot> rectangle(double left, double low, double right, double high) const {
    return {at(left, high), at(right, high), at(right, low), at(left, low)};
  }
  Box box(double left, double low, double right, double high) const {
    const Spot a = at(left, high), b = at(right, low);
    return {a.x, a.y, b.x - a.x, b.y - a.y};
  }

  void face() {
    pen_.stroke(rectangle(0, 0, extent_.length, extent_.height), Ink::ink, LineWidth::face,
                Dash::solid, true);
    if (!extent_.ceiling_read) {
      Lettering l{"ceiling ?", at(extent_.length / 2, extent_.height), TextHeight::caption,
                  Ink::blue};
      pen_.letter(l);
    }
  }

  void opening(Index i) {
    const Opening& o = room_.openings[i];
    const std::string fact = pointer(drawn_.room, "openings", i);
    const Ink ink = chosen(fact) ? Ink::crayon : Ink::ink;
    const double low = height_of(o.sill), high = low + o.height;
    pen_.area(rectangle(o.left, low, o.left + o.width, high), Ink::sheet);
    pen_.stroke(rectangle(o.left, low, o.left + o.width, high), ink, LineWidth::outline,
                Dash::solid, true);
    if (o.kind == OpeningKind::window) {
      const double edge = std::min({60.0, o.width / 6, o.height / 6});
      pen_.stroke(rectangle(o.left + edge, low + edge, o.left + o.width - edge, high - edge), ink,
                  LineWidth::thin, Dash::solid, true);
      pen_.stroke({at(o.left + o.width / 2, low + edge), at(o.left + o.width / 2, high - edge)},
                  ink);
    }
    if (o.board)
      pen_.area(rectangle(o.left - 40, low - o.board->thickness, o.left + o.width + 40, low), ink);
    if (o.architrave > 0)
      pen_.stroke({at(o.left - o.architrave, low), at(o.left - o.architrave, high + o.architrave),
                   at(o.left + o.width + o.architrave, high + o.architrave),
                   at(o.left + o.width + o.architrave, low)},
                  Ink::rule);
    pen_.fact(fact, box(o.left, low, o.left + o.width, high));
  }

  void units() {
    for (Index r = 0; r < drawn_.runs.size(); ++r) {
      const Run& run = room_.runs[r];
      if (!drawn_.runs[r] || run.wall != w_) continue;
      const GroupResult* group = nullptr;
      if (results_)
        for (const GroupResult& g : results_->groups)
          if (g.id == run.level_group) group = &g;
      const double underside = group ? up(group->underside) : run.furniture.plinth.height;
      for (const PlacedUnit& unit : drawn_.runs[r]->units) {
        const Unit& facts = run.units[unit.unit];
        const double left = run.from_along + unit.left, right = run.from_along + unit.right;
        const double low = underside + unit.offset, high = underside + unit.top_offset;
        const std::string fact =
            pointer(drawn_.room, "runs", r) + "/units/" + std::to_string(unit.unit);
        const bool hangs = facts.kind == UnitKind::wall;
        pen_.stroke(rectangle(left, low, right, high), chosen(fact) ? Ink::crayon : Ink::rule,
                    LineWidth::thin, hangs ? Dash::double_dot : Dash::solid, true);
        for (const PlacedLeg& leg : unit.legs) {
          const double u = run.from_along + leg.u;
          pen_.stroke({at(u, low), at(u, up(floor_at(u)))}, Ink::rule);
        }
        Lettering l{facts.id, at((left + right) / 2, hangs ? high - 60 : low + 80),
                    TextHeight::caption, Ink::soft};
        l.on_blank = false;
        pen_.letter(l);
        pen_.fact(fact, box(left, low, right, high));
      }
      if (!run.units.empty()) {
        double length = 0;
        bool base = false;
        for (const Unit& unit : run.units) {
          length += unit.width;
          base = base || unit.kind == UnitKind::base || unit.kind == UnitKind::appliance;
        }
        const double top = underside + run.furniture.base_height;
        if (base)
          pen_.stroke(rectangle(run.from_along, top, run.from_along + length,
                                top + run.furniture.worktop.thickness),
                      Ink::rule, LineWidth::thin, Dash::solid, true);
        if (group)
          note_line(underside, "U", shown_change(group->underside, 1, options_.decimal), Ink::blue);
      }
    }
  }

  // Surveyed floor with hatch under it, finished floor dashed.
  void floors() {
    std::vector<Spot> bare;
    constexpr int steps = 24;
    for (int i = 0; i <= steps; ++i) {
      const double along = extent_.length * i / steps;
      bare.push_back(at(along, up(floor_at(along))));
    }
    pen_.stroke(bare, Ink::ink, LineWidth::face);
    for (int i = 0; i < steps; i += 1)
      pen_.hatch(bare[std::size_t(i)], bare[std::size_t(i) + 1], {0, 1},
                 DrawingPen::Hatch::diagonal);
    double laid = 0;
    for (const LaidLayer& layer : room_.flooring.laid)
      if (!layer.area) laid += layer.thickness;
    const double end = floor_at(extent_.length - 50);
    if (laid > 0) {
      pen_.stroke({at(0, up(floor_at(0)) + laid), at(extent_.length, up(end) + laid)}, Ink::ink,
                  LineWidth::thin, Dash::dashed);
      note_line(up(end) + laid, "FFL", shown_change(end + laid, 1, options_.decimal), Ink::ink,
                false);
    }
    note_line(up(end), "SSL", shown_change(end, 1, options_.decimal), Ink::ink, false);
  }

  void lines() {
    if (drawn_.planes.empty() || !drawn_.planes[0]) return;
    const double high = up(drawn_.planes[0]->value);
    if (high < 0 || high > extent_.height) return;
    note_line(high, "level line", shown_change(drawn_.planes[0]->value, 1, options_.decimal),
              Ink::blue);
  }

  // An arrow to a height at the wall's right, its letters and value; for a datum the line too.
  void note_line(double high, const std::string& letters, const std::string& value, Ink ink,
                 bool line = true) {
    if (line)
      pen_.stroke({at(-30, high), at(extent_.length + 60, high)}, ink, LineWidth::thin,
                  Dash::chain);
    const Spot end = at(extent_.length, high);
    Lettering l{letters + " " + value, {}, TextHeight::caption, ink, true};
    l.on_blank = false;
    const float wide = lettering_width(l, pen_.text_scale());
    const float step = lettering_height(l.height, pen_.text_scale()) * 1.15f;
    // FFL and SSL lie a few dp apart: whichever comes second moves down.
    for (const float off : {0.f, step, -step, 2 * step, -2 * step}) {
      l.at = {end.x + 24 + wide / 2, end.y + off};
      if (!pen_.letter(l)) continue;
      pen_.stroke({{end.x + 20, end.y + off}, {end.x + 6, end.y}}, ink);
      pen_.stroke({{end.x + 11, end.y - 4}, {end.x + 6, end.y}, {end.x + 11, end.y + 4}}, ink);
      return;
    }
  }

  // IEC 60617 and ISO 4067 symbols in outline, from memory, with letters.
  void service(Index i) {
    const Service& s = room_.services[i];
    const std::string fact = pointer(drawn_.room, "services", i);
    Verdict verdict = Verdict::within;
    if (results_)
      for (const ServiceResult& r : results_->services)
        if (r.service == s.id) verdict = r.verdict.value_or(Verdict::within);
    const Ink ink = chosen(fact) || verdict != Verdict::within ? Ink::crayon : Ink::ink;
    const Spot c = at(s.place.along, height_of(*s.height));
    switch (s.kind) {
      case ServiceKind::socket:
      case ServiceKind::fused_spur:
      case ServiceKind::cooker_outlet: {
        std::vector<Spot> arc;
        for (int n = 0; n <= 12; ++n) {
          const float angle = 3.14159265f * float(n) / 12;
          arc.push_back({c.x - 8 * std::cos(angle), c.y - 8 * std::sin(angle)});
        }
        pen_.stroke(arc, ink, LineWidth::outline, Dash::solid, true);
        pen_.stroke({{c.x, c.y - 8}, {c.x, c.y - 15}}, ink, LineWidth::outline);
        break;
      }
      case ServiceKind::switch_:
        pen_.disc(c, 4, ink, false);
        pen_.stroke({{c.x + 3, c.y - 3}, {c.x + 12, c.y - 12}, {c.x + 16, c.y - 8}}, ink,
                    LineWidth::outline);
        break;
      case ServiceKind::waste:
      case ServiceKind::soil_stack:
      case ServiceKind::duct:
        pen_.disc(c, 9, ink, false);
        pen_.disc(c, 5, ink, false);
        break;
      case ServiceKind::boiler:
      case ServiceKind::radiator:
      case ServiceKind::meter:
      case ServiceKind::consumer_unit: {
        const double w = s.width.value_or(300) / 2, h = s.height_of.value_or(300) / 2;
        pen_.stroke(rectangle(s.place.along - w, height_of(*s.height) - h, s.place.along + w,
                              height_of(*s.height) + h),
                    ink, LineWidth::outline, Dash::solid, true);
        break;
      }
      default:
        pen_.disc(c, 6, ink, false);
        pen_.stroke({{c.x - 9, c.y}, {c.x + 9, c.y}}, ink);
        pen_.stroke({{c.x, c.y - 9}, {c.x, c.y + 9}}, ink);
    }
    pen_.reserve({c.x - 10, c.y - 14, 20, 24});
    Lettering l{service_letters(s.kind), {}, TextHeight::caption, ink, true};
    l.on_blank = false;
    const float half = lettering_width(l, pen_.text_scale()) / 2;
    for (const Spot off : {Spot{half + 13, 0}, Spot{0, -22}, Spot{-half - 13, 0}, Spot{0, 22}}) {
      l.at = {c.x + off.x, c.y + off.y};
      if (pen_.letter(l)) break;
    }
    pen_.fact(fact, {c.x - 14, c.y - 14, 28, 28});
  }

  void dimensions() {
    const Spot left = at(0, extent_.height), right = at(extent_.length, extent_.height);
    // Openings chained, then the whole.
    std::vector<double> marks = {0, extent_.length};
    for (const Opening& o : room_.openings)
      if (o.wall == w_) {
        marks.push_back(o.left);
        marks.push_back(o.left + o.width);
      }
    std::sort(marks.begin(), marks.end());
    const bool chained = marks.size() > 2;
    if (chained)
      for (std::size_t i = 0; i + 1 < marks.size(); ++i)
        if (marks[i + 1] - marks[i] > 1)
          pen_.dimension(at(marks[i], extent_.height), at(marks[i + 1], extent_.height), {0, -1},
                         14, whole(marks[i + 1] - marks[i], options_.decimal));
    std::string overall = whole(extent_.length, options_.decimal);
    if (!drawn_.guessed && w_ < drawn_.plan.walls.size()) {
      const double half = band95 * drawn_.plan.walls[w_].length_sd;
      overall += " ±" + shown(half, half < 0.95 ? 1 : 0, options_.decimal);
    }
    pen_.dimension(left, right, {0, -1}, chained ? 38.f : 20.f, overall);
    const Spot foot = at(0, 0);
    bool parts = false;
    for (const Opening& o : room_.openings) {
      if (o.wall != w_ || o.kind != OpeningKind::window || parts) continue;
      parts = true;
      const double low = height_of(o.sill), high = low + o.height;
      pen_.dimension(foot, at(0, low), {-1, 0}, 14, whole(low, options_.decimal));
      pen_.dimension(at(0, low), at(0, high), {-1, 0}, 14, whole(o.height, options_.decimal));
      if (extent_.height - high > 1)
        pen_.dimension(at(0, high), left, {-1, 0}, 14,
                       whole(extent_.height - high, options_.decimal));
    }
    pen_.dimension(foot, left, {-1, 0}, parts ? 42.f : 18.f,
                   extent_.ceiling_read ? whole(extent_.height, options_.decimal)
                                        : "(" + whole(extent_.height, options_.decimal) + ")");
  }

  const Room& room_;
  const RoomToDraw& drawn_;
  const RoomResult* results_;
  Index w_;
  const ElevationOptions& options_;
  WallExtent extent_;
  double datum_ = 0;
  Drawing out_;
  DrawingPen pen_;
};

}  // namespace

std::string service_letters(ServiceKind kind) {
  switch (kind) {
    case ServiceKind::cold_water:
      return "CW";
    case ServiceKind::hot_water:
      return "HW";
    case ServiceKind::waste:
      return "W";
    case ServiceKind::soil_stack:
      return "SS";
    case ServiceKind::gas:
      return "G";
    case ServiceKind::socket:
      return "SSO";
    case ServiceKind::fused_spur:
      return "FCU";
    case ServiceKind::cooker_outlet:
      return "CO";
    case ServiceKind::switch_:
      return "SW";
    case ServiceKind::data:
      return "D";
    case ServiceKind::duct:
      return "DUCT";
    case ServiceKind::boiler:
      return "BOILER";
    case ServiceKind::radiator:
      return "RAD";
    case ServiceKind::meter:
      return "METER";
    case ServiceKind::stopcock:
      return "ST";
    case ServiceKind::consumer_unit:
      return "CU";
    case ServiceKind::underfloor_heating:
      return "UFH";
    default:
      return "?";
  }
}

WallExtent wall_extent(const Survey& survey, const RoomToDraw& drawn, Index wall) {
  WallExtent out;
  if (wall < drawn.walls.size()) out.length = drawn.walls[wall].length;
  double sum = 0;
  int count = 0;
  for (const CeilingReading& c : survey.rooms[drawn.room].ceilings)
    if (!c.height.setup) sum += c.height.value, ++count;
  out.ceiling_read = count > 0;
  out.height = count > 0 ? sum / count : unread_ceiling;
  return out;
}

DrawingView elevation_view(const WallExtent& extent, Box box, float text_scale) {
  DrawingView view;
  view.box = box;
  const float k = 0.6f + 0.4f * text_scale;
  const float left = side_edge * k, right = right_edge * k, top = top_edge * k, low = low_edge;
  view.scale = std::max(1e-4, std::min((box.w - left - right) / std::max(1.0, extent.length),
                                       (box.h - top - low) / std::max(1.0, extent.height)));
  // The middle of what is shown, edges counted.
  view.x = extent.length / 2 + (right - left) / 2 / view.scale;
  view.y = extent.height / 2 + (top - low) / 2 / view.scale;
  return view;
}

Drawing elevation_drawing(const Survey& survey, const RoomToDraw& drawn, const RoomResult* results,
                          Index wall, const DrawingView& view, const ElevationOptions& options,
                          float text_scale) {
  if (wall >= drawn.walls.size()) return {};
  return ElevationDrawer(survey, drawn, results, wall, view, options, text_scale).draw();
}

Drawing face_drawing(const Survey& survey, const RoomToDraw& drawn, const RoomResult* results,
                     Index wall, Box box, const DrawingView& elevation, char decimal,
                     float text_scale) {
  Drawing out;
  const Wall& facts = survey.rooms[drawn.room].walls[wall];
  const std::vector<FaceLine> level = level_lines(facts);
  const FaceLine* line = line_near_worktop(level, facts);
  if (!line || std::abs(line->at - worktop_line) > near_worktop) return out;
  double least = 1e300, most = -1e300;
  for (const Index i : line->readings) {
    least = std::min(least, facts.offsets[i].offset);
    most = std::max(most, facts.offsets[i].offset);
  }
  // Out enlarged 5 to 20 times, so that a few mm show and the face stays in its strip.
  const double room =
      std::max(12.f, box.h - 3.2f * lettering_height(TextHeight::caption, text_scale));
  const double enlarged =
      std::clamp(room / std::max(1.0, most - least) / elevation.scale, 5.0, 20.0);
  DrawingPen pen(out, {box, 1, 0, 0}, text_scale);
  const float base = box.y + lettering_height(TextHeight::caption, text_scale) * 1.6f;
  const auto at = [&](double along, double offset) {
    return Spot{elevation.at(along, 0).x,
                base + float((most - offset) * enlarged * elevation.scale)};
  };
  std::vector<Spot> face;
  for (const Index i : line->readings)
    face.push_back(at(facts.offsets[i].along, facts.offsets[i].offset));
  for (std::size_t i = 0; i + 1 < face.size(); ++i)
    pen.hatch(face[i], face[i + 1], {0, -1}, DrawingPen::Hatch::diagonal);
  pen.stroke(face, Ink::ink, LineWidth::face);
  Lettering head{"Face at " + shown(line->at, 0, decimal) + " from above, out × " +
                     shown(enlarged, 0, decimal),
                 {},
                 TextHeight::caption,
                 Ink::soft};
  head.on_blank = false;
  head.at = {box.x + 16 + lettering_width(head, text_scale) / 2, box.y + 9 * text_scale};
  pen.letter(head, true);
  const WallResult* result = nullptr;
  if (results && wall < results->walls.size()) result = &results->walls[wall];
  const auto offset_at = [&](double along) {
    for (std::size_t i = 0; i + 1 < line->readings.size(); ++i) {
      const WallOffset &a = facts.offsets[line->readings[i]],
                       &b = facts.offsets[line->readings[i + 1]];
      if (along >= a.along - 1 && along <= b.along + 1 && b.along > a.along)
        return a.offset + (b.offset - a.offset) * (along - a.along) / (b.along - a.along);
    }
    return least;
  };
  if (result && result->resting.size() == 2) {
    const double a = result->resting[0], b = result->resting[1];
    const double slope = (offset_at(b) - offset_at(a)) / (b - a);
    const double first = facts.offsets[line->readings.front()].along;
    const double last = facts.offsets[line->readings.back()].along;
    const auto on_line = [&](double along) {
      return at(along, offset_at(a) + slope * (along - a));
    };
    pen.stroke({on_line(first), on_line(last)}, Ink::blue, LineWidth::outline);
    for (const double along : {a, b}) {
      const Spot touch = on_line(along);
      pen.stroke({touch, {touch.x, touch.y + 12}}, Ink::blue, LineWidth::face);
      Lettering l{"rests " + shown(along, 0, decimal),
                  {touch.x, touch.y + 20 * text_scale},
                  TextHeight::caption,
                  Ink::blue,
                  true};
      pen.letter(l);
    }
    for (const Index i : line->readings) {
      const double gap =
          facts.offsets[i].offset - (offset_at(a) + slope * (facts.offsets[i].along - a));
      if (gap < 0.05) continue;
      const Spot p = on_line(facts.offsets[i].along);
      Lettering l{
          shown(gap, 1, decimal), {p.x, p.y + 14 * text_scale}, TextHeight::caption, Ink::ink};
      l.on_blank = false;
      pen.letter(l);
    }
  }
  return out;
}

}  // namespace levelrun
