#include "app/entry/route_edits.h"

#include <algorithm>
#include <cmath>

#include "app/entry/set_patch.h"
#include "checks/outline.h"

namespace levelrun {
namespace {

std::string pointer_to(Index room, Index service) {
  return "/rooms/" + std::to_string(room) + "/services/" + std::to_string(service);
}

// Place and height of the route's last point, as a point of its own.
Json last_point(const Json& service) {
  const auto route = service.find("route");
  const bool routed = route != service.end() && route->is_array() && !route->empty();
  const Json& last = routed ? route->back() : service;
  Json point = Json::object();
  if (last.contains("place"))
    point["place"] = last["place"];
  else
    point["place"] = {
        {"wall", last.value("wall", Json())}, {"along", last.value("along", Json(0))}, {"out", 0}};
  point["height"] = last.value("height", Json(0));
  if (last.contains("height") && last.contains("from")) point["from"] = last["from"];
  return point;
}

Json whole_mm(double value) { return number_as_written(std::round(value) + 0.0); }

}  // namespace

Json add_route_point_patch(const Json& document, Index room, Index service) {
  const std::string at = pointer_to(room, service);
  const Json* const value = value_at(document, at);
  if (!value) return Json::array();
  Json patch = Json::array();
  if (!value->contains("route"))
    patch.push_back({{"op", "add"}, {"path", at + "/route"}, {"value", Json::array()}});
  patch.push_back({{"op", "add"}, {"path", at + "/route/-"}, {"value", last_point(*value)}});
  return patch;
}

Json connect_service_patch(const Json& document, Index room, Index service) {
  const std::string at = pointer_to(room, service);
  const Json* const value = value_at(document, at);
  if (!value) return Json::array();
  return set_patch(document, at + "/connects_at", last_point(*value));
}

Json place_said_otherwise(const Room& room, const RoomToDraw& drawn, const Place& place) {
  if (drawn.guessed || drawn.walls.empty()) return {};
  if (place.wall) {
    const auto at = drawn.plan.at(place);
    if (!at) return {};
    return {{"x", whole_mm(at->x)}, {"y", whole_mm(at->y)}};
  }
  const PlanPoint p{place.x, place.y};
  const auto nearest = std::min_element(
      drawn.walls.begin(), drawn.walls.end(), [&](const WallLine& a, const WallLine& b) {
        return distance_to_segment(p, a.from, a.to) < distance_to_segment(p, b.from, b.to);
      });
  const double x = p.x - nearest->from.x, y = p.y - nearest->from.y;
  return {{"wall", room.walls[Index(nearest - drawn.walls.begin())].id},
          {"along", whole_mm(x * nearest->along.x + y * nearest->along.y)},
          {"out", whole_mm(x * nearest->out.x + y * nearest->out.y)}};
}

}  // namespace levelrun
