// Places, outlines and heights: the small values that many parts of a survey hold.
#include "survey/limits.h"
#include "survey/read_parts.h"

namespace levelrun {

Place read_place(const Fields& place, const Ids& walls) {
  Place read;
  if (!place.given()) return read;
  const bool on_wall = place.has("wall") || place.has("along") || place.has("out");
  const bool in_plan = place.has("x") || place.has("y");
  if (on_wall == in_plan) {
    place.problem(
        on_wall ? "a place on a wall and in the plan at once" : "neither a wall nor x and y",
        "{wall, along, out} or {x, y}");
    return read;
  }
  if (on_wall) {
    read.wall = place.reference("wall", walls);
    read.along = place.number("along", any_mm);
    read.out = place.number("out", any_mm);
  } else {
    read.x = place.number("x", any_mm);
    read.y = place.number("y", any_mm);
  }
  read.sd = place.number("sd", sd_mm, read.sd);
  return read;
}

std::vector<Place> read_outline(const Fields& owner, const Ids& walls) {
  std::vector<Place> outline;
  for (const Fields& place : owner.list("outline", most_outline))
    outline.push_back(read_place(place, walls));
  if (outline.size() == 1 || outline.size() == 2) {
    owner.problem("outline", outline.size() == 1 ? "1 place" : "2 places", "at least 3 places");
  }
  return outline;
}

namespace {

void read_from(const Fields& thing, const Ids& setups, MeasuredHeight& height) {
  if (thing.says("from", "floor")) return;
  height.setup = thing.reference_if("from", setups, "\"floor\" or ");
}

}  // namespace

MeasuredHeight read_height(const Fields& thing, std::string_view height_name, const Ids& setups) {
  MeasuredHeight height{thing.number(height_name, any_mm), {}};
  read_from(thing, setups, height);
  return height;
}

MeasuredHeight read_height(const Fields& thing, std::string_view height_name, const Ids& setups,
                           double otherwise) {
  MeasuredHeight height{thing.number(height_name, any_mm, otherwise), {}};
  read_from(thing, setups, height);
  return height;
}

}  // namespace levelrun
