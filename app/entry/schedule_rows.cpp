#include "app/entry/schedule_rows.h"

#include <cmath>

#include "app/text_number.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

const LegType* leg_type_of(const Survey& survey, Index room, const LegResult& leg) {
  for (const Run& run : survey.rooms[room].runs)
    for (const Unit& unit : run.units)
      if (unit.id == leg.unit)
        for (const LegType& type : run.furniture.legs)
          if (type.id == leg.type) return &type;
  return nullptr;
}

void add(std::string& words, const std::string& more) {
  if (!more.empty()) words += (words.empty() ? "" : ", ") + more;
}

std::vector<ScheduleRow> legs(const Survey& survey, Index room, const RoomResult& result) {
  const char decimal_sign = survey.job.decimal;
  std::vector<ScheduleRow> rows;
  for (const Run& run : survey.rooms[room].runs)
    for (const Unit& unit : run.units)
      for (const LegResult& leg : result.legs) {
        if (leg.unit != unit.id) continue;
        ScheduleRow row;
        row.title = leg.unit + " " + spaced(leg.position);
        row.value = with_band(leg.height, leg.sd, decimal_sign);
        if (!leg.height) row.words = "floor not read here";
        if (!leg.type.empty()) add(row.words, "type " + leg.type);
        if (leg.turns) add(row.words, shown_change(leg.turns, 1, decimal_sign) + " turns");
        if (leg.order > 0) add(row.words, "set as number " + std::to_string(leg.order));
        if (leg.foot_clear)
          add(row.words, "foot clear by " + shown(leg.foot_clear, 0, decimal_sign));
        row.judged = judged(survey, room, leg);
        row.sum = with_decimal_sign(leg.sum, decimal_sign);
        row.captions = leg_captions(survey, room, leg);
        row.at = unit_pointer(survey, room, leg.unit);
        row.x = leg.x;
        row.y = leg.y;
        rows.push_back(std::move(row));
      }
  return rows;
}

std::vector<ScheduleRow> plinths(const Survey& survey, Index room, const RoomResult& result) {
  const char decimal_sign = survey.job.decimal;
  const auto mm = [&](Unknown v) { return shown(v, 1, decimal_sign); };
  std::vector<ScheduleRow> rows;
  for (const PlinthResult& p : result.plinths) {
    ScheduleRow row;
    row.title = "Plinth " + p.run + " " + p.face + " " + std::to_string(p.piece);
    row.value = mm(p.height_left);
    if (p.height_left != p.height_right) row.value += " to " + mm(p.height_right);
    row.words = shown(p.length, 0, decimal_sign) + " long, ";
    row.words += p.top == TopCut::none       ? "top edge whole"
                 : p.top == TopCut::parallel ? "top edge cut parallel"
                                             : "top edge cut to a taper";
    if (p.bottom == BottomCut::scribe) row.words += ", bottom edge scribed";
    row.words += ", gap at the floor " + mm(p.floor_gap);
    if (!p.sealed_edge_down) row.words += ", sealed edge lost";
    double limit = 0;
    for (Index r = 0; r < survey.rooms[room].runs.size(); ++r)
      if (survey.rooms[room].runs[r].id == p.run) {
        limit = survey.rooms[room].runs[r].furniture.plinth.top_gap_max;
        row.at = pointer(room, "runs", r);
      }
    row.judged = Judged{p.verdict, p.top_gap_greatest, p.sd, std::nullopt, limit};
    row.sum = with_decimal_sign(p.sum, decimal_sign);
    row.captions = captions_of(p);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ScheduleRow> walls(const Survey& survey, Index room, const RoomResult& result) {
  const char decimal_sign = survey.job.decimal;
  std::vector<ScheduleRow> rows;
  for (const WallResult& w : result.walls) {
    ScheduleRow row;
    row.title = "Wall " + w.wall;
    if (w.lean) row.value = "lean " + with_band(w.lean, w.sd, decimal_sign);
    if (w.bow)
      add(row.words,
          "bow " + shown(std::abs(*w.bow), 1, decimal_sign) + (*w.bow < 0 ? " proud" : " hollow"));
    if (w.gap) add(row.words, "gap behind a straight edge " + shown(w.gap, 1, decimal_sign));
    if (w.rocks) add(row.words, "it rocks");
    if (!w.lean && !w.bow) row.words = "not measured out of plumb";
    if (w.worst) {
      const double off = std::abs(w.worst->deviation);
      if (w.verdict)
        row.judged = Judged{*w.verdict, off, w.worst->sd, std::nullopt, w.worst->limit};
      row.sum = w.worst->line + ": out of flat " + shown(off, 1, decimal_sign) + " of " +
                shown_short(w.worst->limit, 1, decimal_sign) + " over " +
                shown(w.worst->span, 0, decimal_sign);
    }
    for (Index i = 0; i < survey.rooms[room].walls.size(); ++i)
      if (survey.rooms[room].walls[i].id == w.wall) row.at = pointer(room, "walls", i);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ScheduleRow> services(const Survey& survey, Index room, const RoomResult& result) {
  const char decimal_sign = survey.job.decimal;
  std::vector<ScheduleRow> rows;
  for (const ServiceResult& s : result.services) {
    ScheduleRow row;
    row.title = "Service " + s.service;
    if (s.void_here) row.value = "void " + with_band(s.void_here, s.void_sd, decimal_sign);
    row.words = s.height_zone;
    if (s.void_needed) add(row.words, "needs " + shown_short(*s.void_needed, 1, decimal_sign));
    for (const std::string& clash : s.clashes) add(row.words, "clashes with " + clash);
    if (s.fall)
      add(row.words, "fall " + shown(s.fall->available, 1, decimal_sign) + " mm/m of " +
                         shown(s.fall->length, 0, decimal_sign));
    row.judged = judged(s);
    row.sum = with_decimal_sign(s.sum, decimal_sign);
    row.captions = captions_of(s);
    for (Index i = 0; i < survey.rooms[room].services.size(); ++i)
      if (survey.rooms[room].services[i].id == s.service) row.at = pointer(room, "services", i);
    rows.push_back(std::move(row));
  }
  for (const RunVoidResult& v : result.run_voids) {
    if (!v.needed) continue;
    ScheduleRow row;
    row.title = "Void behind run " + v.run;
    row.value = shown_short(v.here, 1, decimal_sign);
    row.words = "needs " + with_band(v.needed, v.sd, decimal_sign) + " for " + v.service;
    if (v.verdict)
      row.judged = Judged{*v.verdict, v.here, v.sd.value_or(0), *v.needed, std::nullopt};
    row.sum = with_decimal_sign(v.sum, decimal_sign);
    row.captions = {"service", "hollow", "band", "void needed"};
    for (Index i = 0; i < survey.rooms[room].runs.size(); ++i)
      if (survey.rooms[room].runs[i].id == v.run) row.at = pointer(room, "runs", i);
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

std::vector<ScheduleRow> schedule_rows(Schedule which, const Survey& survey, Index room,
                                       const RoomResult& result) {
  switch (which) {
    case Schedule::legs:
      return legs(survey, room, result);
    case Schedule::plinths:
      return plinths(survey, room, result);
    case Schedule::walls:
      return walls(survey, room, result);
    case Schedule::services:
      return services(survey, room, result);
  }
  return {};
}

std::vector<std::string> captions_of(const PlinthResult& p) {
  if (p.top != TopCut::none) return {"underside", "floor", "gap kept", "as cut"};
  if (p.bottom == BottomCut::scribe)
    return {"underside", "floor", "board", "scribed off", "top gap"};
  return {"underside", "floor", "board", "top gap"};
}

std::vector<std::string> captions_of(const ServiceResult& s) {
  // Its hollow names itself; without one the void is as it is.
  if (s.sum.find(" + ") == s.sum.npos) return {"void here", "service", "left over"};
  return {"void ordered", "hollow", "service", "left over"};
}

std::string with_band(Unknown value, Unknown sd, char decimal_sign) {
  std::string text = shown(value, 1, decimal_sign);
  if (value && sd) text += " ±" + shown(band95 * *sd, 1, decimal_sign);
  return text;
}

std::string unit_pointer(const Survey& survey, Index room, const std::string& unit) {
  const Room& facts = survey.rooms[room];
  for (Index r = 0; r < facts.runs.size(); ++r)
    for (Index u = 0; u < facts.runs[r].units.size(); ++u)
      if (facts.runs[r].units[u].id == unit)
        return pointer(room, "runs", r) + "/units/" + std::to_string(u);
  return {};
}

std::vector<std::string> leg_captions(const Survey& survey, Index room, const LegResult& leg) {
  std::vector<std::string> captions = {"underside", "bare floor"};
  // underside − bare floor − each layer = leg
  const auto terms = [&] {
    std::size_t n = 1;
    for (std::size_t at = 0; (at = leg.sum.find(" − ", at)) != leg.sum.npos; ++at) ++n;
    return n;
  }();
  const std::vector<LaidLayer>& laid = survey.rooms[room].flooring.laid;
  for (std::size_t i = 2; i < terms; ++i)
    captions.push_back(terms == 3                                        ? "new floor"
                       : i - 2 < laid.size() && terms - 2 == laid.size() ? laid[i - 2].name
                                                                         : "layer");
  captions.push_back(leg.sd ? "leg ±" + shown(band95 * *leg.sd, 1, survey.job.decimal) : "leg");
  return captions;
}

std::optional<Judged> judged(const Survey& survey, Index room, const LegResult& leg) {
  const LegType* type = leg_type_of(survey, room, leg);
  if (!leg.height || !leg.verdict || !type) return std::nullopt;
  return Judged{*leg.verdict, *leg.height, leg.sd.value_or(0), type->min, type->max};
}

std::optional<Judged> judged(const ServiceResult& s) {
  if (!s.verdict || !s.void_here || !s.void_needed) return std::nullopt;
  return Judged{*s.verdict, *s.void_here, s.void_sd.value_or(0), *s.void_needed, std::nullopt};
}

std::optional<Judged> judged(const ClearanceResult& c) {
  if (!c.verdict || !c.clear) return std::nullopt;
  Judged j{*c.verdict, *c.clear, c.sd.value_or(0), std::nullopt, std::nullopt};
  (c.most ? j.most : j.least) = c.needed;
  return j;
}

}  // namespace levelrun
