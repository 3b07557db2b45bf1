// Runs: units by width along a wall or an island; legs, void and what is left to the next wall
// always in sight.
#include <algorithm>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/entry/set_patch.h"
#include "app/entry/typed_number.h"
#include "app/entry/unit_edits.h"
#include "app/screens/app.h"
#include "app/screens/screens.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"

namespace levelrun {
namespace {

constexpr const char* kind_words[] = {"Base",   "Tall",        "Wall",      "Appliance",
                                      "Infill", "Corner post", "End panel", "Space"};
constexpr const char* kind_names[] = {"base",   "tall",        "wall",      "appliance",
                                      "infill", "corner_post", "end_panel", "space"};
constexpr const char* housed[] = {"sink", "hob", "oven", "dishwasher", "fridge"};

class RunsPage {
 public:
  RunsPage(ScreenContext& c, Session& session, RunsScreen& screen)
      : s_(c.sheet),
        session_(session),
        screen_(screen),
        room_(session.survey().rooms[session.room]) {}

  void draw(Box page) {
    if (screen_.run >= room_.runs.size()) screen_.run = 0;
    if (room_.runs.empty()) screen_.choosing_wall = true;
    const bool has_run = !room_.runs.empty();
    if (has_run && screen_.unit && *screen_.unit >= room_.runs[screen_.run].units.size())
      screen_.unit.reset();
    const bool beside = !s_.portrait() && s_.screen.h >= 500;
    Box pad_side, rows, plan;
    if (beside) {
      pad_side = s_.look.left_hand ? page.take_left(std::max(408.f, page.w * 0.4f))
                                   : page.take_right(std::max(408.f, page.w * 0.4f));
      s_.line({s_.look.left_hand ? pad_side.right() : pad_side.x, pad_side.y},
              {s_.look.left_hand ? pad_side.right() : pad_side.x, pad_side.bottom()}, Ink::rule);
      plan = page.take_top(page.h * 0.5f);
      rows = page;
    } else {
      const float pad =
          std::min(page.h * 0.56f, keypad_height(s_) + keys_height() + 3 * gap + margin);
      pad_side = page.take_bottom(pad);
      s_.line({pad_side.x, pad_side.y}, {pad_side.right(), pad_side.y}, Ink::ink, 2);
      const bool crowded = s_.narrow() && s_.fonts.text_scale() > 1.3f;
      plan = page.take_top(crowded ? 0 : page.h * (s_.narrow() ? 0.34f : 0.45f));
      rows = page;
    }
    if (plan.h > 90) draw_plan(plan);
    s_.line({rows.x, rows.y}, {rows.right(), rows.y}, Ink::ink, 2);
    draw_rows(rows.inset(margin, 4));
    if (changed_) return;  // the rest is drawn from the new survey, a frame later
    draw_pad(pad_side.inset(margin, gap), beside);
  }

 private:
  float key_height() const { return std::max(least_target, s_.row() + 16); }
  float keys_height() const { return 2 * key_height() + gap + s_.row() + 6; }

  void draw_plan(Box box) {
    const RoomToDraw& drawn = session_.drawn();
    const DrawingView view =
        moved_view(s_, "plan", plan_view(drawn, box, false, s_.fonts.text_scale()), screen_.view);
    PlanOptions options;
    options.dimensions = false;
    options.units_fixed = true;
    options.decimal = session_.survey().job.decimal;
    if (!room_.runs.empty())
      options.chosen =
          screen_.unit ? unit_pointer(session_.room, screen_.run, *screen_.unit) : std::string();
    s_.push_clip(box);
    const Drawing drawing = plan_drawing(session_.survey(), drawn, session_.room_result(), view,
                                         options, s_.fonts.text_scale());
    show_drawing(s_, drawing);
    scale_bar(s_, box, view.scale);
    s_.pop_clip();
    const std::string tapped = tapped_fact(s_, "plan", drawing);
    for (Index r = 0; r < room_.runs.size(); ++r)
      for (Index u = 0; u < room_.runs[r].units.size(); ++u)
        if (tapped == unit_pointer(session_.room, r, u)) {
          screen_.run = r;
          screen_.unit = u;
        }
  }

  // What is left beside the run, where it stands, in one line.
  std::string fit_words() const {
    const Run& run = room_.runs[screen_.run];
    double units = 0;
    for (const Unit& unit : run.units) units += unit.width;
    const Job& job = session_.survey().job;
    std::string out = shown_length(units, job) + " in " + std::to_string(run.units.size()) +
                      (run.units.size() == 1 ? " unit" : " units");
    const RoomResult* results = session_.room_result();
    if (!results) return out;
    for (const FitResult& fit : results->fits)
      if (fit.run == run.id) {
        if (fit.infill_left) out += ", left " + shown(*fit.infill_left, 1, job.decimal);
        if (fit.infill_right) out += ", right " + shown(*fit.infill_right, 1, job.decimal);
        if (fit.sd) out += " " + band_words(*fit.sd, job);
      }
    if (run.wall && !session_.drawn().walls.empty() && out.find("right") == out.npos) {
      const double left = session_.drawn().walls[*run.wall].length - run.from_along - units;
      out += ", " + shown(left, 0, job.decimal) + " left to the wall’s end";
    }
    for (const GroupResult& group : results->groups)
      if (group.id == run.level_group && group.worktop_above_floor.at)
        out += "; worktop " + shown(*group.worktop_above_floor.at, 1, job.decimal);
    return out;
  }

  void draw_rows(Box box) {
    // Which run.
    Box runs = box.take_top(key_height() + 4);
    const float n = float(room_.runs.size() + 1);
    const float wide = std::min(120.f * s_.fonts.text_scale(), (runs.w - gap * (n - 1)) / n);
    for (Index r = 0; r < room_.runs.size(); ++r) {
      if (s_.key(runs.take_left(wide), room_.runs[r].id,
                 r == screen_.run && !screen_.choosing_wall ? KeyLook::in_use : KeyLook::plain, {},
                 "Run " + room_.runs[r].id)) {
        screen_.run = r;
        screen_.unit.reset();
        screen_.choosing_wall = false;
      }
      runs.take_left(gap);
    }
    if (s_.key(runs.take_left(wide), "New run",
               screen_.choosing_wall ? KeyLook::in_use : KeyLook::plain))
      screen_.choosing_wall = !screen_.choosing_wall;
    box.take_top(4);
    if (screen_.choosing_wall) return draw_walls(box);
    const Pen pen{s_.narrow() ? TextSize::caption : TextSize::body, Ink::blue};
    s_.paragraph(box.take_top(s_.paragraph_height(box.w, fit_words(), pen)), fit_words(), pen);
    const Run& run = room_.runs[screen_.run];
    if (run.units.empty()) {
      s_.paragraph(box, "No units yet: type the first one’s width and book it.",
                   {TextSize::body, Ink::soft});
      return;
    }
    const float row_high = std::max(least_target, s_.row() + 20);
    const float content = row_high * float(run.units.size());
    const float offset = s_.touch.scroll("units", box, content);
    s_.push_clip(box);
    for (Index u = 0; u < run.units.size(); ++u) {
      const Box row{box.x, box.y - offset + row_high * float(u), box.w, row_high};
      if (row.bottom() < box.y || row.y > box.bottom()) continue;
      draw_unit(row, run, u);
    }
    s_.pop_clip();
    s_.scroll_mark(box, offset, content);
  }

  void draw_unit(Box row, const Run& run, Index u) {
    const Unit& unit = run.units[u];
    const Job& job = session_.survey().job;
    if (s_.row_target(row, unit.id, screen_.unit == u)) {
      if (screen_.unit == u)
        screen_.unit.reset();
      else
        screen_.unit = u;
      screen_.typed.clear();
    }
    s_.rule_under(row);
    Box in = row.inset(6, 0);
    // Its legs, least to greatest.
    std::optional<double> least, most;
    Verdict worst = Verdict::within;
    const LegType* type = nullptr;
    if (const RoomResult* results = session_.room_result())
      for (const LegResult& leg : results->legs)
        if (leg.unit == unit.id && leg.height) {
          least = std::min(least.value_or(*leg.height), *leg.height);
          most = std::max(most.value_or(*leg.height), *leg.height);
          if (leg.verdict) worst = worse(worst, *leg.verdict);
          for (const LegType& one : run.furniture.legs)
            if (one.id == leg.type) type = &one;
        }
    if (least && type) {
      const Vial shown_vial{worst,
                            worst == Verdict::within ? (*least + *most) / 2
                            : *most > type->max      ? *most
                                                     : *least,
                            0.6, type->min, type->max};
      const Box at = in.take_right(48);
      vial(s_, {at.x, row.y + (row.h - 20) / 2, 48, 20}, shown_vial);
      in.take_right(8);
    }
    const Ink ink = worst == Verdict::within ? Ink::ink : Ink::crayon;
    s_.text(in.take_left(in.w * 0.17f), unit.id, {TextSize::body, ink, true});
    s_.text(in.take_left(in.w * 0.2f), shown_length(unit.width, job),
            {TextSize::body, Ink::ink, false, Align::right});
    in.take_left(14);
    std::string words;
    for (std::size_t k = 0; k < std::size(kind_names); ++k)
      if (int(unit.kind) == int(k)) words = kind_words[k];
    if (!unit.houses.empty()) words += ", " + unit.houses;
    if (unit.drawers) words += ", drawers";
    std::string legs;
    if (least)
      legs = shown(*least, 1, job.decimal) +
             (*most - *least > 0.05 ? "–" + shown(*most, 1, job.decimal) : "");
    if (!legs.empty())
      s_.text(in.take_right(in.w * 0.5f), legs,
              {TextSize::body, ink, worst != Verdict::within, Align::right});
    in.take_right(6);
    s_.text(in, words, {TextSize::caption, Ink::soft});
  }

  void draw_walls(Box box) {
    s_.paragraph(box.take_top(s_.paragraph_height(box.w, wall_question(), {}) + 6), wall_question(),
                 {});
    const float high = key_height();
    const int across = std::max(2, int(box.w / (96 * s_.fonts.text_scale())));
    const float wide = (box.w - gap * float(across - 1)) / float(across);
    const float rows = std::ceil(float(room_.walls.size() + 1) / float(across));
    const float content = rows * (high + gap);
    const float offset = s_.touch.scroll("run walls", box, content);
    s_.push_clip(box);
    for (Index w = 0; w <= room_.walls.size(); ++w) {
      const Box key{box.x + float(int(w) % across) * (wide + gap),
                    box.y - offset + float(int(w) / across) * (high + gap), wide, high};
      const bool island = w == room_.walls.size();
      if (!s_.key(key, island ? "Island" : room_.walls[w].id, KeyLook::plain, {},
                  island ? "Island" : "Along " + room_.walls[w].id))
        continue;
      Json patch;
      if (island) {
        double x = 0, y = 0;
        for (const PlanPoint& p : session_.drawn().corners) x += p.x, y += p.y;
        const double count = std::max<double>(1, double(session_.drawn().corners.size()));
        patch = add_island_patch(session_.document(), session_.survey(), session_.room,
                                 std::round(x / count - 600), std::round(y / count));
      } else {
        patch = add_run_patch(session_.document(), session_.survey(), session_.room, w, 0);
      }
      if (session_.apply(patch, island ? "new island" : "new run on " + room_.walls[w].id)) {
        changed_ = true;
        screen_.choosing_wall = false;
        screen_.run = session_.survey().rooms[session_.room].runs.size() - 1;
        screen_.unit.reset();
        break;
      }
    }
    s_.pop_clip();
    if (!changed_) s_.scroll_mark(box, offset, content);
  }

  std::string wall_question() const {
    return room_.runs.empty() ? "No run yet: add the first along a wall, or an island."
                              : "Which wall does the new run stand on?";
  }

  void apply(const Json& patch, const std::string& says) {
    if (changed_ || patch.empty()) return;
    changed_ = session_.apply(patch, says);
  }

  // Keys of a row: the label tapped, or -1.
  int key_row(Box row, std::initializer_list<std::pair<std::string, bool>> labels,
              const std::string& prefix = "") {
    int tapped = -1, i = 0;
    const float n = float(labels.size());
    const float wide = (row.w - gap * (n - 1)) / n;
    for (const auto& [label, in_use] : labels) {
      if (s_.key(row.take_left(wide), label, in_use ? KeyLook::in_use : KeyLook::plain, {},
                 prefix + label))
        tapped = i;
      row.take_left(gap);
      ++i;
    }
    return tapped;
  }

  void draw_pad(Box box, bool beside) {
    const bool has_run = !room_.runs.empty();
    const std::string what = !has_run          ? ""
                             : screen_.placing ? "Run " + room_.runs[screen_.run].id + " starts at"
                             : screen_.unit
                                 ? room_.runs[screen_.run].units[*screen_.unit].id + ", new width"
                                 : std::string("Width of the next unit");
    Box pad = box.take_bottom(std::min(keypad_height(s_), box.h - keys_height() - gap));
    const float wide = keypad_width(s_, pad.w);
    if (beside || !s_.narrow()) {
      Box rest = pad;
      pad = s_.look.left_hand ? rest.take_left(wide) : rest.take_right(wide);
      if (!beside) {
        // Beside the pad on an upright tablet.
        rest = s_.look.left_hand ? (rest.take_left(margin), rest) : (rest.take_right(margin), rest);
        Box undo = rest.take_bottom(56);
        draw_undo(undo);
        draw_unit_keys(rest);
      }
    }
    // What is being typed.
    const bool enter = typed_keys(screen_.typed);
    const TypedNumber number = typed_number(screen_.typed, typed_unit(session_.survey().job));
    const bool can = has_run && number.value && *number.value > 0 && *number.value <= 6000 &&
                     !session_.read_only();
    Box head = box.take_top(s_.row() + 6);
    const std::string shown_typed = screen_.typed.empty() ? "" : screen_.typed;
    s_.text(head.take_right(
                std::min(head.w * 0.45f, s_.width(shown_typed, TextSize::title, true) + 10)),
            shown_typed, {TextSize::title, Ink::blue, true, Align::right});
    s_.text(head, !session_.trouble().empty() ? session_.trouble() : what,
            {TextSize::body, session_.trouble().empty() ? Ink::soft : Ink::crayon});
    if (beside) {
      Box undo = box.take_bottom(std::max(56.f, s_.row() + 20));
      draw_undo(undo);
      box.take_bottom(gap);
    }
    if (beside || s_.narrow()) draw_unit_keys(box);
    const bool placing_zero = screen_.placing && number.value && *number.value >= 0;
    const bool book =
        keypad(s_, pad, screen_.typed,
               {"Book", number.value ? shown_length(*number.value, session_.survey().job) : "",
                can || (has_run && placing_zero), session_.survey().job.decimal});
    if (!(book || enter) || !number.value || !has_run || changed_ || (!can && !placing_zero))
      return;
    const std::string value = shown_length(*number.value, session_.survey().job);
    if (screen_.placing) {
      apply(set_patch(session_.document(), run_pointer(session_.room, screen_.run) + "/from_along",
                      *number.value),
            "run " + room_.runs[screen_.run].id + " from " + value);
      screen_.placing = false;
    } else if (screen_.unit) {
      const std::string id = room_.runs[screen_.run].units[*screen_.unit].id;
      apply(unit_patch(session_.document(), session_.room, screen_.run, *screen_.unit, "width",
                       *number.value),
            id + " " + value + " wide");
      screen_.unit.reset();
    } else {
      apply(add_unit_patch(session_.survey(), session_.room, screen_.run, kind_names[screen_.kind],
                           *number.value),
            std::string(kind_words[screen_.kind]) + " " + value);
    }
    screen_.typed.clear();
  }

  void draw_undo(Box box) {
    const std::string undo = session_.undo_says();
    if (s_.key(box, "Undo", undo.empty() ? KeyLook::not_yet : KeyLook::plain,
               s_.narrow() ? "" : undo) &&
        !changed_) {
      session_.undo();
      changed_ = true;
      screen_.unit.reset();
    }
  }

  // Of the unit chosen; else the kind of the next one, and the run's own.
  void draw_unit_keys(Box box) {
    if (changed_ || room_.runs.empty()) return;
    const float content = unit_keys(box, false);
    const float offset = s_.touch.scroll("unit keys", box, content);
    s_.push_clip(box);
    unit_keys({box.x, box.y - offset, box.w, content}, true);
    s_.pop_clip();
    s_.scroll_mark(box, offset, content);
  }

  float unit_keys(Box box, bool draw) {
    const float top = box.y, high = key_height();
    const auto row = [&](std::initializer_list<std::pair<std::string, bool>> labels,
                         const std::string& prefix = "") {
      const Box b{box.x, box.y, box.w, high};
      box.y += high + gap;
      return draw ? key_row(b, labels, prefix) : -1;
    };
    const Run& run = room_.runs[screen_.run];
    const Index r = screen_.run;
    if (!screen_.unit) {
      const auto kind = [&](int k) {
        return std::pair(std::string(kind_words[k]), screen_.kind == k);
      };
      if (const int t = row({kind(0), kind(1), kind(2), kind(3)}, "Kind "); t >= 0)
        screen_.kind = t;
      if (const int t = row({kind(4), kind(5), kind(6), kind(7)}, "Kind "); t >= 0)
        screen_.kind = 4 + t;
      const int t =
          s_.narrow()
              ? row({{"Starts at", screen_.placing}, {"Delete run", false}, {"Undo", false}})
              : row({{"Starts at", screen_.placing}, {"Delete run", false}});
      if (t == 0) screen_.placing = !screen_.placing;
      if (t == 1) apply(delete_run_patch(session_.room, r), "run " + run.id + " deleted");
      if (t == 2 && !session_.undo_says().empty() && !changed_) session_.undo(), changed_ = true;
      if (changed_) return box.y - top;
      end_keys(row, "Left end", "starts_at", run.starts_at);
      end_keys(row, "Right end", "ends_at", run.ends_at);
      return box.y - top;
    }
    const Index u = *screen_.unit;
    const Unit& unit = run.units[u];
    const auto set = [&](const char* field, const Json& value, const std::string& says) {
      apply(unit_patch(session_.document(), session_.room, r, u, field, value),
            unit.id + " " + says);
    };
    const int deed =
        row({{"‹ Left", false}, {"Right ›", false}, {"Delete", false}, {"Undo", false}});
    if (deed == 0)
      apply(move_unit_patch(session_.survey(), session_.room, r, u, false),
            unit.id + " to the left"),
          screen_.unit = u ? u - 1 : 0;
    if (deed == 1)
      apply(move_unit_patch(session_.survey(), session_.room, r, u, true),
            unit.id + " to the right"),
          screen_.unit = std::min(u + 1, run.units.size() - 1);
    if (deed == 2)
      apply(delete_unit_patch(session_.room, r, u), unit.id + " deleted"), screen_.unit.reset();
    if (deed == 3 && !session_.undo_says().empty() && !changed_)
      session_.undo(), changed_ = true, screen_.unit.reset();
    if (changed_) return box.y - top;
    const bool left = unit.hinge == Hinge::left, right = unit.hinge == Hinge::right;
    const int front =
        row({{"Drawers", unit.drawers}, {"Hinge left", left}, {"Hinge right", right}});
    if (front == 0)
      set("drawers", unit.drawers ? Json() : Json(true), unit.drawers ? "no drawers" : "drawers");
    if (front == 1) set("hinge", left ? Json() : Json("left"), "hinge left");
    if (front == 2) set("hinge", right ? Json() : Json("right"), "hinge right");
    if (changed_) return box.y - top;
    const auto house = [&](int i) {
      return std::pair(std::string(housed[i]), unit.houses == housed[i]);
    };
    const int houses = row({house(0), house(1), house(2), house(3), house(4)}, "Houses ");
    if (houses >= 0)
      set("houses", unit.houses == housed[houses] ? Json() : Json(housed[houses]), housed[houses]);
    if (changed_) return box.y - top;
    const auto kind = [&](int k) {
      return std::pair(std::string(kind_words[k]), int(unit.kind) == k);
    };
    if (const int t = row({kind(0), kind(1), kind(2), kind(3)}, "Is "); t >= 0)
      set("kind", kind_names[t], kind_words[t]);
    if (changed_) return box.y - top;
    if (const int t = row({kind(4), kind(5), kind(6), kind(7)}, "Is "); t >= 0)
      set("kind", kind_names[4 + t], kind_words[4 + t]);
    return box.y - top;
  }

  template <class Row>
  void end_keys(const Row& row, const std::string& words, const char* field, RunEnd end) {
    if (changed_) return;
    const char* names[] = {"wall", "corner", "open", "end_panel"};
    const std::string first = words + ": wall";
    const int t = row({{first, end == RunEnd::wall},
                       {"corner", end == RunEnd::corner},
                       {"open", end == RunEnd::open},
                       {"panel", end == RunEnd::end_panel}},
                      words + ": ");
    if (t >= 0)
      apply(set_patch(session_.document(), run_pointer(session_.room, screen_.run) + "/" + field,
                      names[t]),
            words + " " + names[t]);
  }

  Sheet& s_;
  Session& session_;
  RunsScreen& screen_;
  const Room& room_;
  bool changed_ =
      false;  // the survey was replaced: room_ is of the past, nothing more is read of it
};

}  // namespace

void draw_runs_screen(ScreenContext& c, Box page, Session& session, RunsScreen& screen) {
  if (session.survey().rooms.empty()) return;
  RunsPage(c, session, screen).draw(page);
}

}  // namespace levelrun
