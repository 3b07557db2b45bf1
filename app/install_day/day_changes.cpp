#include "app/install_day/day_changes.h"

#include <algorithm>

#include "app/entry/comparison_words.h"
#include "checks/solve.h"

namespace levelrun {

Comparison day_changes(const Json& document, const Results& today) {
  Json before = document;
  if (const auto install = before.find("install"); install != before.end() && install->is_object())
    for (const char* of_today : {"finished_floor", "setups", "unit_levels"})
      install->erase(of_today);
  if (const auto rooms = before.find("rooms"); rooms != before.end() && rooms->is_array())
    for (Json& room : *rooms) {
      const auto groups = room.is_object() ? room.find("level_groups") : room.end();
      if (groups == room.end() || !groups->is_array()) continue;
      for (Json& group : *groups)
        if (group.is_object() && group.contains("underside_set") &&
            group["underside_set"].contains("released")) {
          group["underside_set"]["value"] = group["underside_set"]["released"];
          group["underside_set"].erase("released");
        }
    }
  const auto read = read_survey(write_survey(before));
  if (!read.ok()) return {};
  return compare(before, solve(read.value().survey), document, today);
}

std::vector<ChangedLine> changed_today(const Comparison& changes, char decimal) {
  std::vector<ChangedLine> lines;
  for (const FindingChange& change : changes.findings)
    if (change.move == FindingMove::came || change.move == FindingMove::changed)
      lines.push_back({change.finding.severity, true, change.finding.says});
  std::stable_sort(lines.begin(), lines.end(), [](const ChangedLine& a, const ChangedLine& b) {
    return int(a.severity) < int(b.severity);
  });
  const auto rank = [](const Movement& m) {
    return m.kind == "leg" ? 0 : m.kind == "plinth" ? 1 : m.kind == "level group" ? 2 : 3;
  };
  std::vector<Movement> movements = changes.movements;
  std::stable_sort(movements.begin(), movements.end(),
                   [&](const Movement& a, const Movement& b) { return rank(a) < rank(b); });
  for (const Movement& m : movements)
    lines.push_back({Severity::note, false, movement_words(m, decimal)});
  for (const FindingChange& change : changes.findings)
    if (change.move == FindingMove::went)
      lines.push_back({Severity::note, true, "No longer: " + change.finding.says});
  return lines;
}

}  // namespace levelrun
