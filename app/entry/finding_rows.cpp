#include "app/entry/finding_rows.h"

#include <algorithm>
#include <set>

#include "app/entry/set_patch.h"
#include "app/text_number.h"
#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

std::optional<Index> room_of(const Survey& survey, const std::string& id) {
  for (Index r = 0; r < survey.rooms.size(); ++r)
    if (survey.rooms[r].id == id) return r;
  return std::nullopt;
}

// The leg that a finding is about: its id ends in unit and position.
const LegResult* leg_of(const Finding& f, const RoomResult& room) {
  if (!f.code.starts_with("leg ")) return nullptr;
  for (const LegResult& leg : room.legs)
    if (f.id.ends_with("/" + leg.unit + "/" + leg.position)) return &leg;
  return nullptr;
}

const GroupResult* group_of(const Finding& f, const Survey& survey, Index room,
                            const RoomResult& result) {
  const Room& facts = survey.rooms[room];
  const auto by_id = [&](const std::string& id) -> const GroupResult* {
    for (const GroupResult& group : result.groups)
      if (group.id == id) return &group;
    return nullptr;
  };
  for (Index g = 0; g < facts.level_groups.size(); ++g)
    if (f.at == pointer(room, "level_groups", g)) return by_id(facts.level_groups[g].id);
  for (Index r = 0; r < facts.runs.size(); ++r) {
    const std::string at = pointer(room, "runs", r);
    if (f.at == at || f.at.starts_with(at + "/")) return by_id(facts.runs[r].level_group);
  }
  return nullptr;
}

void add_leg(FindingRow& row, const LegResult& leg, const Survey& survey) {
  row.title = "Leg " + leg.unit + ", " + spaced(leg.position);
  row.judged = judged(survey, *row.room, leg);
  row.sum = leg.sum;
  row.captions = leg_captions(survey, *row.room, leg);
  row.x = leg.x;
  row.y = leg.y;
  const Finding& f = row.finding;
  if (!f.limit) return;
  const auto say = [&](const Furniture& furniture) {
    for (const LegType& type : furniture.legs)
      if (type.id == leg.type)
        row.limit_words = *f.limit == type.max   ? "Longest leg of this type"
                          : *f.limit == type.min ? "Shortest leg of this type"
                                                 : row.limit_words;
  };
  say(survey.furniture);
  for (const Run& run : survey.rooms[*row.room].runs) say(run.furniture);
}

// Sum and verdict of what the finding measured, found by where it stands and by its number.
void add_result(FindingRow& row, const Survey& survey, const RoomResult& result) {
  const Finding& f = row.finding;
  const Room& facts = survey.rooms[*row.room];
  for (const PlinthResult& p : result.plinths)
    if (f.id.ends_with("/" + p.run + "/" + p.face + "/" + std::to_string(p.piece))) {
      row.sum = p.sum;
      row.captions = captions_of(p);
    }
  for (Index i = 0; i < facts.services.size() && i < result.services.size(); ++i)
    if (f.at == pointer(*row.room, "services", i) && f.code.find("void") != f.code.npos) {
      const ServiceResult& service = result.services[i];
      row.judged = judged(service);
      if (row.judged) {
        row.number = shown(service.void_here, 1, survey.job.decimal);
        row.limit = shown_short(*service.void_needed, 1, survey.job.decimal);
      }
      row.sum = result.services[i].sum;
      row.captions = captions_of(result.services[i]);
    }
  for (const ClearanceResult& c : result.clearances)
    if (c.at == f.at && f.measured && c.clear == f.measured) {
      row.judged = judged(c);
      row.sum = c.sum;
    }
}

// The worktop against the height asked for, with the band of what limits U to it.
void add_asked_height(FindingRow& row, const GroupResult& group, const Room& room,
                      char decimal_sign) {
  const auto facts = std::find_if(room.level_groups.begin(), room.level_groups.end(),
                                  [&](const LevelGroup& g) { return g.id == group.id; });
  if (facts == room.level_groups.end() || !facts->asked_height || !group.worktop_above_floor.at)
    return;
  const double asked = *facts->asked_height;
  row.limit =
      shown_short(asked, 1, decimal_sign) + " ±" + shown_short(facts->tolerance, 1, decimal_sign);
  for (const Bound& bound : group.bounds) {
    if (bound.kind != BoundKind::asked_height) continue;
    const Estimate worktop{*group.worktop_above_floor.at, bound.sd};
    const double least = asked - facts->tolerance, most = asked + facts->tolerance;
    row.judged = Judged{between(worktop, least, most), worktop.value, worktop.sd, least, most};
    return;
  }
}

void add_answer(FindingRow& row, const Survey& survey) {
  for (const Answer& answer : survey.install.answers)
    if (answer.finding == row.finding.id) {
      row.answer = answer.says;
      row.answered_by = answer.by;
      row.answered_at = answer.at;
    }
}

FindingRow row_of(const PlacedFinding& placed, const Survey& survey, const Results& results) {
  const char decimal_sign = survey.job.decimal;
  const Finding& f = *placed.finding;
  FindingRow row;
  row.finding = f;
  row.section = section_of(f);
  row.title = capital(placed.place) + (placed.part.empty() ? "" : ", " + placed.part);
  row.what = capital(f.code);
  row.says = matter(placed);
  row.at = f.at;
  row.room = room_of(survey, f.room);
  const int decimals = f.unit == "mm" ? 1 : 2;
  if (f.measured)
    row.number = f.unit == "mm" ? shown(f.measured, 1, decimal_sign)
                                : shown_short(*f.measured, 2, decimal_sign);
  if (f.limit) row.limit = shown_short(*f.limit, decimals, decimal_sign);
  // The void that there is, of that which it needs: the finding has them the other way round.
  if (f.code.find("void") != f.code.npos && f.measured && f.limit) {
    row.number = shown(f.limit, 1, decimal_sign);
    row.limit = shown_short(*f.measured, 1, decimal_sign);
  }
  add_answer(row, survey);
  const RoomResult* result =
      row.room && *row.room < results.rooms.size() ? &results.rooms[*row.room] : nullptr;
  if (result) {
    const LegResult* leg = leg_of(f, *result);
    if (leg)
      add_leg(row, *leg, survey);
    else
      add_result(row, survey, *result);
    const GroupResult* group = group_of(f, survey, *row.room, *result);
    const bool of_level = f.code == "no level suits all";
    if (group && (leg || of_level || f.at.find("/level_groups/") != f.at.npos))
      row.ways_out = group->ways_out;
    if (group && of_level) row.sum = group->sum;
    if (group && f.code == "worktop above finished floor")
      add_asked_height(row, *group, survey.rooms[*row.room], decimal_sign);
  }
  const bool hold = f.severity == Severity::hold;
  if (!row.judged && hold && f.measured && f.limit) {
    row.judged = Judged{Verdict::outside, *f.measured, 0, std::nullopt, std::nullopt};
    (*f.measured > *f.limit ? row.judged->most : row.judged->least) = *f.limit;
  }
  if (row.judged && row.judged->verdict == Verdict::outside) {
    const Judged& j = *row.judged;
    if (j.most && j.value > *j.most) row.too_much = j.value - *j.most;
    if (j.least && j.value < *j.least) row.too_much = j.value - *j.least;
  }
  row.sum = with_decimal_sign(row.sum, decimal_sign);
  for (WayOut& way : row.ways_out) {
    way.what = with_decimal_sign(way.what, decimal_sign);
    way.sum = with_decimal_sign(way.sum, decimal_sign);
  }
  return row;
}

}  // namespace

std::vector<FindingRow> finding_rows(const Json& document, const Survey& survey,
                                     const Results& results) {
  std::vector<FindingRow> rows;
  std::set<std::string> labels;
  for (const PlacedFinding& placed : in_reading_order(document, survey, results)) {
    FindingRow row = row_of(placed, survey, results);
    row.label = row.title;
    if (labels.contains(row.label)) row.label += ": " + row.finding.code;
    const std::string stem = row.label;
    for (int n = 2; !labels.insert(row.label).second; ++n)
      row.label = stem + " " + std::to_string(n);
    rows.push_back(std::move(row));
  }
  return rows;
}

FindingCounts finding_counts(const Results& results) {
  FindingCounts n;
  for (const Finding& f : results.findings) switch (section_of(f)) {
      case FindingSection::holds:
        ++n.holds;
        break;
      case FindingSection::queries:
        ++n.queries;
        break;
      case FindingSection::notes:
        ++n.notes;
        break;
      case FindingSection::cautions:
        ++n.cautions;
        break;
      case FindingSection::answered:
        ++n.answered;
        break;
    }
  return n;
}

bool can_be_let_pass(const Finding& f) { return f.severity == Severity::hold && !f.safety; }

std::string fact_in_plan(const Json& document, const Survey& survey, const std::string& at) {
  static const std::set<std::string> lists = {"walls", "openings", "diagonals", "runs", "units"};
  std::string best, path;
  std::string list, room;
  for (std::size_t i = 0; i < at.size();) {
    const std::size_t end = std::min(at.find('/', i + 1), at.size());
    const std::string part = at.substr(i + 1, end - i - 1);
    path += "/" + part;
    const bool index = !part.empty() && part.find_first_not_of("0123456789") == part.npos;
    if (index && list == "rooms") room = path;
    if (index && (lists.contains(list) || path.find("/levels/points/") != path.npos)) best = path;
    if (index && list == "readings")
      if (const Json* point = value_at(document, path + "/point"); point && point->is_string())
        for (const Room& facts : survey.rooms)
          if (pointer(Index(&facts - survey.rooms.data())) == room)
            for (Index p = 0; p < facts.levels.points.size(); ++p)
              if (facts.levels.points[p].id == *point)
                best = room + "/levels/points/" + std::to_string(p);
    list = part;
    i = end;
  }
  return best;
}

}  // namespace levelrun
