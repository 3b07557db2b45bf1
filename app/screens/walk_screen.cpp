// Walk round: lengths, diagonals, angles and ceilings, the plan closing as they come.
#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "app/drawing/plan_drawing.h"
#include "app/entry/typed_number.h"
#include "app/screens/app.h"
#include "app/screens/screens.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

std::vector<Ask> asks_of(const Session& session, const Protocol& more) {
  if (session.survey().rooms.empty()) return {};
  // What the plan wants measured next is asked for too.
  const RoomResult* room = session.room_result();
  Protocol protocol = usual_protocol(session.survey(), session.room,
                                     room ? std::span<const MeasureNext>(room->plan.measure_next)
                                          : std::span<const MeasureNext>());
  add_places(protocol, more);
  return walk_asks(session.survey(), session.room, protocol);
}

// The corner under a tap on the plan.
std::optional<Index> tapped_corner(Sheet& s, const DrawingView& view, const RoomToDraw& drawn) {
  if (view.scale <= 0 || !s.touch.tapped("plan")) return std::nullopt;
  const Spot tap = s.touch.tap_spot(), m = view.box.middle();
  const double x = (tap.x - m.x) / view.scale + view.x, y = (m.y - tap.y) / view.scale + view.y;
  for (Index c = 0; c < drawn.corners.size(); ++c)
    if (std::hypot(drawn.corners[c].x - x, drawn.corners[c].y - y) * view.scale < least_target / 2)
      return c;
  return std::nullopt;
}

const ObservationResult* observation_at(const RoomResult& room, const std::string& at) {
  for (const ObservationResult& o : room.observations)
    if (at.starts_with(o.at) && (at.size() == o.at.size() || at[o.at.size()] == '/')) return &o;
  return nullptr;
}

BookedRow row_of(const Ask& ask, const RoomResult* room, const Job& job, bool chosen) {
  BookedRow row;
  row.id = ask.id;
  row.name = ask.name;
  const auto shorten = [&](std::string_view words, std::string_view by) {
    if (const std::size_t at = row.name.find(words); at != row.name.npos)
      row.name.replace(at, words.size(), by);
  };
  shorten(" length", "");
  shorten(" to ", "–");
  shorten(" diagonal", "");
  shorten(" along the walls", "");
  row.value = ask.kind == ReadingKind::angle ? shown_short(*ask.value, 1, job.decimal)
                                             : shown_length(*ask.value, job);
  row.chosen = chosen;
  const ObservationResult* o = room ? observation_at(*room, *ask.booked) : nullptr;
  if (!o) return row;
  if (o->verdict == Agreement::unchecked || !o->residual || !o->detectable) {
    row.words = "unchecked";
    return row;
  }
  const bool agrees = o->verdict == Agreement::agrees;
  row.needs_a_person = !agrees;
  const double off = *o->residual;
  // residual = adjusted - measured: what it is short of.
  row.words = agrees                            ? "agrees"
              : o->verdict == Agreement::one_of ? "one of these"
              : off < 0                         ? shown(-off, 0, job.decimal) + " long"
                                                : shown(off, 0, job.decimal) + " short";
  const double limit = *o->detectable;
  row.vial = Vial{agrees ? Verdict::within : Verdict::outside, -off, limit / 8.26, -limit, limit};
  return row;
}

// What slips of the length being typed, or of what is booked, would close the room.
void add_slips(BookingView& v, const RoomResult& room, const Session& session) {
  const Job& job = session.survey().job;
  if (room.plan.suspects.empty() || room.plan.global_test == GlobalTest::pass) return;
  v.thought = "A slip is likely. These would close the room:";
  v.refused.clear();
  double rest = 1;
  for (const Suspect& suspect : room.plan.suspects) {
    if (v.slips.size() == 3) break;
    LikelySlip slip;
    slip.kind = suspect.kind;
    slip.value = shown_length(suspect.value, job, 0);
    slip.odds = shown(100 * suspect.probability, 0, job.decimal) + " %";
    rest -= suspect.probability;
    // /rooms/0/walls/2/lengths/0 or /rooms/0/diagonals/1
    const Room& facts = session.survey().rooms[session.room];
    for (Index w = 0; w < facts.walls.size(); ++w)
      if (suspect.at.find("/walls/" + std::to_string(w) + "/") != suspect.at.npos)
        slip.name = facts.walls[w].id;
    for (Index d = 0; d < facts.diagonals.size(); ++d)
      if (suspect.at.ends_with("/diagonals/" + std::to_string(d)))
        slip.name = facts.corners[facts.diagonals[d].from].id + "–" +
                    facts.corners[facts.diagonals[d].to].id;
    v.slips.push_back(slip);
  }
  v.slips.push_back(
      {"", "", "something else", shown(100 * std::max(0.0, rest), 0, job.decimal) + " %"});
  v.after_slips = "Nothing is replaced for you.";
  if (!room.plan.measure_next.empty())
    v.after_slips += " Measure " + room.plan.measure_next.front().what + " again.";
}

// The plan in its box, moved about by fingers; `tapped` is the fact chosen on it.
DrawingView show_plan(Sheet& s, Box box, Session& session, ViewMoves& moves,
                      const PlanOptions& options, std::string* tapped = nullptr) {
  // What runs past a corner needs room for its two dimensions.
  const float room_for = options.past ? 34 * s.fonts.text_scale() : 0;
  const bool bar = !s.narrow();  // a phone has room for the dimensions alone
  Box free = box;
  if (bar) free.take_bottom(s.row(TextSize::caption) + 8);
  DrawingView fitted = plan_view(session.drawn(), free.inset(room_for), true, s.fonts.text_scale());
  fitted.box = box;
  const DrawingView view = moved_view(s, "plan", fitted, moves);
  s.push_clip(box);
  const Drawing drawing = plan_drawing(session.survey(), session.drawn(), session.room_result(),
                                       view, options, s.fonts.text_scale());
  show_drawing(s, drawing);
  if (bar) scale_bar(s, box, view.scale);
  s.pop_clip();
  const std::string fact = tapped_fact(s, "plan", drawing);
  if (tapped) *tapped = fact;
  return view;
}

}  // namespace

void draw_walk_screen(ScreenContext& c, Box page, Session& session, WalkScreen& screen) {
  Sheet& s = c.sheet;
  const auto asks = [&](const Session& of, Index) { return asks_of(of, screen.more.added); };
  std::set<std::string> before;
  if (screen.more.just_added) {
    for (const Ask& one : screen.entry.asks) before.insert(one.id);
    screen.entry.version = -1;
  }
  refresh(screen.entry, session, asks);
  if (std::exchange(screen.more.just_added, false)) {
    // What was asked for goes on the pad at once.
    for (const Ask& one : screen.entry.asks)
      if (!one.booked && !before.contains(one.id)) {
        screen.entry.ask = one.id;
        screen.entry.typed.clear();
        break;
      }
    refresh(screen.entry, session, asks);
  }
  if (draw_why(screen.entry, c, page, session)) return;
  const RoomResult* room = session.room_result();
  if (draw_more_page(c, page, session, screen.more, [&](Box box) {
        PlanOptions options;
        options.diagonals = true;
        options.units = false;
        options.decimal = session.survey().job.decimal;
        return show_plan(s, box, session, screen.view, options);
      }))
    return;
  const Ask* ask = current(screen.entry);
  BookingView v = view_of(screen.entry, session);
  v.more = "More";
  if (ask && ask->kind == ReadingKind::across) v.name = v.name.substr(0, v.name.find(','));
  for (const Ask& one : screen.entry.asks)
    if (one.booked && one.value)
      v.rows.push_back(row_of(one, room, session.survey().job, ask && ask->id == one.id));
  std::reverse(v.rows.begin(), v.rows.end());
  if (room && screen.entry.typed.empty()) add_slips(v, *room, session);
  if (!ask && room && !room->plan.measure_next.empty() && v.slips.empty())
    v.advice = "Measure next: " + room->plan.measure_next.front().what + ". " +
               room->plan.measure_next.front().why;

  const BookingEvent e = draw_booking_page(s, page, v, screen.entry.typed, [&](Box box) {
    PlanOptions options;
    options.diagonals = true;
    options.units = false;
    options.decimal = session.survey().job.decimal;
    if (ask) {
      if (ask->kind == ReadingKind::length && ask->wall && screen.entry.value &&
          v.check_needs_a_person && screen.entry.expected)
        options.past = {*ask->wall, *screen.entry.value, screen.entry.expected->value};
    }
    if (!options.past && room)
      for (const ObservationResult& o : room->observations)
        if (o.verdict == Agreement::rejected) {
          const Room& facts = session.survey().rooms[session.room];
          for (Index w = 0; w < facts.walls.size(); ++w)
            if (o.at.find("/walls/" + std::to_string(w) + "/") != o.at.npos && o.adjusted)
              options.past = {w, o.measured,
                              Estimate{*o.adjusted, session.drawn().walls[w].length_sd}};
        }
    std::string tapped;
    const DrawingView view = show_plan(s, box, session, screen.view, options, &tapped);
    // A tap on a corner puts its angle on the pad, or asks how it is read; on a wall its length.
    if (const auto corner = tapped_corner(s, view, session.drawn())) {
      const Ask* angle = nullptr;
      for (const Ask& one : screen.entry.asks)
        if (one.corner == corner && !one.to_corner && (!angle || (angle->booked && !one.booked)))
          angle = &one;
      if (!angle) return ask_corner(screen.more, *corner);
      screen.entry.ask = angle->id;
      screen.entry.typed.clear();
      return;
    }
    if (tapped.find("/walls/") != tapped.npos)
      for (const Ask& one : screen.entry.asks)
        if (one.wall && tapped.ends_with("/walls/" + std::to_string(*one.wall)) &&
            one.kind == ReadingKind::length) {
          screen.entry.ask = one.id;
          screen.entry.typed.clear();
          break;
        }
  });
  if (e.more) screen.more.open = true;
  // What is deleted is not wanted any more.
  if (e.remove) screen.more.added = {};
  act(screen.entry, e, c, session);
}

}  // namespace levelrun
