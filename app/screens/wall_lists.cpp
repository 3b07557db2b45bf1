#include "app/screens/wall_lists.h"

#include <algorithm>
#include <utility>

#include "app/drawing/service_symbols.h"
#include "app/entry/finding_words.h"
#include "app/entry/set_patch.h"
#include "app/entry/typed_number.h"
#include "app/place_words.h"
#include "app/screens/no_drill_why.h"
#include "app/screens/wall_fields.h"
#include "app/text_number.h"
#include "checks/pointer.h"

namespace levelrun {
namespace {

class WallLists {
 public:
  WallLists(ScreenContext& c, Session& session, WallsScreen& screen, const std::string& face,
            WallListEvent* event)
      : c_(c),
        s_(c.sheet),
        session_(session),
        screen_(screen),
        face_(face),
        room_(session.survey().rooms[session.room]),
        wall_(room_.walls[screen.wall]),
        event_(event) {}

  float lay_out(Box box, bool draw) {
    const float top = box.y;
    const auto heading = [&](const std::string& words) {
      const Box b = box;
      const float high = s_.paragraph_height(box.w, words, {TextSize::body, Ink::ink, true}) + 14;
      if (draw) s_.paragraph({b.x, b.y + 10, b.w, high}, words, {TextSize::body, Ink::ink, true});
      box.y += high;
    };
    if (!screen_.said.empty()) crayon_words(box, screen_.said, draw);
    if (!face_.empty())
      box.take_top(draw ? s_.paragraph(box, face_, {}) : s_.paragraph_height(box.w, face_, {}));
    bool any_behind = false, first = true;
    for (const bool behind : {true, false}) {
      first = true;
      for (Index i = 0; i < room_.services.size(); ++i) {
        if (room_.services[i].place.wall != screen_.wall || is_behind(i) != behind) continue;
        any_behind = any_behind || behind;
        if (std::exchange(first, false))
          heading(behind       ? "Behind the units"
                  : any_behind ? "Elsewhere on this wall"
                               : "On this wall");
        service_row(box, i, draw);
      }
    }
    first = true;
    for (Index i = 0; i < room_.openings.size(); ++i) {
      if (room_.openings[i].wall != screen_.wall) continue;
      if (std::exchange(first, false)) heading("Openings");
      opening_row(box, i, draw);
    }
    first = true;
    for (Index i = 0; i < room_.no_drill.size(); ++i) {
      if (room_.no_drill[i].wall != screen_.wall) continue;
      if (std::exchange(first, false)) heading("No drilling");
      no_drill_row(box, i, draw);
    }
    if (!first) words(box, no_drill_caution, draw);
    const auto& asks = screen_.entry.asks;
    const bool open = std::any_of(asks.begin(), asks.end(), [](const Ask& a) { return !a.booked; });
    heading((open                    ? "Still to do on "
             : !asks.empty()         ? "Nothing left to do on "
             : wall_.lengths.empty() ? "Book first the length of "
                                     : "Nothing to read on ") +
            wall_.id);
    for (const Ask& ask : asks)
      if (!ask.booked) ask_row(box, ask, draw);
    heading("Photos of " + place_words(session_.document(), photo_of()));
    photos(box, draw);
    return box.y - top;
  }

 private:
  std::string photo_of() const { return chosen_on_wall(session_, screen_); }

  void photos(Box& box, bool draw) {
    for (Index i = 0; i < room_.photos.size(); ++i) {
      if (room_.photos[i].at != photo_of()) continue;
      const Box b = line_of(box, photo_row_height(s_, box.w, session_, i));
      if (draw) draw_photo_row(c_, b, session_, i, screen_.photos);
    }
    const Box b = line_of(box, photo_adder_height(c_, box.w, screen_.photos, photo_of()));
    if (draw) event_->photo = draw_photo_adder(c_, b, screen_.photos, photo_of());
  }

  static Box line_of(Box& box, float high) {
    const Box b{box.x, box.y, box.w, high};
    box.y += high;
    return b;
  }

  float two_rows() const {
    return std::max(least_target, s_.row() + s_.row(TextSize::caption) + 12);
  }

  // A row that chooses its fact on the elevation; what of it is left to write in.
  Box fact_row(const Box& b, const std::string& id, const std::string& fact) {
    if (s_.row_target(b, id, screen_.chosen == fact))
      screen_.chosen = screen_.chosen == fact ? "" : fact;
    s_.rule_under(b);
    return b.inset(6, 5);
  }

  const ServiceResult* result_of(const Service& service) const {
    if (const RoomResult* results = session_.room_result())
      for (const ServiceResult& one : results->services)
        if (one.service == service.id) return &one;
    return nullptr;
  }

  // Not over the units, under or beside them.
  bool is_behind(Index service) const {
    const ServiceResult* r = result_of(room_.services[service]);
    return r && r->height_zone.starts_with("behind");
  }

  void service_row(Box& box, Index i, bool draw) {
    const Service& service = room_.services[i];
    const std::string fact = pointer(session_.room, "services", i);
    const ServiceResult* r = result_of(service);
    const bool bad = r && r->verdict && *r->verdict != Verdict::within;
    const Box b = line_of(box, two_rows());
    if (draw) {
      const Job& job = session_.survey().job;
      Box in = fact_row(b, service.id, fact);
      if (r && r->verdict && r->void_here && r->void_needed)
        vial(s_, {in.take_right(48).x, b.y + (b.h - 20) / 2, 48, 20},
             {*r->verdict, *r->void_here, r->void_sd.value_or(0), *r->void_needed, {}});
      in.take_right(8);
      Box one = in.take_top(s_.row());
      const Ink ink = bad ? Ink::crayon : Ink::ink;
      const std::string letters = service_letters(service.kind);
      s_.text(one.take_left(std::max(s_.grown(48), s_.width(letters, TextSize::body, true) + 10)),
              letters, {TextSize::body, ink, true});
      const std::string where = "at " + shown_length(service.place.along, job, 0);
      s_.text(one.take_left(std::min(one.w, s_.width(where, TextSize::body) + 20)), where,
              {TextSize::body, ink});
      if (r && !r->units.empty() && one.w > 24)
        s_.text(one, r->units.front(), {TextSize::body, Ink::soft});
      s_.text(in, service_words(service, r), {TextSize::caption, bad ? Ink::crayon : Ink::soft});
    }
    for (const Finding& f : session_.results().findings)
      if (f.at == fact && f.severity != Severity::note && !f.answered)
        crayon_words(box, first_sentence(f.remedy.empty() ? f.says : f.remedy), draw, f.severity);
  }

  std::string service_words(const Service& service, const ServiceResult* r) const {
    const Job& job = session_.survey().job;
    std::string out;
    if (r && r->void_here && r->void_needed)
      out = shown_length(*r->void_here, job) + " of " + shown_length(*r->void_needed, job) + "; ";
    if (!service.height) return out + "height not read";
    if (!service.height->setup) return out + shown_length(service.height->value, job) + " high";
    out += shown_change(service.height->value, 0, job.decimal) + " from the level line";
    return room_.levels.setups.size() > 1
               ? out + " of " + room_.levels.setups[*service.height->setup].id
               : out;
  }

  void opening_row(Box& box, Index i, bool draw) {
    const Opening& o = room_.openings[i];
    const Box b = line_of(box, two_rows());
    if (!draw) return;
    const Job& job = session_.survey().job;
    Box in = fact_row(b, o.id, pointer(session_.room, "openings", i));
    s_.text(in.take_top(s_.row()),
            std::string(words_of(o.kind)) + "  at " + shown_length(o.left, job, 0), {});
    s_.text(in,
            shown_length(o.width, job, 0) + " wide, " + shown_length(o.height, job, 0) + " high",
            {TextSize::caption, Ink::soft});
  }

  void no_drill_row(Box& box, Index i, bool draw) {
    const NoDrill& zone = room_.no_drill[i];
    const Job& job = session_.survey().job;
    const std::string said = zone.why + "; " + shown_length(zone.height, job, 0) + " to " +
                             shown_length(zone.height + zone.height_of, job, 0) + " high";
    const Pen pen{TextSize::caption, Ink::soft};
    const float tall = s_.paragraph_height(box.w - 12, said, pen);
    const Box b = line_of(box, std::max(least_target, s_.row() + tall + 12));
    if (!draw) return;
    Box in =
        fact_row(b, "No drilling " + std::to_string(i + 1), pointer(session_.room, "no_drill", i));
    s_.text(in.take_top(s_.row()),
            "ND  at " + shown_length(zone.along, job, 0) + ", " + shown_length(zone.width, job, 0) +
                " wide",
            {});
    s_.paragraph(in, said, pen);
  }

  void words(Box& box, const std::string& said, bool draw) {
    const Pen pen{TextSize::caption, s_.look.inks == InkSet::sun ? Ink::ink : Ink::soft};
    const Box b = line_of(box, s_.paragraph_height(box.w, said, pen) + 12);
    if (draw) s_.paragraph({b.x, b.y + 6, b.w, b.h - 6}, said, pen);
  }

  void ask_row(Box& box, const Ask& ask, bool draw) {
    const Box b = line_of(box, std::max(least_target, s_.row() + 16));
    if (!draw) return;
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

  void crayon_words(Box& box, const std::string& words, bool draw,
                    Severity severity = Severity::query) {
    const float indent = 30;
    const Pen pen{TextSize::body, Ink::crayon};
    const float high = s_.paragraph_height(box.w - indent, words, pen);
    if (draw) {
      severity_mark(s_, {box.x, box.y + 8 + (s_.row() - mark_side) / 2}, severity, false);
      s_.paragraph({box.x + indent, box.y + 8, box.w - indent, high}, words, pen);
    }
    box.y += high + 16;
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  WallsScreen& screen_;
  const std::string& face_;
  const Room& room_;
  const Wall& wall_;
  WallListEvent* event_;
};

}  // namespace

float wall_lists(ScreenContext& c, Box box, Session& session, WallsScreen& screen,
                 const std::string& face, WallListEvent* event) {
  return WallLists(c, session, screen, face, event).lay_out(box, event != nullptr);
}

std::string chosen_on_wall(const Session& session, const WallsScreen& screen) {
  return screen.chosen.empty() ? pointer(session.room, "walls", screen.wall) : screen.chosen;
}

std::string name_on_wall(const Session& session, const WallsScreen& screen) {
  const Json* id = value_at(session.document(), chosen_on_wall(session, screen) + "/id");
  // Zones without drilling have no name of their own.
  return id && id->is_string() ? id->get<std::string>() : "the zone";
}

}  // namespace levelrun
