#include "app/install_day/legs_to_set.h"

#include <algorithm>
#include <cmath>

#include "app/entry/set_patch.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// Heights are set to the millimetre, so a smaller difference asks for nothing.
constexpr double worth_a_turn = 1;  // mm, common practice, no source

std::string words_of(const Unit& unit, char decimal) {
  return (unit.houses.empty() ? "" : unit.houses + " ") + shown_short(unit.width, 1, decimal);
}

// Its place among the legs set, the last one; empty: it was not set.
std::optional<Index> set_index(const Survey& survey, Index room, const std::string& unit,
                               const std::string& position) {
  std::optional<Index> found;
  const auto& all = survey.install.set_legs;
  for (Index i = 0; i < all.size(); ++i)
    if (all[i].room == survey.rooms[room].id && all[i].unit == unit && all[i].position == position)
      found = i;
  return found;
}

}  // namespace

Index LegsToSet::unit_of(const LegToSet& leg) const {
  for (Index u = 0; u < units.size(); ++u)
    if (units[u].id == leg.unit) return u;
  return 0;
}

int LegsToSet::set() const {
  return int(std::count_if(legs.begin(), legs.end(),
                           [](const LegToSet& leg) { return leg.set && !leg.moved; }));
}

LegsToSet legs_to_set(const Survey& survey, Index room, const RoomResult& result,
                      const std::vector<std::optional<PlacedRun>>& placed,
                      const std::optional<InstallResult>& read) {
  LegsToSet out;
  std::vector<const LegResult*> order;
  for (const LegResult& leg : result.legs) order.push_back(&leg);
  // Those without an order (no floor read) come last.
  std::stable_sort(order.begin(), order.end(), [](const LegResult* a, const LegResult* b) {
    return (a->order > 0 ? a->order : 1 << 30) < (b->order > 0 ? b->order : 1 << 30);
  });
  const auto& runs = survey.rooms[room].runs;
  for (Index r = 0; r < runs.size() && r < placed.size(); ++r) {
    if (!placed[r]) continue;
    for (const PlacedUnit& p : placed[r]->units) {
      if (p.legs.empty()) continue;
      const Unit& unit = runs[r].units[p.unit];
      out.units.push_back({unit.id,
                           runs[r].id,
                           words_of(unit, survey.job.decimal),
                           p.right - p.left,
                           p.front - p.back,
                           {}});
    }
  }
  for (const LegResult* leg : order) {
    LegToSet to;
    to.unit = leg->unit;
    to.position = leg->position;
    to.height = leg->height;
    to.sd = leg->sd;
    to.turns = leg->turns;
    to.judged = judged(survey, room, *leg);
    to.sum = with_decimal_sign(leg->sum, survey.job.decimal);
    to.captions = leg_captions(survey, room, *leg);
    for (Index r = 0; r < runs.size() && r < placed.size(); ++r) {
      if (!placed[r]) continue;
      for (const PlacedUnit& p : placed[r]->units) {
        if (runs[r].units[p.unit].id != leg->unit) continue;
        if (p.leg_type) to.supplied = runs[r].furniture.legs[*p.leg_type].supplied;
        for (const PlacedLeg& at : p.legs)
          if (at.position == leg->position) {
            to.from_left = at.u - p.left;
            to.from_back = at.v - p.back;
          }
      }
    }
    if (const auto set = set_index(survey, room, to.unit, to.position))
      to.set = survey.install.set_legs[*set].height;
    bool top_read = false;
    if (read)
      for (const UnitLevelResult& unit : read->unit_levels)
        top_read = top_read || (unit.room == result.id && unit.unit == leg->unit);
    to.moved = to.set && to.height && !top_read &&
               std::abs(std::round(*to.set) - std::round(*to.height)) >= worth_a_turn;
    out.legs.push_back(std::move(to));
  }
  for (UnitToSet& unit : out.units)
    for (const LegResult& leg : result.legs)
      for (Index i = 0; i < out.legs.size(); ++i)
        if (leg.unit == unit.id && out.legs[i].unit == unit.id &&
            out.legs[i].position == leg.position)
          unit.legs.push_back(i);
  return out;
}

Json set_legs_patch(const Json& document, const Survey& survey, Index room,
                    const std::vector<LegSet>& legs, const std::string& at, const std::string& by) {
  const std::string list = "/install/set_legs";
  Json patch = Json::array();
  if (!value_at(document, list)) patch = set_patch(document, list, Json::array());
  for (const LegSet& leg : legs) {
    Json entry = {{"unit", leg.unit},
                  {"position", leg.position},
                  {"height", leg.height},
                  {"at", at},
                  {"by", by}};
    if (survey.rooms.size() > 1) entry["room"] = survey.rooms[room].id;
    const auto old = set_index(survey, room, leg.unit, leg.position);
    patch.push_back({{"op", old ? "replace" : "add"},
                     {"path", list + "/" + (old ? std::to_string(*old) : "-")},
                     {"value", std::move(entry)}});
  }
  return patch;
}

}  // namespace levelrun
