// Setting out: the marks of one wall at a time, in a drawing and in figures; a wall is ticked by
// its own key, outside what scrolls.
#include <algorithm>
#include <cmath>

#include "app/drawing/elevation_drawing.h"
#include "app/drawing/plan_drawing.h"
#include "app/install_day/day_parts.h"
#include "app/install_day/day_screens.h"
#include "app/install_day/task_patch.h"
#include "app/screens/app.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

constexpr float end_tick = 16;   // dp: how far a height's mark runs in from its end of the wall
constexpr float edge_tick = 10;  // dp: half of a unit's mark on its resting line

void refresh(SettingOutScreen& screen, const Session& session) {
  if (screen.version == session.version() && screen.room == session.room) return;
  screen.version = session.version();
  screen.room = session.room;
  screen.marks = {};
  screen.stations.clear();
  if (session.room >= session.survey().rooms.size()) return;
  const Room& room = session.survey().rooms[session.room];
  for (SettingOut& marks : setting_out(session.survey(), session.results()))
    if (marks.room == room.id) screen.marks = std::move(marks);
  const InstallTasks tasks = install_tasks(session.survey(), session.results());
  const auto add = [&](const std::string& id, std::optional<Index> wall) {
    MarkStation station{id, wall, "", false};
    for (const InstallTask& task : tasks.tasks)
      if (task.stage == TaskStage::mark && task.room == room.id && task.about == id &&
          (task.id.find("mark run ") == 0) == !wall) {
        station.task = task.id;
        station.done = task.state != TaskState::open;
      }
    screen.stations.push_back(std::move(station));
  };
  for (Index w = 0; w < room.walls.size(); ++w)
    if (std::any_of(room.runs.begin(), room.runs.end(),
                    [&](const Run& run) { return run.wall == w && !run.units.empty(); }))
      add(room.walls[w].id, w);
  for (const Run& run : room.runs)
    if (!run.wall && !run.units.empty()) add(run.id, std::nullopt);
  if (screen.at >= screen.stations.size()) screen.at = 0;
}

std::string what_words(const std::string& what) {
  if (what == "underside") return "Underside U";
  if (what == "worktop") return "Worktop top";
  if (what == "rail") return "Rail";
  return what;
}

std::string label_of(const HeightMark& m) {
  return what_words(m.what) + " " + m.of + (m.right ? ", right end" : ", left end");
}

class SettingOutPage {
 public:
  SettingOutPage(ScreenContext& c, Session& session, SettingOutScreen& screen)
      : c_(c),
        s_(c.sheet),
        session_(session),
        screen_(screen),
        station_(screen.stations[screen.at]),
        decimal_(session.survey().job.decimal) {}

  void draw(Box page) {
    const bool beside = page.w > page.h * 1.15f;
    const bool low = beside && page.h < s_.grown(420);  // a phone on its side
    stations(page.take_top(head_height(s_)));
    if (!low) keys(page.take_bottom(foot_height(s_)).inset(margin, 4));
    if (beside) {
      Box left = page.take_left(std::round(page.w * (low ? 0.5f : 0.6f)));
      s_.line({page.x, page.y}, {page.x, page.bottom()}, Ink::rule, 1);
      if (low) keys(page.take_bottom(std::min(foot_height(s_), page.h * 0.45f)).inset(8, 4));
      drawing(left);
    } else {
      Box top = page.take_top(page.h * (s_.narrow() ? 0.36f : 0.45f));
      drawing(top);
      s_.line({page.x, page.y}, {page.right(), page.y}, Ink::ink, 2);
    }
    scrolled(s_, page, "marks", [&](Flow& f) { list(f); });
  }

 private:
  // A box a wall, as the units at a glance on Legs.
  void stations(Box b) {
    s_.rule_under(b);
    b = b.inset(margin, 4);
    const std::size_t n = screen_.stations.size();
    const std::size_t fits = std::clamp(std::size_t(b.w / s_.grown(64)), std::size_t(1), n);
    Index first = screen_.at > fits / 2 ? screen_.at - fits / 2 : 0;
    first = std::min(first, n - fits);
    const float wide = std::min(b.w / float(fits), s_.grown(130));
    for (Index i = first; i < first + fits; ++i) {
      const MarkStation& one = screen_.stations[i];
      const bool mine = i == screen_.at;
      const Box box = b.take_left(wide).inset(2, 0);
      if (s_.row_target(box, "Marks of " + one.id, mine)) go(i);
      s_.frame(box, mine ? Ink::blue : Ink::rule, mine ? 2.f : 1.f);
      Box in = box.inset(4, 3);
      const Box tick = in.take_bottom(12);
      s_.text(in, one.id, {TextSize::caption, mine ? Ink::blue : Ink::ink, mine, Align::centre});
      const Box dot{tick.middle().x - 4, tick.middle().y - 4, 8, 8};
      if (one.done)
        s_.fill(dot, Ink::ink);
      else
        s_.frame(dot, Ink::rule, 1);
    }
  }

  void go(Index to) {
    screen_.at = to;
    screen_.chosen.clear();
    screen_.view = {};
    s_.touch.scroll_to("marks", 0);
  }

  bool here(const UnitMark& m) const {
    return station_.wall ? m.wall == station_.id : m.wall.empty() && m.run == station_.id;
  }
  bool here(const HeightMark& m) const { return station_.wall && m.wall == station_.id; }

  void drawing(Box box) {
    const RoomToDraw& drawn = session_.drawn();
    const float ts = s_.fonts.text_scale();
    s_.push_clip(box);
    if (!station_.wall) {
      const DrawingView view =
          moved_view(s_, "marks drawing", plan_view(drawn, box, false, ts), screen_.view);
      PlanOptions options;
      options.dimensions = false;
      options.units_fixed = true;
      options.decimal = decimal_;
      show_drawing(
          s_, plan_drawing(session_.survey(), drawn, session_.room_result(), view, options, ts));
    } else if (*station_.wall < drawn.walls.size()) {
      const WallExtent extent = wall_extent(session_.survey(), drawn, *station_.wall);
      const DrawingView view =
          moved_view(s_, "marks drawing", elevation_view(extent, box, ts), screen_.view);
      ElevationOptions options;
      options.decimal = decimal_;
      show_drawing(s_, elevation_drawing(session_.survey(), drawn, session_.room_result(),
                                         *station_.wall, view, options, ts));
      marks_on(view, extent);
    }
    s_.pop_clip();
  }

  void marks_on(const DrawingView& view, const WallExtent& extent) {
    const auto floor = surveyed_floor(session_.drawn(), *station_.wall);
    if (!floor) return;
    std::optional<double> rest;
    for (const HeightMark& m : screen_.marks.heights) {
      if (!here(m)) continue;
      if (m.what == "underside") rest = m.height - *floor;
      const bool mine = screen_.chosen == label_of(m);
      const Spot at = view.at(m.right ? extent.length : 0, m.height - *floor);
      const float in = m.right ? -end_tick : end_tick;
      s_.line(at, {at.x + in, at.y}, Ink::blue, mine ? 4.f : 2.f);
      if (mine) {
        for (const float d : {0.f, 0.8f})
          s_.list.AddCircle({at.x, at.y}, 11 + d, s_.colour(Ink::blue), 0, 1.5f);
      }
    }
    if (!rest) return;
    for (const UnitMark& m : screen_.marks.units) {
      if (!here(m)) continue;
      const bool mine = screen_.chosen == "Unit " + m.unit;
      for (const double along : {m.left, m.right}) {
        const Spot at = view.at(along, *rest);
        s_.line({at.x, at.y - edge_tick}, {at.x, at.y + edge_tick}, Ink::blue, mine ? 4.f : 2.f);
      }
    }
  }

  void list(Flow& f) {
    const Pen soft{TextSize::caption, soft_ink(s_)};
    for (const FirstUnit& first : screen_.marks.first) {
      f.paragraph(first.why, {TextSize::body, Ink::ink, true});
      std::string order;
      for (const std::string& unit : first.order) order += (order.empty() ? "" : ", ") + unit;
      f.paragraph("In this order: " + order + ".", soft);
      f.gap(10);
    }
    for (const std::string& missing : screen_.marks.missing) {
      f.paragraph(missing, {TextSize::body, Ink::crayon});
      f.gap(6);
    }
    bool any = false;
    for (const HeightMark& m : screen_.marks.heights) {
      if (!here(m)) continue;
      if (!any) {
        f.paragraph("Heights at the ends of " + station_.id, {TextSize::body, Ink::ink, true});
        f.rule(Ink::ink, 2);
        any = true;
      }
      height_row(f, m);
    }
    if (any) f.gap(14);
    any = false;
    for (const UnitMark& m : screen_.marks.units) {
      if (!here(m)) continue;
      if (!any) {
        f.paragraph(station_.wall ? "Units, from the left end of " + station_.id
                                  : "Units, from the left end of run " + station_.id,
                    {TextSize::body, Ink::ink, true});
        f.rule(Ink::ink, 2);
        any = true;
      }
      const std::string label = "Unit " + m.unit;
      const bool mine = screen_.chosen == label;
      if (flow_row(f, label, mine, [&](Flow& in) {
            in.pair(m.unit, {TextSize::body, mine ? Ink::blue : Ink::ink, mine},
                    shown_short(m.left, 1, decimal_) + " to " + shown_short(m.right, 1, decimal_),
                    {TextSize::body, Ink::ink, true});
            if (mine) in.paragraph(with_decimal_sign(m.sum, decimal_), soft);
          }))
        screen_.chosen = mine ? "" : label;
    }
  }

  void height_row(Flow& f, const HeightMark& m) {
    const Pen soft{TextSize::caption, soft_ink(s_)};
    const std::string label = label_of(m);
    const bool mine = screen_.chosen == label;
    std::string figure = "?", from;
    if (!m.lines.empty()) {
      const LineMark& line = m.lines.front();
      figure = shown(std::abs(line.down), 1, decimal_) + (line.down < 0 ? " up" : " down");
      from = "from the line of " + line.setup + ", ±" + shown(1.96 * line.sd, 1, decimal_);
    }
    std::string floor = "floor not read there";
    if (m.above_floor)
      floor = shown(*m.above_floor, 1, decimal_) + " above the floor" +
              (m.floor_sd ? ", ±" + shown(1.96 * *m.floor_sd, 1, decimal_) : "");
    if (flow_row(f, label, mine, [&](Flow& in) {
          in.pair(label, {TextSize::body, mine ? Ink::blue : Ink::ink, mine}, figure,
                  {TextSize::body, Ink::ink, true});
          if (!from.empty()) in.paragraph(from, soft);
          in.paragraph(floor, soft);
          if (!mine) return;
          for (std::size_t l = 1; l < m.lines.size(); ++l)
            in.paragraph(shown(std::abs(m.lines[l].down), 1, decimal_) +
                             (m.lines[l].down < 0 ? " up" : " down") + " from the line of " +
                             m.lines[l].setup,
                         soft);
          in.paragraph(with_decimal_sign(m.sum, decimal_), {TextSize::body});
        }))
      screen_.chosen = mine ? "" : label;
  }

  void keys(Box b) {
    const bool can = !station_.task.empty() && !station_.done && !session_.read_only();
    const Index next = (screen_.at + 1) % screen_.stations.size();
    const FootTapped tapped = draw_foot(
        s_, b, session_,
        {"Marked",
         !session_.trouble().empty() ? session_.trouble()
                                     : (station_.wall ? station_.id : "run " + station_.id) +
                                           (station_.done ? ", done" : ""),
         can ? KeyLook::solid : KeyLook::not_yet},
        {"Next", screen_.stations[next].id, KeyLook::plain});
    if (tapped.second) return go(next);
    if (tapped.undo) session_.undo();
    if (!tapped.first) return;
    const std::string id = station_.id;
    if (!session_.apply(task_patch(session_.document(), station_.task, "done", c_.platform.now(),
                                   c_.settings.author),
                        id + " marked"))
      return;
    if (c_.settings.look.tones) c_.platform.tone(1);
    // On to the next that is not marked.
    for (Index n = 1; n < screen_.stations.size(); ++n) {
      const Index i = (screen_.at + n) % screen_.stations.size();
      if (!screen_.stations[i].done) return go(i);
    }
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  SettingOutScreen& screen_;
  const MarkStation station_;  // by value: a tap may go to another
  char decimal_;
};

}  // namespace

void draw_setting_out_screen(ScreenContext& c, Box page, Session& session,
                             SettingOutScreen& screen) {
  refresh(screen, session);
  if (screen.stations.empty()) {
    c.sheet.paragraph(page.inset(margin),
                      "Nothing to mark out: no runs in this room. Enter them on Runs, in the "
                      "survey, first.");
    return;
  }
  SettingOutPage(c, session, screen).draw(page);
}

}  // namespace levelrun
