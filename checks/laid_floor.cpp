#include "checks/laid_floor.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "checks/flooring.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double default_sd = 2;  // mm: staff read without a named instrument
constexpr double like_plan = 5;   // mm from plan: a number in another unit is meant as the plan

struct Read {
  Index reading = 0;  // in install.finished_floor
  double total = 0;   // thickness over the bare floor
  double own_sd = 0;  // of this reading alone
  double common_sd = 0;
  std::optional<std::size_t> setup;  // in the day's results: its height is common
};

bool of_room(const Survey& survey, Index room, const LaidFloorReading& reading) {
  return reading.room.empty() ? room == 0 : reading.room == survey.rooms[room].id;
}

// The topmost laid layer that exists on an area.
std::optional<Index> top_layer(const Room& room, Index area) {
  for (Index i = room.flooring.laid.size(); i-- > 0;) {
    const auto& only = room.flooring.laid[i].area;
    if (!only || *only == area) return i;
  }
  return std::nullopt;
}

// Mean of the readings with what they share.
struct Mean {
  double value = 0, sd = 0, least = 0, most = 0;
};
Mean mean_of(const std::vector<Read>& reads, const std::vector<DaySetUpResult>& setups) {
  Mean out;
  double weights = 0, chi_square = 0, common = 0;
  for (const Read& r : reads) weights += 1 / (r.own_sd * r.own_sd);
  // About the first one, so that equal readings give their own value back.
  for (const Read& r : reads)
    out.value += (r.total - reads[0].total) / (r.own_sd * r.own_sd) / weights;
  out.value += reads[0].total;
  out.least = out.most = reads[0].total;
  std::map<std::size_t, double> by_setup;
  for (const Read& r : reads) {
    const double share = 1 / (r.own_sd * r.own_sd) / weights;
    chi_square += std::pow((r.total - out.value) / r.own_sd, 2);
    common += share * r.common_sd;
    if (r.setup) by_setup[*r.setup] += share;
    out.least = std::min(out.least, r.total);
    out.most = std::max(out.most, r.total);
  }
  double variance = 1 / weights;
  if (reads.size() > 1) variance *= std::max(1.0, chi_square / double(reads.size() - 1));
  variance += common * common;
  for (const auto& [setup, share] : by_setup)
    variance += std::pow(share * setups[setup].sd.value_or(0), 2);
  out.sd = std::sqrt(variance);
  return out;
}

class Laid {
 public:
  Laid(const Survey& survey, Index index, const RoomPlan& plan, const FloorSurface& floor,
       const std::vector<DaySetUpResult>& setups)
      : survey_(survey),
        index_(index),
        room_(survey.rooms[index]),
        plan_(plan),
        floor_(floor),
        setups_(setups),
        by_layer_(room_.flooring.laid.size()),
        asked_back_(room_.flooring.laid.size(), 0) {}

  LaidFloor all() {
    for (Index i = 0; i < survey_.install.finished_floor.size(); ++i)
      if (of_room(survey_, index_, survey_.install.finished_floor[i])) take(i);
    for (Index layer = 0; layer < by_layer_.size(); ++layer)
      if (!by_layer_[layer].empty() || asked_back_[layer] > 0) settle(layer);
    return std::move(out_);
  }

 private:
  void take(Index i) {
    const LaidFloorReading& reading = survey_.install.finished_floor[i];
    const auto at = plan_.at(reading.place);
    const Index area = at ? floor_.area_at(*at) : 0;
    Read read;
    read.reading = i;
    if (reading.thickness) {
      read.total = *reading.thickness;
      read.own_sd = laid_reading_sd;
    } else if (!from_staff(reading, at, read)) {
      return;
    }
    const auto layer = top_layer(room_, area);
    if (!layer) {
      ask(i, read.total, 0, "floor laid where none was planned",
          "Floor " + std::to_string(i + 1) + " is " + decimal(read.total) +
              " thick, where none was planned: how far it reaches is not known. It is not used.",
          "Enter the layer with how far it runs: to the wall, the front legs or the plinth.");
      return;
    }
    const double planned = laid_over_bare(room_, Floor::finished, area).thickness.value;
    if (!plausible(i, read.total, planned)) {
      ++asked_back_[*layer];
      return;
    }
    under_[*layer] = planned - room_.flooring.laid[*layer].thickness;
    // Areas may have other layers under a shared top one: each reading counts by its departure.
    read.total -= under_[*layer];
    by_layer_[*layer].push_back(read);
  }

  bool from_staff(const LaidFloorReading& reading, const std::optional<PlanPoint>& at,
                  Read& read) const {
    const auto setup = std::find_if(setups_.begin(), setups_.end(), [&](const DaySetUpResult& s) {
      return s.setup == reading.setup;
    });
    if (setup == setups_.end() || !setup->height || !at) return false;
    const auto bare = floor_.estimates({&*at, 1})[0];
    if (!bare) return false;
    read.total = *setup->height - reading.staff - bare->value;
    const auto facts = std::find_if(survey_.install.setups.begin(), survey_.install.setups.end(),
                                    [&](const SetUp& s) { return s.id == reading.setup; });
    read.own_sd = facts != survey_.install.setups.end() && facts->instrument
                      ? survey_.instruments[*facts->instrument].sd
                      : default_sd;
    read.common_sd = bare->sd;
    read.setup = std::size_t(setup - setups_.begin());
    return true;
  }

  bool plausible(Index i, double total, double planned) {
    const std::string name = "Floor " + std::to_string(i + 1);
    const auto unit = thickness_in_other_unit(total, planned);
    if (std::abs(total - planned) <= far_from_plan && !unit) return true;
    std::string says =
        name + " was measured " + decimal(total) + " thick; planned are " + decimal(planned) + ".";
    if (unit) says += " It may be " + decimal(unit->value) + " (" + unit->kind + ").";
    says += " It is not used.";
    ask(i, total, planned, "laid floor far from plan", std::move(says),
        "Measure it again; if it is right, change the planned layer.");
    return false;
  }

  void ask(Index i, double total, double planned, const char* code, std::string says,
           std::string remedy) {
    Finding f;
    f.code = code;
    f.severity = Severity::query;
    f.id = "floor " + std::to_string(i + 1);
    f.at = "/install/finished_floor/" + std::to_string(i);
    f.measured = total;
    f.limit = planned;
    f.unit = "mm";
    f.source = "the plan ±" + millimetres(far_from_plan) + "; common practice, no source";
    f.says = std::move(says);
    f.remedy = std::move(remedy);
    out_.findings.push_back(std::move(f));
  }

  void settle(Index l) {
    const LaidLayer& planned = room_.flooring.laid[l];
    LaidFloorResult result;
    result.room = room_.id;
    result.layer = planned.name;
    result.layer_at = l;
    result.planned = planned.thickness;
    result.readings = int(by_layer_[l].size());
    result.asked_back = asked_back_[l];
    result.moves_legs = planned.to == LaidTo::wall || planned.to == LaidTo::unknown;
    if (!by_layer_[l].empty()) {
      const Mean mean = mean_of(by_layer_[l], setups_);
      result.laid = mean.value;
      result.sd = mean.sd;
      result.difference = mean.value - planned.thickness;
      if (by_layer_[l].size() > 1) result.varies = mean.most - mean.least;
      result.sum = (by_layer_[l].size() == 1
                        ? "1 reading "
                        : "mean of " + std::to_string(by_layer_[l].size()) + " readings ") +
                   decimal(mean.value + under_[l]);
      if (under_[l] != 0) result.sum += " − " + term(under_[l]) + " = " + decimal(mean.value);
      result.sum += "; planned " + decimal(planned.thickness);
      if (!out_.layers) out_.layers = room_.flooring.laid;
      LaidLayer& laid = (*out_.layers)[l];
      laid.thickness = mean.value;
      laid.total_sd = mean.sd;
      if (result.varies && *result.varies > laid_varies_most) varies(l, mean);
    }
    out_.results.push_back(std::move(result));
  }

  void varies(Index l, const Mean& mean) {
    Finding f;
    f.code = "laid floor varies";
    f.severity = Severity::note;
    f.id = room_.flooring.laid[l].name;
    f.at = pointer(index_) + "/flooring/laid/" + std::to_string(l);
    f.measured = mean.most - mean.least;
    f.limit = laid_varies_most;
    f.unit = "mm";
    f.source = "common practice, no source";
    f.says = room_.flooring.laid[l].name + " was measured " + decimal(mean.least) + " to " +
             decimal(mean.most) + " thick; its mean is used everywhere.";
    f.remedy = "Read each unit's level once it stands.";
    out_.findings.push_back(std::move(f));
  }

  const Survey& survey_;
  Index index_;
  const Room& room_;
  const RoomPlan& plan_;
  const FloorSurface& floor_;
  const std::vector<DaySetUpResult>& setups_;
  std::vector<std::vector<Read>> by_layer_;
  std::vector<int> asked_back_;
  std::map<Index, double> under_;  // planned thickness below each top layer
  LaidFloor out_;
};

}  // namespace

std::optional<OtherUnit> thickness_in_other_unit(double booked, double planned) {
  const OtherUnit readings[] = {{booked * 10, "cm for mm, or a digit too few"},
                                {booked * 25.4, "inches for mm"},
                                {booked * 1000, "metres for mm"},
                                {booked / 10, "a digit too many"}};
  std::optional<OtherUnit> best;
  double nearest = std::min(like_plan, std::abs(booked - planned) / 2);
  for (const OtherUnit& r : readings)
    if (const double off = std::abs(r.value - planned); off <= nearest) {
      nearest = off;
      best = r;
    }
  return best;
}

LaidFloor laid_floor(const Survey& survey, Index room, const RoomPlan& plan,
                     const FloorSurface& floor, const std::vector<DaySetUpResult>& setups) {
  if (survey.install.finished_floor.empty()) return {};
  return Laid(survey, room, plan, floor, setups).all();
}

Survey as_released(const Survey& survey) {
  Survey out = survey;
  out.install.finished_floor.clear();
  out.install.setups.clear();
  out.install.unit_levels.clear();
  for (Room& room : out.rooms)
    for (LevelGroup& group : room.level_groups)
      if (group.underside_set && group.underside_set->released) {
        group.underside_set->value = *group.underside_set->released;
        group.underside_set->released.reset();
      }
  return out;
}

}  // namespace levelrun
