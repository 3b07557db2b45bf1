#include "checks/service_voids.h"

#include <algorithm>
#include <cmath>

#include "checks/measured_heights.h"
#include "checks/pointer.h"
#include "checks/run_line.h"
#include "checks/waste_fall.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double projection_sd = 1;  // mm; common practice, no source

bool safety(ServiceKind kind) {
  return kind == ServiceKind::gas || kind == ServiceKind::meter ||
         kind == ServiceKind::consumer_unit;
}

}  // namespace

ServiceVoids service_voids(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  ServiceVoids out;
  for (Index s = 0; s < f.room.services.size(); ++s) {
    const Service& service = f.room.services[s];
    ServiceResult result;
    result.service = service.id;
    std::optional<Estimate> known;
    if (service.height) known = height_above_benchmark(f, *service.height, service.place);
    const double height = known ? known->value : 0;
    const double half_width = service.width.value_or(service.diameter.value_or(0)) / 2;
    const double half_height = service.height_of.value_or(service.diameter.value_or(0)) / 2;

    for (Index r = 0; r < f.runs.size() && service.place.wall && known; ++r) {
      const Run& run = f.room.runs[r];
      if (!f.runs[r] || run.wall != service.place.wall) continue;
      const auto group = std::find_if(groups.begin(), groups.end(), [&](const GroupResult& g) {
        return g.id == run.level_group;
      });
      if (group == groups.end()) continue;
      const double u = service.place.along - run.from_along;
      for (const PlacedUnit& unit : f.runs[r]->units) {
        const Unit& facts = run.units[unit.unit];
        if (u + half_width <= unit.left || u - half_width >= unit.right) continue;
        if (facts.kind == UnitKind::space) continue;
        const double underside = group->underside + unit.offset;
        const double top = group->underside + unit.top_offset;
        if (height + half_height <= underside) {
          if (result.height_zone.empty()) result.height_zone = "below the underside";
          continue;
        }
        if (height - half_height >= top) {
          if (result.height_zone.empty()) result.height_zone = "above the units";
          continue;
        }
        result.height_zone = facts.kind == UnitKind::wall ? "behind a wall unit" : "behind a unit";
        result.units.push_back(facts.id);

        const Wall& wall = f.room.walls[*run.wall];
        const RunLine line(f.survey, wall, run.from_along, run.from_along + f.runs[r]->length,
                           height_in_use(run));
        const auto hollow = line.hollow(service.place.along, service.height->value);
        const Furniture& furniture = run.furniture;
        const Estimate here{furniture.void_depth + (hollow ? hollow->value : 0),
                            std::hypot(hollow ? hollow->sd : 0, projection_sd)};
        if (service.action == ServiceAction::move || service.projection <= 0) continue;
        if (!result.void_here || here.value < *result.void_here) {
          result.void_here = here.value;
          result.void_sd = here.sd;
        }
        result.void_needed = service.projection;
        const Verdict verdict = at_least(here, service.projection);
        result.verdict = worse(result.verdict.value_or(Verdict::within), verdict);
        if (verdict == Verdict::within) continue;
        result.clashes.push_back(facts.id + " back");
        Finding finding;
        finding.code = "void too shallow";
        finding.severity = verdict == Verdict::outside ? Severity::hold : Severity::query;
        finding.id = service.id + "/" + facts.id;
        finding.at = pointer(f.index, "services", s);
        finding.measured = service.projection;
        finding.limit = here.value;
        finding.unit = "mm";
        finding.source =
            "void_depth of this job" + std::string(hollow ? " and the wall's offsets" : "");
        finding.says = "Service " + service.id + " stands " + millimetres(service.projection) +
                       " off the wall behind " + facts.id + "; the void there is " +
                       decimal(here.value) + " ±" + decimal(band95 * here.sd) + ".";
        finding.remedy =
            furniture.back == BackKind::standing_off
                ? "Notch the back or cross-rail of " + facts.id + ", or have the service moved."
                : "Notch the back of " + facts.id +
                      " and the side panels it runs through, or have "
                      "the service moved.";
        if (safety(service.kind)) {
          finding.safety = true;
          finding.remedy += " Gas and mains: by a licensed person, to the local code.";
        }
        out.findings.push_back(std::move(finding));
      }
    }
    WasteFall waste = waste_fall(f, s);
    result.fall = waste.fall;
    for (Finding& finding : waste.findings) out.findings.push_back(std::move(finding));
    out.services.push_back(std::move(result));
  }
  return out;
}

}  // namespace levelrun
