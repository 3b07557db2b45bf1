#include "checks/service_clearances.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "checks/flooring.h"
#include "checks/hob_clearances.h"
#include "checks/on_wall.h"
#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/published_check.h"
#include "checks/published_limits.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double concerns = 1000;    // mm; further apart is no question; common practice, no source
constexpr double hood_outlet = 650;  // mm above the worktop; from here a hood's own outlet sits:
                                     // the lowest hood that a maker allows (second hand)
constexpr const char* plug_source =
    "guidance (UK): where the plug behind a fixed appliance cannot be reached, a switched fused "
    "connection unit above the worktop (seen, second hand)";
constexpr const char* decides = " A licensed person decides, to the local code.";

bool is_plate(ServiceKind kind) {
  return kind == ServiceKind::socket || kind == ServiceKind::fused_spur ||
         kind == ServiceKind::cooker_outlet || kind == ServiceKind::switch_;
}

std::string kind_name(ServiceKind kind) {
  switch (kind) {
    case ServiceKind::socket:
      return "Socket";
    case ServiceKind::fused_spur:
      return "Fused spur";
    case ServiceKind::cooker_outlet:
      return "Cooker outlet";
    case ServiceKind::switch_:
      return "Switch";
    case ServiceKind::boiler:
      return "Boiler";
    case ServiceKind::meter:
      return "Meter";
    case ServiceKind::stopcock:
      return "Stopcock";
    case ServiceKind::consumer_unit:
      return "Consumer unit";
    default:
      return "Service";
  }
}

bool is_sink(const Unit& unit) { return unit.houses.find("sink") != std::string::npos; }

bool is_cooking(const Unit& unit) {
  return houses_hob(unit) || unit.houses.find("oven") != std::string::npos;
}

// Plugged in behind; a wall unit is lifted off sooner.
bool is_appliance(const Unit& unit) {
  if (unit.kind == UnitKind::wall) return false;
  if (unit.kind == UnitKind::appliance) return true;
  for (const char* word : {"oven", "wash", "fridge", "freez", "dry", "microwave", "cooker"})
    if (unit.houses.find(word) != std::string::npos) return true;
  return false;
}

bool carries_worktop(const Unit& unit) {
  return unit.kind != UnitKind::wall && unit.kind != UnitKind::tall && unit.kind != UnitKind::space;
}

struct Reach {
  double clear = 0;
  std::string sum;
};

class Checks {
 public:
  Checks(const RoomFacts& f, const std::vector<GroupResult>& groups) : f_(f) {
    for (Index w = 0; w < f.room.walls.size(); ++w)
      units_.push_back(f.plan.known ? units_on_wall(f, groups, w) : std::vector<UnitOnWall>());
    for (Index s = 0; s < f.room.services.size(); ++s) {
      const ServiceAction action = service(s).action;
      const bool leaves = action == ServiceAction::move || action == ServiceAction::cap;
      places_.push_back(leaves || !f.plan.known ? std::nullopt : service_on_wall(f, s));
      before_.push_back(places_[s] ? units_before(f.room, *places_[s], wall_units(s))
                                   : std::vector<UnitOnWall>());
    }
  }

  Clearances all() {
    for (Index s = 0; s < f_.room.services.size(); ++s) {
      if (!places_[s]) continue;
      if (is_plate(service(s).kind)) {
        to_unit(s, is_sink, "socket to sink", "sink");
        to_unit(s, houses_hob, "socket to hob", "hob");
        new_dwelling(s);
        to_gas(s);
      }
      if (service(s).kind == ServiceKind::socket) {
        above_worktop(s);
        plug(s);
      }
      out_of_reach(s);
    }
    for (Index r = 0; r < f_.runs.size(); ++r)
      for (Index u = 0; f_.runs[r] && u < f_.runs[r]->units.size(); ++u) {
        const Unit& unit = f_.room.runs[r].units[u];
        if (is_cooking(unit)) cooker_switch(r, u);
        if (is_sink(unit)) sink_waste(r, u);
      }
    return std::move(out_);
  }

 private:
  const Service& service(Index s) const { return f_.room.services[s]; }
  const std::vector<UnitOnWall>& wall_units(Index s) const {
    return units_[*service(s).place.wall];
  }
  std::string name(Index s) const { return kind_name(service(s).kind) + " " + service(s).id; }

  PublishedCheck check(Index s, const std::string& other) const {
    PublishedCheck c;
    c.id = service(s).id + (other.empty() ? "" : "/" + other);
    c.at = pointer(f_.index, "services", s);
    c.safety = true;
    return c;
  }

  // Top of the worktop that runs below a plate.
  Unknown worktop_below(Index s) const {
    for (const UnitOnWall& unit : wall_units(s))
      if (carries_worktop(unit.facts(f_.room)) && unit.worktop &&
          overlap(places_[s]->left, places_[s]->right, unit.left, unit.right) > 0)
        return unit.worktop;
    return {};
  }

  // From a thing on a wall, `from` to `to` along it, to the nearest edge of a unit.
  std::optional<Reach> reach(Index wall, double from, double to, Index r, Index u) const {
    const PlacedRun& run = *f_.runs[r];
    const PlacedUnit& unit = run.units[u];
    if (f_.room.runs[r].wall == wall) {
      const double left = f_.room.runs[r].from_along + unit.left;
      const double right = f_.room.runs[r].from_along + unit.right;
      const double clear = -overlap(from, to, left, right);
      return Reach{clear, difference_sum(clear, {std::min(to, right)})};
    }
    const std::array<PlanPoint, 4> outline{
        run.frame.at(unit.left, unit.back), run.frame.at(unit.right, unit.back),
        run.frame.at(unit.right, unit.front), run.frame.at(unit.left, unit.front)};
    double clear = std::numeric_limits<double>::infinity();
    for (const double along : {from, (from + to) / 2, to}) {
      const auto at = f_.plan.at(Place{wall, along, 0, 0, 0, 0});
      if (!at) return std::nullopt;
      clear = std::min(clear, distance_outside(outline, *at));
    }
    return Reach{clear, decimal(clear) + " in plan"};
  }

  void to_unit(Index s, bool (*which)(const Unit&), const char* limit, const std::string& thing) {
    if (!before_[s].empty()) return;
    const ServiceOnWall& place = *places_[s];
    const Unknown worktop = worktop_below(s);
    if (worktop && place.middle && place.middle->value - *worktop >= hood_outlet) return;
    std::optional<Reach> nearest;
    const Unit* unit = nullptr;
    for (Index r = 0; r < f_.runs.size(); ++r)
      for (Index u = 0; f_.runs[r] && u < f_.runs[r]->units.size(); ++u) {
        const Unit& facts = f_.room.runs[r].units[u];
        if (facts.kind == UnitKind::wall || !which(facts)) continue;
        const auto here = reach(*service(s).place.wall, place.left, place.right, r, u);
        if (!here || here->clear > concerns || (nearest && here->clear >= nearest->clear)) continue;
        nearest = here;
        unit = &facts;
      }
    if (!nearest) return;
    const bool above_hob = nearest->clear < 0 && thing == "hob";
    PublishedCheck c = check(s, unit->id);
    c.limit = limit;
    c.what = service(s).id + " to the " + thing + " in " + unit->id;
    c.code = above_hob ? "plate above a hob" : "plate close to a " + thing;
    c.clear = {nearest->clear, place.sd};
    c.sum = nearest->sum;
    c.says = name(s) + (above_hob ? " is above" : " is beside") + " the " + thing + " in " +
             unit->id + ", from its plate to that unit's edge";
    c.remedy = "The " + thing + " lies somewhere in its unit: measure to the " + thing +
               " itself, and have the plate moved if that is too near." + decides;
    add_published(out_, std::move(c));
  }

  void above_worktop(Index s) {
    const ServiceOnWall& place = *places_[s];
    const Unknown worktop = worktop_below(s);
    if (!worktop || !place.middle || !before_[s].empty()) return;
    if (place.middle->value < *worktop - single_plate) return;  // in a space between units
    const double half = place.half_height.value_or(0);
    PublishedCheck c = check(s, "");
    c.limit = place.half_height ? "socket underside above worktop" : "socket middle above worktop";
    c.what = service(s).id + (place.half_height ? " underside" : " middle") + " above the worktop";
    c.code = "socket low above the worktop";
    c.clear = {place.middle->value - half - *worktop, place.middle->sd};
    std::vector<double> less{*worktop};
    if (place.half_height) less.push_back(half);
    c.sum = difference_sum(c.clear.value, less);
    c.says =
        name(s) + ", its " + (place.half_height ? "underside" : "middle") + " above the worktop";
    c.remedy = "Have it raised, or agree another level or worktop." + std::string(decides);
    add_published(out_, std::move(c));
  }

  void new_dwelling(Index s) {
    const bool cooker = service(s).kind == ServiceKind::cooker_outlet;
    if (!f_.survey.job.new_build || service(s).kind == ServiceKind::fused_spur) return;
    if (!before_[s].empty() || !places_[s]->middle) return;
    const bool over_worktop = worktop_below(s).has_value();
    // Over a worktop only a switch is asked about, for it may be the cooker's.
    if (over_worktop && service(s).kind == ServiceKind::socket) return;
    const auto at = f_.plan.at(service(s).place);
    const auto bare = at ? f_.floor.estimates({&*at, 1})[0] : std::nullopt;
    if (!bare) return;
    const double laid =
        laid_over_bare(f_.room, Floor::finished, f_.floor.area_at(*at)).thickness.value;
    const double finished = bare->value + laid;
    const double height = places_[s]->middle->value - finished;
    const bool high = over_worktop || cooker ||
                      height > (published_limit("accessory least height").value +
                                published_limit("accessory greatest height").value) /
                                   2;
    PublishedCheck c = check(s, "");
    c.limit = over_worktop || cooker ? "cooker switch height"
              : high                 ? "accessory greatest height"
                                     : "accessory least height";
    c.most = high;
    c.what = service(s).id + " above the finished floor";
    c.code = high ? "plate high for a new dwelling" : "plate low for a new dwelling";
    c.clear = {height, places_[s]->middle->sd};
    c.sum = difference_sum(height, {finished});
    c.says = name(s) + " above the finished floor of a new dwelling";
    c.remedy = std::string("Have it moved, or agree it with building control.") + decides;
    add_published(out_, std::move(c));
  }

  void to_gas(Index s) {
    const ServiceOnWall& plate = *places_[s];
    for (Index g = 0; g < f_.room.services.size(); ++g) {
      if (service(g).kind != ServiceKind::gas || !places_[g]) continue;
      const ServiceOnWall& pipe = *places_[g];
      if (service(g).place.wall != service(s).place.wall || !plate.middle || !pipe.middle) continue;
      const double sideways = -overlap(plate.left, plate.right, pipe.left, pipe.right);
      const double up = std::abs(plate.middle->value - pipe.middle->value) -
                        plate.half_height.value_or(single_plate / 2) - pipe.half_height.value_or(0);
      const double clear =
          sideways > 0 && up > 0 ? std::hypot(sideways, up) : std::max(sideways, up);
      if (clear > concerns) continue;
      // The uncertainty of whichever way parts them.
      const double sd = sideways > up ? std::hypot(plate.sd, pipe.sd)
                                      : std::hypot(plate.middle->sd, pipe.middle->sd);
      PublishedCheck c = check(s, service(g).id);
      c.limit = "gas pipe to cable";
      c.what = service(s).id + " to gas pipe " + service(g).id;
      c.code = "gas pipe close to a cable";
      c.clear = {clear, sd};
      c.sum = decimal(sideways) + " sideways, " + decimal(up) + " up or down";
      c.says = name(s) + " is close to gas pipe " + service(g).id +
               ", and its cable may run closer still";
      c.remedy = std::string("Find the cable, and have one of them moved or parted.") + decides;
      add_published(out_, std::move(c));
    }
  }

  void cooker_switch(Index r, Index u) {
    std::optional<Reach> nearest;
    Index which = 0;
    for (Index s = 0; s < f_.room.services.size(); ++s) {
      const ServiceKind kind = service(s).kind;
      if (!places_[s] || !before_[s].empty()) continue;
      if (kind != ServiceKind::switch_ && kind != ServiceKind::cooker_outlet) continue;
      const auto here = reach(*service(s).place.wall, places_[s]->left, places_[s]->right, r, u);
      if (!here || (nearest && here->clear >= nearest->clear)) continue;
      nearest = here;
      which = s;
    }
    if (!nearest) return;
    const Unit& unit = f_.room.runs[r].units[u];
    PublishedCheck c = check(which, unit.id);
    c.limit = "cooker switch to cooker";
    c.most = true;
    c.what = service(which).id + " to the " + spaced(unit.houses) + " in " + unit.id;
    c.code = "cooker switch far off";
    c.clear = {nearest->clear, places_[which]->sd};
    c.sum = nearest->sum;
    c.says = name(which) + " is the nearest switch to the " + spaced(unit.houses) + " in " +
             unit.id + ", from its plate to that unit's edge";
    c.remedy =
        "Record the switch that turns it off, or have one put within reach, not above the "
        "hob." +
        std::string(decides);
    add_published(out_, std::move(c));
  }

  void sink_waste(Index r, Index u) {
    std::optional<Reach> nearest;
    Index which = 0;
    for (Index s = 0; s < f_.room.services.size(); ++s) {
      if (service(s).kind != ServiceKind::waste || !places_[s] || !service(s).diameter) continue;
      const auto here = reach(*service(s).place.wall, places_[s]->left, places_[s]->right, r, u);
      if (!here || here->clear > concerns || (nearest && here->clear >= nearest->clear)) continue;
      nearest = here;
      which = s;
    }
    if (!nearest) return;
    const std::string unit = f_.room.runs[r].units[u].id;
    PublishedCheck c = check(which, unit);
    c.limit = "sink waste bore";
    c.what = "diameter of " + service(which).id + ", waste of the sink in " + unit;
    c.code = "waste narrow for a sink";
    c.clear = {*service(which).diameter, 0};
    c.safety = false;
    c.sum = decimal(c.clear.value) + " as surveyed";
    c.says =
        "Waste " + service(which).id + " is the nearest to the sink in " + unit + "; its diameter";
    c.remedy = "A wider pipe; the installer decides, to the local code.";
    add_published(out_, std::move(c));
  }

  void ask(Index s, const std::string& unit, const char* code, const std::string& source,
           std::string says, std::string remedy) {
    Finding finding;
    finding.code = code;
    finding.severity = Severity::query;
    finding.id = service(s).id + "/" + unit;
    finding.at = pointer(f_.index, "services", s);
    finding.source = source;
    finding.safety = true;
    finding.says = std::move(says);
    finding.remedy = std::move(remedy) + decides;
    out_.findings.push_back(std::move(finding));
  }

  void plug(Index s) {
    for (const UnitOnWall& before : before_[s]) {
      const Unit& unit = before.facts(f_.room);
      if (!is_appliance(unit)) continue;
      ask(s, unit.id, "plug out of reach", plug_source,
          "Socket " + service(s).id + " is behind " + unit.id +
              (unit.houses.empty() ? ", an appliance" : ", which houses " + spaced(unit.houses)) +
              ": its plug cannot be reached once that stands.",
          "Say which switch above the worktop turns it off: a switched fused connection unit, or "
          "a socket in the next unit.");
      return;
    }
  }

  void out_of_reach(Index s) {
    const ServiceKind kind = service(s).kind;
    if (kind != ServiceKind::boiler && kind != ServiceKind::meter &&
        kind != ServiceKind::stopcock && kind != ServiceKind::consumer_unit)
      return;
    for (const UnitOnWall& before : before_[s]) {
      const Unit& unit = before.facts(f_.room);
      // A cupboard made for it.
      if (unit.houses.find(kind == ServiceKind::boiler ? "boiler" : "meter") != std::string::npos)
        continue;
      ask(s, unit.id, "out of reach", "common practice, no source",
          name(s) + " is out of reach behind " + unit.id + ".",
          "Leave a way to it that needs no tools: an opening or a loose panel in the unit's back, "
          "or another unit there; its maker's and the supplier's distances come first.");
      return;
    }
  }

  const RoomFacts& f_;
  std::vector<std::vector<UnitOnWall>> units_;        // as room.walls
  std::vector<std::optional<ServiceOnWall>> places_;  // as room.services
  std::vector<std::vector<UnitOnWall>> before_;       // what each stands behind
  Clearances out_;
};

}  // namespace

Clearances service_clearances(const RoomFacts& f, const std::vector<GroupResult>& groups) {
  Clearances out = Checks(f, groups).all();
  Clearances hob = hob_clearances(f, groups);
  for (ClearanceResult& one : hob.clearances) out.clearances.push_back(std::move(one));
  for (Finding& one : hob.findings) out.findings.push_back(std::move(one));
  return out;
}

}  // namespace levelrun
