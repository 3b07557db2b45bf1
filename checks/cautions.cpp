#include "checks/cautions.h"

#include <algorithm>
#include <initializer_list>

#include "checks/pointer.h"
#include "checks/published_limits.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr double long_worktop = 2000;  // mm: a worktop that one person should not carry alone;
                                       // common practice, no source
constexpr const char* only_licensed = "by a licensed person, to the local code.";

struct Found {
  std::string at, names;
  bool any() const { return !names.empty(); }
};

class Cautions {
 public:
  explicit Cautions(const RoomFacts& f) : f_(f) {}

  std::vector<Finding> all() {
    gas();
    electricity();
    water();
    structure();
    asbestos();
    dust();
    lifting();
    drilling();
    return std::move(out_);
  }

 private:
  void add(const char* code, std::string at, std::string source, std::string says,
           std::string remedy) {
    Finding finding;
    finding.code = code;
    finding.severity = Severity::note;
    finding.safety = true;
    finding.at = std::move(at);
    finding.id = "caution";
    finding.source = std::move(source);
    finding.says = std::move(says);
    finding.remedy = std::move(remedy) + only_licensed;
    out_.push_back(std::move(finding));
  }

  static void note(Found& found, const std::string& at, const std::string& name) {
    if (found.names.empty()) found.at = at;
    found.names += (found.names.empty() ? "" : ", ") + name;
  }

  template <class Wanted>
  Found services(Wanted wanted) const {
    Found out;
    for (Index s = 0; s < f_.room.services.size(); ++s)
      if (wanted(f_.room.services[s]))
        note(out, pointer(f_.index, "services", s), f_.room.services[s].id);
    return out;
  }
  Found services_of(std::initializer_list<ServiceKind> kinds) const {
    return services([&](const Service& s) {
      return std::find(kinds.begin(), kinds.end(), s.kind) != kinds.end();
    });
  }

  // Walls that units are fixed to and of which `wanted` is true.
  template <class Wanted>
  Found walls_with_units(Wanted wanted) const {
    Found out;
    for (Index w = 0; w < f_.room.walls.size(); ++w)
      if (wanted(f_.room.walls[w]) &&
          std::any_of(f_.room.runs.begin(), f_.room.runs.end(),
                      [&](const Run& run) { return run.wall == w && !run.units.empty(); }))
        note(out, pointer(f_.index, "walls", w), f_.room.walls[w].id);
    return out;
  }

  static bool is_mineral(const Wall& wall) {
    return wall.build == WallBuild::masonry || wall.build == WallBuild::dot_and_dab;
  }

  void gas() {
    const Found gas = services_of({ServiceKind::gas, ServiceKind::boiler, ServiceKind::meter});
    if (gas.any())
      add("gas work", gas.at,
          "Gas Safety (Installation and Use) Regulations 1998 (Great Britain): law (seen, second "
          "hand)",
          "Gas may be on at " + gas.names + ".",
          "Do not move, cap or connect it, and keep its valve in reach; all work on it ");
  }

  void electricity() {
    const Found electric =
        services_of({ServiceKind::socket, ServiceKind::fused_spur, ServiceKind::cooker_outlet,
                     ServiceKind::switch_, ServiceKind::consumer_unit});
    if (electric.any())
      add("electrical work", electric.at, "common practice, no source",
          "Mains at " + electric.names + ".",
          "Off, locked off and proved dead before units stand or anything is drilled there, ");
  }

  void water() {
    const Found water =
        services_of({ServiceKind::cold_water, ServiceKind::hot_water, ServiceKind::radiator});
    if (!water.any()) return;
    const Found stopcock = services_of({ServiceKind::stopcock});
    add("water work", water.at, "common practice, no source",
        "Water under pressure at " + water.names + "; " +
            (stopcock.any() ? "shuts off at " + stopcock.names + "."
                            : "where it shuts off was not recorded."),
        "Find the stopcock and try it before anything is cut; alterations ");
  }

  void structure() {
    const Found chased = services([&](const Service& s) {
      return (s.action == ServiceAction::move || s.action == ServiceAction::new_) && s.place.wall &&
             is_mineral(f_.room.walls[*s.place.wall]);
    });
    if (chased.any())
      add("structure", chased.at, "common practice, no source",
          "New or moved services in solid walls: " + chased.names + ".",
          "Cut no lintel, pier or bearing wall; chases and holes ");
  }

  void asbestos() {
    if (f_.survey.job.new_build) return;
    Found broken;
    for (Index e = 0; e < f_.room.flooring.existing.size(); ++e)
      if (const ExistingLayer& layer = f_.room.flooring.existing[e]; layer.strip)
        note(broken, pointer(f_.index) + "/flooring/existing/" + std::to_string(e), layer.name);
    const Found drilled = walls_with_units([](const Wall&) { return true; });
    if (!broken.any() && !drilled.any()) return;
    const PublishedLimit& year = published_limit("built before");
    add("suspected asbestos", broken.any() ? broken.at : drilled.at, year.source,
        "If the house was built or refurbished before " + decimal(year.value, 0) +
            ", floor tiles, coatings, boards and boxing may hold asbestos" +
            (broken.any() ? "; to be stripped: " + broken.names : "") + ".",
        "Break or drill nothing suspect until it has been surveyed, ");
  }

  void dust() {
    const Found solid = walls_with_units(is_mineral);
    Found stone;
    for (Index r = 0; r < f_.room.runs.size(); ++r) {
      const std::string& material = f_.room.runs[r].furniture.worktop.material;
      for (const char* word : {"stone", "granite", "quartz", "marble", "slate", "ceramic",
                               "porcelain", "terrazzo", "concrete"})
        if (!stone.any() && material.find(word) != std::string::npos)
          note(stone, pointer(f_.index, "runs", r), material);
    }
    if (!solid.any() && !stone.any()) return;
    const PublishedLimit& silica = published_limit("silica dust");
    const std::string what = stone.any() && solid.any()
                                 ? stone.names + " and solid walls " + solid.names
                             : stone.any() ? stone.names
                                           : "solid walls " + solid.names;
    add("dust", stone.any() ? stone.at : solid.at, silica.source,
        "Cutting or drilling " + what + " may free silica dust: at most " + decimal(silica.value) +
            " mg/m3 over 8 h.",
        "Cut wet or with extraction, in a fitted mask, ");
  }

  void lifting() {
    Found heavy;
    for (Index r = 0; r < f_.room.runs.size(); ++r) {
      double worktop = 0;
      bool high = false;
      for (const Unit& unit : f_.room.runs[r].units) {
        const bool is_high = unit.kind == UnitKind::tall || unit.kind == UnitKind::wall;
        high = high || is_high;
        if (!is_high) worktop += unit.width;
      }
      if (high || worktop > long_worktop)
        note(heavy, pointer(f_.index, "runs", r), f_.room.runs[r].id);
    }
    if (!heavy.any()) return;
    const PublishedLimit& men = published_limit("lift, men");
    add("lifting", heavy.at, men.source,
        "Tall units, wall units or long worktops in runs " + heavy.names +
            ": weights are not known. Guideline close to the body at waist height: " +
            decimal(men.value, 0) + " kg men, " + decimal(published_limit("lift, women").value, 0) +
            " kg women; less overhead.",
        "Two people or a lifting aid; what needs more than that, ");
  }

  void drilling() {
    const Found drilled = walls_with_units([](const Wall&) { return true; });
    if (drilled.any())
      add("drilling", drilled.at, published_limit("cable zone").source,
          "Units are fixed to walls " + drilled.names +
              ", in which cables and pipes may run that no survey shows.",
          "Find them before drilling, and use fixings for that wall; work on them ");
  }

  const RoomFacts& f_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> cautions(const RoomFacts& f) { return Cautions(f).all(); }

}  // namespace levelrun
