// Arrival: the floor that was really laid and the day's own level, booked on the pad, and what that
// changes, first what does not fit.
#include <algorithm>

#include "app/drawing/plan_drawing.h"
#include "app/install_day/day_asks.h"
#include "app/install_day/day_screens.h"
#include "app/screens/app.h"
#include "app/screens/finding_parts.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

enum Part { laid_floor, level, changed };
constexpr struct {
  const char* word;
  const char* label;
} parts[] = {{"Laid floor", "Show laid floor"},
             {"Level", "Show level"},
             {"What changed", "Show what changed"}};

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
    const float high = std::max(least_target, s_.row() + 16);
    Box keys = page.take_top(high + 12).inset(margin, 6);
    const float w = (keys.w - 2 * gap) / 3;
    for (int p = 0; p < 3; ++p) {
      if (s_.key(keys.take_left(w), parts[p].word,
                 p == screen_.part ? KeyLook::in_use : KeyLook::plain, {}, parts[p].label))
        screen_.part = p;
      keys.take_left(gap);
    }
    s_.rule_under({page.x, page.y - 1, page.w, 1});
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
        v.rows.push_back(std::move(row));
      }
    std::reverse(v.rows.begin(), v.rows.end());
    if (!ask) {
      const bool set_up = !session_.survey().install.setups.empty();
      if (floor) {
        v.done = entry.asks.empty() ? "No runs" : "All booked";
        v.advice = entry.asks.empty()
                       ? "The floor is measured in front of the runs: this room has none."
                       : "What it changes is beside.";
        v.offers = {"See what changed"};
        if (set_up && !screen_.by_staff) v.offers.push_back("By staff instead");
      } else {
        v.done = set_up ? "All booked" : "No level yet";
        v.advice = set_up
                       ? "Today's level is tied to the survey's."
                       : "Set up a level where the benchmark or three marks of the survey can be "
                         "read.";
        v.offers = {set_up ? "Set up anew" : "Set up a level"};
      }
    } else if (v.thought.empty() && entry.typed.empty()) {
      v.advice = floor ? "How much floor lies over the bare floor here?"
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

  void plan(Box box, const Ask* ask) {
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
    const auto content = [&](Flow& f) {
      if (screen_.lines.empty())
        f.paragraph("Nothing changed yet: the floor is as it was planned, or was not measured.");
      for (const ChangedLine& line : screen_.lines) {
        const bool mark = line.finding;
        const float left = mark ? mark_column : 0;
        const Pen pen{TextSize::body,
                      mark && line.severity != Severity::note ? Ink::crayon : Ink::ink};
        const float high = s_.paragraph_height(f.w() - left, line.says, pen) + 20;
        Box row = f.take(high);
        if (f.draws()) {
          if (mark)
            severity_mark(s_, {row.x, row.y + 10 + (s_.row() - mark_side) / 2}, line.severity,
                          false);
          s_.paragraph(Box{row.x + left, row.y + 10, row.w - left, row.h}, line.says, pen);
          s_.rule_under(row);
        }
      }
    };
    Flow measure(s_, page.inset(margin, 8), false);
    content(measure);
    const float high = measure.height() + 16;
    const float offset = s_.touch.scroll("changed", page, high);
    s_.push_clip(page);
    Flow flow(s_, Box{page.x, page.y - offset, page.w, page.h}.inset(margin, 8), true);
    content(flow);
    s_.pop_clip();
    s_.scroll_mark(page, offset, high);
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
