#include "app/screens/release_lines.h"

#include <algorithm>
#include <cstdlib>

#include "app/drawing/elevation_drawing.h"
#include "app/entry/comparison_words.h"
#include "checks/partial_release.h"

namespace levelrun {
namespace {

constexpr std::size_t most_facts = 4, most_movements = 3;  // that a glance takes in

constexpr float head_column = 210;  // dp

std::string joined(const std::vector<std::string>& words, const char* between) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : between) + word;
  return out;
}

std::string may_cut_words(const Session& session) {
  const std::vector<PartToCut> parts = parts_to_cut(session.survey(), session.results());
  if (parts.empty()) return "no unit with a known size yet";
  const bool rooms = session.survey().rooms.size() > 1;
  const std::vector<std::string> free = may_cut(parts, rooms);
  if (free.empty()) return "nothing yet";
  if (free.size() == parts.size()) return "everything";
  return joined(free, ", ");
}

std::vector<std::string> changed_words(const Session& session, const EarlierRevision& earlier) {
  const Comparison c =
      compare(earlier.document, earlier.results, session.document(), session.results());
  std::vector<std::string> out =
      changed_lines(c, earlier.document, session.document(), session.survey().job.decimal,
                    most_facts, most_movements);
  int came = 0, went = 0;
  for (const FindingChange& f : c.findings) {
    if (f.finding.severity == Severity::note) continue;
    came += f.move == FindingMove::came || f.move == FindingMove::reopened;
    went += f.move == FindingMove::went || f.move == FindingMove::answered;
  }
  const auto counted = [](int n) {
    return std::to_string(n) + (n == 1 ? " hold or query" : " holds or queries");
  };
  if (came > 0) out.push_back(counted(came) + " new");
  if (went > 0) out.push_back(counted(went) + " settled");
  return out;
}

bool is_narrow(const Flow& f) { return f.w() < f.s.grown(head_column) * 2.5f; }

// Head and words beside each other, or below where the page is narrow.
void headed(Flow& f, const std::string& head, const std::string& words) {
  Sheet& s = f.s;
  const Pen bold{TextSize::body, Ink::ink, true};
  const float column = s.grown(head_column);
  if (is_narrow(f)) {
    f.paragraph(head, bold);
    f.paragraph(words);
    f.gap(8);
    return;
  }
  Box b = f.take(std::max(s.paragraph_height(f.w() - column, words), s.row()) + 8);
  if (!f.draws()) return;
  s.text(b.take_left(column).take_top(s.row()), head, bold);
  s.paragraph(b, words);
}

void bars(Flow& f, const Session& session) {
  const Manufacture& m = session.results().manufacture;
  Sheet& s = f.s;
  const bool narrow = is_narrow(f);
  const float head =
      narrow ? s.width("Bars release", TextSize::body, true) + 24 : s.grown(head_column);
  const float high = std::max(s.row(), mark_side) + 8;
  Box line = f.take(high);
  const bool draw = f.draws();
  if (draw) s.text(line, "Bars release", {TextSize::body, Ink::ink, true});
  line.take_left(head);
  const auto part = [&](Severity severity, const std::string& words) {
    const float wide = mark_side + 10 + s.width(words, TextSize::body) + 2;
    if (wide > line.w) line = f.take(high);
    if (draw) {
      severity_mark(s, {line.x, line.y + (line.h - mark_side) / 2}, severity, false);
      s.text({line.x + mark_side + 10, line.y, line.w - mark_side - 10, line.h}, words);
    }
    line.take_left(wide + 24);
  };
  if (m.holds > 0) part(Severity::hold, count_of(m.holds, "hold"));
  if (m.queries_open > 0)
    part(Severity::query, count_of_queries(m.queries_open) + " without a name");
  if (m.open && draw) s.text(line, "nothing", {});
}

}  // namespace

void refresh_release(ReleaseScreen& screen, ScreenContext& c, const Session& session) {
  if (screen.version == session.version() && screen.earlier_of == session.path()) return;
  if (screen.version < 0) screen.by = c.settings.author;
  screen.findings = finding_rows(session.document(), session.survey(), session.results());
  // Cautions are for the day in the house: they bar nothing, and Findings has them.
  std::erase_if(screen.findings,
                [](const FindingRow& row) { return row.section == FindingSection::cautions; });
  if (screen.earlier_of != session.path()) {
    const Job& job = session.survey().job;
    auto earlier = earlier_revision(c.files, session.path(), c.settings.jobs_folder, job.reference,
                                    job.revision);
    screen.earlier =
        earlier ? std::make_shared<const EarlierRevision>(std::move(*earlier)) : nullptr;
    screen.earlier_of = session.path();
  }
  screen.changed =
      screen.earlier ? changed_words(session, *screen.earlier) : std::vector<std::string>();
  screen.may_cut = may_cut_words(session);
  screen.version = session.version();
}

void flow_release_lines(Flow& f, const Session& session, const ReleaseScreen& screen) {
  const auto changed = [&] {
    if (screen.earlier)
      headed(f, "Changed since rev " + std::to_string(screen.earlier->revision),
             screen.changed.empty() ? "nothing" : joined(screen.changed, ";  "));
  };
  // The longest comes first where everything is in sight, else last.
  if (!is_narrow(f)) changed();
  bars(f, session);
  headed(f, "May be cut now", screen.may_cut);
  if (is_narrow(f)) changed();
}

std::optional<Index> wall_of_fact(const Room& room, const std::string& at) {
  std::vector<std::string> step;
  for (std::size_t i = 0; i < at.size();) {
    const std::size_t end = std::min(at.find('/', i + 1), at.size());
    step.push_back(at.substr(i + 1, end - i - 1));
    i = end;
  }
  if (step.size() < 4) return std::nullopt;
  const auto index = Index(std::strtoul(step[3].c_str(), nullptr, 10));
  if (step[2] == "walls" && index < room.walls.size()) return index;
  if (step[2] == "runs" && index < room.runs.size()) return room.runs[index].wall;
  if (step[2] == "services" && index < room.services.size()) return room.services[index].place.wall;
  if (step[2] == "openings" && index < room.openings.size()) return room.openings[index].wall;
  return std::nullopt;
}

std::string draw_wall_of(Sheet& s, Box box, Session& session, ViewMoves& moves,
                         const std::string& at) {
  const Room& room = session.survey().rooms[session.room];
  const RoomToDraw& drawn = session.drawn();
  std::optional<Index> wall;
  if (at.starts_with("/rooms/" + std::to_string(session.room) + "/")) wall = wall_of_fact(room, at);
  for (const Run& run : room.runs)
    if (!wall) wall = run.wall;
  Box head = box.take_top(s.row(TextSize::body) + 12).inset(margin, 4);
  if (!wall || drawn.walls.empty()) {
    s.paragraph(head,
                drawn.walls.empty() ? "Walk round first: no wall is known yet."
                                    : "No run stands on a wall.",
                {TextSize::body, soft_ink(s)});
    return {};
  }
  s.text(head, "Elevation " + room.walls[*wall].id, {TextSize::body, Ink::ink, true});
  s.text(head, "follows the chosen line", {TextSize::caption, soft_ink(s), false, Align::right});
  const float text = s.fonts.text_scale();
  const DrawingView view =
      moved_view(s, "elevation",
                 elevation_view(wall_extent(session.survey(), drawn, *wall), box, text), moves);
  ElevationOptions options;
  options.decimal = session.survey().job.decimal;
  // The unit, or the thing itself without what is finer.
  std::size_t end = 0;
  for (int n = at.find("/units/") == at.npos ? 4 : 6; n > 0 && end != at.npos; --n)
    end = at.find('/', end + 1);
  options.chosen = at.substr(0, end);
  s.push_clip(box);
  const Drawing drawing =
      elevation_drawing(session.survey(), drawn, session.room_result(), *wall, view, options, text);
  show_drawing(s, drawing);
  if (!s.narrow()) scale_bar(s, box, view.scale);
  s.pop_clip();
  return tapped_fact(s, "elevation", drawing);
}

}  // namespace levelrun
