// Levels: staff readings in walking order, each with what its neighbours expect, the floor's
// contours coming as they are booked.
#include <algorithm>

#include "app/drawing/plan_drawing.h"
#include "app/entry/propose_points.h"
#include "app/entry/typed_number.h"
#include "app/screens/app.h"
#include "app/screens/progress.h"
#include "app/screens/screens.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

constexpr const char* to_runs = "To the runs";

std::vector<Ask> asks_of(const Session& session, Index) {
  if (session.survey().rooms.empty()) return {};
  return level_asks(session.survey(), session.room);
}

BookedRow row_of(const Ask& ask, const Session& session, const RoomResult* room, bool chosen) {
  const Job& job = session.survey().job;
  BookedRow row;
  row.id = ask.id;
  row.name = session.survey().rooms[session.room].levels.points[*ask.point].id;
  row.value = shown_length(*ask.value, job);
  row.chosen = chosen;
  if (!room) return row;
  if (*ask.point < room->levels.size())
    if (const LevelResult& level = room->levels[*ask.point]; level.height)
      row.words =
          shown_change(*level.height, 1, job.decimal) + " " + band_words(level.sd.value_or(0), job);
  for (const ObservationResult& o : room->level_readings) {
    if (!ask.booked->starts_with(o.at) || !o.residual || !o.detectable) continue;
    const bool agrees = o.verdict == Agreement::agrees;
    if (o.verdict == Agreement::unchecked) break;
    row.needs_a_person = !agrees;
    row.vial = Vial{agrees ? Verdict::within : Verdict::outside, -*o.residual, *o.detectable / 8.26,
                    -*o.detectable, *o.detectable};
    break;
  }
  return row;
}

// The plan that points are put on.
DrawingView show_points(Sheet& s, Box box, Session& session, ViewMoves& moves) {
  const DrawingView view =
      moved_view(s, "plan", plan_view(session.drawn(), box, true, s.fonts.text_scale()), moves);
  PlanOptions options;
  options.points = true;
  options.decimal = session.survey().job.decimal;
  s.push_clip(box);
  show_drawing(s, plan_drawing(session.survey(), session.drawn(), session.room_result(), view,
                               options, s.fonts.text_scale()));
  s.pop_clip();
  return view;
}

// Why no point is proposed.
std::string nothing_proposed(Session& session) {
  const std::vector<Run>& runs = session.survey().rooms[session.room].runs;
  if (std::all_of(runs.begin(), runs.end(), [](const Run& run) { return run.units.empty(); }))
    return "No unit on legs yet: points are proposed under them.";
  if (session.drawn().guessed) return "Walk round first: the runs have no place in the plan yet.";
  return "Every leg has a reading near it.";
}

}  // namespace

void draw_levels_screen(ScreenContext& c, Box page, Session& session, LevelsScreen& screen) {
  Sheet& s = c.sheet;
  const int version = screen.entry.version;
  refresh(screen.entry, session, asks_of);
  if (screen.entry.version != version) screen.said.clear();
  if (draw_why(screen.entry, c, page, session)) return;
  const bool has_setup = !session.survey().rooms.empty() &&
                         !session.survey().rooms[session.room].levels.setups.empty();
  if (!has_setup) screen.two_peg = {};
  if (has_setup && draw_two_peg(c, page, session, screen.two_peg,
                                session.survey().rooms[session.room].levels.setups.size() - 1))
    return;
  const RoomResult* room = session.room_result();
  const RoomToDraw& drawn = session.drawn();
  if (draw_points_page(c, page, session, screen.points,
                       [&](Box box) { return show_points(s, box, session, screen.view); }))
    return;
  const Ask* ask = current(screen.entry);
  BookingView v = view_of(screen.entry, session);
  if (!session.survey().rooms.empty()) v.more = "Points";
  v.row_heads[0] = "Point";
  v.row_heads[1] = "Staff";
  v.row_heads[2] = "Height";
  if (ask && ask->setup && screen.entry.value && *ask->setup < drawn.planes.size() &&
      drawn.planes[*ask->setup]) {
    const Estimate plane = *drawn.planes[*ask->setup];
    v.result = shown_change(plane.value - *screen.entry.value, 1, v.decimal) + " " +
               band_words(plane.sd, session.survey().job);
    v.result_caption = "height on the plan";
  }
  for (const Ask& one : screen.entry.asks)
    if (one.booked && one.value)
      v.rows.push_back(row_of(one, session, room, ask && ask->id == one.id));
  std::reverse(v.rows.begin(), v.rows.end());
  const bool floor =
      !session.survey().rooms.empty() && has_floor_point(session.survey().rooms[session.room]);
  const bool no_run = !floor && !session.survey().rooms.empty() &&
                      session.survey().rooms[session.room].runs.empty();
  if (!ask && !session.survey().rooms.empty()) {
    v.offers = {no_run ? to_runs : "Propose points", "New set-up"};
    if (has_setup) v.offers.push_back("Two-peg check");
    if (!floor) v.done = no_run ? "Add a run first" : "No floor point yet";
    if (!floor)
      v.advice = no_run ? "Points are proposed under it."
                        : "Points are proposed where legs and plinths will stand.";
  }
  if (!ask && room && floor && !screen.entry.asks.empty()) {
    v.done = "All booked";
    if (room->next_minute.stop) {
      v.advice = "Stop: nothing read in a minute would help.";
    } else if (!room->next_minute.measure.empty()) {
      const auto& next = room->next_minute.measure.front();
      v.advice = "Next best minute: " + next.what + ". " + next.why + ".";
    }
  }

  if (!screen.said.empty()) v.advice = screen.said;

  const BookingEvent e = draw_booking_page(s, page, v, screen.entry.typed, [&](Box box) {
    const DrawingView view = moved_view(
        s, "plan", plan_view(drawn, box, !s.narrow(), s.fonts.text_scale()), screen.view);
    PlanOptions options;
    options.contours = options.points = true;
    options.dimensions = !s.narrow();
    options.decimal = v.decimal;
    if (ask) options.point_in_use = ask->point;
    s.push_clip(box);
    const Drawing drawing =
        plan_drawing(session.survey(), drawn, room, view, options, s.fonts.text_scale());
    show_drawing(s, drawing);
    s.pop_clip();
    const std::string tapped = tapped_fact(s, "plan", drawing);
    if (const std::size_t at = tapped.find("/levels/points/"); at != tapped.npos)
      for (const Ask& one : screen.entry.asks)
        if (one.point && tapped.ends_with("/points/" + std::to_string(*one.point))) {
          screen.entry.ask = one.id;
          screen.entry.typed.clear();
          break;
        }
  });
  if (e.offer == to_runs) {
    c.app.show(Page::runs);
  } else if (e.offer == "Propose points") {
    const Json patch = propose_points_patch(session.document(), session.survey(), session.room);
    if (patch.empty())
      screen.said = nothing_proposed(session);
    else
      session.apply(patch, std::to_string(patch.size()) + " points to read");
  } else if (e.offer == "New set-up") {
    session.apply(new_setup_patch(session.document(), session.survey(), session.room),
                  "new set-up");
  }
  if (e.more) screen.points.open = true;
  if (e.offer == "Two-peg check") screen.two_peg.open = true;
  if (ask) screen.said.clear();
  act(screen.entry, e, c, session);
}

}  // namespace levelrun
