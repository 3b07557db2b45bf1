#include "app/screens/reading.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/entry/typed_number.h"
#include "app/screens/app.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"
#include "app/touch/words_field.h"

namespace levelrun {
namespace {

// Why a place is not reached: the usual, by a tap.
constexpr const char* reasons[] = {"old kitchen in the way", "furniture in the way",
                                   "no line of sight", "locked or not allowed"};

// How far a reading may be from what was paced, as a share of it; our choice.
constexpr double paced_share = 0.3;

std::string shown_reading(const Ask& ask, double value, const Job& job) {
  return ask.kind == ReadingKind::angle ? shown_short(value, 1, job.decimal)
                                        : shown_length(value, job);
}

TypedUnit unit_of(const Ask& ask, const Job& job) {
  return ask.kind == ReadingKind::angle ? TypedUnit::degrees : typed_unit(job);
}

// What its wall was paced at, if nothing better is known and the value typed is far from it.
std::optional<double> far_from_paced(const Session& session, const Ask& ask,
                                     const ReadingEntry& e) {
  if (ask.kind != ReadingKind::length || !ask.wall || e.expected || !e.value) return std::nullopt;
  const auto& rough = session.survey().rooms[ask.room].walls[*ask.wall].rough;
  return rough && std::abs(*e.value - *rough) > paced_share * *rough ? rough : std::nullopt;
}

}  // namespace

std::string band_words(double sd, const Job& job) {
  const double half = band95 * sd;
  return "±" + shown(half, half < 9.95 ? 1 : 0, job.decimal);
}

const Ask* current(const ReadingEntry& e) {
  if (!e.ask.empty())
    for (const Ask& ask : e.asks)
      if (ask.id == e.ask) return &ask;
  for (const Ask& ask : e.asks)
    if (!ask.booked && !e.passed.contains(ask.id)) return &ask;
  for (const Ask& ask : e.asks)
    if (!ask.booked) return &ask;
  return nullptr;
}

void refresh(ReadingEntry& e, const Session& session,
             const std::function<std::vector<Ask>(const Session&, Index)>& asks, Index which) {
  if (e.version != session.version() * 1000 + int(which)) {
    e.version = session.version() * 1000 + int(which);
    e.asks = asks(session, which);
    e.expected_for.clear();
  }
  const Ask* ask = current(e);
  if (!ask) return;
  // What was typed while no reading waited is not the one that has come to be asked for.
  if (std::exchange(e.idle, false)) e.typed.clear();
  e.stray.clear();
  if (e.expected_for != ask->id) {
    e.expected_for = ask->id;
    e.expected = expected_for(session.survey(), *ask, usual_instrument(session.survey(), *ask));
    e.checked = "\n";  // nothing that could be typed
  }
  if (e.checked == e.typed) return;
  e.checked = e.typed;
  e.value.reset();
  e.problem.clear();
  e.check = {};
  if (e.typed.empty()) return;
  const TypedNumber number = typed_number(e.typed, unit_of(*ask, session.survey().job));
  if (!number.value) {
    e.problem = number.problem;
    return;
  }
  e.value = number.value;
  const double sd = reading_sd(session.survey(), *ask, usual_instrument(session.survey(), *ask));
  e.check = entry_check(ask->kind, *number.value, e.expected, sd);
  if (!e.check.refused.empty()) e.value.reset();
}

BookingView view_of(const ReadingEntry& e, const Session& session) {
  BookingView v;
  const Job& job = session.survey().job;
  v.decimal = job.decimal;
  v.undo_says = session.undo_says();
  v.can_book = e.value.has_value() && !session.read_only();
  const Ask* ask = current(e);
  if (!ask) {
    v.done = e.asks.empty() ? "Nothing to read here yet" : "All booked";
    v.can_book = false;
    if (!e.typed.empty())
      v.thought = e.typed + " came with no reading waiting. " +
                  (e.asks.empty() ? "It is not kept." : "Choose in the list what it is.");
    return v;
  }
  v.name = ask->name;
  v.caption = ask->caption;
  if (e.expected)
    v.expected =
        "expected " +
        shown_reading(*ask,
                      ask->kind == ReadingKind::angle ? e.expected->value.value
                                                      : std::round(e.expected->value.value),
                      job) +
        " " + band_words(e.expected->value.sd, job);
  v.can_delete = ask->booked && !ask->entry.is_null() && !session.read_only();
  v.typed = e.typed;
  if (e.typed.empty() && ask->value) v.typed = shown_reading(*ask, *ask->value, job);
  if (e.value) v.book_value = shown_reading(*ask, *e.value, job);
  v.refused = session.read_only()          ? "Nothing can be booked: " + session.only_looks() + "."
              : !session.trouble().empty() ? session.trouble()
              : !e.check.refused.empty()   ? e.check.refused
                                           : e.problem;
  v.check = e.check.says;
  for (const std::string_view with : {"agrees with the others to ", "agrees with the plan to "})
    if (v.check.starts_with(with)) v.check = "agrees to " + v.check.substr(with.size());
  v.check_needs_a_person = e.check.verdict && *e.check.verdict != Verdict::within;
  if (e.check.verdict && e.check.vial) {
    const EntryVial& band = *e.check.vial;
    v.vial = Vial{*e.check.verdict, (band.band_low + band.band_high) / 2,
                  (band.band_high - band.band_low) / 2 / band95, band.low, band.high};
  }
  if (e.check.slip)
    v.thought = e.check.slip->words + " " + shown_reading(*ask, e.check.slip->value, job) +
                (ask->planned ? " was planned. Measure it again."
                              : " is what the others expect. Read it again.");
  else if (v.check_needs_a_person)
    v.thought = ask->planned ? "That is far from what was planned. Measure it again."
                             : "The others do not agree with it. Read it again.";
  if (const auto paced = far_from_paced(session, *ask, e)) {
    v.thought = "About " + shown_length(*paced, job, 0) + " was paced here. Read it again.";
    v.check_needs_a_person = true;
  }
  return v;
}

bool act(ReadingEntry& e, const BookingEvent& event, ScreenContext& context, Session& session) {
  std::string& typed = e.typed;
  const bool enter = typed_keys(typed);
  // Digits after a number that came whole are another's.
  if (!e.stray.empty() && typed.size() > e.stray.size() && typed.starts_with(e.stray))
    typed.erase(0, e.stray.size());
  if (typed != e.stray) e.stray.clear();
  const Ask* ask = current(e);
  if (!event.row.empty()) {
    // What came with no reading waiting goes with the row that is chosen for it.
    typed = ask ? std::string() : e.stray.empty() ? typed : e.stray;
    e.stray.clear();
    e.idle = false;
    e.ask = event.row;
    return false;
  }
  if (event.undo && !session.undo_says().empty()) {
    session.undo();
    typed.clear();
    e.ask.clear();
    return true;
  }
  if (!ask) {
    e.idle = true;
    if (enter) e.stray = typed;
    return false;
  }
  if (event.remove && ask->booked) {
    // The whole reading, not its number alone.
    const std::string reading = ask->booked->substr(0, ask->booked->rfind('/'));
    const std::string says = ask->name + " deleted";
    e.ask.clear();
    typed.clear();
    session.apply(Json::array({{{"op", "remove"}, {"path", reading}}}), says);
    return true;
  }
  if (event.skip) {
    e.passed.insert(ask->id);
    e.ask.clear();
    typed.clear();
    return true;
  }
  if (event.cant_reach) {
    e.asking_why = true;
    return false;
  }
  if (!(event.book || enter) || typed.empty()) return false;
  if (session.read_only()) return false;
  // What Enter came with may be newer than the check on show.
  TypedNumber number = typed_number(typed, unit_of(*ask, session.survey().job));
  std::vector<double> more;
  if (!number.value) {
    const TypedNumbers several = typed_numbers(typed, unit_of(*ask, session.survey().job));
    if (several.values.size() > 1) {
      number.value = several.values.front();
      more.assign(several.values.begin() + 1, several.values.end());
    }
  }
  if (!number.value) return false;
  const auto instrument = usual_instrument(session.survey(), *ask);
  const EntryCheck check = entry_check(ask->kind, *number.value, e.expected,
                                       reading_sd(session.survey(), *ask, instrument));
  if (!check.refused.empty()) return false;
  std::optional<std::string> instrument_id;
  if (instrument) instrument_id = session.survey().instruments[*instrument].id;
  const std::string says =
      ask->name + " " + shown_reading(*ask, *number.value, session.survey().job);
  if (!session.apply(book_patch(session.document(), *ask, *number.value, instrument_id), says))
    return false;
  if (context.settings.look.tones)
    context.platform.tone(check.verdict && *check.verdict != Verdict::within ? 2 : 1);
  typed.clear();
  e.ask.clear();
  if (!more.empty()) e.pasted = more;
  // The next of a paste stands on the pad, ready to be booked.
  if (!e.pasted.empty()) {
    typed = e.stray = shown_short(e.pasted.front(), 3, '.');
    e.pasted.erase(e.pasted.begin());
  }
  return true;
}

void drop_stray(ReadingEntry& e) {
  if (current(e)) return;
  e.typed.clear();
  e.stray.clear();
}

bool draw_why(ReadingEntry& e, ScreenContext& context, Box page, Session& session) {
  if (!e.asking_why) return false;
  Sheet& s = context.sheet;
  const Ask* ask = current(e);
  if (!ask) return e.asking_why = false;
  Box in = page.inset(margin, margin);
  in.w = std::min(in.w, 560.f);
  in.take_top(s.paragraph(in, "Why can " + ask->name + " not be reached?",
                          {TextSize::title, Ink::ink, true}) +
              12);
  std::string why;
  const float high = std::max(56.f, s.row() + 24);
  for (const char* reason : reasons) {
    if (s.key(in.take_top(high), reason)) why = reason;
    in.take_top(gap);
  }
  if (words_field(s, in.take_top(words_field_height(s)), "Something else", "why", e.why) &&
      !e.why.empty())
    why = e.why;
  in.take_top(12);
  if (s.key(in.take_top(high), "Back to the reading")) e.asking_why = false;
  if (!why.empty()) {
    if (session.apply(skip_patch(session.document(), *ask, why), ask->name + " not reached")) {
      e.ask.clear();
      e.typed.clear();
    }
    e.why.clear();
    e.asking_why = false;
  }
  return true;
}

}  // namespace levelrun
