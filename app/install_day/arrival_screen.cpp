// Arrival: the floor that was really laid and the day's own level, booked on the pad, and what that
// changes, first what does not fit.
#include <algorithm>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/install_day/accept_underside.h"
#include "app/install_day/day_asks.h"
#include "app/install_day/day_parts.h"
#include "app/install_day/day_screens.h"
#include "app/screens/app.h"
#include "app/screens/finding_parts.h"
#include "app/text_number.h"
#include "checks/day_setups.h"
#include "checks/laid_floor.h"

namespace levelrun {
namespace {

enum Part { laid_floor, level, changed };
constexpr HeadKey head_keys[] = {{"Laid floor", "Floor", "Show laid floor"},
                                 {"Level", "Level", "Show level"},
                                 {"What changed", "Changes", "Show what changed"},
                                 {"The survey", "Survey", "The survey"}};
constexpr int survey_key = 3;
constexpr float least_plan = 90;  // dp high, below which a plan says nothing

std::vector<Ask> floor_asks(const Session& session, Index by_staff) {
  return laid_floor_asks(session.survey(), session.room, by_staff != 0);
}
std::vector<Ask> level_asks_today(const Session& session, Index) {
  if (session.survey().rooms.empty()) return {};
  return day_level_asks(session.survey(), session.room);
}

std::string planned_words(const Ask& ask, const Job& job) {
  if (!ask.value || !ask.planned) return "";
  return shown_change(*ask.value - ask.planned->value.value, 1, job.decimal);
}

class ArrivalPage {
 public:
  ArrivalPage(ScreenContext& c, Session& session, ArrivalScreen& screen)
      : c_(c), s_(c.sheet), session_(session), screen_(screen) {}

  void draw(Box page) {
    const Box head = page.take_top(head_height(s_));
    s_.rule_under(head);
    const int tapped = draw_head(s_, head, head_keys, screen_.part);
    if (tapped == survey_key)
      c_.app.show(Page::job);
    else if (tapped >= 0)
      screen_.part = tapped;
    if (screen_.part == changed) return what_changed(page);
    book(page, screen_.part == laid_floor ? screen_.floor : screen_.level);
  }

 private:
  void book(Box page, ReadingEntry& entry) {
    const bool floor = screen_.part == laid_floor;
    refresh(entry, session_, floor ? floor_asks : level_asks_today, floor && screen_.by_staff);
    if (draw_why(entry, c_, page, session_)) return;
    const Job& job = session_.survey().job;
    const Ask* ask = current(entry);
    BookingView v = view_of(entry, session_);
    v.row_heads[0] = floor ? "Floor" : "Point";
    v.row_heads[1] = floor ? "Thick" : "Staff";
    v.row_heads[2] = floor ? "to plan" : "";
    for (const Ask& one : entry.asks)
      if (one.booked && one.value) {
        BookedRow row;
        row.id = one.id;
        row.name = floor ? one.name : one.name.substr(0, one.name.rfind(' '));
        row.value = shown_short(*one.value, 1, job.decimal);
        row.words = planned_words(one, job);
        row.chosen = ask && ask->id == one.id;
        row.needs_a_person = floor && asked_back(one);
        v.rows.push_back(std::move(row));
      }
    std::reverse(v.rows.begin(), v.rows.end());
    if (const std::string needs = floor ? floor_thought(entry, ask) : level_thought(entry, ask);
        !needs.empty())
      v.thought = needs;
    if (!ask) {
      const bool set_up = !session_.survey().install.setups.empty();
      if (floor) {
        v.done = entry.asks.empty() ? "No runs" : "All booked";
        v.advice = entry.asks.empty()
                       ? "The floor is measured in front of the runs: this room has none."
                       : "Next: what it changes.";
        v.offers = {"See what changed"};
        if (set_up && !screen_.by_staff) v.offers.push_back("By staff instead");
      } else {
        v.done = set_up ? "All booked" : "No level yet";
        if (!set_up)
          v.advice = s_.narrow() ? "In sight of the benchmark."
                                 : "Set up a level where the benchmark or three marks of the "
                                   "survey can be read.";
        else if (v.thought.empty())
          v.advice = "Today's level is tied to the survey's.";
        v.offers = {set_up ? "Set up anew" : "Set up a level"};
      }
    } else if (v.thought.empty() && entry.typed.empty()) {
      v.advice = floor         ? "How much floor lies over the bare floor here?"
                 : tied()      ? "Today's level is tied; more marks check it."
                 : s_.narrow() ? "Gone? Can’t reach, then three marks."
                               : "Benchmark gone? Can’t reach it, then three marks of the survey.";
    }
    const BookingEvent e =
        draw_booking_page(s_, page, v, entry.typed, [&](Box box) { plan(box, ask); });
    if (e.offer == "See what changed") screen_.part = changed;
    if (e.offer == "By staff instead") screen_.by_staff = true;
    if (e.offer == "Set up a level" || e.offer == "Set up anew")
      session_.apply(day_setup_patch(session_.document(), session_.survey()),
                     "a level set up today");
    act(entry, e, c_, session_);
  }

  const Finding* finding_at(const std::string& at) const {
    for (const Finding& f : session_.results().findings)
      if (f.at == at && f.severity != Severity::note) return &f;
    return nullptr;
  }
  bool asked_back(const Ask& ask) const {
    return ask.own && finding_at("/install/finished_floor/" + std::to_string(*ask.own));
  }

  // What of the laid floor needs a person: the number being typed, else one that was booked.
  std::string floor_thought(const ReadingEntry& entry, const Ask* ask) const {
    const char d = session_.survey().job.decimal;
    if (ask && ask->planned && entry.value) {
      const double planned = ask->planned->value.value;
      if (const auto unit = thickness_in_other_unit(*entry.value, planned))
        return "It may be " + shown_short(unit->value, 1, d) + ", " + unit->kind +
               ". Planned: " + shown_short(planned, 1, d) + ". Measure it again.";
      return "";
    }
    if (ask) return "";
    for (const Ask& one : entry.asks)
      if (one.value && asked_back(one))
        return one.name + ", " + shown_short(*one.value, 1, d) +
               ": far from the plan, so it is not used. Tap it, measure again.";
    return "";
  }

  // The same of the day's level: of the staff being typed, else of what the level is tied to.
  std::string level_thought(const ReadingEntry& entry, const Ask* ask) const {
    const char d = session_.survey().job.decimal;
    if (ask && entry.value) {
      const auto odd = unlikely(*ask, *entry.value);
      return odd ? "That is " + where_words(*odd) + ". " +
                       (odd->meant.empty() ? "" : with_decimal_sign(odd->meant, d) + "? ") +
                       "Read it again."
                 : "";
    }
    const auto& skipped = session_.survey().rooms[session_.room].skipped;
    const auto not_reached = [&](const Ask& one) {
      return entry.passed.contains(one.id) ||
             std::any_of(skipped.begin(), skipped.end(),
                         [&](const Skipped& s) { return s.what == one.name; });
    };
    // Asked for again all the same: there is nothing else that could tie it.
    if (ask && entry.typed.empty() && not_reached(*ask) &&
        std::all_of(entry.asks.begin(), entry.asks.end(),
                    [&](const Ask& one) { return one.booked || not_reached(one); }))
      return tied() ? ""
             : std::any_of(entry.asks.begin(), entry.asks.end(),
                           [](const Ask& one) { return one.booked.has_value(); })
                 ? "Too few marks without the benchmark: three are needed."
                 : "No other mark keeps its height. Go on from the floor; tops are levelled in "
                   "themselves.";
    const auto& setups = session_.survey().install.setups;
    if (ask || setups.empty()) return "";
    for (const Ask& one : entry.asks)
      if (const auto odd = one.value ? unlikely(one, *one.value) : std::nullopt)
        return one.name.substr(0, one.name.rfind(' ')) + ", " + shown_short(*one.value, 1, d) +
               ": " + where_words(*odd) + (odd->can_be ? "." : ", so it is not used.") +
               " Tap it, read it again.";
    const std::string at = "/install/setups/" + std::to_string(setups.size() - 1);
    if (const Finding* f = finding_at(at)) return with_decimal_sign(f->says, d);
    return "";
  }

  // Today's last set-up has a height.
  bool tied() const {
    const auto& setups = session_.survey().install.setups;
    if (setups.empty() || !session_.results().install) return false;
    for (const DaySetUpResult& one : session_.results().install->setups)
      if (one.setup == setups.back().id && one.height) return true;
    return false;
  }

  std::string where_words(const UnlikelyLevel& odd) const {
    return shown(std::abs(odd.above), 0, session_.survey().job.decimal) +
           (odd.above < 0 ? " below the floor" : " above the floor");
  }

  // A level by this staff on the ask's point.
  std::optional<UnlikelyLevel> unlikely(const Ask& ask, double staff) const {
    const RoomResult* room = session_.room_result();
    if (!room || !ask.point) return std::nullopt;
    const auto& points = session_.survey().rooms[session_.room].levels.points;
    std::optional<double> known, floor;
    for (const LevelResult& level : room->levels) {
      if (!level.height) continue;
      if (level.point == points[*ask.point].id) known = level.height;
      for (const LevelPoint& point : points)
        if (point.id == level.point && !point.off_floor)
          floor = std::max(floor.value_or(*level.height), *level.height);
    }
    return known && floor ? unlikely_level(staff, *known, *floor) : std::nullopt;
  }

  void plan(Box box, const Ask* ask) {
    if (box.h < s_.grown(least_plan)) return;
    const RoomToDraw& drawn = session_.drawn();
    const DrawingView view = moved_view(
        s_, "plan", plan_view(drawn, box, !s_.narrow(), s_.fonts.text_scale()), screen_.view);
    PlanOptions options;
    options.contours = options.points = true;
    options.dimensions = false;
    options.decimal = session_.survey().job.decimal;
    if (ask) options.point_in_use = ask->point;
    s_.push_clip(box);
    show_drawing(s_, plan_drawing(session_.survey(), drawn, session_.room_result(), view, options,
                                  s_.fonts.text_scale()));
    if (ask && !ask->point && ask->entry.contains("place")) {
      const Json& place = ask->entry["place"];
      const Spot at = view.at(place["x"].get<double>(), place["y"].get<double>());
      for (const float d : {0.f, 0.8f, 1.6f})
        s_.list.AddCircle({at.x, at.y}, 12 + d, s_.colour(Ink::blue), 0, 1.2f);
      s_.list.AddCircleFilled({at.x, at.y}, 3, s_.colour(Ink::blue));
    }
    s_.pop_clip();
  }

  void what_changed(Box page) {
    if (screen_.version != session_.version()) {
      screen_.version = session_.version();
      screen_.lines = changed_today(day_changes(session_.document(), session_.results()),
                                    session_.survey().job.decimal);
    }
    // What is accepted by a key stands outside what scrolls.
    const UndersideProposal* proposal = nullptr;
    const RoomResult* room = session_.room_result();
    if (room && session_.results().install)
      for (const UndersideProposal& one : session_.results().install->proposals)
        if (one.room == room->id && !proposal) proposal = &one;
    // Where a U was accepted, Undo stays at hand.
    const LevelGroup* moved = nullptr;
    for (const LevelGroup& group : session_.survey().rooms[session_.room].level_groups)
      if (group.underside_set && group.underside_set->released && !moved) moved = &group;
    Box foot;
    if (proposal || moved) foot = take_foot(s_, page);
    scrolled(s_, page, "changed", [&](Flow& f) {
      if (proposal) proposed(f, *proposal);
      if (screen_.lines.empty())
        f.paragraph("Nothing changed yet: the floor is as it was planned, or was not measured.");
      for (const ChangedLine& line : screen_.lines) changed_line(f, line);
    });
    if (!proposal && !moved) return;
    const char decimal = session_.survey().job.decimal;
    if (!proposal) {
      const LevelGroup::SetUnderside& set = *moved->underside_set;
      if (draw_foot(s_, foot, session_,
                    {"U " + shown(set.value, 1, decimal),
                     "accepted; released at " + shown(*set.released, 1, decimal), KeyLook::not_yet},
                    {})
              .undo)
        session_.undo();
      return;
    }
    const std::string to = shown(proposal->proposed, 1, decimal);
    const FootTapped tapped =
        draw_foot(s_, foot, session_,
                  {"Accept U " + to,
                   session_.trouble().empty() ? "instead of " + shown(proposal->now, 1, decimal)
                                              : session_.trouble(),
                   session_.read_only() ? KeyLook::not_yet : KeyLook::solid},
                  {});
    if (tapped.undo) session_.undo();
    if (tapped.first)
      session_.apply(accept_underside_patch(session_.document(), session_.survey(), *proposal,
                                            c_.settings.author, c_.platform.now()),
                     "U " + proposal->group + " moved to " + to);
  }

  void proposed(Flow& f, const UndersideProposal& p) {
    const char decimal = session_.survey().job.decimal;
    const Pen body, soft{TextSize::caption, soft_ink(s_)};
    f.pair("Proposed U, group " + p.group, {TextSize::body, Ink::blue, true},
           shown(p.proposed, 1, decimal), {TextSize::title, Ink::blue, true});
    f.paragraph(with_decimal_sign(p.sum, decimal), soft);
    f.gap(4);
    // As released, as it is now, and with the proposal.
    const auto line = [&](const std::string& what, const std::string& now,
                          const std::string& then) {
      f.pair(what, body, now + ", then " + then, {TextSize::body, Ink::ink, true});
    };
    line("U", shown(p.now, 1, decimal), shown(p.proposed, 1, decimal));
    if (p.worktop_now && p.worktop_then)
      line("Worktop above the floor", shown(*p.worktop_now, 1, decimal),
           shown(*p.worktop_then, 1, decimal));
    if (p.worktop_released)
      f.paragraph("It was released at " + shown(*p.worktop_released, 1, decimal) + ".", soft);
    const auto counts = [&](const std::string& what, int now, int then) {
      f.pair(what, body, std::to_string(now) + ", then " + std::to_string(then),
             {TextSize::body, then > now ? Ink::crayon : Ink::ink, true});
    };
    counts("Legs outside or in doubt, of " + std::to_string(p.legs), p.legs_outside_now,
           p.legs_outside_then);
    counts("Plinth pieces cut, of " + std::to_string(p.pieces), p.pieces_cut_now,
           p.pieces_cut_then);
    if (p.pieces_short_now + p.pieces_short_then > 0)
      counts("Plinth pieces short or in doubt", p.pieces_short_now, p.pieces_short_then);
    if (!p.limited_by.empty())
      f.paragraph("It goes no further: " + with_decimal_sign(p.limited_by, decimal) + ".",
                  {TextSize::body, Ink::crayon});
    f.gap(8);
    f.rule(Ink::ink, 2);
  }

  void changed_line(Flow& f, const ChangedLine& line) {
    const float left = line.finding ? mark_column : 0;
    const Pen pen{TextSize::body,
                  line.finding && line.severity != Severity::note ? Ink::crayon : Ink::ink};
    const float high = s_.paragraph_height(f.w() - left, line.says, pen) + 20;
    const Box row = f.take(high);
    if (!f.draws()) return;
    if (line.finding)
      severity_mark(s_, {row.x, row.y + 10 + (s_.row() - mark_side) / 2}, line.severity, false);
    s_.paragraph(Box{row.x + left, row.y + 10, row.w - left, row.h}, line.says, pen);
    s_.rule_under(row);
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  ArrivalScreen& screen_;
};

}  // namespace

void draw_arrival_screen(ScreenContext& c, Box page, Session& session, ArrivalScreen& screen) {
  if (session.survey().rooms.empty()) {
    c.sheet.paragraph(page.inset(margin), "No room yet: the survey comes first.");
    return;
  }
  ArrivalPage(c, session, screen).draw(page);
}

}  // namespace levelrun
