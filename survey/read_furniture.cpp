// The furniture: the maker's dimensions, plinths and leg types.
#include "survey/read_parts.h"
#include "survey/words.h"

namespace levelrun {
namespace {

// Every run has its own copy of the furniture, so what one may hold is bounded.
constexpr Index most_legs = 100, most_heights = 100;  // no maker's list is near as long
constexpr Index longest_material = 200;               // characters

// Keeps what is already there where the field is left out.
void read_over(const Fields& fields, std::string_view name, const NumberKind& kind, double& value) {
  value = fields.number(name, kind, value);
}

void read_over(const Fields& fields, std::string_view name, const NumberKind& kind,
               std::optional<double>& value) {
  if (const auto given = fields.number_if(name, kind)) value = given;
}

void read_wall_unit(const Fields& fields, Furniture::WallUnit& wall_unit) {
  read_over(fields, "height", length_mm, wall_unit.height);
  read_over(fields, "depth", length_mm, wall_unit.depth);
  read_over(fields, "rail_drop", any_mm, wall_unit.rail_drop);
  read_over(fields, "above_worktop", thickness_mm, wall_unit.above_worktop);
  read_over(fields, "back_thickness", thickness_mm, wall_unit.back_thickness);
  read_over(fields, "void_depth", thickness_mm, wall_unit.void_depth);
  read_over(fields, "inside_depth", thickness_mm, wall_unit.inside_depth);
}

void read_worktop(const Fields& fields, Furniture::Worktop& worktop) {
  read_over(fields, "thickness", thickness_mm, worktop.thickness);
  read_over(fields, "depth", length_mm, worktop.depth);
  read_over(fields, "overhang", any_mm, worktop.overhang);
  worktop.material = fields.short_text("material", worktop.material, longest_material);
  read_over(fields, "stock_length", length_mm, worktop.stock_length);
  const Fields upstand = fields.object_if("upstand");
  if (!upstand.given()) return;
  if (worktop.upstand) {
    read_over(upstand, "height", thickness_mm, worktop.upstand->height);
    read_over(upstand, "thickness", thickness_mm, worktop.upstand->thickness);
  } else {
    worktop.upstand = {upstand.number("height", thickness_mm),
                       upstand.number("thickness", thickness_mm)};
  }
}

void read_plinth(const Fields& fields, Plinth& plinth) {
  read_over(fields, "height", thickness_mm, plinth.height);
  if (fields.has("other_heights"))
    plinth.other_heights = fields.numbers("other_heights", length_mm, most_heights);
  read_over(fields, "thickness", thickness_mm, plinth.thickness);
  read_over(fields, "setback", any_mm, plinth.setback);
  read_over(fields, "top_gap_min", thickness_mm, plinth.top_gap_min);
  read_over(fields, "top_gap_max", thickness_mm, plinth.top_gap_max);
  read_over(fields, "floor_gap_max", thickness_mm, plinth.floor_gap_max);
  read_over(fields, "stock_length", length_mm, plinth.stock_length);
  read_over(fields, "kerf", thickness_mm, plinth.kerf);
  plinth.sealed_edges = fields.word("sealed_edges", sealed_edge_words, plinth.sealed_edges);
  fields.ordered("top_gap_min", plinth.top_gap_min, "top_gap_max", plinth.top_gap_max);
}

std::vector<LegType> read_legs(const FieldList& list, Ids& ids) {
  std::vector<LegType> legs;
  for (const Fields& fields : list) {
    LegType leg;
    leg.id = fields.new_id(ids, legs.size());
    leg.min = fields.number("min", thickness_mm);
    leg.max = fields.number("max", length_mm);
    if (fields.has("min") && fields.has("max")) fields.ordered("min", leg.min, "max", leg.max);
    leg.supplied = fields.number_if("supplied", length_mm);
    leg.pitch = fields.number_if("pitch", length_mm);
    read_over(fields, "foot_radius", thickness_mm, leg.foot_radius);
    read_over(fields, "front_inset", any_mm, leg.front_inset);
    read_over(fields, "back_inset", any_mm, leg.back_inset);
    read_over(fields, "side_inset", any_mm, leg.side_inset);
    read_over(fields, "span", length_mm, leg.span);
    legs.push_back(std::move(leg));
  }
  return legs;
}

}  // namespace

void read_furniture(const Fields& fields, Furniture& furniture, Ids& legs) {
  if (!fields.given()) return;
  read_over(fields, "base_height", length_mm, furniture.base_height);
  read_over(fields, "base_depth", length_mm, furniture.base_depth);
  read_over(fields, "front_thickness", thickness_mm, furniture.front_thickness);
  read_over(fields, "handle", thickness_mm, furniture.handle);
  furniture.back = fields.word("back", back_words, furniture.back);
  read_over(fields, "back_thickness", thickness_mm, furniture.back_thickness);
  read_over(fields, "void_depth", thickness_mm, furniture.void_depth);
  read_over(fields, "tall_height", length_mm, furniture.tall_height);
  read_wall_unit(fields.object_if("wall_unit"), furniture.wall_unit);
  read_over(fields, "cornice", thickness_mm, furniture.cornice);
  read_worktop(fields.object_if("worktop"), furniture.worktop);
  read_plinth(fields.object_if("plinth"), furniture.plinth);
  const Fields infill = fields.object_if("infill");
  read_over(infill, "min", thickness_mm, furniture.infill.min);
  read_over(infill, "max", thickness_mm, furniture.infill.max);
  infill.ordered("min", furniture.infill.min, "max", furniture.infill.max);
  if (fields.has("legs")) {
    legs = Ids(legs.list());
    furniture.legs = read_legs(fields.list("legs", most_legs), legs);
  }
}

}  // namespace levelrun
