#include "app/screens/wall_about.h"

#include <charconv>

#include "app/screens/form_parts.h"
#include "app/screens/wall_fields.h"
#include "app/screens/wall_lists.h"

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
  const auto opening = place_in("/openings/", screen.chosen);
  const auto service = place_in("/services/", screen.chosen);
  const auto zone = place_in("/no_drill/", screen.chosen);
  const std::string name = zone ? "No drilling" : name_on_wall(session, screen);
  const bool leaves = draw_form_head(c, page, session, screen.form, name, name, "Back to the wall");
  draw_form(c, page, session,
            opening   ? opening_fields(session, *opening)
            : service ? service_fields(session, *service)
            : zone    ? no_drill_fields(session, *zone)
                      : wall_fields(session, screen.wall),
            screen.form, "about the wall");
  if (leaves) {
    screen.about = false;
    screen.form = {};
  }
}

}  // namespace levelrun
