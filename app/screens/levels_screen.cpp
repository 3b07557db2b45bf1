// Levels: staff readings in walking order, each with what its neighbours expect, the floor's
// contours coming as they are booked.
#include <algorithm>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/entry/propose_points.h"
#include "app/entry/typed_number.h"
#include "app/screens/app.h"
#include "app/screens/progress.h"
#include "app/screens/screens.h"
#include "app/text_number.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

constexpr const char* to_runs = "To the runs";

std::vector<Ask> asks_of(const Session& session, Index) {
  if (session.survey().rooms.empty()) return {};
  return level_asks(session.survey(), session.room);
}

// Of a booking, "…/readings/3/staff", what the levels make of the reading.
const ObservationResult* reading_at(const RoomResult& room, const std::string& booked) {
  const std::string at = booked.substr(0, booked.rfind('/'));
  for (const ObservationResult& o : room.level_readings)
    if (o.at == at) return &o;
  return nullptr;
}

// A set-up that shares no point with the rest has no plane: its readings give nothing.
bool tied_to_nothing(Session& session, const Ask& ask) {
  const std::vector<std::optional<Estimate>>& planes = session.drawn().planes;
  return ask.setup && *ask.setup < planes.size() && !planes[*ask.setup];
}

// By how much a point is higher than the floor round it leads one to expect, where that is too much
// and nobody has answered for it.
std::optional<double> against_neighbours(const Session& session, Index point) {
  const std::string at = pointer(session.room) + "/levels/points/" + std::to_string(point);
  for (const Finding& f : session.results().findings)
    if (f.code == "reading against its neighbours" && f.at == at && !f.answered && f.measured)
      return *f.measured;
  return std::nullopt;
}

std::string higher_words(double off, const Job& job) {
  return shown(std::abs(off), 0, job.decimal) + (off > 0 ? " higher" : " lower");
}

BookedRow row_of(const Ask& ask, Session& session, const RoomResult* room, bool chosen) {
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
  if (const auto off = against_neighbours(session, *ask.point)) {
    row.needs_a_person = true;
    row.words = higher_words(*off, job) + " than round it";
    return row;
  }
  const ObservationResult* o = reading_at(*room, *ask.booked);
  if (!o) return row;
  const bool agrees = o->verdict == Agreement::agrees;
  if (o->verdict == Agreement::unchecked) {
    if (tied_to_nothing(session, ask)) {
      row.needs_a_person = true;
      row.words = "left out";
    }
    return row;
  }
  row.needs_a_person = !agrees;
  if (o->verdict == Agreement::one_of) row.words = "one of these";
  if (o->verdict == Agreement::rejected) {
    row.words = "left out";
    // residual = adjusted - measured: what it is short of.
    if (o->residual)
      row.words = shown(std::abs(*o->residual), 0, job.decimal) +
                  (*o->residual < 0 ? " long" : " short") + ", left out";
  }
  if (o->residual && o->detectable)
    row.vial = Vial{agrees ? Verdict::within : Verdict::outside, -*o->residual,
                    *o->detectable / 8.26, -*o->detectable, *o->detectable};
  return row;
}

// Which reading to take again, and why; empty: none is in doubt.
std::string read_again(Session& session, const RoomResult& room, const std::vector<Ask>& asks) {
  const Room& facts = session.survey().rooms[session.room];
  const Job& job = session.survey().job;
  const auto name = [&](const Ask& ask) {
    const std::string& point = facts.levels.points[*ask.point].id;
    return facts.levels.setups.size() > 1 ? point + " from " + facts.levels.setups[*ask.setup].id
                                          : point;
  };
  std::vector<const Ask*> one_of;
  for (const Ask& ask : asks) {
    if (!ask.booked || !ask.value || !ask.point || !ask.setup) continue;
    const ObservationResult* o = reading_at(room, *ask.booked);
    if (o && o->verdict == Agreement::one_of) one_of.push_back(&ask);
    if (!o || o->verdict != Agreement::rejected) continue;
    std::string says = "Read " + name(ask) + " again: " + shown_length(*ask.value, job);
    if (o->adjusted)
      says += " was booked, the others say " + shown_length(std::round(*o->adjusted), job, 0);
    return says + (o->adjusted ? "." : " is left out.");
  }
  if (one_of.size() == 1) return "Read " + name(*one_of.front()) + " again: it does not agree.";
  if (!one_of.empty())
    return "Read " + name(*one_of.front()) + " again: it or " + name(*one_of[1]) +
           (one_of.size() > 2 ? " or another" : "") + " is wrong.";
  for (const Ask& ask : asks)
    if (ask.booked && ask.point)
      if (const auto off = against_neighbours(session, *ask.point))
        return "Read " + name(ask) + " again: " + higher_words(*off, job) +
               " than the floor round it.";
  for (const Ask& ask : asks)
    if (ask.booked && ask.setup && tied_to_nothing(session, ask))
      return std::string("Read ") +
             (facts.levels.benchmark ? "the benchmark" : "a point of known height") + " from " +
             facts.levels.setups[*ask.setup].id + ": its readings are tied to nothing.";
  return {};
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

// The first reading of the point nearest to a tap, within half a target: no unit or wall that is
// drawn there takes it. Null: there is none.
const Ask* ask_near(Spot tap, const DrawingView& view, const RoomToDraw& drawn,
                    const std::vector<Ask>& asks) {
  const Ask* out = nullptr;
  float nearest = least_target / 2;
  for (const Ask& ask : asks) {
    if (!ask.point || *ask.point >= drawn.points.size() || !drawn.points[*ask.point].at) continue;
    const PlanPoint point = *drawn.points[*ask.point].at;
    const Spot at = view.at(point.x, point.y);
    const float away = std::hypot(at.x - tap.x, at.y - tap.y);
    if (away > nearest || (out && away == nearest)) continue;
    nearest = away;
    out = &ask;
  }
  return out;
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
  if (session.survey().rooms.empty()) {
    v.done = "No room yet";
    v.advice = "Add one on Job, then walk round it.";
  } else {
    v.more = "Points";
  }
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

  if (room && screen.said.empty() && screen.entry.typed.empty() && v.thought.empty())
    v.thought = read_again(session, *room, screen.entry.asks);
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
    const Ask* tapped = s.touch.tapped("plan")
                            ? ask_near(s.touch.tap_spot(), view, drawn, screen.entry.asks)
                            : nullptr;
    if (tapped && !(ask && ask->point == tapped->point)) {
      screen.entry.ask = tapped->id;
      screen.entry.typed.clear();
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
