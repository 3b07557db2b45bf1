#include "checks/install_json.h"

#include <string_view>
#include <vector>

#include "checks/json_fields.h"

namespace levelrun {
namespace {

std::string_view word(EndStop e) {
  constexpr std::string_view words[] = {"none", "shortest", "longest"};
  return words[int(e)];
}
class Writer : private JsonFields {
 public:
  explicit Writer(JsonText& text) : JsonFields(text) {}

  template <class T>
  void list(const char* name, const std::vector<T>& items) {
    JsonFields::list(name, items, [this](const T& item) { fields(item); });
  }

 private:
  void fields(const LaidFloorResult& laid) {
    text("room", laid.room);
    text("layer", laid.layer);
    number("planned", laid.planned);
    number("laid", laid.laid);
    number("sd", laid.sd);
    number("difference", laid.difference);
    number("varies", laid.varies);
    integer("readings", laid.readings);
    integer("asked_back", laid.asked_back);
    boolean("moves_legs", laid.moves_legs);
    text("sum", laid.sum);
  }
  void fields(const DaySetUpResult::Point& point) {
    text("point", point.point);
    number("known", point.known);
    number("setup_height", point.setup_height);
    number("residual", point.residual);
    number("standardised", point.standardised);
    boolean("lasting", point.lasting);
    text("verdict", word(point.verdict));
  }
  void fields(const DaySetUpResult& setup) {
    text("setup", setup.setup);
    text("room", setup.room);
    number("height", setup.height);
    number("sd", setup.sd);
    boolean("by_benchmark", setup.by_benchmark);
    list("points", setup.points);
    text("sum", setup.sum);
  }
  void fields(const UndersideProposal& p) {
    text("room", p.room);
    text("group", p.group);
    number("now", p.now);
    number("proposed", p.proposed);
    j.key("worktop_above_floor").begin_object();
    number("released", p.worktop_released);
    number("now", p.worktop_now);
    number("then", p.worktop_then);
    j.end_object();
    integer("legs", p.legs);
    integer("legs_outside_now", p.legs_outside_now);
    integer("legs_outside_then", p.legs_outside_then);
    integer("pieces", p.pieces);
    integer("pieces_cut_now", p.pieces_cut_now);
    integer("pieces_cut_then", p.pieces_cut_then);
    integer("pieces_short_now", p.pieces_short_now);
    integer("pieces_short_then", p.pieces_short_then);
    text("limited_by", p.limited_by);
    text("sum", p.sum);
  }
  void fields(const CornerLevel& corner) {
    text("corner", corner.corner);
    number("above", corner.above);
    number("residual", corner.residual);
  }
  void fields(const LegTurn& leg) {
    text("position", leg.position);
    number("raise", leg.raise);
    number("sd", leg.sd);
    number("turns", leg.turns);
    number("height", leg.height);
    text("end_stop", word(leg.end_stop));
  }
  void fields(const UnitLevelResult& unit) {
    text("room", unit.room);
    text("group", unit.group);
    text("unit", unit.unit);
    text("setup", unit.setup);
    number("common", unit.common);
    boolean("relative", unit.relative);
    list("corners", unit.corners);
    list("legs", unit.legs);
    number("worst", unit.worst);
    number("worst_after", unit.worst_after);
    boolean("level", unit.level);
    text("says", unit.says);
  }
};

}  // namespace

void write_install(JsonText& j, const InstallResult& install) {
  Writer writer(j);
  j.begin_object();
  writer.list("laid_floor", install.laid_floor);
  writer.list("setups", install.setups);
  writer.list("proposals", install.proposals);
  writer.list("unit_levels", install.unit_levels);
  j.end_object();
}

}  // namespace levelrun
