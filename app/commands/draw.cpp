#include "app/commands/draw.h"

#include <algorithm>
#include <optional>

#include "app/display_text.h"
#include "app/drawing/elevation_drawing.h"
#include "app/drawing/floor_drawing.h"
#include "app/drawing/plan_drawing.h"
#include "app/drawing/print_scale.h"
#include "app/drawing/svg.h"
#include "app/place_words.h"
#include "app/solved_file.h"
#include "app/text_number.h"

namespace levelrun {

static constexpr float paper_long = float(297 / dp_in_mm), paper_short = float(210 / dp_in_mm);
static constexpr float paper_margin = float(10 / dp_in_mm);
static constexpr float foot_line = 22;   // dp
static constexpr double vague_sd = 2.0;  // mm: dots where the floor is known less well

struct PaperSheet {
  Box page, drawing, foot;
};

static PaperSheet sheet(bool landscape, float foot_lines) {
  PaperSheet s;
  s.page = landscape ? Box{0, 0, paper_long, paper_short} : Box{0, 0, paper_short, paper_long};
  s.drawing = s.page.inset(paper_margin);
  s.foot = s.drawing.take_bottom(foot_line * foot_lines);
  return s;
}

// A line of the foot, from the left; cut at a letter where the page ends.
static void foot_text(Drawing& drawing, Box line, std::string text, bool bold = false) {
  Lettering l;
  l.bold = bold;
  l.on_blank = false;
  for (bool cut = false;; cut = true) {
    l.text = text + (cut ? "…" : "");
    if (text.empty() || lettering_width(l) <= line.w) break;
    do text.pop_back();
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80);
    if (!text.empty() && static_cast<unsigned char>(text.back()) >= 0xC0) text.pop_back();
  }
  l.at = {line.x + lettering_width(l) / 2, line.y + line.h / 2};
  drawing.primitives.push_back(l);
}

// A metre, or ten where that is too short to see, in two halves at the right end of a line.
static void scale_bar(Drawing& drawing, Box line, int ratio) {
  const double metres = ratio > 200 ? 10 : 1;
  const float half = float(500 * metres * print_scale(ratio)), high = 5;
  const float x = line.right() - 2 * half - 40, y = line.y + line.h / 2;
  drawing.primitives.push_back(Area{
      {{x, y - high / 2}, {x + half, y - high / 2}, {x + half, y + high / 2}, {x, y + high / 2}},
      Ink::ink});
  drawing.primitives.push_back(Stroke{{{x, y - high / 2},
                                       {x + 2 * half, y - high / 2},
                                       {x + 2 * half, y + high / 2},
                                       {x, y + high / 2}},
                                      Ink::ink,
                                      LineWidth::thin,
                                      Dash::solid,
                                      true});
  Lettering l;
  l.on_blank = false;
  l.text = "0";
  l.at = {x - 10, y};
  drawing.primitives.push_back(l);
  l.text = std::to_string(int(metres)) + " m";
  l.at = {x + 2 * half + 20, y};
  drawing.primitives.push_back(l);
}

struct Drawn {
  Drawing drawing;
  int ratio = 0;  // 0: there is nothing to draw
  std::string missing;
};

static Drawn draw_room(const SolvedFile& solved, const RoomToDraw& room, const DrawWhat& what,
                       std::optional<Index> wall, Box box) {
  const Survey& survey = solved.file.survey;
  const RoomResult* results = &solved.results.rooms[room.room];
  const char decimal = survey.job.decimal;
  Drawn out;
  if (room.walls.empty()) {
    out.missing = "The outline of this room is not known yet: its corners and walls are missing.";
    return out;
  }
  if (room.guessed) out.missing = "Outline by guess: the lengths do not place the corners yet.";
  if (wall) {
    const WallExtent extent = wall_extent(survey, room, *wall);
    DrawingView view = elevation_view(extent, box);
    out.ratio = print_ratio(view.scale);
    view.scale = print_scale(out.ratio);
    const ElevationEdges e = elevation_edges(box, 1, extent.window);
    view.x = extent.length / 2 + double(e.right - e.left) / 2 / view.scale;
    view.y = extent.height / 2 + double(e.top - e.low) / 2 / view.scale;
    ElevationOptions options;
    options.decimal = decimal;
    out.drawing = elevation_drawing(survey, room, results, *wall, view, options);
    if (!extent.ceiling_read && out.missing.empty())
      out.missing = "No ceiling height was read: drawn 2400 high.";
    return out;
  }
  const bool map = what.kind == DrawWhat::Kind::floor;
  DrawingView view = plan_view(room, box, true);
  out.ratio = print_ratio(view.scale);
  view.scale = print_scale(out.ratio);
  PlanOptions options;
  options.dimensions = !map;
  options.contours = options.points = options.bare_heights = map;
  options.units_fixed = !map;
  options.vague = vague_sd;
  options.decimal = decimal;
  out.drawing = plan_drawing(survey, room, results, view, options);
  const bool read = std::any_of(room.floor.height.begin(), room.floor.height.end(),
                                [](const auto& h) { return h.has_value(); });
  if (map && !read) out.missing = "The floor was not read: there is no map of it.";
  return out;
}

static std::string what_words(const DrawWhat& what) {
  return what.kind == DrawWhat::Kind::plan   ? "Plan"
         : what.kind == DrawWhat::Kind::wall ? "Elevation of wall " + what.wall
                                             : "Floor map";
}

static std::string svg_of(const SolvedFile& solved, Index index, std::optional<Index> wall,
                          const DrawWhat& what) {
  const Survey& survey = solved.file.survey;
  const RoomToDraw room = room_to_draw(survey, index);
  const std::string notes =
      what.kind == DrawWhat::Kind::floor ? floor_map_notes(room) : std::string();
  const float lines = notes.empty() ? 3 : 4;
  PaperSheet paper = sheet(true, lines);
  Drawn drawn = draw_room(solved, room, what, wall, paper.drawing);
  if (!wall) {
    // A room that is longer than wide may come out larger on an upright sheet.
    const PaperSheet upright = sheet(false, lines);
    Drawn other = draw_room(solved, room, what, wall, upright.drawing);
    if (other.ratio > 0 && other.ratio < drawn.ratio) {
      paper = upright;
      drawn = std::move(other);
    }
  }
  const std::string title = reference_line(solved.results) + ": " +
                            room_words(survey, solved.results.rooms[index].id) + ", " +
                            what_words(what);
  std::string scale = drawn.ratio > 0 ? "1 : " + std::to_string(drawn.ratio) + ", lengths in mm"
                                      : "nothing to draw";
  if (what.kind == DrawWhat::Kind::floor && drawn.ratio > 0)
    scale += "; bare floor above the benchmark; × readings; dots where its sd is over " +
             shown_short(vague_sd, 1, survey.job.decimal);
  Box first = paper.foot.take_top(foot_line);
  if (drawn.ratio > 0)
    scale_bar(drawn.drawing,
              first.take_right(std::min(first.w / 2, float(1000 * print_scale(drawn.ratio)) + 90)),
              drawn.ratio);
  foot_text(drawn.drawing, first, printable(title), true);
  foot_text(drawn.drawing, paper.foot.take_top(foot_line), printable(scale));
  if (!notes.empty()) foot_text(drawn.drawing, paper.foot.take_top(foot_line), notes);
  std::string caution = hold_warning(solved.results, false);
  if (!caution.empty()) caution.pop_back();  // its line feed
  if (!drawn.missing.empty()) caution = drawn.missing + (caution.empty() ? "" : " ") + caution;
  if (!caution.empty()) foot_text(drawn.drawing, paper.foot, caution, true);
  return svg_text(drawn.drawing, {paper.page, title,
                                  scale + (notes.empty() ? "" : ". " + notes) +
                                      (caution.empty() ? ""
                                       : notes.empty() ? ". "
                                                       : " ") +
                                      caution});
}

static std::optional<Index> index_of_wall(const Room& room, const std::string& id) {
  for (Index w = 0; w < room.walls.size(); ++w)
    if (room.walls[w].id == id) return w;
  return std::nullopt;
}

static std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out.empty() ? "none" : out;
}

int draw_command(const std::string& file, const DrawWhat& what, Output& out) {
  const auto solved = load_and_solve(file, out);
  if (!solved) return exit_unusable;
  const std::vector<Room>& rooms = solved->file.survey.rooms;
  const bool of_wall = what.kind == DrawWhat::Kind::wall;
  std::vector<Index> fitting;
  std::vector<std::string> room_ids, wall_ids;
  for (Index r = 0; r < rooms.size(); ++r) {
    room_ids.push_back(rooms[r].id);
    if (!what.room.empty() && rooms[r].id != what.room) continue;
    for (const Wall& wall : rooms[r].walls) wall_ids.push_back(wall.id);
    if (!of_wall || index_of_wall(rooms[r], what.wall)) fitting.push_back(r);
  }
  if (fitting.size() != 1) {
    const bool no_room = !what.room.empty() &&
                         std::find(room_ids.begin(), room_ids.end(), what.room) == room_ids.end();
    print_error(
        printable(file + ": " +
                  (rooms.empty() ? "has no room to draw."
                   : no_room ? "has no room " + what.room + "; its rooms: " + listed(room_ids) + "."
                   : fitting.empty()
                       ? "has no wall " + what.wall + "; its walls: " + listed(wall_ids) + "."
                       : "has several rooms; say which with --room: " + listed(room_ids) + ".")));
    return exit_unusable;
  }
  const Index room = fitting.front();
  const std::string svg =
      svg_of(*solved, room, of_wall ? index_of_wall(rooms[room], what.wall) : std::nullopt, what);
  if (what.to.empty() || what.to == "-") {
    out.print(svg);
    return out.exit_code(exit_ok);
  }
  const std::vector<Problem> problems = save_text(what.to, svg);
  for (const Problem& p : problems) print_error(printable(what.to + ": " + p.found));
  return problems.empty() ? exit_ok : exit_unusable;
}

}  // namespace levelrun
