// Level check: the tops of set cabinets read on the pad, then which leg is turned and how far; the
// cabinet is read again once its legs were turned.
#include <algorithm>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/install_day/day_asks.h"
#include "app/install_day/day_parts.h"
#include "app/install_day/day_screens.h"
#include "app/screens/app.h"
#include "app/text_number.h"
#include "checks/placing.h"
#include "checks/room_plan.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr HeadKey head_keys[] = {{"Legs", "Legs", "Back to the legs"},
                                 {"Readings", "Read", "Show readings"},
                                 {"Turns", "Turns", "Show turns"}};

// Smaller turns than this are left alone.
constexpr double worth_a_turn = 0.1;  // mm at the leg; common practice, no source

// How far a set cabinet's top is off before anybody has turned a leg.
constexpr double as_set_sd = 3;  // mm; common practice, no source

constexpr float least_plan = 90;  // dp high, below which a plan says nothing

std::string unit_of(const Ask& ask) { return ask.entry.value("unit", std::string()); }

// "S3 back L", where there is little room.
std::string short_name(const Ask& ask) {
  const std::string corner = ask.entry.value("corner", "");
  return unit_of(ask) + (corner.starts_with("front") ? " front " : " back ") +
         (corner.ends_with("left") ? "L" : "R");
}

// The top at U, from the day's level, as far as that is tied.
std::optional<Estimate> expected_top(const Session& session, const Ask& ask,
                                     const std::vector<std::optional<PlacedRun>>& placed) {
  const auto& install = session.results().install;
  const RoomResult* room = session.room_result();
  if (!install || !room) return std::nullopt;
  Unknown plane;
  double plane_sd = 0;
  for (const DaySetUpResult& setup : install->setups)
    if (setup.setup == ask.entry.value("setup", std::string()) && setup.height) {
      plane = setup.height;
      plane_sd = setup.sd.value_or(0);
    }
  const auto& runs = session.survey().rooms[session.room].runs;
  for (Index r = 0; plane && r < runs.size() && r < placed.size(); ++r) {
    if (!placed[r]) continue;
    for (const PlacedUnit& unit : placed[r]->units)
      for (const GroupResult& group : room->groups)
        if (runs[r].units[unit.unit].id == unit_of(ask) && group.id == runs[r].level_group)
          return Estimate{*plane - group.underside - unit.top_offset,
                          std::hypot(plane_sd, as_set_sd)};
  }
  return std::nullopt;
}

std::vector<Ask> asks_of(const Session& session, Index) {
  std::vector<Ask> asks = cabinet_asks(session.survey(), session.room);
  if (asks.empty()) return asks;
  const RoomPlan plan = adjust_room(session.survey(), session.room);
  const auto placed = placed_runs(session.survey(), session.room, plan);
  for (Ask& ask : asks)
    if (const auto top = expected_top(session, ask, placed))
      ask.planned = Expected{*top, false, "from U"};
  return asks;
}

// "1/8 turn", "1 1/4 turns".
std::string turns_text(int eighths) {
  const int whole = eighths / 8, rest = eighths % 8;
  std::string text = whole > 0 ? std::to_string(whole) : "";
  if (rest > 0) {
    const int by = rest % 4 == 0 ? 4 : rest % 2 == 0 ? 2 : 1;
    text += (whole > 0 ? " " : "") + std::to_string(rest / by) + "/" + std::to_string(8 / by);
  }
  return text + (eighths > 8 ? " turns" : " turn");
}

class LevelCheckPage {
 public:
  LevelCheckPage(ScreenContext& c, Session& session, LevelCheck& check)
      : c_(c),
        s_(c.sheet),
        session_(session),
        check_(check),
        decimal_(session.survey().job.decimal) {}

  void draw(Box page) {
    const Box head = page.take_top(head_height(s_));
    s_.rule_under(head);
    const int tapped = draw_head(s_, head, head_keys, check_.turns ? 2 : 1);
    if (tapped == 0) check_.open = false;
    if (tapped > 0) check_.turns = tapped == 2;
    if (check_.turns)
      turns(page);
    else
      readings(page);
  }

 private:
  std::vector<const UnitLevelResult*> read_units() const {
    std::vector<const UnitLevelResult*> out;
    const RoomResult* room = session_.room_result();
    if (!room || !session_.results().install) return out;
    for (const UnitLevelResult& unit : session_.results().install->unit_levels)
      if (unit.room == room->id) out.push_back(&unit);
    return out;
  }

  void readings(Box page) {
    refresh(check_.entry, session_, asks_of);
    if (draw_why(check_.entry, c_, page, session_)) return;
    const Job& job = session_.survey().job;
    const Ask* ask = current(check_.entry);
    const auto units = read_units();
    BookingView v = view_of(check_.entry, session_);
    v.row_heads[0] = "Corner";
    v.row_heads[1] = "Staff";
    v.row_heads[2] = "to level";
    for (const Ask& one : check_.entry.asks) {
      if (!one.booked || !one.value) continue;
      BookedRow row;
      row.id = one.id;
      row.name = s_.narrow() || s_.fonts.text_scale() > 1.4f ? short_name(one) : one.name;
      row.value = shown_short(*one.value, 1, job.decimal);
      row.chosen = ask && ask->id == one.id;
      for (const UnitLevelResult* unit : units)
        for (const CornerLevel& corner : unit->corners)
          if (unit->unit == unit_of(one) && one.entry.value("corner", "") == corner.corner) {
            row.words = shown_change(corner.above, 1, job.decimal);
            row.needs_a_person = !unit->level;
          }
      v.rows.push_back(std::move(row));
    }
    std::reverse(v.rows.begin(), v.rows.end());
    if (!ask) {
      v.done = check_.entry.asks.empty() ? "No level yet" : "All read";
      v.advice = check_.entry.asks.empty()
                     ? "Set up a level on Arrival first: the tops are read from it."
                     : "Which leg is turned, and how far, is on Turns.";
      if (!check_.entry.asks.empty()) v.offers = {"See the turns"};
    } else if (check_.entry.check.slip) {
      const SlipGuess& slip = *check_.entry.check.slip;
      v.thought =
          slip.words + " " + shown_short(slip.value, 1, job.decimal) + " is like U. Read it again.";
    } else if (!v.thought.empty()) {
      v.thought = "That is far from U. Read it again.";
    } else if (check_.entry.typed.empty()) {
      v.advice = "Staff on the top of " + unit_of(*ask) + ".";
      if (!s_.narrow()) v.advice += " Three corners of a cabinet are enough.";
    }
    const std::string unit = ask ? unit_of(*ask) : "";
    const BookingEvent e =
        draw_booking_page(s_, page, v, check_.entry.typed, [&](Box box) { plan(box, unit, ask); });
    if (e.offer == "See the turns") check_.turns = true;
    act(check_.entry, e, c_, session_);
  }

  // The room with the cabinet in use and the corner that the staff stands on.
  void plan(Box box, const std::string& unit, const Ask* ask) {
    if (box.h < s_.grown(least_plan)) return;
    const RoomToDraw& drawn = session_.drawn();
    const DrawingView view =
        moved_view(s_, "plan", plan_view(drawn, box, false, s_.fonts.text_scale()), check_.view);
    PlanOptions options;
    options.dimensions = false;
    options.units_fixed = true;
    options.decimal = decimal_;
    s_.push_clip(box);
    show_drawing(s_, plan_drawing(session_.survey(), drawn, session_.room_result(), view, options,
                                  s_.fonts.text_scale()));
    const auto& runs = session_.survey().rooms[session_.room].runs;
    for (Index r = 0; ask && r < runs.size() && r < drawn.runs.size(); ++r) {
      if (!drawn.runs[r]) continue;
      for (const PlacedUnit& placed : drawn.runs[r]->units) {
        if (runs[r].units[placed.unit].id != unit) continue;
        const std::string corner = ask->entry.value("corner", "");
        const PlanPoint p =
            drawn.runs[r]->frame.at(corner.ends_with("right") ? placed.right : placed.left,
                                    corner.starts_with("front") ? placed.front : placed.back);
        const Spot at = view.at(p.x, p.y);
        for (const float d : {0.f, 0.8f, 1.6f})
          s_.list.AddCircle({at.x, at.y}, 12 + d, s_.colour(Ink::blue), 0, 1.2f);
        s_.list.AddCircleFilled({at.x, at.y}, 3, s_.colour(Ink::blue));
      }
    }
    s_.pop_clip();
  }

  bool again(const UnitLevelResult& unit) const {
    return to_be_read_again(session_.survey(), session_.room, unit.unit);
  }
  bool open(const UnitLevelResult& unit) const {
    return !unit.level && !unit.legs.empty() && !again(unit);
  }

  void turns(Box page) {
    const auto units = read_units();
    const Box foot = take_foot(s_, page);
    const UnitLevelResult* chosen = nullptr;
    for (const UnitLevelResult* unit : units)
      if (unit->unit == check_.unit) chosen = unit;
    for (const UnitLevelResult* unit : units)
      if (!chosen && open(*unit)) chosen = unit;
    if (!chosen && !units.empty()) chosen = units.front();
    scrolled(s_, page, "turns", [&](Flow& f) {
      if (units.empty()) {
        f.paragraph("No cabinet was read yet: book its corners on Readings.");
        return;
      }
      for (const UnitLevelResult* unit : units)
        if (flow_row(f, "Turns of " + unit->unit, unit == chosen,
                     [&](Flow& in) { unit_words(in, *unit, unit == chosen); }))
          check_.unit = unit->unit;
    });
    const bool can = chosen && open(*chosen) && !session_.read_only();
    const FootTapped tapped =
        draw_foot(s_, foot, session_,
                  {"Turned",
                   !session_.trouble().empty() ? session_.trouble()
                   : !chosen                   ? ""
                                               : chosen->unit + (again(*chosen)  ? ": read it again"
                                                                 : chosen->level ? ": level"
                                                                                 : ""),
                   can ? KeyLook::solid : KeyLook::not_yet},
                  {"Read on", "", KeyLook::plain});
    if (tapped.second) check_.turns = false;
    if (tapped.undo) session_.undo();
    if (!tapped.first || !chosen) return;
    const std::string unit = chosen->unit;
    if (!session_.apply(turned_patch(session_.document(), session_.survey(), session_.room, *chosen,
                                     c_.platform.now(), c_.settings.author),
                        "legs of " + unit + " turned"))
      return;
    if (c_.settings.look.tones) c_.platform.tone(1);
    check_.unit.clear();
  }

  static std::string turn_words(const LegTurn& leg, char decimal) {
    if (std::abs(leg.raise) < worth_a_turn) return "leave it";
    std::string words =
        (leg.raise > 0 ? "raise " : "lower ") + shown(std::abs(leg.raise), 1, decimal);
    if (leg.turns) {
      // To an eighth: what can be told by a mark on the foot.
      const int eighths = int(std::lround(std::abs(*leg.turns) * 8));
      if (eighths > 0)
        words += std::string(*leg.turns > 0 ? ", out " : ", in ") + turns_text(eighths);
    }
    return words;
  }

  void unit_words(Flow& f, const UnitLevelResult& unit, bool whole) {
    const Pen soft{TextSize::caption, soft_ink(s_)};
    const bool marked = !unit.level;
    std::string figure;
    if (unit.level)
      figure = "level";
    else if (again(unit))
      figure = "read it again";
    else if (unit.worst)
      figure = shown(*unit.worst, 1, decimal_) + " off";
    f.pair(unit.unit, {TextSize::title, whole ? Ink::blue : Ink::ink, true}, figure,
           {TextSize::body, marked ? Ink::crayon : Ink::ink, true});
    if (again(unit)) {
      f.paragraph("Its legs were turned since it was read: read its corners again.");
      return;
    }
    f.paragraph(with_decimal_sign(unit.says, decimal_), {TextSize::body});
    if (!whole || unit.level) return;
    f.gap(6);
    for (const LegTurn& leg : unit.legs) {
      f.rule(Ink::rule);
      f.gap(4);
      f.pair(spaced(leg.position), {TextSize::body, Ink::ink}, turn_words(leg, decimal_),
             {TextSize::body, Ink::ink, true});
      std::string then = "then " + shown(leg.height, 1, decimal_) + " high";
      if (leg.end_stop == EndStop::longest) then += ", at its longest: it goes no higher";
      if (leg.end_stop == EndStop::shortest) then += ", at its shortest: it goes no lower";
      f.paragraph(then, leg.end_stop == EndStop::none ? soft : Pen{TextSize::caption, Ink::crayon});
      f.gap(4);
    }
    if (unit.worst_after)
      f.paragraph("Then within " + shown(*unit.worst_after, 1, decimal_) + " of level.", soft);
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  LevelCheck& check_;
  char decimal_;
};

}  // namespace

void draw_level_check(ScreenContext& c, Box page, Session& session, LevelCheck& check) {
  LevelCheckPage(c, session, check).draw(page);
}

}  // namespace levelrun
