#include "app/screens/wall_about.h"

#include <algorithm>
#include <charconv>

#include "app/entry/set_patch.h"
#include "app/screens/wall_fields.h"

namespace levelrun {
namespace {

// Of the fact chosen, its place in the list of that name; empty: it is of another.
std::optional<Index> place_in(const std::string& list, const std::string& fact) {
  if (fact.find(list) == std::string::npos) return std::nullopt;
  Index place = 0;
  const char* const end = fact.data() + fact.size();
  const auto read = std::from_chars(fact.data() + fact.rfind('/') + 1, end, place);
  return read.ec == std::errc() && read.ptr == end ? std::optional(place) : std::nullopt;
}

}  // namespace

void draw_wall_about(ScreenContext& c, Box page, Session& session, WallsScreen& screen) {
  Sheet& s = c.sheet;
  const Room& room = session.survey().rooms[session.room];
  Box head = page.take_top(std::max(least_target, s.row(TextSize::title)) + 16).inset(margin, 8);
  const std::string back = "Back to the wall";
  const bool leaves = s.key(head.take_right(s.width(back, TextSize::body) + 28), back);
  head.take_right(gap);
  const Json* id = value_at(session.document(), screen.chosen + "/id");
  const bool of_wall = screen.chosen.empty() || !id || !id->is_string();
  s.text(head, of_wall ? room.walls[screen.wall].id : id->get<std::string>(),
         {TextSize::title, Ink::ink, true});
  if (!session.trouble().empty() && screen.form.refused.empty()) {
    const float tall = s.paragraph_height(page.w - 2 * margin, session.trouble());
    s.paragraph(page.take_top(tall + 8).inset(margin, 4), session.trouble(),
                {TextSize::body, Ink::crayon});
  }
  const auto opening = place_in("/openings/", screen.chosen);
  const auto service = place_in("/services/", screen.chosen);
  draw_form(c, page, session,
            opening   ? opening_fields(session, *opening)
            : service ? service_fields(session, *service)
                      : wall_fields(session, screen.wall),
            screen.form, "about the wall");
  if (leaves) {
    screen.about = false;
    screen.form = {};
  }
}

}  // namespace levelrun
