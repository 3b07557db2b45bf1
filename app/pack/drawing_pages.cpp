#include <algorithm>
#include <cmath>

#include "app/drawing/elevation_drawing.h"
#include "app/drawing/face_strip.h"
#include "app/drawing/floor_drawing.h"
#include "app/drawing/pen.h"
#include "app/drawing/plan_drawing.h"
#include "app/drawing/print_scale.h"
#include "app/drawing/service_symbols.h"
#include "app/pack/pack_pages.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

constexpr float title_block = 15;  // mm high
constexpr double vague_sd = 2.0;   // mm: dots where the floor is known less well
constexpr float mm = float(dp_in_mm);

// What is left of the page above the title block, as a sheet in dp.
Box drawing_box(const Paper& paper) {
  return {0, 0, paper.width() / mm, (paper.left_mm() - title_block - 2) / mm};
}

// Bottom right (ISO 7200's fields, from memory); the scale bar at its left.
void block(Paper& paper, const PackMatter& m, Index room, int ratio, const std::string& note) {
  PdfFile& pdf = paper.pdf();
  const float top = paper.y() + paper.left_mm() - title_block;
  const Job& job = m.survey().job;
  struct Field {
    const char* head;
    std::string says;
    float share;
  };
  const Field fields[] = {
      {"Reference", job.reference, 3},
      {"Rev.", std::to_string(job.revision), 1},
      {"Room", m.room_name(room), 3},
      {"Scale", ratio > 0 ? "1 : " + std::to_string(ratio) : "none", 1.6f},
      {"Units", "mm", 1},
      {"By", job.surveyor, 2.4f},
      {"Date", job.surveyed_on.substr(0, 10), 2},
      {"Status", release_state(m), 4},
  };
  const float wide = std::min(paper.width(), 190.f), left = paper.x() + paper.width() - wide;
  float shares = 0, x = left;
  for (const Field& f : fields) shares += f.share;
  pdf.rectangle(left, top, wide, title_block - 2, 0.35f);
  for (const Field& f : fields) {
    const float w = wide * f.share / shares;
    if (x > left) pdf.line(x, top, x, top + title_block - 2);
    pdf.text(x + 1, top + 3.2f, f.head, {2.3f});
    const auto lines = paper.broken(f.says, w - 2, {caption_em, true});
    pdf.text(x + 1, top + 7, lines[0], {caption_em, true});
    if (lines.size() > 1) pdf.text(x + 1, top + 10.6f, lines[1], {caption_em, true});
    x += w;
  }
  if (ratio > 0) {
    const double metres = ratio > 200 ? 10 : 1;
    const float bar = float(1000 * metres / ratio);
    const float bx = paper.x(), by = top + 4;
    if (bx + bar + 12 < left) {
      pdf.fill(bx, by, bar / 2, 1);
      pdf.rectangle(bx, by, bar, 1);
      pdf.text(bx, by - 1, "0", {caption_em});
      pdf.text(bx + bar, by - 1, std::to_string(int(metres)) + " m",
               {caption_em, false, TextAlign::centre});
    }
  }
  if (note.empty()) return;
  const float room_left = left - paper.x() - 4;
  if (room_left < 30) return;
  float y = top + 9;
  for (const std::string& one : paper.broken(note, room_left, {2.4f})) {
    pdf.text(paper.x(), y, one, {2.4f});
    y += 3;
  }
}

// Where services come out of walls and floor: a small cross, and its letters into the room, further
// in where several stand side by side.
void services(Drawing& drawing, const PackMatter& m, Index r, const DrawingView& view) {
  const RoomToDraw& room = m.rooms[r];
  DrawingPen pen(drawing, view, print_text_scale);
  for (const Primitive& p : drawing.primitives)
    if (const auto* l = std::get_if<Lettering>(&p)) {
      const float w = lettering_width(*l, print_text_scale),
                  h = lettering_height(l->height, print_text_scale);
      pen.reserve(l->turned == 0 ? Box{l->at.x - w / 2, l->at.y - h / 2, w, h}
                                 : Box{l->at.x - h / 2, l->at.y - w / 2, h, w});
    }
  for (const Service& service : m.survey().rooms[r].services) {
    const auto at = room.plan.at(service.place);
    if (!at) continue;
    const Spot s = pen.at(*at);
    pen.stroke({{s.x - 4, s.y}, {s.x + 4, s.y}}, Ink::ink, LineWidth::outline);
    pen.stroke({{s.x, s.y - 4}, {s.x, s.y + 4}}, Ink::ink, LineWidth::outline);
    const PlanPoint out =
        service.place.wall ? room.walls[*service.place.wall].out : PlanPoint{0, -1};
    Lettering l;
    l.text = service_letters(service.kind);
    l.bold = true;
    // Clear of the face: sideways by half the letters' width.
    const float half = std::abs(float(out.x)) * lettering_width(l, print_text_scale) / 2 +
                       std::abs(float(out.y)) * lettering_height(l.height, print_text_scale) / 2;
    for (float away = half + 7; away < 120; away += 10) {
      l.at = {s.x + float(out.x) * away, s.y - float(out.y) * away};
      if (pen.letter(l)) break;
    }
  }
}

// Where the floor was read. The heights would bury the units at 1 : 50: the floor map has them.
void places_read(Drawing& drawing, const RoomToDraw& room, const DrawingView& view) {
  DrawingPen pen(drawing, view, print_text_scale);
  for (const RoomToDraw::Point& point : room.points) {
    if (!point.at || !point.booked) continue;
    const Spot s = pen.at(*point.at);
    pen.stroke({{s.x - 4, s.y - 4}, {s.x + 4, s.y + 4}}, Ink::ink);
    pen.stroke({{s.x - 4, s.y + 4}, {s.x + 4, s.y - 4}}, Ink::ink);
  }
}

void plan_or_map(Paper& paper, const PackMatter& m, Index r, bool map) {
  const RoomToDraw& room = m.rooms[r];
  paper.page(m.room_prefix(r) + (map ? "Floor map" : "Plan"), true);
  const bool read = std::any_of(room.floor.height.begin(), room.floor.height.end(),
                                [](const auto& h) { return h.has_value(); });
  if (room.walls.empty()) {
    paper.words("The outline of this room is not known: its corners and walls are missing.");
    return;
  }
  if (room.guessed)
    paper.words("Outline by guess: the lengths measured do not place the corners.",
                {text_em, true});
  if (map && !read) {
    paper.words("The floor was not read: there is no map of it.");
    return;
  }
  const Box box = drawing_box(paper);
  DrawingView view = plan_view(room, box, true, print_text_scale);
  const int ratio = print_ratio(view.scale);
  view.scale = print_scale(ratio);
  PlanOptions options;
  options.dimensions = !map;
  options.contours = options.points = options.bare_heights = map;
  options.units_fixed = !map;
  options.vague = vague_sd;
  options.decimal = m.decimal();
  Drawing drawing =
      plan_drawing(m.survey(), room, &m.results.rooms[r], view, options, print_text_scale);
  if (!map) {
    places_read(drawing, room, view);
    services(drawing, m, r, view);
  }
  paper.pdf().drawing(drawing, box, paper.x(), paper.y(), print_text_scale);
  block(paper, m, r, ratio,
        map ? "Bare floor above the benchmark; × readings; dots where its sd is over " +
                  shown_short(vague_sd, 1, m.decimal()) + ". " + floor_map_notes(room)
            : "± is half the 95 % band. In brackets: assumed or derived. × floor read; its heights "
              "are on the floor map.");
}

bool worth_a_page(const Survey& survey, Index room, Index wall) {
  const Room& r = survey.rooms[room];
  if (r.walls[wall].furnished) return true;
  const auto on_wall = [&](const auto& list) {
    return std::any_of(list.begin(), list.end(), [&](const auto& one) { return one.wall == wall; });
  };
  return on_wall(r.openings) || on_wall(r.runs) || on_wall(r.no_drill) ||
         !r.walls[wall].offsets.empty() ||
         std::any_of(r.services.begin(), r.services.end(),
                     [&](const Service& s) { return s.place.wall == wall; });
}

void elevation(Paper& paper, const PackMatter& m, Index r, Index wall) {
  const RoomToDraw& room = m.rooms[r];
  paper.page(m.room_prefix(r) + "Wall " + m.survey().rooms[r].walls[wall].id, true);
  const WallExtent extent = wall_extent(m.survey(), room, wall);
  const PdfFile::Text small{caption_em};
  std::vector<std::string> heights;
  for (const std::string& line : wall_heights(m, r, wall))
    for (const std::string& part : paper.broken(line, paper.width(), small))
      heights.push_back(part);
  const float words_high = float(heights.size()) * caption_em * 1.3f;
  Box box = drawing_box(paper);
  box.take_bottom((words_high + 1) / mm);
  const Box whole = box;
  Box strip = box.take_bottom(std::min(face_strip_height(print_text_scale), box.h * 0.25f));
  DrawingView view = elevation_view(extent, box, print_text_scale);
  const int ratio = print_ratio(view.scale);
  view.scale = print_scale(ratio);
  const ElevationEdges e = elevation_edges(box, print_text_scale, extent.window);
  view.x = extent.length / 2 + double(e.right - e.left) / 2 / view.scale;
  view.y = extent.height / 2 + double(e.top - e.low) / 2 / view.scale;
  ElevationOptions options;
  options.decimal = m.decimal();
  const RoomResult* result = &m.results.rooms[r];
  Drawing drawing =
      elevation_drawing(m.survey(), room, result, wall, view, options, print_text_scale);
  const Drawing face = face_strip(m.survey(), room, result, wall, strip, view, print_text_scale);
  drawing.primitives.insert(drawing.primitives.end(), face.primitives.begin(),
                            face.primitives.end());
  paper.pdf().drawing(drawing, whole, paper.x(), paper.y(), print_text_scale);
  block(
      paper, m, r, ratio,
      std::string("Signed levels: from the benchmark. Chained heights: from the surveyed floor ") +
          "at the wall's middle." +
          (extent.ceiling_read ? "" : " No ceiling height was read: drawn 2400 high."));
  paper.gap(whole.h * mm);
  for (const std::string& line : heights) paper.words(line, small);
}

}  // namespace

void drawing_pages(Paper& paper, const PackMatter& m, Index r) {
  plan_or_map(paper, m, r, false);
  plan_or_map(paper, m, r, true);
  if (m.rooms[r].walls.empty()) return;
  for (Index w = 0; w < m.survey().rooms[r].walls.size(); ++w)
    if (worth_a_page(m.survey(), r, w)) elevation(paper, m, r, w);
}

}  // namespace levelrun
