#include "app/screens/place_fields.h"

#include "app/entry/route_edits.h"
#include "app/screens/form_fields.h"
#include "app/text_number.h"

namespace levelrun {

void place_fields(std::vector<FormField>& out, Session& session, const std::string& at,
                  const std::string& of, const Place& place) {
  const Room& room = session.survey().rooms[session.room];
  if (place.wall) {
    std::vector<std::string> walls;
    std::vector<Json> ids;
    for (const Wall& wall : room.walls) {
      walls.push_back(wall.id);
      ids.push_back(wall.id);
    }
    out.push_back(form_choice(at + "/wall", of + "by wall", walls, ids));
    out.push_back(form_number(at + "/along", of + "along"));
    out.push_back(form_number(at + "/out", of + "out from the wall"));
  } else {
    out.push_back(form_number(at + "/x", of + "x"));
    out.push_back(form_number(at + "/y", of + "y"));
  }
  out.push_back(form_number(at + "/sd", of + "sd of its place", shown_short(Place{}.sd, 1, '.')));
  Json other = place_said_otherwise(room, session.drawn(), place);
  if (other.is_null()) return;
  if (place.sd != Place{}.sd) other["sd"] = number_as_written(place.sd);
  const std::string says = of + (place.wall ? "by x and y" : "along a wall");
  out.push_back(form_key(says, set_patch(session.document(), at, other), says));
}

}  // namespace levelrun
