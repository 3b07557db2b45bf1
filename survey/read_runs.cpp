// Runs of cabinets, and the level groups that share one underside.
#include "survey/limits.h"
#include "survey/read_parts.h"
#include "survey/words.h"

namespace levelrun {
namespace {

Unit read_unit(const Fields& fields, const Ids& legs) {
  Unit unit;
  unit.kind = fields.word("kind", unit_words, unit.kind);
  unit.width = fields.number("width", length_mm);
  unit.height = fields.number_if("height", length_mm);
  unit.depth = fields.number_if("depth", length_mm);
  unit.bottom = fields.number_if("bottom", any_mm);
  unit.leg = fields.reference_if("leg", legs);
  for (const Fields& foot : fields.list("feet")) {
    unit.feet.push_back({foot.number("from_left", any_mm), foot.number("from_front", any_mm)});
  }
  unit.drawers = fields.flag("drawers", unit.drawers);
  unit.hinge = fields.word_if<Hinge>("hinge", hinge_words);
  unit.houses = fields.text("houses", "");
  if (const Fields niche = fields.object_if("niche"); niche.given()) {
    unit.niche = {niche.number("min_height", length_mm), niche.number("max_height", length_mm),
                  niche.number("slide_in", thickness_mm, Niche{}.slide_in)};
    if (niche.has("min_height") && niche.has("max_height")) {
      niche.ordered("min_height", unit.niche->min_height, "max_height", unit.niche->max_height);
    }
  }
  return unit;
}

void read_run_place(const Fields& fields, const Ids& walls, Run& run) {
  const bool on_wall = fields.has("wall") || fields.has("from_along");
  const bool free_standing = fields.has("origin") || fields.has("bearing");
  if (fields.given() && on_wall == free_standing) {
    fields.problem(on_wall ? "a wall and an origin at once" : "neither a wall nor an origin",
                   "wall and from_along, or origin and bearing");
  } else if (on_wall) {
    run.wall = fields.reference("wall", walls);
    run.from_along = fields.number("from_along", any_mm);
  } else {
    const Fields origin = fields.object("origin");
    run.origin_x = origin.number("x", any_mm);
    run.origin_y = origin.number("y", any_mm);
    run.bearing = fields.number("bearing", any_degrees);
  }
}

}  // namespace

std::vector<LevelGroup> read_level_groups(const FieldList& list, RoomIds& ids) {
  std::vector<LevelGroup> groups;
  for (const Fields& fields : list) {
    LevelGroup group;
    group.id = fields.new_id(ids.groups, groups.size());
    group.asked_height = fields.number_if("asked_height", length_mm);
    group.tolerance = fields.number("tolerance", thickness_mm, group.tolerance);
    if (const Fields place = fields.object_if("height_at"); place.given()) {
      group.height_at = read_place(place, ids.walls);
    }
    group.order = fields.words("order", soft_bound_words);
    if (const Fields set = fields.object_if("underside_set"); set.given()) {
      group.underside_set = {set.number("value", any_mm), set.text("by"), set.text("at"),
                             set.number_if("released", any_mm)};
    }
    groups.push_back(std::move(group));
  }
  return groups;
}

std::vector<Run> read_runs(const FieldList& list, const JobParts& job, RoomIds& ids) {
  std::vector<Run> runs;
  Ids run_ids("runs");
  Index units = 0;
  for (const Fields& fields : list) {
    Run run;
    run.id = fields.new_id(run_ids, runs.size());
    read_run_place(fields, ids.walls, run);
    run.starts_at = fields.word("starts_at", run_end_words, run.starts_at);
    run.ends_at = fields.word("ends_at", run_end_words, run.ends_at);
    // Groups need no list of their own: a run may simply name one.
    if (ids.groups.empty()) {
      run.level_group = fields.text("level_group", run.level_group);
    } else if (fields.reference_if("level_group", ids.groups)) {
      run.level_group = fields.text("level_group");
    }
    run.furniture = job.furniture;
    const Fields own = fields.object_if("furniture");
    Ids own_legs(job.legs.list());
    read_furniture(own, run.furniture, own_legs);
    const Ids& legs = own.has("legs") ? own_legs : job.legs;
    for (const Fields& item : fields.list("units", most_units)) {
      Unit unit = read_unit(item, legs);
      unit.id = item.new_id(ids.units, units++);
      run.units.push_back(std::move(unit));
    }
    double width = 0;
    for (const Unit& unit : run.units) width += unit.width;
    if (width > most_length)
      fields.problem("units", "units " + Json(width).dump() + " mm wide together",
                     "up to 100000 mm, as no room is longer than 100 m");
    if (units > most_units)
      fields.problem("units", std::to_string(units) + " units in the room",
                     "up to " + std::to_string(most_units));
    runs.push_back(std::move(run));
  }
  return runs;
}

}  // namespace levelrun
