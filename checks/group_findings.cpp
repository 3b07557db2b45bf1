#include "checks/group_findings.h"

#include <algorithm>

#include "checks/pointer.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double nothing_moved = 0.05;  // mm

Finding start(const RoomFacts& facts, const LevelGroupFacts& group, const char* code,
              Severity severity) {
  Finding f;
  f.code = code;
  f.severity = severity;
  f.id = group.id;
  f.at = group.asked ? pointer(facts.index, "level_groups",
                               Index(group.asked - facts.room.level_groups.data()))
                     : pointer(facts.index, "runs", group.runs.front());
  f.unit = "mm";
  return f;
}

const GroupBound* bound_named(const LevelGroupFacts& group, const std::string& name, bool lower) {
  for (const GroupBound& b : group.bounds)
    if (b.bound.lower == lower && named(b.bound) == name) return &b;
  return nullptr;
}

// "105.8 (108.4 with its band)": what a hard bound asks by its best estimate, and what it is held
// to, tightened by the half 95 % band; sums count with the latter.
std::string asked_of_underside(const GroupBound* bound) {
  if (!bound) return decimal(0);
  const std::string value = decimal(bound->bound.value), applied = decimal(bound->bound.applied);
  return value == applied ? value : value + " (" + applied + " with its band)";
}

}  // namespace

std::vector<Finding> group_findings(const RoomFacts& facts, const LevelGroupFacts& group,
                                    const GroupResult& result) {
  std::vector<Finding> out;
  if (result.conflict) {
    const Conflict& conflict = *result.conflict;
    const GroupBound* lower = bound_named(group, conflict.lower, true);
    const GroupBound* upper = bound_named(group, conflict.upper, false);
    // By best estimates it may still fit: then somebody must measure again, not redesign.
    const bool sure = conflict.by > 0;
    Finding f = start(facts, group, sure ? "no level suits all" : "no level is sure to suit all",
                      sure ? Severity::hold : Severity::query);
    if (lower) f.measured = lower->bound.value;
    if (upper) f.limit = upper->bound.value;
    f.source = "bounds of this survey";
    f.says = "Level group " + group.id + ": " + (lower ? phrase(lower->bound) : conflict.lower) +
             " asks U ≥ " + asked_of_underside(lower) + ", " +
             (upper ? phrase(upper->bound) : conflict.upper) + " U ≤ " + asked_of_underside(upper) +
             ": " +
             (sure ? decimal(conflict.by) + " ±" + decimal(band95 * conflict.sd) + " short."
                   : "too close to call, ±" + decimal(band95 * conflict.sd) + ".");
    for (const WayOut& way : result.ways_out)
      f.remedy += (f.remedy.empty() ? "Ways out: " : "; or ") + way.what;
    if (f.remedy.empty())
      f.remedy = "No way out was found among legs, boards and levels.";
    else
      f.remedy += ".";
    out.push_back(std::move(f));
  }
  const bool kept =
      std::none_of(group.bounds.begin(), group.bounds.end(), [&](const GroupBound& b) {
        const double by =
            b.bound.lower ? b.bound.value - result.underside : result.underside - b.bound.value;
        return b.bound.kind == BoundKind::asked_height && by > nothing_moved;
      });
  if (!kept) {
    Finding f = start(facts, group, "asked height not kept", Severity::query);
    f.measured = result.worktop_above_floor.at;
    f.limit = *group.asked->asked_height;
    f.source = "asked ±" + millimetres(group.asked->tolerance);
    f.says = "Worktop of level group " + group.id + " comes " + decimal(f.measured.value_or(0)) +
             " above the finished floor; asked " + millimetres(*f.limit) + " ±" +
             millimetres(group.asked->tolerance) + ".";
    f.remedy = "Ask the client, or change legs or boards so that U may move.";
    out.push_back(std::move(f));
  }
  if (kept && group.asked && group.asked->asked_height && result.worktop_above_floor.at) {
    Finding f = start(facts, group, "worktop above finished floor", Severity::note);
    f.measured = result.worktop_above_floor.at;
    f.limit = *group.asked->asked_height;
    f.source = "asked ±" + millimetres(group.asked->tolerance);
    f.says = "Worktop " + decimal(*f.measured) + " above the finished floor; asked " +
             millimetres(*f.limit) + " ±" + millimetres(group.asked->tolerance) + ".";
    out.push_back(std::move(f));
  }
  return out;
}

}  // namespace levelrun
