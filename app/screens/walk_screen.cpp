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
#include "checks/expected_reading.h"

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

// " Measure the length of W3 at 900 high again."; what was never read is not read again.
std::string to_measure(const MeasureNext& next, const Room& room) {
  const auto named = [&](Index from, Index to) {
    const std::string name = "diagonal " + room.corners[from].id + " to " + room.corners[to].id;
    return next.what == name || next.what.starts_with(name + " at ");
  };
  const bool booked =
      !next.what.starts_with("diagonal ") ||
      std::any_of(room.diagonals.begin(), room.diagonals.end(),
                  [&](const Diagonal& d) { return named(d.from, d.to) || named(d.to, d.from); });
  return " Measure the " + next.what + (booked ? " again." : ".");
}

// What slips of the length being typed, or of what is booked, would close the room.
void add_slips(BookingView& v, const RoomResult& room, const Session& session,
               const std::vector<Ask>& asks) {
  const Job& job = session.survey().job;
  if (!room.plan.global_test || room.plan.global_test == GlobalTest::pass) return;
  v.refused.clear();
  // The slip's own comes last, behind what nothing checks.
  const std::string measure =
      room.plan.measure_next.empty()
          ? ""
          : to_measure(room.plan.measure_next.back(), session.survey().rooms[session.room]);
  // A room that fails although none of several is as likely as another closes without none.
  const bool closes = room.plan.global_test == GlobalTest::cured || room.plan.one_of;
  if (room.plan.suspects.empty() || !closes) {
    v.thought =
        (closes ? "No usual slip explains it." : "No one slip would close the room.") + measure;
    return;
  }
  v.thought = "A slip is likely. These would close the room:";
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
    for (const Ask& ask : asks)
      if (ask.booked && ask.booked->starts_with(suspect.at + "/")) slip.row = ask.id;
    v.slips.push_back(slip);
  }
  v.slips.push_back(
      {"", "", "something else", shown(100 * std::max(0.0, rest), 0, job.decimal) + " %", ""});
  v.after_slips = "Nothing is replaced for you: tap one to measure it again." + measure;
}

// The walls with a length that the room's own test or a bent corner puts in doubt.
std::set<Index> doubted_walls(const RoomResult& room, const Results& results, const Room& facts) {
  std::set<Index> out;
  const auto add = [&](const std::string& at) {
    for (Index w = 0; w < facts.walls.size(); ++w)
      if (at.find("/walls/" + std::to_string(w) + "/") != at.npos) out.insert(w);
  };
  for (const ObservationResult& o : room.observations)
    if (o.verdict == Agreement::one_of) add(o.at);
  if (room.plan.global_test == GlobalTest::fail)
    for (const Suspect& s : room.plan.suspects) add(s.at);
  for (const Finding& f : results.findings) {
    if (f.room != room.id) continue;
    if (f.code == "wall lengths do not close" && f.severity == Severity::hold) add(f.at);
    if (f.code != "corner not as noted") continue;
    for (Index w = 0; w < facts.walls.size(); ++w)
      if (f.at.ends_with("/corners/" + std::to_string(facts.walls[w].from)) ||
          f.at.ends_with("/corners/" + std::to_string(facts.walls[w].to)))
        out.insert(w);
  }
  return out;
}

// How much worse the expected value must be known without a wall to rest on it; our choice.
constexpr double rests_on = 1.2;

// "W3, which is in doubt", of the walls in doubt without which the others say something else, or
// say it less surely; empty: it rests on none.
std::string rests_on_doubt(const Session& session, const Ask& ask, const Expected& expected,
                           const std::set<Index>& doubted) {
  std::string names;
  int count = 0;
  for (const Index w : doubted) {
    if (ask.kind == ReadingKind::length && ask.wall == w) continue;
    Survey less = session.survey();
    less.rooms[session.room].walls[w].lengths.clear();
    const auto without = expected_for(less, ask, usual_instrument(less, ask));
    if (without && without->value.sd < rests_on * expected.value.sd &&
        std::abs(without->value.value - expected.value.value) < band95 * expected.value.sd)
      continue;
    names += (count++ > 0 ? " and " : "") + less.rooms[session.room].walls[w].id;
  }
  if (count > 2) return "walls that are in doubt";
  return count == 0 ? "" : names + (count == 1 ? ", which is in doubt" : ", which are in doubt");
}

// A reading is not blamed for what its expected value rests on.
void blame_what_is_in_doubt(BookingView& v, const Session& session, const RoomResult& room,
                            const ReadingEntry& entry, const Ask& ask) {
  if (!v.check_needs_a_person || !entry.expected || entry.check.slip || ask.planned) return;
  const std::string on =
      rests_on_doubt(session, ask, *entry.expected,
                     doubted_walls(room, session.results(), session.survey().rooms[session.room]));
  if (on.empty()) return;
  v.check_needs_a_person = false;
  v.vial.reset();
  v.thought = "What is expected rests on " + on + ". Book what you read.";
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
  if (session.survey().rooms.empty()) {
    v.done = "No room yet";
    v.advice = "Add one on Job, then walk round it.";
  } else {
    v.more = "More";
  }
  if (ask && ask->kind == ReadingKind::across) v.name = v.name.substr(0, v.name.find(','));
  for (const Ask& one : screen.entry.asks)
    if (one.booked && one.value)
      v.rows.push_back(row_of(one, room, session.survey().job, ask && ask->id == one.id));
  std::reverse(v.rows.begin(), v.rows.end());
  if (room && screen.entry.typed.empty()) add_slips(v, *room, session, screen.entry.asks);
  if (room && ask) blame_what_is_in_doubt(v, session, *room, screen.entry, *ask);
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
