// Walls: one elevation at a time; offsets, openings and services put there by a tap and made exact
// on the pad; what stands behind the units, and what is still to do.
#include <algorithm>
#include <cmath>

#include "app/drawing/elevation_drawing.h"
#include "app/entry/typed_number.h"
#include "app/entry/wall_edits.h"
#include "app/screens/app.h"
#include "app/screens/screens.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

struct KindWord {
  const char *name, *words;
};
constexpr KindWord service_kinds[] = {{"socket", "Socket"},
                                      {"cold_water", "Cold water"},
                                      {"hot_water", "Hot water"},
                                      {"waste", "Waste"},
                                      {"gas", "Gas"},
                                      {"switch", "Switch"},
                                      {"fused_spur", "Spur"},
                                      {"duct", "Duct"},
                                      {"radiator", "Radiator"},
                                      {"other", "Other"}};
constexpr KindWord opening_kinds[] = {
    {"window", "Window"}, {"door", "Door"}, {"archway", "Archway"}};

constexpr const char* number_words[] = {"along from the wall’s left end", "height", "width",
                                        "height of it"};

std::vector<Ask> asks_of(const Session& session, Index wall) {
  if (session.survey().rooms.empty()) return {};
  return wall_asks(session.survey(), session.room, wall);
}

class WallsPage {
 public:
  WallsPage(ScreenContext& c, Session& session, WallsScreen& screen)
      : c_(c),
        s_(c.sheet),
        session_(session),
        screen_(screen),
        room_(session.survey().rooms[session.room]) {}

  void draw(Box page) {
    if (room_.walls.empty()) {
      s_.paragraph(page.inset(margin), "This room has no walls yet.", {});
      return;
    }
    if (screen_.wall >= room_.walls.size()) screen_.wall = 0;
    refresh(screen_.entry, session_, asks_of, screen_.wall);
    if (draw_why(screen_.entry, c_, page, session_)) return;
    if (screen_.reading) return draw_reading(page);
    if (screen_.putting.open) return draw_putting(page);
    const bool beside = !s_.portrait() && s_.screen.h >= 500;
    Box side;
    if (beside) {
      const float wide = std::clamp(s_.grown(276), 276.f, page.w * 0.45f);
      side = s_.look.left_hand ? page.take_left(wide) : page.take_right(wide);
      const float edge = s_.look.left_hand ? side.right() : side.x;
      s_.line({edge, side.y}, {edge, side.bottom()}, Ink::rule);
      Box strip = page.take_bottom(page.h * 0.25f);
      draw_elevation(page);
      s_.line({strip.x, strip.y}, {strip.right(), strip.y}, Ink::ink, 2);
      draw_face(strip);
    } else if (s_.portrait()) {
      Box top = page.take_top(page.h * (s_.narrow() ? 0.36f : 0.42f));
      if (!s_.narrow()) {
        Box strip = top.take_bottom(top.h * 0.24f);
        draw_face(strip);
      }
      draw_elevation(top);
      s_.line({page.x, page.y}, {page.right(), page.y}, Ink::ink, 2);
      side = page;
    } else {
      side = page.take_right(page.w * 0.45f);
      draw_elevation(page);
    }
    draw_keys(side.inset(margin, 10));
  }

 private:
  const Wall& wall() const { return room_.walls[screen_.wall]; }

  // Draws the wall; the view it is drawn in.
  DrawingView draw_elevation(Box box, std::optional<Spot> placing = {}) {
    const RoomToDraw& drawn = session_.drawn();
    if (drawn.walls.empty()) {
      s_.paragraph(box.inset(margin), "Walk round first: the wall’s length is not known yet.",
                   {TextSize::body, Ink::soft});
      return {};
    }
    const WallExtent extent = wall_extent(session_.survey(), drawn, screen_.wall);
    const DrawingView view = moved_view(
        s_, "elevation", elevation_view(extent, box, s_.fonts.text_scale()), screen_.view);
    ElevationOptions options;
    options.chosen = screen_.chosen;
    options.placing = placing;
    options.decimal = session_.survey().job.decimal;
    s_.push_clip(box);
    const Drawing drawing = elevation_drawing(session_.survey(), drawn, session_.room_result(),
                                              screen_.wall, view, options, s_.fonts.text_scale());
    show_drawing(s_, drawing);
    s_.pop_clip();
    view_ = view;
    if (const std::string fact = tapped_fact(s_, "elevation", drawing);
        fact.find("/services/") != fact.npos || fact.find("/openings/") != fact.npos)
      screen_.chosen = screen_.chosen == fact ? "" : fact;
    return view;
  }

  void draw_face(Box box) {
    const RoomToDraw& drawn = session_.drawn();
    if (drawn.walls.empty()) return;
    const Job& job = session_.survey().job;
    const RoomResult* results = session_.room_result();
    const WallResult* result =
        results && screen_.wall < results->walls.size() ? &results->walls[screen_.wall] : nullptr;
    Box words = box.take_bottom(s_.row() + 16).inset(margin, 4);
    const Drawing drawing = face_drawing(session_.survey(), drawn, results, screen_.wall, box,
                                         view_, job.decimal, s_.fonts.text_scale());
    s_.push_clip(box);
    show_drawing(s_, drawing);
    s_.pop_clip();
    std::string said;
    if (result && result->gap)
      said += "Gap " + shown(*result->gap, 1, job.decimal) + (result->rocks ? ", it rocks" : "");
    if (result && result->lean && result->lean_over)
      said += (said.empty() ? "" : "; ") + std::string("leans ") +
              shown_change(*result->lean, 1, job.decimal) + " over " +
              shown(*result->lean_over, 0, job.decimal);
    if (result && result->bow) said += "; bow " + shown_change(*result->bow, 1, job.decimal);
    if (said.empty())
      said =
          "The face was not read: offsets from a plumb plane tell lean, bow and how a worktop "
          "rests.";
    s_.text(words, said, {});
  }

  // Book readings of this wall on the pad.
  void draw_reading(Box page) {
    BookingView v = view_of(screen_.entry, session_);
    const Ask* ask = current(screen_.entry);
    for (const Ask& one : screen_.entry.asks)
      if (one.booked && one.value)
        v.rows.push_back({one.id,
                          one.name,
                          shown_length(*one.value, session_.survey().job),
                          one.caption,
                          {},
                          false,
                          ask && ask->id == one.id});
    std::reverse(v.rows.begin(), v.rows.end());
    if (!ask) v.offers = {"Back to the wall"};
    const BookingEvent e = draw_booking_page(s_, page, v, screen_.entry.typed, [&](Box box) {
      std::optional<Spot> placing;
      if (ask && (ask->along > 0 || ask->height > 0))
        placing = Spot{float(ask->along), float(ask->height)};
      draw_elevation(box, placing);
      const float w = s_.width("Back to the wall", TextSize::body) + 28;
      if (ask && s_.key({box.right() - w - 8, box.y + 8, w, least_target}, "Back to the wall"))
        screen_.reading = false;
    });
    if (e.offer == "Back to the wall") screen_.reading = false;
    act(screen_.entry, e, c_, session_);
  }

  // A service or an opening: its kind, its place by a tap, then its numbers.
  void draw_putting(Box page) {
    WallsScreen::Putting& p = screen_.putting;
    if (p.kind.empty()) {
      Box in = page.inset(margin);
      in.w = std::min(in.w, 560.f);
      s_.text(in.take_top(s_.row(TextSize::title) + 8),
              p.opening ? "Which opening?" : "Which service?", {TextSize::title, Ink::ink, true});
      const float high = std::max(56.f, s_.row() + 20);
      const float w = (in.w - gap) / 2;
      int n = 0;
      const auto key = [&](const KindWord& kind) {
        const Box b{in.x + float(n % 2) * (w + gap), in.y + float(n / 2) * (high + gap), w, high};
        if (s_.key(b, kind.words)) p.kind = kind.name;
        ++n;
      };
      if (p.opening)
        for (const KindWord& kind : opening_kinds) key(kind);
      else
        for (const KindWord& kind : service_kinds) key(kind);
      n += n % 2;
      if (s_.key({in.x, in.y + float(n / 2) * (high + gap) + gap, in.w, high}, "Back to the wall"))
        p = {};
      return;
    }
    const bool asks_place = !p.at;
    BookingView v;
    const Job& job = session_.survey().job;
    v.decimal = job.decimal;
    const bool enter = typed_keys(p.typed);
    const std::size_t stage = p.numbers.size();
    const TypedNumber number = typed_number(p.typed, typed_unit(job));
    const Levels& levels = room_.levels;
    v.name = asks_place ? "Tap where it is" : p.kind;
    for (char& ch : v.name)
      if (ch == '_') ch = ' ';
    v.caption = asks_place ? "then exact by the pad" : number_words[stage];
    if (p.at && stage < 2)
      v.expected = "about " + shown_length(std::round(stage == 0 ? p.at->x : p.at->y), job, 0);
    v.typed = p.typed;
    v.refused = p.typed.empty() ? "" : number.problem;
    if (number.value) v.book_value = shown_length(*number.value, job);
    v.can_book = !asks_place && number.value.has_value() && !session_.read_only();
    v.can_skip = false;
    v.undo_says = "the place";
    v.advice = stage == 1 ? (p.from_level ? "Measured from the level line, up positive. "
                                          : "Measured from the floor. ")
                          : "";
    for (std::size_t i = stage; i-- > 0;)
      v.rows.push_back({"number " + std::to_string(i),
                        number_words[i],
                        shown_length(p.numbers[i], job),
                        "",
                        {},
                        false,
                        false});
    DrawingView view;
    const BookingEvent e = draw_booking_page(s_, page, v, p.typed, [&](Box box) {
      view = draw_elevation(box, p.at);
      if (s_.touch.tapped("elevation") && stage == 0 && view.scale > 0) {
        const Spot tap = s_.touch.tap_spot(), m = view.box.middle();
        p.at = Spot{float((tap.x - m.x) / view.scale + view.x),
                    float((m.y - tap.y) / view.scale + view.y)};
      }
      if (stage == 1 && !levels.setups.empty()) {
        const char* words = p.from_level ? "From the level line" : "From the floor";
        const float w = s_.width(words, TextSize::body) + 28;
        if (s_.key({box.right() - w - 8, box.y + 8, w, least_target}, words))
          p.from_level = !p.from_level;
      }
    });
    screen_.chosen.clear();
    if (e.undo) {
      if (!p.numbers.empty())
        p.numbers.pop_back();
      else if (p.at)
        p.at.reset();
      else
        p = {};
      return;
    }
    if (!(e.book || enter) || asks_place || !number.value) return;
    p.numbers.push_back(*number.value);
    p.typed.clear();
    if (p.numbers.size() < (p.opening ? 4u : 2u)) return;
    OnWall place{p.numbers[0], p.numbers[1],
                 p.from_level && !levels.setups.empty() ? levels.setups.front().id : ""};
    const Json patch =
        p.opening ? add_opening_patch(session_.document(), session_.survey(), session_.room,
                                      screen_.wall, p.kind, place, p.numbers[2], p.numbers[3])
                  : add_service_patch(session_.document(), session_.survey(), session_.room,
                                      screen_.wall, p.kind, place);
    if (session_.apply(patch, p.kind + " on " + wall().id))
      p = {};
    else
      p.numbers.clear();
  }

  void draw_keys(Box box) {
    const float high = std::max(56.f, s_.row() + 22);
    Box last =
        box.take_bottom(std::max(high, s_.row(TextSize::title) + s_.row(TextSize::caption) + 12));
    const std::string undo = session_.undo_says();
    const Index next = (screen_.wall + 1) % room_.walls.size();
    Box undo_box = last.take_left((last.w - gap) / 2);
    last.take_left(gap);
    const bool go_next =
        s_.key(last, room_.walls[next].id, KeyLook::solid, "next wall", "Next wall");
    const bool go_undo = s_.key(undo_box, "Undo", undo.empty() ? KeyLook::not_yet : KeyLook::plain);
    box.take_bottom(gap);
    Box add = box.take_bottom(high);
    Box first = add.take_left((add.w - gap) / 2);
    add.take_left(gap);
    if (s_.key(first, "Add a service")) screen_.putting = {true, false, "", {}, {}, false, ""};
    if (s_.key(add, "Add an opening")) screen_.putting = {true, true, "", {}, {}, false, ""};
    box.take_bottom(gap);
    Box read = box.take_bottom(high);
    const bool can_delete = !screen_.chosen.empty();
    Box read_key = can_delete ? read.take_left((read.w - gap) / 2) : read;
    if (s_.key(read_key, "Read this wall")) screen_.reading = true;
    bool deleted = false;
    if (can_delete) {
      read.take_left(gap);
      deleted = s_.key(read, "Delete");
    }
    box.take_bottom(gap);
    draw_lists(box);
    // Last, because they replace the survey that all the above reads.
    if (deleted && session_.apply(remove_patch(screen_.chosen), "deleted from " + wall().id))
      screen_.chosen.clear();
    else if (go_undo)
      session_.undo(), screen_.chosen.clear();
    else if (go_next) {
      const WallsScreen old = std::exchange(screen_, WallsScreen{});
      screen_.wall = next;
    }
  }

  float lists(Box box, bool draw) {
    const float top = box.y;
    const Job& job = session_.survey().job;
    const RoomResult* results = session_.room_result();
    const auto line = [&](float high) {
      const Box b{box.x, box.y, box.w, high};
      box.y += high;
      return b;
    };
    const float row = std::max(least_target, 2 * s_.row() + 12);
    bool any = false;
    for (Index i = 0; i < room_.services.size(); ++i) {
      const Service& service = room_.services[i];
      if (service.place.wall != screen_.wall) continue;
      if (!any) {
        const Box b = line(s_.row() + 14);
        if (draw) s_.text(b, "On this wall", {TextSize::body, Ink::ink, true});
        any = true;
      }
      const Box b = line(row);
      if (!draw) continue;
      const std::string fact = pointer(session_.room, "services", i);
      if (s_.row_target(b, service.id, screen_.chosen == fact))
        screen_.chosen = screen_.chosen == fact ? "" : fact;
      s_.rule_under(b);
      const ServiceResult* r = nullptr;
      if (results)
        for (const ServiceResult& one : results->services)
          if (one.service == service.id) r = &one;
      const bool bad = r && r->verdict && *r->verdict != Verdict::within;
      Box in = b.inset(6, 4);
      if (r && r->verdict && r->void_here && r->void_needed)
        vial(s_, {in.take_right(48).x, b.y + (b.h - 20) / 2, 48, 20},
             {*r->verdict, *r->void_here, r->void_sd.value_or(0), *r->void_needed, {}});
      const Box one = in.take_top(s_.row());
      s_.text(one,
              service_letters(service.kind) + "  at " + shown(service.place.along, 0, job.decimal) +
                  (r && !r->units.empty() ? "   " + r->units.front() : ""),
              {TextSize::body, bad ? Ink::crayon : Ink::ink, bad});
      std::string second = service.id;
      if (r && r->void_here && r->void_needed)
        second = shown(*r->void_here, 1, job.decimal) + " of " +
                 shown(*r->void_needed, 0, job.decimal) + " void";
      s_.text(in, second, {TextSize::caption, bad ? Ink::crayon : Ink::soft});
    }
    const auto open = std::count_if(screen_.entry.asks.begin(), screen_.entry.asks.end(),
                                    [](const Ask& a) { return !a.booked; });
    {
      const Box b = line(s_.row() + 20);
      if (draw)
        s_.text({b.x, b.y + 8, b.w, b.h - 8},
                open ? "Still to do on " + wall().id : "Nothing left to do on " + wall().id,
                {TextSize::body, Ink::ink, true});
    }
    for (const Ask& ask : screen_.entry.asks) {
      if (ask.booked) continue;
      const Box b = line(std::max(least_target, s_.row() + 16));
      if (!draw) continue;
      if (s_.row_target(b, ask.name + ", " + ask.caption)) {
        screen_.entry.ask = ask.id;
        screen_.entry.typed.clear();
        screen_.reading = true;
      }
      s_.rule_under(b);
      ring_mark(s_, {b.x + 10, b.y + b.h / 2});
      s_.text({b.x + 24, b.y, b.w - 24, b.h},
              ask.kind == ReadingKind::offset ? "offset " + ask.caption : ask.name,
              {TextSize::body, Ink::blue});
    }
    return box.y - top;
  }

  void draw_lists(Box box) {
    Box head = box.take_top(s_.row(TextSize::title) + 4);
    const char* builds[] = {"masonry",          "stud",        "metal stud",
                            "lath and plaster", "dot and dab", "build not known"};
    s_.text(head, wall().id, {TextSize::title, Ink::ink, true});
    s_.text(head, builds[int(wall().build)], {TextSize::caption, Ink::soft, false, Align::right});
    const float content = lists(box, false);
    const float offset = s_.touch.scroll("wall lists", box, content);
    s_.push_clip(box);
    lists({box.x, box.y - offset, box.w, content}, true);
    s_.pop_clip();
    s_.scroll_mark(box, offset, content);
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  WallsScreen& screen_;
  const Room& room_;
  DrawingView view_;
};

}  // namespace

void draw_walls_screen(ScreenContext& c, Box page, Session& session, WallsScreen& screen) {
  if (session.survey().rooms.empty()) return;
  WallsPage(c, session, screen).draw(page);
}

}  // namespace levelrun
