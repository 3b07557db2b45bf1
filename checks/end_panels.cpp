#include "checks/end_panels.h"

#include <algorithm>
#include <cmath>

#include "checks/words.h"

namespace levelrun {

std::vector<EndPanelResult> end_panels(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  std::vector<EndPanelResult> out;
  for (Index r = 0; r < f.runs.size(); ++r) {
    if (!f.runs[r]) continue;
    const Run& run = f.room.runs[r];
    const auto group = std::find_if(groups.begin(), groups.end(),
                                    [&](const GroupResult& g) { return g.id == run.level_group; });
    for (const PlacedUnit& unit : f.runs[r]->units) {
      if (run.units[unit.unit].kind != UnitKind::end_panel) continue;
      EndPanelResult panel;
      panel.run = run.id;
      panel.unit = run.units[unit.unit].id;
      const double middle = (unit.left + unit.right) / 2;
      const PlanPoint places[] = {f.runs[r]->frame.at(middle, unit.front),
                                  f.runs[r]->frame.at(middle, unit.back)};
      const auto bare = f.floor.estimates(places);
      if (group != groups.end() && bare[0] && bare[1]) {
        const double top = group->underside + unit.top_offset;
        const LaidOver front = laid_over_bare(f.room, Floor::finished, f.floor.area_at(places[0]));
        const LaidOver back = laid_over_bare(f.room, Floor::bearing, f.floor.area_at(places[1]));
        panel.front = top - bare[0]->value - front.thickness.value;
        panel.back = top - bare[1]->value - back.thickness.value;
        panel.sd = std::max(std::hypot(bare[0]->sd, front.thickness.sd),
                            std::hypot(bare[1]->sd, back.thickness.sd));
        panel.sum = "front " + decimal(top) + " − " + term(bare[0]->value) + " − " +
                    term(front.thickness.value) + " = " + decimal(*panel.front) + "; back " +
                    decimal(top) + " − " + term(bare[1]->value) + " − " +
                    term(back.thickness.value) + " = " + decimal(*panel.back);
      }
      out.push_back(std::move(panel));
    }
  }
  return out;
}

}  // namespace levelrun
