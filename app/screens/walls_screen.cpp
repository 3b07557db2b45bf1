// Walls: one elevation at a time; offsets, openings and services put there by a tap and made exact
// on the pad; what stands behind the units, and what is still to do.
#include <algorithm>
#include <utility>

#include "app/drawing/elevation_drawing.h"
#include "app/drawing/face_strip.h"
#include "app/entry/set_patch.h"
#include "app/entry/typed_number.h"
#include "app/entry/wall_edits.h"
#include "app/screens/app.h"
#include "app/screens/putting_page.h"
#include "app/screens/screens.h"
#include "app/screens/wall_about.h"
#include "app/screens/wall_fields.h"
#include "app/screens/wall_lists.h"
#include "app/text_number.h"

namespace levelrun {
namespace {

// wanted: where offsets are read, when it is not where they are proposed.
std::vector<Ask> asks_of(const Session& session, Index wall,
                         const std::vector<Protocol::OffsetAt>& wanted) {
  if (session.survey().rooms.empty()) return {};
  Protocol protocol = usual_protocol(session.survey(), session.room);
  if (!wanted.empty()) keep_offsets(protocol, session.survey(), session.room, wall, wanted);
  return wall_asks(session.survey(), session.room, wall, protocol);
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
      s_.paragraph(page.inset(margin),
                   "This room has no walls yet. Walk round first: its walls are booked there.", {});
      return;
    }
    if (screen_.wall >= room_.walls.size()) screen_.wall = 0;
    if (!screen_.chosen.empty() && !value_at(session_.document(), screen_.chosen))
      screen_.chosen.clear();
    if (draw_photo_page(c_, page, session_, screen_.photos)) return;
    refresh(
        screen_.entry, session_,
        [this](const Session& session, Index wall) {
          return asks_of(session, wall, screen_.places.wanted);
        },
        screen_.wall);
    if (draw_why(screen_.entry, c_, page, session_)) return;
    if (screen_.places.open) return draw_places(page);
    if (screen_.about) return draw_wall_about(c_, page, session_, screen_);
    if (screen_.reading) return draw_reading(page);
    if (screen_.putting.open) {
      screen_.chosen.clear();
      return draw_putting_page(c_, page, session_, screen_, [&](Box box, std::optional<Spot> at) {
        return draw_elevation(box, at);
      });
    }
    draw_wall(page);
  }

 private:
  const Wall& wall() const { return room_.walls[screen_.wall]; }
  float key_height() const { return std::max(56.f, s_.row() + 22); }

  // The elevation with its face beneath, and the lists beside or below it.
  void draw_wall(Box page) {
    const float ts = s_.fonts.text_scale();
    const float strip_height = face_strip_height(ts) + s_.row() + 16;
    Box side, top = page;
    if (s_.portrait()) {
      top = page.take_top(page.h * (s_.narrow() ? 0.36f : 0.5f));
      side = page;
      s_.line({side.x, side.y}, {side.right(), side.y}, Ink::ink, 2);
    } else {
      const float wide = std::clamp(s_.grown(300), 300.f, page.w * 0.45f);
      side = s_.look.left_hand ? top.take_left(wide) : top.take_right(wide);
      const float edge = s_.look.left_hand ? side.right() : side.x;
      s_.line({edge, side.y}, {edge, side.bottom()}, Ink::rule);
    }
    Box strip;
    if (top.h > 2.2f * strip_height) strip = top.take_bottom(std::max(strip_height, top.h * 0.25f));
    const DrawingView view = draw_elevation(top, {});
    if (!strip.empty()) {
      s_.line({strip.x, strip.y}, {strip.right(), strip.y}, Ink::ink, 2);
      draw_face(strip, view);
    }
    face_listed_ = strip.empty();
    draw_side(side.inset(margin, 10));
  }

  // Draws the wall; the view it is drawn in, without scale when there is none.
  DrawingView draw_elevation(Box box, std::optional<Spot> placing) {
    const RoomToDraw& drawn = session_.drawn();
    DrawingView view;
    view.scale = 0;
    if (screen_.wall >= drawn.walls.size()) {
      s_.paragraph(box.inset(margin), "Walk round first: the wall’s length is not known yet.",
                   {TextSize::body, Ink::soft});
      return view;
    }
    const float ts = s_.fonts.text_scale();
    const WallExtent extent = wall_extent(session_.survey(), drawn, screen_.wall);
    view = moved_view(s_, "elevation", elevation_view(extent, box, ts), screen_.view);
    ElevationOptions options;
    options.chosen = screen_.chosen;
    options.placing = placing;
    options.decimal = session_.survey().job.decimal;
    s_.push_clip(box);
    const Drawing drawing = elevation_drawing(session_.survey(), drawn, session_.room_result(),
                                              screen_.wall, view, options, ts);
    show_drawing(s_, drawing);
    if (!s_.narrow()) scale_bar(s_, box, view.scale);
    s_.pop_clip();
    const std::string fact = tapped_fact(s_, "elevation", drawing);
    if (screen_.putting.open || fact.empty()) return view;
    if (screen_.reading) {
      read_fact(fact);
    } else if (fact.find("/services/") != fact.npos || fact.find("/openings/") != fact.npos ||
               fact.find("/no_drill/") != fact.npos) {
      screen_.chosen = screen_.chosen == fact ? "" : fact;
    }
    return view;
  }

  // The first number of the thing tapped that is still to be read goes on the pad.
  void read_fact(const std::string& fact) {
    for (const Ask& ask : screen_.entry.asks)
      if (ask.at.starts_with(fact + "/") && !ask.booked) {
        screen_.entry.ask = ask.id;
        screen_.entry.typed.clear();
        return;
      }
  }

  void draw_face(Box box, const DrawingView& elevation) {
    Box words = box.take_bottom(s_.row() + 16).inset(margin, 4);
    bool drawn = false;
    if (elevation.scale > 0) {
      const Drawing drawing =
          face_strip(session_.survey(), session_.drawn(), session_.room_result(), screen_.wall, box,
                     elevation, s_.fonts.text_scale());
      s_.push_clip(box);
      show_drawing(s_, drawing);
      s_.pop_clip();
      drawn = !drawing.primitives.empty();
    }
    if (!drawn)
      s_.paragraph(box.inset(margin, 8),
                   "The face near 900 has not been read. Offsets from a plumb plane tell lean, "
                   "bow, and where a worktop rests.",
                   {TextSize::body, Ink::soft});
    s_.text(words, face_words(), {});
  }

  std::string face_words() const {
    const RoomResult* results = session_.room_result();
    const WallResult* result = nullptr;
    if (results)
      for (const WallResult& one : results->walls)
        if (one.wall == wall().id) result = &one;
    if (!result) return {};
    const char decimal = session_.survey().job.decimal;
    std::vector<std::string> said;
    if (result->gap)
      said.push_back("gap " + shown(*result->gap, 1, decimal) +
                     (result->rocks ? ", it rocks" : ""));
    if (result->lean && result->lean_over)
      said.push_back("leans " + shown_change(*result->lean, 1, decimal) + " over " +
                     shown(*result->lean_over, 0, decimal));
    if (result->bow) said.push_back("bow " + shown_change(*result->bow, 1, decimal));
    std::string out;
    for (const std::string& one : said) out += (out.empty() ? "" : "; ") + one;
    return capital(out);
  }

  std::string place_words(const Ask& ask) const {
    const char decimal = session_.survey().job.decimal;
    return shown(ask.along, 0, decimal) + " at " + shown(ask.height, 0, decimal);
  }

  void draw_places(Box page) {
    draw_offset_places(c_, page, session_, screen_.places, screen_.wall,
                       [this](Box box) { draw_elevation(box, {}); });
    // Asked for anew.
    if (!screen_.places.open) screen_.entry.version = -1;
  }

  // Book readings of this wall on the pad.
  void draw_reading(Box page) {
    const Job& job = session_.survey().job;
    BookingView v = view_of(screen_.entry, session_);
    const Ask* ask = current(screen_.entry);
    for (const Ask& one : screen_.entry.asks) {
      if (!one.booked || !one.value) continue;
      BookedRow row;
      row.id = one.id;
      row.name = one.name;
      if (one.kind == ReadingKind::offset) row.name = place_words(one);
      // A phone's column of the last readings has room for one word.
      if (s_.narrow()) row.name = row.name.substr(0, row.name.find(' '));
      row.value = shown_length(*one.value, job);
      row.chosen = ask && ask->id == one.id;
      v.rows.push_back(row);
    }
    std::reverse(v.rows.begin(), v.rows.end());
    if (ask && ask->kind == ReadingKind::offset) {
      v.name = "Offset";
      v.caption = s_.narrow() ? place_words(*ask) : ask->caption;
    }
    if (!ask) v.offers = {"Back to the wall"};
    v.more = "Places";
    bool back = false;
    const BookingEvent e = draw_booking_page(s_, page, v, screen_.entry.typed, [&](Box box) {
      std::optional<Spot> placing;
      if (ask && (ask->along > 0 || ask->height > 0))
        placing = Spot{float(ask->along), float(ask->height)};
      if (!ask) return void(draw_elevation(box, placing));
      const Box key = key_beside_wall(s_, box, "Back to the wall");
      draw_elevation(box, placing);
      back = s_.key(key, "Back to the wall");
    });
    if (back || e.offer == "Back to the wall") screen_.reading = false;
    if (e.more) {
      screen_.places = {};
      screen_.places.open = true;
      return;
    }
    act(screen_.entry, e, c_, session_);
  }

  struct SideEvent {
    bool read = false, service = false, opening = false, remove = false, about = false;
  };

  // Lists over keys; where there is little room, all keys but the last row scroll above the lists.
  void draw_side(Box box) {
    Box last = box.take_bottom(
        std::max(key_height(), s_.row(TextSize::title) + s_.row(TextSize::caption) + 12));
    const Index next = (screen_.wall + 1) % room_.walls.size();
    Box undo_box = last.take_left((last.w - gap) / 2);
    last.take_left(gap);
    const bool go_next =
        s_.key(last, room_.walls[next].id, KeyLook::solid, "next wall", "Next wall");
    const bool go_undo =
        s_.key(undo_box, "Undo", session_.undo_says().empty() ? KeyLook::not_yet : KeyLook::plain);
    box.take_bottom(gap);
    Box head = box.take_top(s_.row(TextSize::title) + 4);
    s_.text(head, wall().id, {TextSize::title, Ink::ink, true});
    s_.text(head, words_of(wall().build), {TextSize::caption, Ink::soft, false, Align::right});
    SideEvent e;
    const float keys = (keys_beside(box.w) ? 2.f : 3.f) * (key_height() + gap);
    const bool scrolled_keys = box.h - keys < 4 * s_.row() + 100;
    if (!scrolled_keys) draw_keys(box.take_bottom(keys), e);
    const std::string face = face_listed_ ? face_words() : "";
    const float content =
        wall_lists(c_, box, session_, screen_, face, nullptr) + (scrolled_keys ? keys + gap : 0);
    const float offset = s_.touch.scroll("wall lists", box, content);
    s_.push_clip(box);
    Box whole{box.x, box.y - offset, box.w, content};
    if (scrolled_keys) draw_keys(whole.take_top(keys + gap), e);
    WallListEvent listed;
    wall_lists(c_, whole, session_, screen_, face, &listed);
    s_.pop_clip();
    s_.scroll_mark(box, offset, content);

    // Last, because they replace the survey that all the above reads.
    if (e.read) screen_.reading = true;
    if (e.about) screen_.about = true;
    if (e.service || e.opening) {
      screen_.putting = {};
      screen_.putting.open = true;
      screen_.putting.opening = e.opening;
    }
    if (go_next) {
      screen_ = WallsScreen{};
      screen_.wall = next;
    } else if (go_undo) {
      session_.undo();
      screen_.said.clear();
    } else if (listed.photo) {
      give_photo(c_, session_, screen_.photos, chosen_on_wall(session_, screen_));
    } else if (e.remove) {
      const bool taken = session_.apply(remove_patch(screen_.chosen), "deleted from " + wall().id);
      screen_.said = taken ? "" : session_.trouble();
      screen_.chosen.clear();
    }
  }

  // Whether reading the wall and what is said of it share a row of keys.
  bool keys_beside(float wide) const { return wide > s_.grown(560); }

  void draw_keys(Box box, SideEvent& e) {
    const float high = key_height();
    box.take_top(gap);
    Box read = box.take_top(high), about;
    if (keys_beside(box.w)) {
      about = read.take_right((read.w - gap) / 2);
      read.take_right(gap);
    }
    e.read = s_.key(read, "Read this wall");
    box.take_top(gap);
    Box add = box.take_top(high);
    // The longer words have the wider key.
    e.service = s_.key(add.take_left((add.w - gap) * 0.46f), "Add a service");
    add.take_left(gap);
    e.opening = s_.key(add, "Add an opening");
    if (!keys_beside(box.w)) {
      box.take_top(gap);
      about = box.take_top(high);
    }
    if (!screen_.chosen.empty()) {
      e.remove = s_.key(about.take_right((about.w - gap) * 0.45f), "Delete");
      about.take_right(gap);
    }
    e.about =
        s_.key(about, "About " + name_on_wall(session_, screen_), KeyLook::plain, {}, "About");
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  WallsScreen& screen_;
  const Room& room_;
  bool face_listed_ = false;  // no room for the strip: its words head the list
};

}  // namespace

void draw_walls_screen(ScreenContext& c, Box page, Session& session, WallsScreen& screen) {
  if (session.survey().rooms.empty()) return;
  WallsPage(c, session, screen).draw(page);
}

}  // namespace levelrun
