#include "checks/install_tasks.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <set>

#include "checks/placing.h"
#include "checks/published_limits.h"
#include "checks/words.h"
#include "checks/worktop_weight.h"
#include "survey/crc32.h"

namespace levelrun {
namespace {

constexpr std::size_t longest_id = 40;  // characters, as the file allows
constexpr double leg_moved = 1;  // mm: a leg set to another height than today's is open again
constexpr const char* licensed = " by a licensed person, to the local code.";
constexpr const char* sharp =
    "Sharp edges and cut faces: gloves and eyes covered; nobody's fingers under what is lowered.";

std::string joined(const std::vector<std::string>& some) {
  std::string out;
  for (std::size_t i = 0; i < some.size(); ++i)
    out += (i == 0 ? "" : i + 1 == some.size() ? " and " : ", ") + some[i];
  return out;
}

std::string fixings(const Wall& wall) {
  switch (wall.build) {
    case WallBuild::masonry:
      return wall.id + " is masonry: drill and plug.";
    case WallBuild::stud:
      return wall.id + " is timber stud: screw into the studs, never into board alone.";
    case WallBuild::metal_stud:
      return wall.id +
             " is metal stud: hang only from boards put in behind, or from fixings made "
             "for it and the load.";
    case WallBuild::lath_and_plaster:
      return wall.id + " is lath and plaster: find the studs, plaster holds nothing.";
    case WallBuild::dot_and_dab:
      return wall.id + " is board on dabs: fixings must reach the masonry behind it.";
    case WallBuild::unknown:
      break;
  }
  return wall.id + ": how it is built is not known; find out before drilling.";
}

bool frees_silica(const Wall& wall) {
  return wall.build == WallBuild::masonry || wall.build == WallBuild::dot_and_dab ||
         wall.build == WallBuild::unknown;
}

class Checklist {
 public:
  Checklist(const Survey& survey, const Results& results) : survey_(survey), results_(results) {
    for (const Task& tick : survey.install.tasks) ticks_.emplace(tick.id, &tick);
  }

  InstallTasks all() {
    for (Index r = 0; r < survey_.rooms.size() && r < results_.rooms.size(); ++r) {
      room_ = &survey_.rooms[r];
      result_ = &results_.rooms[r];
      if (room_->runs.empty()) continue;
      arrive();
      mark_out();
      hang();
      set();
      level();
      fix();
      services();
      worktops();
      plinths();
      hand_over();
    }
    std::stable_sort(
        out_.tasks.begin(), out_.tasks.end(),
        [](const InstallTask& a, const InstallTask& b) { return order(a.stage) < order(b.stage); });
    for (const InstallTask& task : out_.tasks) {
      out_.done += task.state == TaskState::done;
      out_.not_needed += task.state == TaskState::not_needed;
      out_.open += task.state == TaskState::open;
    }
    for (const Task& tick : survey_.install.tasks)
      if (!ids_.contains(tick.id)) out_.unmatched.push_back(tick);
    return std::move(out_);
  }

 private:
  // Rooms are fitted one after the other, but the house is isolated, and handed over, as one.
  static int order(TaskStage stage) {
    return stage == TaskStage::arrive ? 0 : stage == TaskStage::hand_over ? 2 : 1;
  }

  std::string new_id(const std::string& name, bool of_room) {
    std::string id = name;
    if (of_room && survey_.rooms.size() > 1) id += " " + room_->id;
    if (ids_.contains(shortened(id))) id += " " + room_->id;
    id = shortened(id);
    for (int n = 2; !ids_.insert(id).second; ++n) id = shortened(name + " #" + std::to_string(n));
    return id;
  }
  // Characters, not bytes: none is cut in two.
  static std::string shortened(const std::string& id) {
    std::size_t characters = 0, cut = id.size();
    for (std::size_t i = 0; i < id.size(); ++i) {
      if ((static_cast<unsigned char>(id[i]) & 0xC0) == 0x80) continue;
      if (characters++ == longest_id - 9) cut = i;
    }
    if (characters <= longest_id) return id;
    char sum[16];
    std::snprintf(sum, sizeof sum, "~%08x", unsigned(crc32(id)));
    return id.substr(0, cut) + sum;
  }

  InstallTask& add(TaskStage stage, const std::string& name, std::string about, std::string says,
                   bool of_room = false) {
    InstallTask task;
    task.id = new_id(name, of_room);
    task.stage = stage;
    task.room = room_->id;
    task.about = std::move(about);
    task.says = std::move(says);
    if (const auto tick = ticks_.find(task.id); tick != ticks_.end()) {
      task.at = tick->second->at;
      task.by = tick->second->by;
      task.note = tick->second->note;
      if (tick->second->state == "done")
        task.state = TaskState::done;
      else if (tick->second->state == "not_needed" && !task.note.empty())
        task.state = TaskState::not_needed;
      else if (tick->second->state == "not_needed")
        task.trouble = "not needed, but no reason is given";
    }
    out_.tasks.push_back(std::move(task));
    return out_.tasks.back();
  }

  const Finding* found(const char* code, const std::string& in_id = "") const {
    for (const Finding& f : results_.findings)
      if (f.room == room_->id && f.code == code && f.id.find(in_id) != std::string::npos) return &f;
    return nullptr;
  }

  void arrive() {
    std::vector<std::string> cautions, what;
    for (const auto& [code, word] :
         {std::pair("gas work", "gas"), std::pair("electrical work", "mains"),
          std::pair("water work", "water")})
      if (const Finding* f = found(code)) {
        what.push_back(word);
        cautions.push_back(f->says + " " + f->remedy);
      }
    if (!what.empty())
      add(TaskStage::arrive, "isolate", "", "Have " + joined(what) + " isolated and proved off.",
          true)
          .cautions = cautions;
    if (const Finding* f = found("suspected asbestos"))
      add(TaskStage::arrive, "asbestos", "",
          "Settle what is suspect before breaking or drilling it.", true)
          .cautions = {f->says + " " + f->remedy};
    if (!room_->flooring.laid.empty())
      add(TaskStage::arrive, "floor", "",
          "Measure the floor that was laid, near both ends of each run.", true);
    const auto& benchmark = room_->levels.benchmark;
    add(TaskStage::arrive, "level line", "",
        benchmark
            ? "Set the level up and read benchmark " + room_->levels.points[benchmark->point].id +
                  "; three lasting points if it is gone."
            : "Set the level up and read three points of the survey.",
        true);
  }

  void mark_out() {
    for (Index w = 0; w < room_->walls.size(); ++w) {
      std::vector<std::string> runs;
      bool base = false, hung = false;
      for (const Run& run : room_->runs)
        if (run.wall == w && !run.units.empty()) {
          runs.push_back(run.id);
          for (const Unit& unit : run.units) (unit.kind == UnitKind::wall ? hung : base) = true;
        }
      if (runs.empty()) continue;
      const std::string lines = std::string(base ? "underside and worktop" : "") +
                                (base && hung ? ", " : "") + (hung ? "rail" : "");
      add(TaskStage::mark, "mark " + room_->walls[w].id, room_->walls[w].id,
          "Mark " + room_->walls[w].id + " at both ends: " + lines + "; then the units of " +
              joined(runs) + ".");
    }
    for (const Run& run : room_->runs)
      if (!run.wall && !run.units.empty())
        add(TaskStage::mark, "mark run " + run.id, run.id,
            "Mark on the floor where run " + run.id + " stands.");
  }

  std::vector<std::string> drilling(const Run& run) const {
    std::vector<std::string> out;
    if (!run.wall) return out;
    const Wall& wall = room_->walls[*run.wall];
    out.push_back(
        "Find cables and pipes before drilling; a live or leaking one is left to a "
        "licensed person, to the local code.");
    for (const Finding& f : results_.findings)
      if (f.room == room_->id && f.code == "rail where cables may run" &&
          f.id.find("/" + run.id + "/") != std::string::npos)
        out.push_back(f.says);
    for (const NoDrill& no : room_->no_drill)
      if (no.wall == run.wall)
        out.push_back("No drilling " + decimal(no.along, 0) + " to " +
                      decimal(no.along + no.width, 0) + " along, " + decimal(no.height, 0) +
                      " to " + decimal(no.height + no.height_of, 0) + " high: " + no.why + ".");
    out.push_back(fixings(wall));
    if (frees_silica(wall))
      out.push_back("Dust of solid walls may hold silica: extraction and a fitted mask.");
    return out;
  }

  static std::string two_lift(const std::string& what) {
    return what + ": weight not known. Two people or a lifting aid; weigh it or ask its maker if " +
           "in doubt (guideline " + decimal(published_limit("lift, men").value, 0) + " kg men, " +
           decimal(published_limit("lift, women").value, 0) + " kg women, close to the body).";
  }

  void hang() {
    for (const Run& run : room_->runs) {
      std::vector<std::string> units;
      for (const Unit& unit : run.units)
        if (unit.kind == UnitKind::wall) units.push_back(unit.id);
      if (units.empty()) continue;
      add(TaskStage::hang, "rail " + run.id, run.id,
          "Fix the rail of " + joined(units) + " to its line.")
          .cautions = drilling(run);
      for (const std::string& unit : units)
        add(TaskStage::hang, "hang " + unit, unit, "Hang " + unit + " and bring it to its line.")
            .cautions = {two_lift(unit + ", overhead")};
    }
  }

  const Unit* unit_of(const std::string& id) const {
    for (const Run& run : room_->runs)
      for (const Unit& unit : run.units)
        if (unit.id == id) return &unit;
    return nullptr;
  }

  void set() {
    for (const ServiceResult& service : result_->services)
      for (const NotchResult& notch : service.notches) {
        auto& services = notched_[notch.unit];
        if (std::find(services.begin(), services.end(), service.service) == services.end())
          services.push_back(service.service);
      }
    std::vector<const LegResult*> legs;
    for (const LegResult& leg : result_->legs) legs.push_back(&leg);
    std::stable_sort(legs.begin(), legs.end(),
                     [](const LegResult* a, const LegResult* b) { return a->order < b->order; });
    std::vector<std::string> units;
    for (const LegResult* leg : legs)
      if (std::find(units.begin(), units.end(), leg->unit) == units.end())
        units.push_back(leg->unit);
    for (const std::string& unit : units) {
      notch(unit);
      std::vector<const LegResult*> own;
      for (const LegResult* leg : legs)
        if (leg->unit == unit) own.push_back(leg);
      set_legs(unit, own);
    }
    for (const auto& [unit, services] : std::map(notched_)) notch(unit);
  }

  void notch(const std::string& unit) {
    const auto found = notched_.find(unit);
    if (found == notched_.end()) return;
    add(TaskStage::set, "notch " + unit, unit,
        "Cut " + unit + " out for " + joined(found->second) + ", and seal the cut edges.")
        .cautions = {sharp, "Dust of boards: extraction and a fitted mask."};
    notched_.erase(found);
  }

  void set_legs(const std::string& unit, const std::vector<const LegResult*>& legs) {
    Unknown least, most;
    for (const LegResult* leg : legs)
      if (leg->height) {
        least = std::min(least.value_or(*leg->height), *leg->height);
        most = std::max(most.value_or(*leg->height), *leg->height);
      }
    std::string says = "Set the " + std::to_string(legs.size()) + " legs of " + unit;
    if (least)
      says += ": " + decimal(*least, 0) +
              (decimal(*least, 0) == decimal(*most, 0) ? "" : " to " + decimal(*most, 0));
    else
      says += "; their heights are not known";
    InstallTask& task = add(TaskStage::set, "legs " + unit, unit, says + ".");
    const Unit* facts = unit_of(unit);
    if (facts && facts->kind == UnitKind::tall) task.cautions = {two_lift(unit + ", tall"), sharp};
    if (task.state == TaskState::open && task.trouble.empty()) from_legs_set(task, unit, legs);
  }

  void from_legs_set(InstallTask& task, const std::string& unit,
                     const std::vector<const LegResult*>& legs) const {
    bool level = false;
    if (results_.install)
      for (const UnitLevelResult& read : results_.install->unit_levels)
        level = level || (read.room == room_->id && read.unit == unit && read.level);
    const SetLeg* last = nullptr;
    for (const LegResult* leg : legs) {
      const auto& all = survey_.install.set_legs;
      const auto set = std::find_if(all.rbegin(), all.rend(), [&](const SetLeg& s) {
        return s.unit == unit && s.position == leg->position && s.room == room_->id;
      });
      if (set == all.rend()) return;
      if (!level && leg->height && std::abs(set->height - *leg->height) >= leg_moved) {
        task.trouble = spaced(leg->position) + " was set to " + decimal(set->height) +
                       ", today it is " + decimal(*leg->height);
        return;
      }
      if (!last || &*set > last) last = &*set;  // the later in the list
    }
    if (!last) return;
    task.state = TaskState::done;
    task.at = last->at;
    task.by = last->by;
  }

  void level() {
    for (const GroupResult& group : result_->groups) {
      const bool stands = std::any_of(room_->runs.begin(), room_->runs.end(), [&](const Run& run) {
        return run.level_group == group.id &&
               std::any_of(run.units.begin(), run.units.end(), stands_on_legs);
      });
      if (stands)
        add(TaskStage::level, "level " + group.id, group.id,
            "Read the tops of the cabinets of level group " + group.id +
                " at their corners; turn legs until they are level.");
    }
  }

  void fix() {
    for (const Run& run : room_->runs) {
      std::vector<std::string> standing, infills;
      for (const Unit& unit : run.units) {
        if (stands_on_legs(unit)) standing.push_back(unit.id);
        if (unit.kind == UnitKind::infill) infills.push_back(unit.id);
      }
      if (!standing.empty()) {
        InstallTask& task = add(TaskStage::fix, "fix " + run.id, run.id,
                                "Screw " + joined(standing) + " together and " +
                                    (run.wall ? "to the wall." : "to the floor."));
        task.cautions = drilling(run);
        if (!run.wall)
          task.cautions.push_back(
              "Find pipes, cables and heating in the floor before drilling; "
              "what is not known is left alone.");
      }
      const FitResult* fit = nullptr;
      for (const FitResult& f : result_->fits)
        if (f.run == run.id) fit = &f;
      const double left = fit ? fit->infill_left.value_or(0) : 0;
      const double right = fit ? fit->infill_right.value_or(0) : 0;
      if (!infills.empty() || left > 0 || right > 0)
        add(TaskStage::fix, "infill " + run.id, run.id,
            "Scribe and fit the infills of run " + run.id + ".")
            .cautions = {sharp};
      for (const EndPanelResult& panel : result_->end_panels)
        if (panel.run == run.id)
          add(TaskStage::fix, "panel " + panel.unit, panel.unit,
              "Cut and fit end panel " + panel.unit +
                  (panel.front && panel.back
                       ? ": " + decimal(*panel.front) + " front, " + decimal(*panel.back) + " back."
                       : "; its heights are not known."))
              .cautions = {sharp};
    }
  }

  void services() {
    for (const Run& run : room_->runs)
      for (const Unit& unit : run.units)
        if (unit.kind == UnitKind::appliance || unit.niche)
          add(TaskStage::services, "appliance " + unit.id, unit.id,
              "Put " + (unit.houses.empty() ? std::string("the appliance") : "the " + unit.houses) +
                  " into " + unit.id + ".")
              .cautions = {two_lift("The appliance"),
                           std::string("Connecting it to mains, gas or water:") + licensed};
    std::vector<std::string> changed;
    for (const Service& s : room_->services)
      if (s.action != ServiceAction::stay) changed.push_back(s.id);
    bool housed = false;
    for (const Run& run : room_->runs)
      for (const Unit& unit : run.units) housed = housed || !unit.houses.empty();
    if (!changed.empty() || housed)
      add(TaskStage::services, "connect", "",
          changed.empty() ? "Have sink and appliances connected and tried."
                          : "Have " + joined(changed) + " done, and all connected and tried.",
          true)
          .cautions = {std::string("Gas, mains and water:") + licensed};
  }

  void worktops() {
    const auto same_run = [&](const WorktopResult& top) {
      return std::count_if(result_->worktops.begin(), result_->worktops.end(),
                           [&](const WorktopResult& other) { return other.run == top.run; });
    };
    for (const WorktopResult& top : result_->worktops) {
      const Run* run = nullptr;
      for (const Run& r : room_->runs)
        if (r.id == top.run) run = &r;
      if (!run) continue;
      const std::string piece = same_run(top) > 1 ? " " + std::to_string(top.piece) : "";
      const std::string name = top.run + piece;
      InstallTask& task =
          add(TaskStage::worktop, "worktop " + name, top.run,
              top.by_template ? "Have worktop " + name + " measured by template, then fitted."
                              : "Cut, joint and fix worktop " + name + ".");
      const double length = top.length.value_or(top.to - top.from);
      const auto kg =
          worktop_weight(top.material, length, top.depth, run->furniture.worktop.thickness);
      if (kg)
        task.cautions.push_back("Worktop " + name + " weighs about " + decimal(*kg, 0) + " kg (" +
                                top.material + ", " + decimal(length, 0) + " × " +
                                decimal(top.depth, 0) + " × " +
                                millimetres(run->furniture.worktop.thickness) + ")" +
                                (*kg > published_limit("lift, men").value
                                     ? ": two people or more, or a lifting aid."
                                     : "; long pieces take two people all the same."));
      else
        task.cautions.push_back(two_lift("Worktop " + name));
      task.cautions.push_back(sharp);
      if (found("dust"))
        task.cautions.push_back(
            "Cut outside or with extraction, in a fitted mask; stone only wet.");
    }
  }

  void plinths() {
    for (const PlinthResult& p : result_->plinths) {
      const auto pieces =
          std::count_if(result_->plinths.begin(), result_->plinths.end(),
                        [&](const PlinthResult& q) { return q.run == p.run && q.face == p.face; });
      const std::string name =
          p.run + " " + p.face + (pieces > 1 ? " " + std::to_string(p.piece) : "");
      const bool cut = p.top != TopCut::none || p.bottom != BottomCut::none;
      add(TaskStage::plinth, "plinth " + name, p.run,
          cut ? "Cut plinth " + name + " to " + decimal(p.height_left) + " left, " +
                    decimal(p.height_right) + " right; seal the cut edge; fit it."
              : "Fit plinth " + name + " as supplied, " + decimal(p.length, 0) + " long.")
          .cautions = {sharp};
    }
  }

  void hand_over() {
    for (const Run& run : room_->runs)
      if (std::any_of(run.units.begin(), run.units.end(), [](const Unit& unit) {
            return stands_on_legs(unit) || unit.kind == UnitKind::wall;
          }))
        add(TaskStage::hand_over, "fronts " + run.id, run.id,
            "Hang and set doors, drawers and handles of run " + run.id + ".");
    add(TaskStage::hand_over, "clean", "", "Clear, clean and take the waste away.", true);
    add(TaskStage::hand_over, "hand over", "",
        "Go through the room with the client; book what is wrong as snags.", true);
  }

  const Survey& survey_;
  const Results& results_;
  const Room* room_ = nullptr;
  const RoomResult* result_ = nullptr;
  std::map<std::string, const Task*> ticks_;
  std::map<std::string, std::vector<std::string>> notched_;  // units, and the services in their way
  std::set<std::string> ids_;
  InstallTasks out_;
};

}  // namespace

InstallTasks install_tasks(const Survey& survey, const Results& results) {
  return Checklist(survey, results).all();
}

std::string_view word(TaskState state) {
  constexpr std::string_view words[] = {"open", "done", "not_needed"};
  return words[int(state)];
}

std::string_view word(TaskStage stage) {
  constexpr std::string_view words[] = {"arrive", "mark out", "hang",    "set legs", "level",
                                        "fix",    "services", "worktop", "plinths",  "hand over"};
  return words[int(stage)];
}

}  // namespace levelrun
