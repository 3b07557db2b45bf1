// A room: corners, walls and what was measured between them.
#include "survey/limits.h"
#include "survey/read_parts.h"
#include "survey/words.h"

namespace levelrun {
namespace {

constexpr Index most_runs = 100;  // each holds a copy of the furniture

std::vector<Corner> read_corners(const FieldList& list, Ids& ids) {
  std::vector<Corner> corners;
  for (const Fields& fields : list) {
    Corner corner;
    corner.id = fields.new_id(ids, corners.size());
    corner.angle = fields.number("angle", corner_degrees, corner.angle);
    corners.push_back(std::move(corner));
  }
  return corners;
}

Finish read_finish(const Fields& fields) {
  Finish finish;
  finish.name = fields.text("name");
  finish.thickness = fields.number("thickness", thickness_mm);
  finish.sd = fields.number_if("sd", sd_mm);
  finish.from_height = fields.number_if("from_height", any_mm);
  finish.to_height = fields.number_if("to_height", any_mm);
  if (finish.from_height && finish.to_height) {
    fields.ordered("from_height", *finish.from_height, "to_height", *finish.to_height);
  }
  return finish;
}

WallLength read_wall_length(const Fields& fields, const Ids& instruments) {
  WallLength length;
  length.height = fields.number("height", any_mm);
  length.out = fields.number("out", any_mm, length.out);
  length.length = fields.number("length", length_mm);
  length.instrument = fields.reference_if("instrument", instruments);
  return length;
}

WallOffset read_wall_offset(const Fields& fields, const Ids& instruments) {
  WallOffset offset;
  offset.along = fields.number("along", any_mm);
  offset.height = fields.number("height", any_mm);
  offset.offset = fields.number("offset", any_mm);
  offset.instrument = fields.reference_if("instrument", instruments);
  return offset;
}

Wall read_wall(const Fields& fields, const Ids& instruments) {
  Wall wall;
  wall.build = fields.word("build", build_words, wall.build);
  wall.furnished = fields.flag("furnished", wall.furnished);
  wall.rough = fields.number_if("rough", length_mm);
  for (const Fields& item : fields.list("finish", most_layers))
    wall.finish.push_back(read_finish(item));
  if (const Fields skirting = fields.object_if("skirting"); skirting.given()) {
    wall.skirting = {skirting.number("height", thickness_mm),
                     skirting.number("thickness", thickness_mm), skirting.flag("stays")};
  }
  if (const Fields coving = fields.object_if("coving"); coving.given()) {
    wall.coving_drop = coving.number("drop", thickness_mm);
  }
  for (const Fields& item : fields.list("lengths")) {
    wall.lengths.push_back(read_wall_length(item, instruments));
  }
  for (const Fields& item : fields.list("offsets")) {
    wall.offsets.push_back(read_wall_offset(item, instruments));
  }
  wall.offsets_from = fields.word("offsets_from", offsets_from_words, wall.offsets_from);
  return wall;
}

std::vector<Wall> read_walls(const FieldList& list, const Ids& instruments, RoomIds& ids) {
  std::vector<Wall> walls;
  for (const Fields& fields : list) {
    Wall wall = read_wall(fields, instruments);
    wall.id = fields.new_id(ids.walls, walls.size());
    wall.from = fields.reference("from", ids.corners);
    wall.to = fields.reference("to", ids.corners);
    walls.push_back(std::move(wall));
  }
  return walls;
}

Diagonal read_diagonal(const Fields& fields, const Ids& instruments, const Ids& corners) {
  Diagonal diagonal;
  const std::size_t problems = fields.reading().problems.size();
  diagonal.from = fields.reference("from", corners);
  diagonal.to = fields.reference("to", corners);
  if (fields.given() && fields.reading().problems.size() == problems &&
      diagonal.from == diagonal.to) {
    fields.problem("to", "the corner that it starts from", "another corner");
  }
  diagonal.length = fields.number("length", length_mm);
  diagonal.height = fields.number("height", any_mm, diagonal.height);
  diagonal.instrument = fields.reference_if("instrument", instruments);
  return diagonal;
}

CornerAngle read_corner_angle(const Fields& fields, const Ids& instruments, const Ids& corners) {
  CornerAngle angle;
  angle.corner = fields.reference("corner", corners);
  const bool triangle = fields.has("a") || fields.has("b") || fields.has("across");
  if (fields.given() && triangle == fields.has("degrees")) {
    fields.problem(triangle ? "degrees and a triangle at once" : "neither degrees nor a triangle",
                   "degrees or {a, b, across}");
  } else if (triangle) {
    angle.triangle = {fields.number("a", length_mm), fields.number("b", length_mm),
                      fields.number("across", length_mm)};
  } else {
    angle.degrees = fields.number("degrees", corner_degrees);
  }
  angle.height = fields.number("height", any_mm, angle.height);
  angle.instrument = fields.reference_if("instrument", instruments);
  return angle;
}

std::vector<Opening> read_openings(const FieldList& list, const RoomIds& ids) {
  std::vector<Opening> openings;
  Ids opening_ids("openings");
  for (const Fields& fields : list) {
    Opening opening;
    opening.id = fields.new_id(opening_ids, openings.size());
    opening.wall = fields.reference("wall", ids.walls);
    opening.kind = fields.word("kind", opening_words, opening.kind);
    opening.left = fields.number("left", any_mm);
    opening.width = fields.number("width", length_mm);
    opening.sill = read_height(fields, "sill", ids.setups, 0);
    opening.height = fields.number("height", length_mm);
    opening.above = fields.number_if("above", any_mm);
    opening.architrave = fields.number("architrave", thickness_mm, opening.architrave);
    if (const Fields board = fields.object_if("board"); board.given()) {
      opening.board = {board.number("projection", thickness_mm),
                       board.number("thickness", thickness_mm)};
    }
    opening.opens = fields.word_if<Opens>("opens", opens_words);
    opening.undercut = fields.number_if("undercut", any_mm);
    openings.push_back(std::move(opening));
  }
  return openings;
}

CeilingReading read_ceiling(const Fields& fields, const Ids& instruments, const RoomIds& ids) {
  CeilingReading ceiling;
  ceiling.place = read_place(fields.object("place"), ids.walls);
  const bool clear = fields.has("clear");
  if (fields.given() && clear == fields.has("height")) {
    fields.problem(clear ? "clear and height at once" : "neither clear nor height",
                   "clear or {height, from}");
  } else if (clear) {
    ceiling.height.value = fields.number("clear", length_mm);
  } else {
    ceiling.height = read_height(fields, "height", ids.setups);
  }
  ceiling.instrument = fields.reference_if("instrument", instruments);
  return ceiling;
}

std::vector<FloorArea> read_floor_areas(const FieldList& list, RoomIds& ids) {
  std::vector<FloorArea> areas;
  for (const Fields& fields : list) {
    FloorArea area;
    area.id = fields.new_id(ids.areas, areas.size());
    area.outline = read_outline(fields, ids.walls);
    areas.push_back(std::move(area));
  }
  return areas;
}

}  // namespace

Room read_room(const Fields& fields, const JobParts& job, RoomIds& ids) {
  Room room;
  room.name = fields.text("name", "");
  const std::size_t problems = fields.reading().problems.size();
  room.corners = read_corners(fields.list("corners"), ids.corners);
  room.walls = read_walls(fields.list("walls"), job.instruments, ids);
  if (fields.reading().problems.size() == problems) check_room_shape(fields, room);
  for (const Fields& item : fields.list("diagonals")) {
    room.diagonals.push_back(read_diagonal(item, job.instruments, ids.corners));
  }
  for (const Fields& item : fields.list("angles")) {
    room.angles.push_back(read_corner_angle(item, job.instruments, ids.corners));
  }
  room.floor_areas = read_floor_areas(fields.list("floor_areas", most_floor_areas), ids);
  room.flooring = read_flooring(fields.object_if("flooring"), ids.areas);
  room.levels = read_levels(fields.object_if("levels"), room.flooring, job.instruments, ids);
  room.openings = read_openings(fields.list("openings", most_openings), ids);
  for (const Fields& item : fields.list("ceilings", most_ceilings)) {
    room.ceilings.push_back(read_ceiling(item, job.instruments, ids));
  }
  room.no_drill = read_no_drill(fields.list("no_drill"), ids.walls);
  room.services = read_services(fields.list("services", most_services), ids);
  room.level_groups = read_level_groups(fields.list("level_groups"), ids);
  room.runs = read_runs(fields.list("runs", most_runs), job, ids);
  for (const Fields& item : fields.list("skipped")) {
    room.skipped.push_back({item.text("what"), item.text("why")});
  }
  for (const Fields& item : fields.list("photos")) {
    room.photos.push_back({item.text("file"), item.text("at", ""), item.text("note")});
  }
  return room;
}

}  // namespace levelrun
