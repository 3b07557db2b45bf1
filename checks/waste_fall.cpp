#include "checks/waste_fall.h"

#include <cmath>

#include "checks/measured_heights.h"
#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/published_limits.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double tape_sd = 2;    // mm, of each end's height; common practice, no source
constexpr double same_bore = 4;  // mm: pipes are named by their bore and booked by their outside

std::optional<int> bore_of(double diameter) {
  for (const int bore : {32, 40, 50})
    if (diameter >= bore - same_bore && diameter <= bore + same_bore) return bore;
  return std::nullopt;
}

}  // namespace

WasteFall waste_fall(const RoomFacts& f, Index index) {
  WasteFall out;
  const Service& service = f.room.services[index];
  if (service.kind != ServiceKind::waste || !service.height || !service.connects_at) return out;
  std::vector<RoutePoint> route{{service.place, *service.height}};
  route.insert(route.end(), service.route.begin(), service.route.end());
  route.push_back(*service.connects_at);

  double length = 0;
  std::optional<PlanPoint> last;
  for (const RoutePoint& point : route) {
    const auto at = f.plan.at(point.place);
    if (!at) return out;
    if (last) length += distance(*last, *at);
    last = at;
  }
  const auto start = height_above_benchmark(f, route.front().height, route.front().place);
  const auto end = height_above_benchmark(f, route.back().height, route.back().place);
  if (!start || !end || length < 1) return out;

  FallResult fall;
  fall.available = (start->value - end->value) / length * 1000;
  fall.length = length;
  const auto bore = service.diameter ? bore_of(*service.diameter) : std::nullopt;
  if (bore) {
    const PublishedLimit& longest = published_limit("waste " + std::to_string(*bore) + " longest");
    const PublishedLimit& least = published_limit("waste least fall");
    const PublishedLimit& most = published_limit("waste most fall");
    fall.least = least.value;
    fall.most = most.value;
    fall.longest = longest.value;
    const double sd = tape_sd * std::sqrt(2.0) / length * 1000;
    const Verdict falls = between({fall.available, sd}, least.value, most.value);
    const Verdict is_short = at_most({length, service.place.sd}, longest.value);
    fall.verdict = worse(falls, is_short);
    const auto add = [&](const char* code, Verdict verdict, double measured, double limit,
                         const PublishedLimit& source, std::string says, std::string remedy) {
      if (verdict == Verdict::within) return;
      Finding finding;
      finding.code = code;
      finding.severity = Severity::query;
      finding.id = service.id;
      finding.at = pointer(f.index, "services", index);
      finding.measured = measured;
      finding.limit = limit;
      finding.unit = source.unit;
      finding.source = source.source;
      finding.says = std::move(says);
      finding.remedy = std::move(remedy);
      out.findings.push_back(std::move(finding));
    };
    const bool flat = fall.available < (least.value + most.value) / 2;
    add(flat ? "waste falls too little" : "waste falls too much", falls, fall.available,
        flat ? least.value : most.value, flat ? least : most,
        "Waste " + service.id + " falls " + decimal(fall.available) + " mm/m over " +
            decimal(length, 0) + "; published " + millimetres(least.value) + " to " +
            millimetres(most.value) + ".",
        flat
            ? "Raise the outlet, lower the connection or shorten the route; the installer decides, "
              "to the local code."
            : "Lower the outlet or lengthen the route; the installer decides, to the local code.");
    add("waste runs too far", is_short, length, longest.value, longest,
        "Waste " + service.id + " runs " + decimal(length, 0) + " at " + std::to_string(*bore) +
            " bore; published at most " + millimetres(longest.value) + " unventilated.",
        "A larger bore, a vent or an admittance valve; the installer decides, to the local code.");
  }
  out.fall = fall;
  return out;
}

}  // namespace levelrun
