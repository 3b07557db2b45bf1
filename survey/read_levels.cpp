// Levels and flooring: what the staff read, and what it stood on.
#include <algorithm>
#include <map>

#include "survey/limits.h"
#include "survey/read_parts.h"
#include "survey/words.h"

namespace levelrun {
namespace {

// Existing layers by name. A name may stand several times, once for each floor area.
class LayerNames {
 public:
  explicit LayerNames(const std::vector<ExistingLayer>& layers) {
    for (Index i = 0; i < layers.size(); ++i) {
      first_.emplace(layers[i].name, i);
      in_area_.emplace(std::pair(std::string_view(layers[i].name), layers[i].area), i);
    }
  }

  // The first of that name that lies everywhere or in the area; else the first of that name.
  std::optional<Index> find(std::string_view name, std::optional<Index> area) const {
    const auto any = first_.find(name);
    if (any == first_.end()) return std::nullopt;
    const auto everywhere = in_area_.find({name, std::nullopt});
    const auto here = area ? in_area_.find({name, area}) : in_area_.end();
    if (everywhere == in_area_.end() && here == in_area_.end()) return any->second;
    if (everywhere == in_area_.end()) return here->second;
    if (here == in_area_.end()) return everywhere->second;
    return std::min(everywhere->second, here->second);
  }

 private:
  std::map<std::string_view, Index> first_;
  std::map<std::pair<std::string_view, std::optional<Index>>, Index> in_area_;
};

LevelPoint read_point(const Fields& fields, const LayerNames& layers, const RoomIds& ids) {
  LevelPoint point;
  point.off_floor = fields.flag("off_floor", point.off_floor);
  const bool place_left_out = point.off_floor && !fields.has("place");
  if (!place_left_out) point.place = read_place(fields.object("place"), ids.walls);
  point.area = fields.reference_if("area", ids.areas);
  if (fields.has("on")) {
    const std::string name = fields.text("on", "");
    point.on = layers.find(name, point.area);
    if (!point.on && fields.says("on", name)) {
      fields.problem("on", in_quotes(name), "the name of one of flooring.existing");
    }
  }
  return point;
}

}  // namespace

Room::Flooring read_flooring(const Fields& fields, const Ids& areas) {
  Room::Flooring flooring;
  for (const Fields& item : fields.list("existing", most_layers)) {
    ExistingLayer layer;
    layer.name = item.text("name");
    layer.thickness = item.number("thickness", thickness_mm);
    layer.sd = item.number("sd", sd_mm, layer.sd);
    layer.strip = item.flag("strip", layer.strip);
    layer.area = item.reference_if("area", areas);
    flooring.existing.push_back(std::move(layer));
  }
  for (const Fields& item : fields.list("laid", most_layers)) {
    LaidLayer layer;
    layer.name = item.text("name");
    layer.thickness = item.number("thickness", thickness_mm);
    layer.sd = item.number("sd", sd_mm, layer.sd);
    layer.to = item.word("to", laid_to_words, layer.to);
    layer.into_niches = item.flag("into_niches", layer.into_niches);
    layer.floating = item.flag("floating", layer.floating);
    layer.area = item.reference_if("area", areas);
    flooring.laid.push_back(std::move(layer));
  }
  return flooring;
}

SetUp read_setup(const Fields& fields, const Ids& instruments) {
  SetUp setup;
  setup.instrument = fields.reference_if("instrument", instruments);
  setup.collimation = fields.number("collimation", any_mm_per_m, setup.collimation);
  return setup;
}

StaffReading read_staff(const Fields& fields) {
  StaffReading reading;
  reading.staff = fields.number("staff", any_mm);
  reading.distance_m = fields.number_if("distance_m", distance_m);
  return reading;
}

Levels read_levels(const Fields& fields, const Room::Flooring& flooring, const Ids& instruments,
                   RoomIds& ids) {
  Levels levels;
  const LayerNames layers(flooring.existing);
  for (const Fields& item : fields.list("points")) {
    LevelPoint point = read_point(item, layers, ids);
    point.id = item.new_id(ids.points, levels.points.size());
    levels.points.push_back(std::move(point));
  }
  for (const Fields& item : fields.list("setups", most_setups)) {
    SetUp setup = read_setup(item, instruments);
    setup.id = item.new_id(ids.setups, levels.setups.size());
    for (const Fields& staff : item.list("readings", most_staff)) {
      setup.readings.push_back(read_staff(staff));
      setup.readings.back().point = staff.reference("point", ids.points);
    }
    levels.setups.push_back(std::move(setup));
  }
  Index staff = 0;
  for (const SetUp& setup : levels.setups) staff += setup.readings.size();
  if (staff > most_staff)
    fields.problem("setups", std::to_string(staff) + " readings",
                   "up to " + std::to_string(most_staff) + " in a room");
  const bool needs_benchmark = !levels.points.empty() || !levels.setups.empty();
  const Fields benchmark =
      needs_benchmark ? fields.object("benchmark") : fields.object_if("benchmark");
  if (benchmark.given()) {
    levels.benchmark = Levels::Benchmark{benchmark.reference("point", ids.points),
                                         benchmark.number("height", any_mm, 0)};
  }
  for (const Fields& item : fields.list("known", most_known_heights)) {
    levels.known.push_back({item.reference("point", ids.points), item.number("height", any_mm),
                            item.number("sd", sd_mm)});
  }
  return levels;
}

}  // namespace levelrun
