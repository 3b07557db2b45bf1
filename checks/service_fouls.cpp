#include "checks/service_fouls.h"

#include <algorithm>

#include "checks/licensed_work.h"
#include "checks/pointer.h"
#include "checks/unit_notches.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double bowl_height = 200;  // mm from the carcass's top; common practice, no source

bool ends_at_a_sink(ServiceKind kind) {
  return kind == ServiceKind::waste || kind == ServiceKind::cold_water ||
         kind == ServiceKind::hot_water;
}

}  // namespace

ServiceFouls service_fouls(const RoomFacts& f, Index index, const BehindUnits& behind,
                           const std::vector<UnitPass>& passes) {
  ServiceFouls out;
  const Service& service = f.room.services[index];
  const auto add = [&](const char* what, const UnitPass& pass) {
    const BackedUnit& backed = behind.units()[pass.unit];
    const Unit& unit = behind.facts(pass.unit);
    const Estimate inside{pass.here.value + backed.back_thickness, pass.here.sd};
    const Verdict verdict = at_least(inside, *pass.needed);
    if (verdict == Verdict::within) return;
    const std::string clash = unit.id + " " + what;
    if (std::find(out.clashes.begin(), out.clashes.end(), clash) != out.clashes.end()) return;
    out.clashes.push_back(clash);
    const bool sink = what[0] == 's';
    Finding finding;
    finding.code = sink ? "sink fouls a service" : "drawers foul a service";
    finding.severity = verdict == Verdict::outside ? Severity::hold : Severity::query;
    finding.id = service.id + "/" + unit.id;
    finding.at = pointer(f.index, "services", index);
    finding.measured = *pass.needed;
    finding.limit = inside.value;
    finding.unit = "mm";
    finding.source = "void_depth and back_thickness of this job";
    finding.says = "Service " + service.id + " reaches " + decimal(*pass.needed) +
                   " from the wall; the inside of " + unit.id + " begins at " +
                   decimal(inside.value) + " ±" + decimal(band95 * inside.sd) + ", where its " +
                   (sink ? "bowl hangs." : "drawers run.");
    finding.remedy =
        sink ? "Move the service down or behind the neighbouring unit, or choose a shallower bowl."
             : "Order shorter drawers for " + unit.id +
                   ", a unit with doors in its place, or have the service moved.";
    finding.safety = is_safety(service.kind);
    finding.remedy += licensed_work(service.kind);
    out.findings.push_back(std::move(finding));
  };
  // The deepest reach of a service into a unit speaks for it.
  std::vector<const UnitPass*> deepest_first;
  for (const UnitPass& pass : passes)
    if (pass.needed) deepest_first.push_back(&pass);
  std::stable_sort(deepest_first.begin(), deepest_first.end(),
                   [](const UnitPass* a, const UnitPass* b) { return a->margin() < b->margin(); });
  for (const UnitPass* pass : deepest_first) {
    const BackedUnit& backed = behind.units()[pass->unit];
    const Unit& unit = behind.facts(pass->unit);
    if (!has_void(unit) || built_in(unit) || inside_its_sink_unit(backed, unit, service, *pass))
      continue;
    if (unit.drawers) add("drawers", *pass);
    const bool at_bowl = pass->high > backed.top - backed.underside - bowl_height;
    if (unit.houses == "sink" && at_bowl && !ends_at_a_sink(service.kind)) add("sink", *pass);
  }
  return out;
}

}  // namespace levelrun
