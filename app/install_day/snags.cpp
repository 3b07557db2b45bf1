// Snags: what is wrong, where it is, its photos, and when it was closed. Rows only choose; a snag
// is added and closed by the key at the foot.
#include <algorithm>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/entry/set_patch.h"
#include "app/install_day/day_parts.h"
#include "app/install_day/day_screens.h"
#include "app/install_day/hand_over_edits.h"
#include "app/screens/app.h"
#include "app/snag_words.h"
#include "app/touch/words_field.h"

namespace levelrun {
namespace {

constexpr double place_step = 10;  // mm: nobody points nearer with a finger

std::string when(const std::string& at) {
  return at.size() >= 16 ? at.substr(0, 10) + " " + at.substr(11, 5) : at;
}

// The wall nearest to a place in the plan, mm along it and out from it.
struct OnWall {
  Index wall = 0;
  double along = 0, out = 0;
};
OnWall nearest_wall(const std::vector<WallLine>& walls, PlanPoint at) {
  OnWall best;
  double nearest = 0;
  for (Index w = 0; w < walls.size(); ++w) {
    const WallLine& wall = walls[w];
    const double dx = at.x - wall.from.x, dy = at.y - wall.from.y;
    const double along =
        std::clamp(dx * wall.along.x + dy * wall.along.y, 0.0, std::max(0.0, wall.length));
    const double off = std::hypot(dx - along * wall.along.x, dy - along * wall.along.y);
    if (w > 0 && off >= nearest) continue;
    nearest = off;
    best = {w, along, std::max(0.0, dx * wall.out.x + dy * wall.out.y)};
  }
  const auto rounded = [](double mm) { return std::round(mm / place_step) * place_step; };
  return {best.wall, rounded(best.along), rounded(best.out)};
}

class SnagsPart {
 public:
  SnagsPart(ScreenContext& c, Session& session, HandOverScreen& screen)
      : c_(c), s_(c.sheet), session_(session), screen_(screen) {}

  void draw(Box page, Box foot) {
    const bool free = !session_.read_only();
    std::vector<Index> order;
    for (const bool closed : {false, true})
      for (Index i = 0; i < all().size(); ++i)
        if (all()[i].closed.empty() != closed) order.push_back(i);
    scrolled(s_, page, "snags", [&](Flow& f) {
      if (free) {
        const Box field = f.take(words_field_height(s_) + 10);
        if (f.draws())
          words_field(s_, {field.x, field.y, field.w, field.h - 10}, "A new snag: what is wrong",
                      "snag", screen_.snag_text);
      }
      if (all().empty()) f.paragraph("No snags booked.", {TextSize::body, soft_ink(s_)});
      for (const Index i : order) {
        const bool mine = screen_.snag == i;
        if (flow_row(f, "Snag " + all()[i].id, mine, [&](Flow& in) { words(in, i, mine); })) {
          screen_.snag = mine ? std::nullopt : std::optional(i);
          screen_.photos = {};
        }
        if (mine) more(f, i, free);
      }
    });
    keys(foot, free);
  }

  // The plan; a tap says where the chosen snag is.
  void place(Box page) {
    const Snag& snag = all()[*screen_.snag];
    const Pen title{TextSize::title, Ink::ink, true}, soft{TextSize::body, soft_ink(s_)};
    const std::string asks = "Tap where " + snag.id + " is";
    const float wide = page.w - 2 * margin;
    Box head = page.take_top(s_.paragraph_height(wide, asks, title) +
                             s_.paragraph_height(wide, snag.text, soft) + 16)
                   .inset(margin, 8);
    head.take_top(s_.paragraph(head, asks, title));
    s_.paragraph(head, snag.text, soft);
    const Box foot = take_foot(s_, page);
    const RoomToDraw& drawn = session_.drawn();
    const float ts = s_.fonts.text_scale();
    const DrawingView view =
        moved_view(s_, "plan", plan_view(drawn, page, false, ts), screen_.snag_view);
    PlanOptions options;
    options.dimensions = false;
    options.units_fixed = true;
    options.decimal = session_.survey().job.decimal;
    s_.push_clip(page);
    show_drawing(s_,
                 plan_drawing(session_.survey(), drawn, session_.room_result(), view, options, ts));
    if (snag.place)
      if (const auto at = drawn.plan.at(*snag.place)) {
        const Spot spot = view.at(at->x, at->y);
        for (const float d : {0.f, 0.8f, 1.6f})
          s_.list.AddCircle({spot.x, spot.y}, 12 + d, s_.colour(Ink::blue), 0, 1.2f);
        s_.list.AddCircleFilled({spot.x, spot.y}, 3, s_.colour(Ink::blue));
      }
    s_.pop_clip();
    const bool tapped = s_.touch.tapped("plan") && view.scale > 0;
    const std::string there =
        snag_place_words(session_.document(), session_.survey(), *screen_.snag);
    const FootTapped key =
        draw_foot(s_, foot, session_,
                  {"Back to the snags", session_.trouble().empty() ? there : session_.trouble(),
                   KeyLook::solid},
                  {});
    // Last, because they replace the survey that all the above reads.
    if (key.undo) {
      session_.undo();
    } else if (key.first) {
      screen_.placing = false;
    } else if (tapped) {
      const Spot tap = s_.touch.tap_spot(), m = view.box.middle();
      const OnWall at = nearest_wall(drawn.plan.walls, {(tap.x - m.x) / view.scale + view.x,
                                                        (m.y - tap.y) / view.scale + view.y});
      const std::string wall = session_.survey().rooms[session_.room].walls[at.wall].id;
      session_.apply(place_snag_patch(session_.document(), *screen_.snag, wall, at.along, at.out),
                     "place of snag " + snag.id);
    }
  }

 private:
  const std::vector<Snag>& all() const { return session_.survey().install.snags; }
  const std::vector<Photo>& photos() const { return session_.survey().rooms[session_.room].photos; }

  // The room it was noted in; the only one where the survey has one.
  bool here(Index i) const {
    const Json* id = value_at(session_.document(), snag_pointer(i) + "/room");
    const std::string& shown = session_.survey().rooms[session_.room].id;
    return session_.survey().rooms.size() < 2 || (id && id->is_string() && *id == shown);
  }

  void words(Flow& f, Index i, bool mine) {
    const Snag& snag = all()[i];
    const Pen soft{TextSize::caption, soft_ink(s_)};
    f.pair(snag.id + "  " + snag.text,
           {TextSize::body, mine ? Ink::blue : Ink::ink, mine || snag.closed.empty()},
           snag.closed.empty() ? "open" : "closed",
           {TextSize::caption, snag.closed.empty() ? Ink::crayon : soft_ink(s_)});
    f.paragraph(snag_place_words(session_.document(), session_.survey(), i), soft);
    f.paragraph(snag.by + ", " + when(snag.at) +
                    (snag.closed.empty() ? "" : "; closed " + when(snag.closed)),
                soft);
    if (mine) return;
    const auto n = std::count_if(photos().begin(), photos().end(),
                                 [&](const Photo& one) { return shows_snag(one, i, snag.id); });
    if (n > 0) f.paragraph(std::to_string(n) + (n == 1 ? " photo" : " photos"), soft);
  }

  // Of the chosen one: its photos, and keys that say where it is and add a photo.
  void more(Flow& f, Index i, bool free) {
    for (Index p = 0; p < photos().size(); ++p) {
      if (!shows_snag(photos()[p], i, all()[i].id)) continue;
      const Box row = f.take(photo_row_height(s_, f.w(), session_, p));
      if (f.draws()) draw_photo_row(c_, row, session_, p, screen_.photos);
    }
    if (!free) return;
    const bool placed = session_.drawn().plan.known && here(i);
    if (placed) {
      f.gap(gap);
      const Box key = f.take(std::max(56.f, s_.row() + 24));
      if (f.draws() && s_.key(key, all()[i].place ? "Put it elsewhere" : "Where is it?")) {
        screen_.placing = true;
        screen_.snag_view = {};
      }
    }
    const Box adder = f.take(photo_adder_height(c_, f.w(), screen_.photos, snag_pointer(i)));
    if (f.draws()) photo_given_ = draw_photo_adder(c_, adder, screen_.photos, snag_pointer(i));
  }

  void keys(Box foot, bool free) {
    const bool adds = !screen_.snag_text.empty();
    const Snag* chosen =
        screen_.snag && *screen_.snag < all().size() ? &all()[*screen_.snag] : nullptr;
    const auto below = [&](const std::string& says) {
      return session_.trouble().empty() ? says : session_.trouble();
    };
    FootKey first{"Close snag", below(chosen ? chosen->id : ""), KeyLook::not_yet};
    if (adds)
      first = {"Add snag", below(""), free ? KeyLook::solid : KeyLook::not_yet};
    else if (chosen && !chosen->closed.empty())
      first = {"Open again", chosen->id, free ? KeyLook::plain : KeyLook::not_yet};
    else if (chosen && free)
      first.look = KeyLook::solid;
    const FootTapped tapped = draw_foot(s_, foot, session_, first, {});
    // Last, because they replace the survey that all the above reads.
    if (tapped.undo) {
      session_.undo();
    } else if (photo_given_ && chosen) {
      give_photo(c_, session_, screen_.photos, snag_pointer(*screen_.snag));
    } else if (tapped.first && adds) {
      add();
    } else if (tapped.first && chosen) {
      const bool closes = chosen->closed.empty();
      session_.apply(close_snag_patch(session_.document(), *screen_.snag,
                                      closes ? c_.platform.now() : std::string()),
                     "snag " + chosen->id + (closes ? " closed" : " open again"));
    }
  }

  // It is chosen, so that its place and photo are the next taps.
  void add() {
    const auto& rooms = session_.survey().rooms;
    const std::string room = rooms.size() > 1 ? rooms[session_.room].id : "";
    if (!session_.apply(snag_patch(session_.document(), screen_.snag_text, room, c_.platform.now(),
                                   c_.settings.author),
                        "snag: " + screen_.snag_text))
      return;
    screen_.snag_text.clear();
    screen_.snag = all().size() - 1;
    screen_.photos = {};
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  HandOverScreen& screen_;
  bool photo_given_ = false;  // one is to be added
};

}  // namespace

void draw_snags(ScreenContext& c, Box page, Box foot, Session& session, HandOverScreen& screen) {
  SnagsPart(c, session, screen).draw(page, foot);
}

bool draw_snag_page(ScreenContext& c, Box page, Session& session, HandOverScreen& screen) {
  if (draw_photo_page(c, page, session, screen.photos)) return true;
  const bool there = screen.snag && *screen.snag < session.survey().install.snags.size();
  screen.placing = screen.placing && there && !session.read_only() && session.drawn().plan.known;
  if (!screen.placing) return false;
  SnagsPart(c, session, screen).place(page);
  return true;
}

}  // namespace levelrun
