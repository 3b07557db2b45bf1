// Services, and where nobody may drill.
#include "survey/read_parts.h"
#include "survey/words.h"

namespace levelrun {
namespace {

RoutePoint read_route_point(const Fields& fields, const RoomIds& ids) {
  return {read_place(fields.object("place"), ids.walls), read_height(fields, "height", ids.setups)};
}

void read_service_place(const Fields& fields, const RoomIds& ids, Service& service) {
  const bool on_wall = fields.has("wall") || fields.has("along");
  if (fields.given() && on_wall == fields.has("place")) {
    fields.problem(on_wall ? "a wall and a place at once" : "neither a wall nor a place",
                   "wall, along and height, or a place");
    return;
  }
  if (on_wall) {
    service.place.wall = fields.reference("wall", ids.walls);
    service.place.along = fields.number("along", any_mm);
  } else {
    service.place = read_place(fields.object("place"), ids.walls);
  }
  // A gully or a floor duct has a place in the plan and no height of its own.
  if (on_wall || fields.has("height")) service.height = read_height(fields, "height", ids.setups);
}

}  // namespace

std::vector<NoDrill> read_no_drill(const FieldList& list, const Ids& walls) {
  std::vector<NoDrill> zones;
  for (const Fields& fields : list) {
    NoDrill zone;
    const bool on_wall = fields.has("wall");
    if (fields.given() && on_wall == fields.has("outline")) {
      fields.problem(on_wall ? "a wall and an outline at once" : "neither an outline nor a wall",
                     "an outline, or wall, along, height, width and height_of");
    } else if (on_wall) {
      zone.wall = fields.reference("wall", walls);
      zone.along = fields.number("along", any_mm);
      zone.height = fields.number("height", any_mm);
      zone.width = fields.number("width", length_mm);
      zone.height_of = fields.number("height_of", length_mm);
    } else {
      zone.outline = read_outline(fields, walls);
    }
    zone.why = fields.text("why");
    zones.push_back(std::move(zone));
  }
  return zones;
}

std::vector<Service> read_services(const FieldList& list, const RoomIds& ids) {
  std::vector<Service> services;
  Ids service_ids("services");
  for (const Fields& fields : list) {
    Service service;
    service.id = fields.new_id(service_ids, services.size());
    service.kind = fields.required_word<ServiceKind>("kind", service_words);
    read_service_place(fields, ids, service);
    service.action = fields.word("action", action_words, service.action);
    service.projection = fields.number("projection", any_mm, service.projection);
    service.diameter = fields.number_if("diameter", length_mm);
    service.width = fields.number_if("width", length_mm);
    service.height_of = fields.number_if("height_of", length_mm);
    if (service.width.has_value() != service.height_of.has_value()) {
      fields.problem(service.width ? "height_of" : "width", "nothing",
                     "width and height_of together");
    }
    for (const Fields& item : fields.list("route")) {
      service.route.push_back(read_route_point(item, ids));
    }
    if (const Fields end = fields.object_if("connects_at"); end.given()) {
      service.connects_at = read_route_point(end, ids);
    }
    service.notes = fields.text("notes", "");
    services.push_back(std::move(service));
  }
  return services;
}

}  // namespace levelrun
