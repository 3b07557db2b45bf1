#include "checks/solve.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include "checks/aisles.h"
#include "checks/cautions.h"
#include "checks/clearances.h"
#include "checks/completeness.h"
#include "checks/corner_joints.h"
#include "checks/datum.h"
#include "checks/day_setups.h"
#include "checks/doors.h"
#include "checks/end_panels.h"
#include "checks/fits.h"
#include "checks/fixing_zones.h"
#include "checks/group_findings.h"
#include "checks/laid_floor.h"
#include "checks/legs.h"
#include "checks/next_minute.h"
#include "checks/opening_sums.h"
#include "checks/partial_release.h"
#include "checks/plinth_cuts.h"
#include "checks/pointer.h"
#include "checks/round_numbers.h"
#include "checks/service_clearances.h"
#include "checks/service_voids.h"
#include "checks/stated_sums.h"
#include "checks/survey_gaps.h"
#include "checks/tall_units.h"
#include "checks/tolerance_table.h"
#include "checks/underside_proposal.h"
#include "checks/unit_levelling.h"
#include "checks/unit_openings.h"
#include "checks/unknown_words.h"
#include "checks/wall_faces.h"
#include "checks/wall_units.h"
#include "checks/way_in.h"
#include "checks/ways_out.h"
#include "checks/words.h"
#include "checks/worktops.h"

namespace levelrun {
namespace {

// Findings of all rooms, each given its room's name and an id that says code and place, unlike any
// other.
class Findings {
 public:
  void take(const std::string& room, std::vector<Finding> some) {
    for (Finding& f : some) {
      f.room = room;
      // One that names no id of its own is known by its place in the room.
      if (const std::size_t rooms = f.at.find('/', 7); f.id.empty() && rooms != std::string::npos)
        f.id = f.at.substr(rooms + 1);
      const std::string id = slug(f.code) + "/" + room + (f.id.empty() ? "" : "/" + f.id);
      f.id = id;
      for (int& n = last_[id]; !ids_.insert(f.id).second;)
        f.id = id + "#" + std::to_string(n = std::max(n, 1) + 1);
      all_.push_back(std::move(f));
    }
  }
  std::vector<Finding> all() { return std::move(all_); }

 private:
  std::vector<Finding> all_;
  std::unordered_set<std::string> ids_;
  std::unordered_map<std::string, int> last_;  // of each id, the last number put behind it
};

std::vector<Finding> floor_not_read(const Survey& survey, Index room_index,
                                    const FloorSurface& floor, const RoomPlan& plan) {
  const Room& room = survey.rooms[room_index];
  std::vector<Finding> out;
  const auto add = [&](const char* code, std::string id, std::string at, std::string says,
                       std::string remedy) {
    Finding f;
    f.code = code;
    f.severity = Severity::hold;
    f.id = std::move(id);
    f.at = std::move(at);
    f.says = std::move(says);
    f.remedy = std::move(remedy);
    out.push_back(std::move(f));
  };
  for (const FloorResult& area : floor.results())
    if (!area.model && !room.runs.empty())
      add("floor not read", area.area, pointer(room_index) + "/levels",
          room.floor_areas.empty() ? "The floor was not read: no heights, legs or plinths."
                                   : "Floor area " + area.area +
                                         " was not read: nothing on it has "
                                         "a height.",
          "Book the benchmark and floor readings along the runs.");
  for (Index r = 0; r < room.runs.size(); ++r)
    if (room.runs[r].wall && !plan.known)
      add("run without a position", room.runs[r].id, pointer(room_index, "runs", r),
          "Run " + room.runs[r].id + " stands on a wall whose place is not known.",
          "Measure the lengths that the plan needs.");
  return out;
}

template <class T>
void append(std::vector<T>& to, std::vector<T> some) {
  for (T& one : some) to.push_back(std::move(one));
}

RoomResult solve_room(const Survey& as_planned, Index index, Findings& findings,
                      InstallResult& day) {
  RoomPlan plan = adjust_room(as_planned, index);
  const RoomLevels levels = adjust_room_levels(as_planned, index);
  const FloorSurface floor(as_planned, index, plan, levels);
  // Plan, levels and bare floor know nothing of what is laid; all after this stands on it.
  DaySetUps setups = day_setups(as_planned, index, levels);
  LaidFloor laid = laid_floor(as_planned, index, plan, floor, setups.results);
  std::optional<Survey> as_laid;
  if (laid.layers) {
    as_laid = as_planned;
    as_laid->rooms[index].flooring.laid = *laid.layers;
  }
  const Survey& survey = as_laid ? *as_laid : as_planned;
  const Room& room = survey.rooms[index];
  RoomResult out;
  out.id = room.id;
  const auto runs = placed_runs(survey, index, plan);
  const std::vector<LegPlace> legs = leg_places(room, runs, floor);
  const std::vector<PlinthPiece> plinths = plinth_pieces(survey, index, plan, runs, floor);
  const RoomFacts facts{survey, index, room, plan, levels, floor, runs, legs, plinths};

  findings.take(room.id, plan.findings);
  findings.take(room.id, levels.findings);
  findings.take(room.id, floor.findings());
  findings.take(room.id, floor_not_read(survey, index, floor, plan));
  findings.take(room.id, flooring_findings(survey, index));
  findings.take(room.id, survey_gaps(facts));
  findings.take(room.id, opening_sums(facts));
  findings.take(room.id, round_numbers(survey, index));
  Completeness complete = completeness(facts);
  findings.take(room.id, std::move(complete.findings));
  out.missing = std::move(complete.missing);
  out.next_minute = next_minute(facts, complete.today);

  for (const LevelGroupFacts& group : level_group_facts(facts)) {
    if (!has_datum(group)) continue;
    GroupResult result = level_group_datum(facts, group);
    result.ways_out = ways_out(facts, group, result);
    findings.take(room.id, group_findings(facts, group, result));
    out.groups.push_back(std::move(result));
  }

  LegHeights heights = leg_heights(facts, out.groups);
  PlinthCuts cuts = plinth_cuts(facts, out.groups);
  WallFaces faces = wall_faces(survey, index);
  Fits fits = run_fits(facts);
  ServiceVoids voids = service_voids(facts, out.groups);
  for (auto* some :
       {&heights.findings, &cuts.findings, &faces.findings, &fits.findings, &voids.findings})
    findings.take(room.id, std::move(*some));

  out.levels = levels.results;
  out.level_net = levels.net;
  out.level_readings = levels.reading_results;
  out.floor = floor.results();
  out.legs = std::move(heights.legs);
  out.plinths = std::move(cuts.plinths);
  out.boards = std::move(cuts.boards);
  out.boards_bound = cuts.boards_bound;
  out.end_panels = end_panels(facts, out.groups);
  out.walls = std::move(faces.walls);
  out.fits = std::move(fits.fits);
  out.services = std::move(voids.services);
  out.run_voids = std::move(voids.runs);
  const auto add = [&](Clearances some) {
    findings.take(room.id, std::move(some.findings));
    for (ClearanceResult& one : some.clearances) out.clearances.push_back(std::move(one));
  };
  add({std::move(fits.clearances), {}});
  add(unit_openings(facts, out.groups));
  add(tall_units(facts, out.groups));
  add(wall_units(facts, out.groups));
  add(service_clearances(facts, out.groups));
  findings.take(room.id, fixing_zones(facts, out.groups));
  findings.take(room.id, cautions(facts));
  Worktops tops = worktops(facts);
  out.worktops = std::move(tops.worktops);
  add({std::move(tops.clearances), std::move(tops.findings)});
  add(aisles(facts));
  add(doors(facts));
  add(way_in(facts));

  findings.take(room.id, std::move(setups.findings));
  findings.take(room.id, std::move(laid.findings));
  UnitLevels unit_levels = unit_levelling(facts, out.groups, out.legs, setups.results);
  findings.take(room.id, std::move(unit_levels.findings));
  if (as_laid) append(day.proposals, underside_proposals(as_planned, facts, out.groups));
  append(day.laid_floor, std::move(laid.results));
  append(day.setups, std::move(setups.results));
  append(day.unit_levels, std::move(unit_levels.units));

  // The plan's own results last: the checks above read them where they are.
  out.corners = std::move(plan.corner_results);
  judge_corners(survey, out.corners);
  out.observations = std::move(plan.observations);
  out.plan = std::move(plan.summary);
  return out;
}

// An answer needs a name and a date; a fit hold passes only where the answer releases it, a safety
// one never.
void apply_answers(const Survey& survey, std::vector<Finding>& findings) {
  std::unordered_map<std::string_view, std::vector<Finding*>> of_id;
  for (Finding& f : findings) of_id[f.id].push_back(&f);
  for (const Answer& answer : survey.install.answers) {
    if (answer.by.empty() || answer.at.empty()) continue;
    const auto found = of_id.find(answer.finding);
    if (found == of_id.end()) continue;
    for (Finding* f : found->second)
      f->answered = f->answered || f->severity == Severity::query ||
                    (f->severity == Severity::hold && answer.releases && !f->safety);
  }
}

}  // namespace

Results solve(const Survey& survey) {
  Results out;
  out.reference = survey.job.reference;
  out.revision = survey.job.revision;
  Findings findings;
  InstallResult day;
  for (Index room = 0; room < survey.rooms.size(); ++room)
    out.rooms.push_back(solve_room(survey, room, findings, day));
  if (!day.empty()) out.install = std::move(day);
  out.findings = findings.all();
  for (Finding& f : table_findings(survey.job)) {
    f.id = slug(f.code) + (f.id.empty() ? "" : "/" + f.id);
    out.findings.push_back(std::move(f));
  }
  for (Finding& f : stated_sum_findings(survey)) out.findings.push_back(std::move(f));
  for (Finding& f : unknown_words(survey)) out.findings.push_back(std::move(f));
  apply_answers(survey, out.findings);
  std::stable_sort(out.findings.begin(), out.findings.end(),
                   [](const Finding& a, const Finding& b) { return a.severity < b.severity; });
  for (const Finding& f : out.findings) {
    if (f.answered) continue;
    out.manufacture.holds += f.severity == Severity::hold;
    out.manufacture.queries_open += f.severity == Severity::query;
  }
  out.manufacture.open = out.manufacture.holds == 0 && out.manufacture.queries_open == 0;
  out.manufacture.may_cut = may_cut(parts_to_cut(survey, out), survey.rooms.size() > 1);
  return out;
}

}  // namespace levelrun
