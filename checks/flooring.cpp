#include "checks/flooring.h"

#include <cmath>

#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

bool exists_on(const std::optional<Index>& layer_area, Index area) {
  return !layer_area || *layer_area == area;
}

bool counts(const LaidLayer& layer, Floor floor) {
  switch (floor) {
    case Floor::bearing:
      return layer.to == LaidTo::wall || layer.to == LaidTo::unknown;
    case Floor::plinth:
      return layer.to != LaidTo::plinth_face;
    case Floor::niche:
      return layer.into_niches;
    case Floor::finished:
      return true;
  }
  return true;
}

}  // namespace

std::uint64_t stripped_underfoot(const Room& room, const LevelPoint& point, Index area) {
  std::uint64_t layers = 0;
  const auto& existing = room.flooring.existing;
  for (Index i = point.on.value_or(0); i < existing.size() && i < 64; ++i)
    if (existing[i].strip && exists_on(existing[i].area, area)) layers |= std::uint64_t{1} << i;
  return layers;
}

double thickness_of(const Room& room, std::uint64_t layers) {
  double total = 0;
  for (Index i = 0; layers; layers >>= 1, ++i)
    if (layers & 1) total += room.flooring.existing[i].thickness;
  return total;
}

LaidOver laid_over_bare(const Room& room, Floor floor, Index area) {
  LaidOver out;
  double variance = 0, not_counted = 0;
  for (Index i = 0; i < room.flooring.laid.size(); ++i) {
    const LaidLayer& layer = room.flooring.laid[i];
    if (!exists_on(layer.area, area)) continue;
    if (!counts(layer, floor)) {
      not_counted += layer.sd * layer.sd;
      continue;
    }
    out.each.push_back(layer.thickness);
    out.thickness.value += layer.thickness;
    // A measured total counts the layers under it: their own errors are in it, and only those
    // of layers that do not reach here come back.
    variance = layer.total_sd ? *layer.total_sd * *layer.total_sd + not_counted
                              : variance + layer.sd * layer.sd;
    out.top_layer = out.top_layer || i + 1 == room.flooring.laid.size();
  }
  out.thickness.sd = std::sqrt(variance);
  return out;
}

std::vector<Finding> flooring_findings(const Survey& survey, Index room_index) {
  const Room& room = survey.rooms[room_index];
  std::vector<Finding> out;
  for (Index i = 0; i < room.flooring.laid.size(); ++i) {
    const LaidLayer& layer = room.flooring.laid[i];
    const std::string at = pointer(room_index) + "/flooring/laid/" + std::to_string(i);
    const auto flag = [&](const char* code, std::string says, std::string remedy) {
      Finding finding;
      finding.code = code;
      finding.severity = Severity::query;
      finding.id = layer.name;
      finding.at = at;
      finding.source = "common practice, no source";
      finding.says = std::move(says);
      finding.remedy = std::move(remedy);
      out.push_back(std::move(finding));
    };
    if (layer.floating && layer.to == LaidTo::wall)
      flag("cabinets on a floating floor",
           layer.name + " is laid floating and reaches the wall: legs would pin it down.",
           "Stop it at the front legs, or fix it down; ask its maker.");
    if (layer.floating && layer.to == LaidTo::plinth_face)
      flag("expansion gap not covered",
           layer.name + " is laid floating up to the plinth's face: nothing covers its gap.",
           "Run it under the plinth to the front legs, or cover the gap.");
    if (layer.to != LaidTo::wall) continue;
    // A leg that stands on the floor has only its travel to take up what the floor varies.
    for (const LegType& leg : survey.furniture.legs)
      if (layer.thickness > leg.max - leg.min)
        flag("laid floor thicker than the leg's travel",
             layer.name + " is " + millimetres(layer.thickness) + " thick; leg " + leg.id +
                 " travels " + millimetres(leg.max - leg.min) + ".",
             "Settle the floor's thickness before release; a change cannot be wound out.");
  }
  return out;
}

}  // namespace levelrun
