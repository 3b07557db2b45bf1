#include "app/screens/wall_fields.h"

#include "app/entry/route_edits.h"
#include "app/entry/wall_edits.h"
#include "app/screens/form_fields.h"
#include "app/screens/form_parts.h"
#include "app/screens/no_drill_why.h"
#include "app/screens/place_fields.h"
#include "app/text_number.h"
#include "checks/pointer.h"
#include "checks/words.h"
#include "survey/words.h"

namespace levelrun {
namespace {

// The words of an enum of the file, as people read them. not_said: the file need not say any.
template <class List>
FormField choice_of(const std::string& at, const std::string& caption, const List& list,
                    bool not_said = false) {
  std::vector<std::string> choices;
  std::vector<Json> values;
  if (not_said) {
    choices.push_back("not said");
    values.push_back(Json());
  }
  for (const std::string_view word : list) {
    choices.push_back(spaced(word));
    values.push_back(std::string(word));
  }
  return form_choice(at, caption, choices, values);
}

std::string mm(double value) { return shown_short(value, 1, '.'); }

// Where a height is counted from, beside its caption.
std::string counted(const Room& room, const std::string& caption, const MeasuredHeight& height) {
  return caption + (height.setup
                        ? ", from the line of set-up " + room.levels.setups[*height.setup].id
                        : ", from the floor");
}

// What a height is counted from, where the room has a level line.
void height_base_field(std::vector<FormField>& out, const Room& room, const std::string& at,
                       const std::string& caption) {
  if (room.levels.setups.empty()) return;
  std::vector<std::string> words = {"the floor"};
  std::vector<Json> values = {"floor"};
  for (const SetUp& setup : room.levels.setups) {
    words.push_back("line of set-up " + setup.id);
    values.push_back(setup.id);
  }
  out.push_back(form_choice(at + "/from", caption, words, values, "floor"));
}

void route_point_fields(std::vector<FormField>& out, Session& session, const std::string& at,
                        const std::string& of, const RoutePoint& point) {
  const Room& room = session.survey().rooms[session.room];
  place_fields(out, session, at + "/place", of, point.place);
  out.push_back(form_number(at + "/height", counted(room, of + "height", point.height)));
  height_base_field(out, room, at, of + "height is from");
}

// Its route, point after point, and where it ends.
void way_fields(std::vector<FormField>& out, Session& session, Index i) {
  const Service& service = session.survey().rooms[session.room].services[i];
  const std::string at = pointer(session.room, "services", i);
  out.push_back(form_heading("Route"));
  if (service.route.empty())
    out.push_back(form_paragraph("Where it runs from here, bend by bend."));
  for (Index p = 0; p < service.route.size(); ++p) {
    const std::string n = std::to_string(p + 1), one = at + "/route/" + std::to_string(p);
    route_point_fields(out, session, one, "Route " + n + ": ", service.route[p]);
    out.push_back(form_key("Take out point " + n, remove_patch(one),
                           "route point " + n + " of " + service.id + " taken out"));
  }
  out.push_back(form_key("Add a point to the route",
                         add_route_point_patch(session.document(), session.room, i),
                         "route point of " + service.id));
  out.push_back(form_heading("Connects at"));
  if (service.connects_at) {
    route_point_fields(out, session, at + "/connects_at", "Connects: ", *service.connects_at);
    out.push_back(form_key("Take out the connection", remove_patch(at + "/connects_at"),
                           "connection of " + service.id + " taken out"));
  } else {
    out.push_back(form_paragraph("Where it meets what is there: a stack, a main, a stopcock."));
    out.push_back(form_key("Say where it connects",
                           connect_service_patch(session.document(), session.room, i),
                           "connection of " + service.id));
  }
}

}  // namespace

const char* words_of(WallBuild build) {
  constexpr const char* words[] = {"masonry",          "stud",        "metal stud",
                                   "lath and plaster", "dot and dab", "build not known"};
  return words[int(build)];
}

const char* words_of(OpeningKind kind) {
  constexpr const char* words[] = {"Door", "Window", "Archway", "Opening"};
  return words[int(kind)];
}

std::vector<FormField> wall_fields(const Session& session, Index w) {
  const Room& room = session.survey().rooms[session.room];
  const Wall& wall = room.walls[w];
  const std::string at = pointer(session.room, "walls", w);
  std::vector<FormField> out;
  out.push_back(form_heading("Wall " + wall.id));
  out.push_back(choice_of(at + "/build", "Built of", build_words));
  out.push_back(form_choice(at + "/furnished", "Units stand on it", {"yes", "no"}, {true, false}));
  out.push_back(choice_of(at + "/offsets_from", "Offsets are read from", offsets_from_words));
  out.push_back(form_heading("Skirting and coving"));
  const std::string skirting = at + "/skirting";
  FormField stays =
      form_choice(skirting + "/stays", "Skirting", {"comes off", "stays"}, {false, true});
  form_numbers(out, skirting, {{"height", "Skirting height"}, {"thickness", "Skirting thickness"}},
               true, {"stays"});
  stays.together = out.back().together;
  out.push_back(stays);
  out.push_back(form_number(at + "/coving/drop", "Coving, down from the ceiling", "none"));
  out.back().together = {at + "/coving/drop"};
  out.back().object = at + "/coving";
  out.push_back(form_heading("Finish still to come"));
  for (Index i = 0; i < wall.finish.size(); ++i) {
    const std::string layer = at + "/finish/" + std::to_string(i), name = wall.finish[i].name;
    const std::string n = " " + std::to_string(i + 1);
    out.push_back(form_words(layer + "/name", "Finish" + n));
    out.push_back(form_number(layer + "/thickness", "Finish" + n + ": thickness"));
    out.push_back(form_number(layer + "/from_height", "Finish" + n + ": from height", "floor"));
    out.push_back(form_number(layer + "/to_height", "Finish" + n + ": to height", "ceiling"));
    out.push_back(form_key("Take out finish" + n, remove_patch(layer), name + " taken out"));
  }
  out.push_back(form_key(
      "Add a finish",
      add_to_list(session.document(), at + "/finish", {{"name", "skim"}, {"thickness", 3}}),
      "finish on " + wall.id));
  return out;
}

std::vector<FormField> opening_fields(const Session& session, Index i) {
  const Room& room = session.survey().rooms[session.room];
  const Opening& opening = room.openings[i];
  const std::string at = pointer(session.room, "openings", i);
  std::vector<FormField> out;
  out.push_back(form_heading("Opening on " + room.walls[opening.wall].id));
  out.push_back(form_name(session, at, "Its name"));
  out.push_back(choice_of(at + "/kind", "It is a", opening_words));
  out.push_back(form_number(at + "/left", "Left edge, along the wall"));
  out.push_back(form_number(at + "/width", "Width"));
  out.push_back(form_number(at + "/sill", counted(room, "Sill", opening.sill), "0"));
  out.push_back(form_number(at + "/height", "Height, sill to head"));
  out.push_back(form_number(at + "/above", "Head to ceiling", "not read"));
  out.push_back(form_number(at + "/architrave", "Architrave", mm(0)));
  form_numbers(out, at + "/board",
               {{"projection", "Board stands out by"}, {"thickness", "Board thickness"}});
  out.push_back(choice_of(at + "/opens", "Opens", opens_words, true));
  out.push_back(form_number(at + "/undercut", "Under the door, clear", "not read"));
  return out;
}

std::vector<FormField> service_fields(Session& session, Index i) {
  const Room& room = session.survey().rooms[session.room];
  const Service& service = room.services[i];
  const std::string at = pointer(session.room, "services", i);
  std::vector<FormField> out;
  out.push_back(form_heading(service.place.wall ? "Service on " + room.walls[*service.place.wall].id
                                                : "Service " + service.id + " in the floor"));
  out.push_back(form_name(session, at, "Its name"));
  out.push_back(choice_of(at + "/kind", "It is a", service_words));
  const bool by_wall = value_at(session.document(), at + "/along") != nullptr;
  if (by_wall)
    out.push_back(form_number(at + "/along", "Its middle, along the wall"));
  else
    place_fields(out, session, at + "/place", "Its middle: ", service.place);
  out.push_back(form_number(at + "/height",
                            counted(room, "Its middle", service.height.value_or(MeasuredHeight{})),
                            by_wall ? "" : "not read"));
  if (service.height && !by_wall) height_base_field(out, room, at, "Its height is from");
  out.push_back(form_number(at + "/projection", "Stands out by, wall to far face", mm(0)));
  out.push_back(form_number(at + "/diameter", "Diameter, outside", "none"));
  form_numbers(out, at, {{"width", "Width"}, {"height_of", "Height of it"}}, false);
  out.push_back(choice_of(at + "/action", "What becomes of it", action_words));
  out.push_back(form_words(at + "/notes", "Notes on it"));
  way_fields(out, session, i);
  return out;
}

std::vector<FormField> no_drill_fields(const Session& session, Index i) {
  const Room& room = session.survey().rooms[session.room];
  const NoDrill& zone = room.no_drill[i];
  const std::string at = pointer(session.room, "no_drill", i);
  std::vector<FormField> out;
  out.push_back(
      form_heading("No drilling" + (zone.wall ? " on " + room.walls[*zone.wall].id : "")));
  out.push_back(form_words(at + "/why", "Why"));
  out.push_back(form_number(at + "/along", "Left edge, along the wall"));
  out.push_back(form_number(at + "/height", "Lower edge, from the floor"));
  out.push_back(form_number(at + "/width", "Width"));
  out.push_back(form_number(at + "/height_of", "Height of it"));
  out.push_back(form_paragraph(no_drill_caution, Ink::ink));
  return out;
}

}  // namespace levelrun
