// Runs: units by width along a wall or an island; legs, void and what is left to the next wall
// always in sight.
#include <algorithm>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/entry/run_lines.h"
#include "app/entry/unit_edits.h"
#include "app/screens/app.h"
#include "app/screens/finding_parts.h"
#include "app/screens/run_about.h"
#include "app/screens/run_entry.h"
#include "app/screens/run_keys.h"
#include "app/screens/run_list.h"
#include "app/screens/screens.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"

namespace levelrun {
namespace {

using Field = RunsScreen::Field;

constexpr double island_guess = 1200;  // mm: its first units, to lie in the room's middle
constexpr std::size_t most_runs_in_row = 6;

class RunsPage {
 public:
  RunsPage(ScreenContext& c, Session& session, RunsScreen& screen)
      : s_(c.sheet),
        session_(session),
        screen_(screen),
        room_(session.survey().rooms[session.room]),
        job_(session.survey().job) {
    if (screen_.run >= room_.runs.size()) screen_.run = 0, screen_.unit.reset();
    if (room_.runs.empty()) screen_.choosing_wall = true;
    if (!run() || (screen_.unit && *screen_.unit >= run()->units.size())) screen_.unit.reset();
    if (!run()) return;
    const bool of_unit = screen_.field == Field::niche_least ||
                         screen_.field == Field::niche_most || screen_.field == Field::height ||
                         screen_.field == Field::depth || screen_.field == Field::bottom;
    const bool of_wall = screen_.field == Field::starts_at;
    const bool of_island =
        screen_.field == Field::x || screen_.field == Field::y || screen_.field == Field::turned;
    if ((of_unit && !screen_.unit) || (of_wall && !run()->wall) || (of_island && run()->wall))
      screen_.field = Field::width;
    lines_ = run_lines(session.survey(), session.room, screen_.run, session.room_result(),
                       wall_length());
  }

  void draw(Box page) {
    if (!s_.portrait())
      s_.narrow() ? draw_phone_lying(page) : draw_lying(page);
    else if (s_.narrow())
      draw_phone(page);
    else
      draw_standing(page);
    finish();
  }

 private:
  const Run* run() const { return room_.runs.empty() ? nullptr : &room_.runs[screen_.run]; }

  std::optional<Estimate> wall_length() const {
    const RoomToDraw& drawn = session_.drawn();
    const auto& walls = drawn.plan.known ? drawn.plan.walls : drawn.walls;
    if (!run() || !run()->wall || *run()->wall >= walls.size()) return std::nullopt;
    const WallLine& wall = walls[*run()->wall];
    return Estimate{wall.length, wall.length_sd};
  }

  // Plan and numbers, rows below; beside them what is typed, keys and the pad.
  void draw_lying(Box page) {
    const float wide = std::clamp(page.w * 0.36f, 376 + 2 * margin, s_.grown(480));
    Box side = take_side(page, wide);
    const float rows = run_keys_height() + unit_head_height(s_, page.w) + 3 * gap +
                       unit_row_height(s_, page.w) * 5;
    draw_plan_strip(page.take_top(std::max(page.h * 0.3f, std::min(page.h * 0.6f, page.h - rows))));
    draw_rows(page);
    side = side.inset(margin, margin);
    const Box pad_row = side.take_bottom(std::min(keypad_height(s_), side.h * 0.62f));
    const float pad_wide = keypad_width(s_, pad_row.w);
    side.take_bottom(gap);
    draw_value(side.take_top(value_height()));
    draw_undo(side.take_bottom(std::max(56.f, run_key_height(s_))));
    side.take_bottom(gap);
    side.take_top(gap);
    draw_keys(side);
    draw_pad({s_.look.left_hand ? pad_row.x : pad_row.right() - pad_wide, pad_row.y, pad_wide,
              pad_row.h});
  }

  // No room for the plan: what is left, rows, keys and value beside the pad.
  void draw_phone_lying(Box page) {
    draw_pad(take_side(page, page.w / 2).inset(gap, 6));
    Box value = page.take_bottom(value_height() + gap).inset(gap, gap / 2);
    draw_undo(value.take_right(undo_width()));
    value.take_right(gap);
    draw_value(value);
    draw_keys(page.take_bottom(run_key_height(s_) + gap / 2).inset(gap, 0));
    if (!lines_.empty() && page.h > run_keys_height() + s_.row() + least_target)
      draw_run_line(s_, page.take_top(s_.row() + 4).inset(margin, 0), lines_.front());
    draw_rows(page);
  }

  // The side of the hand that types, ruled off.
  Box take_side(Box& page, float wide) {
    const Box side = s_.look.left_hand ? page.take_left(wide) : page.take_right(wide);
    const float edge = s_.look.left_hand ? side.right() : side.x;
    s_.line({edge, side.y}, {edge, side.bottom()}, Ink::rule);
    return side;
  }
  float undo_width() const { return std::max(64.f, s_.width("Undo", TextSize::body) + 28); }

  void draw_phone(Box page) {
    Box low =
        page.take_bottom(std::clamp(page.h * 0.33f, 4 * least_target + 3 * gap, keypad_height(s_)) +
                         gap)
            .inset(margin, 0);
    low.take_bottom(gap);
    const bool crowded = s_.fonts.text_scale() > 1.3f;
    Box keys =
        page.take_bottom(run_key_height(s_) * (crowded ? 1.f : 2.f) + 2 * gap).inset(margin, 0);
    keys.take_bottom(gap);
    Box value = page.take_bottom(value_height() + gap).inset(margin, 0);
    s_.line({page.x, value.y}, {page.right(), value.y}, Ink::ink, 2);
    value.take_top(gap / 2);
    value.take_bottom(gap / 2);
    draw_undo(value.take_right(undo_width()));
    value.take_right(gap);
    draw_value(value);
    // With large text there is room for the numbers, not for the plan.
    if (!crowded)
      draw_plan_strip(page.take_top(std::max(110.f, page.h * 0.44f)));
    else if (!lines_.empty())
      draw_run_line(s_, page.take_top(s_.row() + 8).inset(margin, 0), lines_.front());
    draw_rows(page);
    draw_keys(keys);
    draw_pad(low);
  }

  void draw_standing(Box page) {
    Box low = page.take_bottom(keypad_height(s_) + 2 * margin);
    draw_plan_strip(page.take_top(page.h * 0.5f));
    draw_rows(page);
    s_.line({low.x, low.y}, {low.right(), low.y}, Ink::ink, 2);
    low = low.inset(margin, margin);
    const float wide = keypad_width(s_, low.w / 2);
    const Box pad = s_.look.left_hand ? low.take_left(wide) : low.take_right(wide);
    if (s_.look.left_hand)
      low.take_left(margin);
    else
      low.take_right(margin);
    draw_value(low.take_top(value_height()));
    draw_undo(low.take_bottom(run_key_height(s_)));
    low.take_bottom(gap);
    low.take_top(gap);
    draw_keys(low);
    draw_pad(pad);
  }

  // The plan with the run's numbers beside it.
  void draw_plan_strip(Box box) {
    if (box.h < 90) return;
    if (!lines_.empty()) {
      const float wide = std::min(s_.grown(s_.narrow() ? 182 : 264), box.w * 0.5f);
      Box numbers = s_.look.left_hand ? box.take_left(wide) : box.take_right(wide);
      const float edge = s_.look.left_hand ? numbers.right() : numbers.x;
      s_.line({edge, numbers.y + 8}, {edge, numbers.bottom() - 8}, Ink::rule);
      draw_run_lines(s_, numbers.inset(s_.narrow() ? 8 : margin, 6), lines_);
    }
    draw_plan(box);
  }

  void draw_plan(Box box) {
    const RoomToDraw& drawn = session_.drawn();
    // Without dimensions the room may come nearer to the edge of a small strip.
    // A small strip has no room to spare; elsewhere the scale bar lies below the room.
    const Box fit = s_.narrow() ? Box{box.x - 14, box.y - 14, box.w + 28, box.h + 28}
                                : box.inset(0, s_.grown(10));
    DrawingView fitted = plan_view(drawn, fit, false, s_.fonts.text_scale());
    fitted.box = box;
    const DrawingView view = moved_view(s_, "plan", fitted, screen_.view);
    PlanOptions options;
    options.dimensions = false;
    options.units_fixed = true;
    options.decimal = job_.decimal;
    if (screen_.unit) options.chosen = unit_pointer(session_.room, screen_.run, *screen_.unit);
    s_.push_clip(box);
    const Drawing drawing = plan_drawing(session_.survey(), drawn, session_.room_result(), view,
                                         options, s_.fonts.text_scale());
    show_drawing(s_, drawing);
    if (!s_.narrow()) scale_bar(s_, box, view.scale);
    s_.pop_clip();
    const std::string tapped = tapped_fact(s_, "plan", drawing);
    if (screen_.choosing_wall) {
      for (Index w = 0; w < room_.walls.size(); ++w)
        if (tapped == "/rooms/" + std::to_string(session_.room) + "/walls/" + std::to_string(w))
          add_run(w);
      return;
    }
    for (Index r = 0; r < room_.runs.size(); ++r)
      for (Index u = 0; u < room_.runs[r].units.size(); ++u)
        if (tapped == unit_pointer(session_.room, r, u)) {
          choose(r, u);
          reveal_ = u;
        }
  }

  float run_keys_height() const {
    const std::size_t count = room_.runs.size() + 1;
    const std::size_t rows = (count + most_runs_in_row - 1) / most_runs_in_row;
    return float(rows) * (run_key_height(s_) + gap);
  }

  void draw_rows(Box box) {
    s_.line({box.x, box.y}, {box.right(), box.y}, Ink::ink, 2);
    box = box.inset(margin, gap);
    Box runs = box.take_top(std::min(run_keys_height(), box.h));
    const std::size_t across = std::min(room_.runs.size() + 1, most_runs_in_row);
    const float wide = std::min(s_.grown(120), (runs.w - gap * float(across - 1)) / float(across));
    for (Index r = 0; r <= room_.runs.size(); ++r) {
      const Box key{runs.x + float(r % across) * (wide + gap),
                    runs.y + float(r / across) * (run_key_height(s_) + gap), wide,
                    run_key_height(s_)};
      if (r == room_.runs.size()) {
        const bool opens = !screen_.choosing_wall;
        if (s_.key(key, "New run", opens ? KeyLook::plain : KeyLook::in_use)) {
          screen_.choosing_wall = opens || room_.runs.empty();
          screen_.unit.reset();
          clear();
        }
      } else if (s_.key(
                     key, room_.runs[r].id,
                     r == screen_.run && !screen_.choosing_wall ? KeyLook::in_use : KeyLook::plain,
                     {}, "Run " + room_.runs[r].id)) {
        choose(r, std::nullopt);
      }
    }
    if (screen_.choosing_wall) {
      s_.paragraph(box,
                   room_.runs.empty() ? "No run yet: add the first along a wall, or an island."
                                      : "Which wall does the new run stand on?",
                   {TextSize::body, soft_ink(s_)});
      return;
    }
    if (run()->units.empty()) {
      s_.paragraph(box,
                   screen_.field == Field::width
                       ? "No units yet: type the first one’s width and book it."
                       : "No units yet. First " + run_number(session_, screen_).name +
                             ": type it, or book it as it is.",
                   {TextSize::body, soft_ink(s_)});
      return;
    }
    const auto rows =
        unit_rows(session_.survey(), session_.room, screen_.run, session_.room_result());
    // The unit just added lies at the end: it comes into sight.
    if (screen_.units_seen > 0 && screen_.units_seen < rows.size()) reveal_ = rows.size() - 1;
    screen_.units_seen = rows.size();
    if (const auto tapped =
            draw_unit_rows(s_, box, rows, "units of " + run()->id, screen_.unit, reveal_))
      choose(screen_.run, screen_.unit == tapped ? std::nullopt : tapped);
  }

  // For a new run, where the keys of units stand otherwise.
  void draw_walls(Box box) {
    std::vector<RunKey> keys;
    for (const Wall& wall : room_.walls) keys.push_back({wall.id});
    keys.push_back({"Island"});
    float content = 0;
    run_key_grid(s_, {0, 0, box.w, 0}, content, false, keys, "");
    const float offset = s_.touch.scroll("run walls", box, content);
    s_.push_clip(box);
    float y = box.y - offset;
    const int tapped = run_key_grid(s_, box, y, true, keys, "Along ");
    s_.pop_clip();
    s_.scroll_mark(box, offset, content);
    if (tapped < 0) return;
    if (Index(tapped) < room_.walls.size())
      add_run(Index(tapped));
    else
      add_island();
  }

  // It starts where the wall is free, which a key of its own changes: widths are asked at once.
  void add_run(Index wall) {
    deed_.patch = add_run_patch(session_.document(), session_.survey(), session_.room, wall,
                                free_along(session_.survey(), session_.room, wall));
    deed_.says = "new run on " + room_.walls[wall].id;
    new_run_ = Field::width;
  }
  void add_island() {
    double x = 0, y = 0;
    for (const PlanPoint& p : session_.drawn().corners) x += p.x, y += p.y;
    const double count = std::max<double>(1, double(session_.drawn().corners.size()));
    deed_.patch = add_island_patch(session_.document(), session_.survey(), session_.room,
                                   std::round(x / count - island_guess / 2), std::round(y / count));
    deed_.says = "new island";
    new_run_ = Field::x;
  }

  void clear() {
    screen_.typed.clear();
    screen_.refused.clear();
    screen_.field = Field::width;
    screen_.about_run = false;
  }
  void choose(Index r, std::optional<Index> unit) {
    if (r != screen_.run) screen_.units_seen = 0;
    screen_.run = r;
    screen_.unit = unit;
    screen_.choosing_wall = false;
    clear();
  }

  float value_height() const {
    const float value = s_.fonts.em(s_.narrow() ? TextSize::title : TextSize::value);
    return std::max(least_target, s_.row() + value * 1.2f);
  }

  // The field's name, the number in large digits, and what is left when it is booked.
  void draw_value(Box box) {
    if (!run() || screen_.choosing_wall) {
      s_.text(box, room_.runs.empty() ? "New run" : "New run: choose its wall",
              {TextSize::body, soft_ink(s_)});
      return;
    }
    const RunNumber now = run_number(session_, screen_);
    const TypedRunNumbers numbers = typed_run_numbers(session_, screen_);
    Box name = box.take_top(s_.row());
    const std::string& trouble = screen_.refused.empty() ? numbers.problem : screen_.refused;
    s_.touch.say(now.name + " " + screen_.typed + " " + trouble);
    if (!trouble.empty() && s_.narrow()) {
      s_.text(name, trouble, {TextSize::body, Ink::crayon});
    } else {
      s_.text(name, now.name, {TextSize::body, soft_ink(s_)});
    }
    const TextSize size = s_.narrow() ? TextSize::title : TextSize::value;
    const bool typed = !screen_.typed.empty();
    const std::string words = typed     ? screen_.typed
                              : now.now ? shown_number(*now.now, now, job_)
                                        : "";
    const float wide = std::min(s_.width(words, size, true) + 2, box.w * 0.6f);
    s_.text(box.take_left(wide), words, {size, typed ? Ink::blue : Ink::soft, true});
    const float caret = words.empty() ? box.x - wide + 1 : box.x + 3;
    s_.line({caret, box.y + 5}, {caret, box.bottom() - 5}, Ink::blue, 2);
    box.take_left(14);
    if (s_.narrow()) return;
    if (!trouble.empty()) {
      const Pen pen{TextSize::body, Ink::crayon};
      severity_mark(s_, {box.x, box.y + 4}, Severity::query, false);
      box.take_left(30);
      s_.push_clip(box);
      s_.paragraph(box, trouble, pen);
      s_.pop_clip();
      return;
    }
    draw_left(box, numbers.values);
  }

  // What the next unit leaves.
  void draw_left(Box box, const std::vector<double>& widths) {
    if (screen_.unit || screen_.field != Field::width || lines_.empty()) return;
    std::string value = lines_.front().value, words = lines_.front().name;
    bool crayon = lines_.front().needs_a_person;
    const auto length = wall_length();
    if (!widths.empty() && length) {
      double left = length->value - run()->from_along;
      for (const Unit& unit : run()->units) left -= unit.width;
      for (const double w : widths) left -= w;
      value = shown(left, 0, job_.decimal);
      words = "then left to the wall’s end";
      crayon = left < 0;
    }
    s_.text(box.take_top(box.h * 0.58f), value,
            {TextSize::title, crayon ? Ink::crayon : Ink::ink, crayon, Align::right});
    s_.text(box, words, {TextSize::caption, soft_ink(s_), false, Align::right});
  }

  void draw_keys(Box box) {
    if (screen_.choosing_wall) return draw_walls(box);
    const float content = run_keys(s_, {box.x, box.y, box.w - gap, 0}, session_, screen_, nullptr);
    const float offset = s_.touch.scroll("run keys", box, content);
    const float wide = content > box.h + 1 ? box.w - gap : box.w;
    s_.push_clip(box);
    RunDeed asked;
    run_keys(s_, {box.x, box.y - offset, wide, content}, session_, screen_, &asked);
    s_.pop_clip();
    s_.scroll_mark(box, offset, content);
    if (asked.wanted()) deed_ = std::move(asked);
  }

  void draw_undo(Box box) {
    const std::string undo = session_.undo_says();
    const KeyLook look = undo.empty() ? KeyLook::not_yet : KeyLook::plain;
    const bool adding = !screen_.unit && !screen_.about_run;
    const bool can_turn = run() && !screen_.choosing_wall;
    if (s_.narrow()) {
      if (s_.key(box, "Undo", look)) deed_.undo = true;
      return;
    }
    Box turn = s_.look.left_hand ? box.take_left(s_.grown(118)) : box.take_right(s_.grown(118));
    if (s_.look.left_hand)
      box.take_left(gap);
    else
      box.take_right(gap);
    if (s_.key(turn, adding ? "The run" : "Next unit",
               can_turn ? KeyLook::plain : KeyLook::not_yet))
      turn_run_keys(screen_, adding);
    if (s_.key(box, "Undo", look, s_.width(undo, TextSize::caption) < box.w - 12 ? undo : ""))
      deed_.undo = true;
  }

  void draw_pad(Box box) {
    const std::string before = screen_.typed;
    const bool enter = typed_keys(screen_.typed);
    std::string value;
    bool can = false;
    TypedRunNumbers numbers;
    if (run() && !screen_.choosing_wall && !session_.read_only()) {
      numbers = typed_run_numbers(session_, screen_);
      const RunNumber now = run_number(session_, screen_);
      const bool stays = screen_.typed.empty() && now.of_run;
      can = stays || !numbers.values.empty();
      if (stays) value = shown_number(*now.now, now, job_);
      if (numbers.values.size() == 1) value = shown_number(numbers.values.front(), now, job_);
      if (numbers.values.size() > 1) value = std::to_string(numbers.values.size()) + " units";
    }
    const bool book = keypad(s_, box, screen_.typed, {"Book", value, can, job_.decimal});
    // A wall is asked for, no number: digits would lie in the next field.
    if (!run() || screen_.choosing_wall) screen_.typed.clear();
    if (screen_.typed != before) screen_.refused.clear();
    if (!(book || enter) || !can || deed_.wanted()) return;
    booked_ = true;
    deed_ = booked_numbers(session_, screen_, numbers.values);
  }

  void finish() {
    if (!deed_.wanted()) {
      if (booked_) {
        screen_.field = next_run_field(session_, screen_);
        screen_.typed.clear();
      }
      return;
    }
    const Field after = booked_ && run() ? next_run_field(session_, screen_) : Field::width;
    const std::optional<Index> unit = deed_.unit;
    // From here on room_ and all that refers to it is of the past.
    const bool done = deed_.undo ? session_.undo() : session_.apply(deed_.patch, deed_.says);
    if (!done) {
      screen_.refused = session_.trouble();
      return;
    }
    const bool about_run = screen_.about_run;
    clear();
    screen_.unit = unit;
    screen_.field = after;
    screen_.about_run = about_run && !booked_;
    const Index runs = session_.survey().rooms[session_.room].runs.size();
    if (new_run_ && runs > 0) {
      screen_.choosing_wall = false;
      screen_.run = runs - 1;
      screen_.units_seen = 0;
      screen_.field = *new_run_;
    }
  }

  Sheet& s_;
  Session& session_;
  RunsScreen& screen_;
  const Room& room_;
  const Job& job_;
  std::vector<RunRow> lines_;
  std::optional<Index> reveal_;  // a unit to be brought into sight
  RunDeed deed_;
  std::optional<Field> new_run_;  // a run is being added; what is asked of it first
  bool booked_ = false;
};

}  // namespace

void draw_runs_screen(ScreenContext& c, Box page, Session& session, RunsScreen& screen) {
  if (session.survey().rooms.empty()) return;
  if (screen.run >= session.survey().rooms[session.room].runs.size()) screen.about = false;
  if (screen.about) return draw_run_about(c, page, session, screen);
  RunsPage(c, session, screen).draw(page);
}

}  // namespace levelrun
