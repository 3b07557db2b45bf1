// Surveys with something open are answered at random, as far as each open hold or query leaves it
// open: readings taken again, lengths and offsets put right, places read that were skipped, words
// replaced by known ones, services and openings moved, units and runs thought over. Solved again,
// whatever was listed as "may be cut" must not have moved by a printed digit. What is drawn goes by
// the findings' pointers and words alone and shares no code with the list.
//
//   simulate_partial_release [answers]
#include "checks/partial_release.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "checks/solve.h"
#include "survey/survey_file.h"
#include "tests/simulate/random.h"

using namespace levelrun;

namespace {

constexpr double printed = 0.05;  // mm: half of the last digit

// ---- What of a part is cut ---------------------------------------------------------------------

using Numbers = std::vector<double>;

void add(Numbers& to, const Unknown& value) { to.push_back(value.value_or(-1e9)); }

Numbers of_unit(const Run& run, const Unit& unit, const RoomResult& room) {
  const Furniture& f = run.furniture;
  Numbers out = {unit.width, double(unit.kind), double(f.back), f.void_depth, f.back_thickness};
  add(out, unit.height                   ? unit.height
           : unit.kind == UnitKind::tall ? f.tall_height
           : unit.kind == UnitKind::wall ? Unknown(f.wall_unit.height)
                                         : Unknown(f.base_height));
  out.push_back(
      unit.depth.value_or(unit.kind == UnitKind::wall ? f.wall_unit.depth : f.base_depth));
  for (const ServiceResult& s : room.services) {
    for (const std::string& id : s.units)
      if (id == unit.id) add(out, s.void_here), add(out, s.void_needed);
    for (const NotchResult& n : s.notches)
      if (n.unit == unit.id)
        for (const double v : {n.from, n.to, n.height_from, n.height_to, n.depth}) out.push_back(v);
  }
  for (const EndPanelResult& p : room.end_panels)
    if (p.unit == unit.id) add(out, p.front), add(out, p.back);
  return out;
}

Numbers of_face(const std::string& run, const std::string& face, const RoomResult& room) {
  Numbers out;
  for (const PlinthResult& p : room.plinths) {
    if (p.run != run || p.face != face) continue;
    for (const double v : {double(p.piece), p.length, double(int(p.top)), double(int(p.bottom)),
                           p.height_left, p.height_right})
      out.push_back(v);
    for (const PlinthOrdinate& o : p.ordinates) out.push_back(o.along), out.push_back(o.height);
  }
  return out;
}

std::map<std::string, Numbers> numbers(const Survey& survey, const Results& results) {
  std::map<std::string, Numbers> out;
  for (std::size_t r = 0; r < survey.rooms.size(); ++r)
    for (const Run& run : survey.rooms[r].runs) {
      const std::string room = survey.rooms.size() > 1 ? survey.rooms[r].id + "/" : "";
      for (const Unit& unit : run.units) out[room + unit.id] = of_unit(run, unit, results.rooms[r]);
      std::set<std::string> faces;
      for (const PlinthResult& p : results.rooms[r].plinths)
        if (p.run == run.id && faces.insert(p.face).second)
          out[room + "plinth " + run.id + " " + p.face] = of_face(run.id, p.face, results.rooms[r]);
    }
  return out;
}

// ---- Random answers ----------------------------------------------------------------------------

class Answers {
 public:
  Answers(Json& document, Random& random) : d_(document), random_(random) {}

  void give(const Finding& f) {
    const Json::json_pointer at(f.at);
    std::vector<std::string> step;
    for (auto p = at; !p.empty(); p.pop_back()) step.insert(step.begin(), p.back());
    if (f.code == "word not known") return word(at, f.says);
    if (step.size() < 2 || step[0] != "rooms") return;
    Json& room = d_["rooms"][std::size_t(std::atoi(step[1].c_str()))];
    const std::string list = step.size() > 2 ? step[2] : "";
    const auto item = [&](const char* name) -> Json& {
      return room[name][std::size_t(std::atoi(step[3].c_str()))];
    };
    if (list.empty() || list == "corners" || list == "angles" || list == "diagonals")
      return lengths_again(room);
    if (list == "levels" || list == "flooring" || list == "floor_areas") return floor_again(room);
    if (list == "ceilings") return each(room["ceilings"], {"clear", "height"}, 25);
    if (list == "skipped") return skipped(room);
    if (list == "walls") return wall(item("walls"), step.size() > 4 ? step[4] : "");
    if (list == "openings") {
      Json& o = item("openings");
      for (const char* name : {"left", "width", "sill", "height"}) shift(o, name, 30, 1);
      return;
    }
    if (list == "services") {
      Json& s = item("services");
      shift(s, "along", 400, 1);
      shift(s, "height", 150, 1);
      shift(s, "projection", 30, 0);
      for (const char* name : {"diameter", "width"}) shift(s, name, 20, 5);
      return;
    }
    if (list == "level_groups") return shift(item("level_groups"), "asked_height", 20, 500);
    if (list == "runs" && step.size() > 5) return unit(room, item("runs"), step[5], f);
    if (list == "runs") return run(room, item("runs"), f);
  }

 private:
  Json& d_;
  Random& random_;

  bool coin() { return random_.uniform(0, 1) < 0.5; }
  void shift(Json& object, const char* name, double by, double least) {
    if (!object.contains(name) || !object[name].is_number()) return;
    const double v = object[name].get<double>() + random_.uniform(-by, by);
    object[name] = std::max(least, std::round(v * 2) / 2);
  }
  void each(Json& list, std::initializer_list<const char*> names, double by) {
    for (Json& one : list)
      for (const char* name : names) shift(one, name, by, 1);
  }
  void word(const Json::json_pointer& at, const std::string& says) {
    const std::size_t from = says.find("one of ");
    if (from == std::string::npos || !d_.contains(at)) return;
    std::vector<std::string> known = {""};
    for (const char c : says.substr(from + 7)) {
      if (c == ',')
        known.emplace_back();
      else if (c != ' ' && c != '.')
        known.back() += c;
    }
    d_[at] = known[random_.below(known.size())];
  }
  void lengths_again(Json& room) {
    for (Json& w : room["walls"])
      if (w.contains("lengths") && coin()) each(w["lengths"], {"length"}, coin() ? 100 : 3);
    if (room.contains("diagonals") && coin()) each(room["diagonals"], {"length"}, 20);
  }
  void floor_again(Json& room) {
    if (!room.contains("levels")) return;
    for (Json& setup : room["levels"]["setups"])
      for (Json& reading : setup["readings"])
        if (random_.uniform(0, 1) < 0.3) shift(reading, "staff", 8, 1);
    if (room.contains("flooring") && room["flooring"].contains("laid") && coin())
      each(room["flooring"]["laid"], {"thickness"}, 4);
    if (coin()) one_more_point(room);
  }
  void one_more_point(Json& room) {
    Json& levels = room["levels"];
    if (levels["setups"].empty()) return;
    Json& readings = levels["setups"][random_.below(levels["setups"].size())]["readings"];
    if (readings.empty()) return;
    const std::string id = "new" + std::to_string(levels["points"].size());
    Json point = {{"id", id},
                  {"place",
                   {{"x", std::round(random_.uniform(100, 3000))},
                    {"y", std::round(random_.uniform(-2500, -100))}}}};
    if (room.contains("floor_areas") && !room["floor_areas"].empty())
      point["area"] = room["floor_areas"][0]["id"];
    levels["points"].push_back(point);
    const double staff = readings[random_.below(readings.size())]["staff"].get<double>();
    readings.push_back({{"point", id}, {"staff", std::round(staff + random_.normal(4))}});
  }
  void skipped(Json& room) {
    one_more_point(room);
    if (coin()) floor_again(room);
    if (coin()) lengths_again(room);
  }
  void wall(Json& w, const std::string& what) {
    if (what == "lengths" || what.empty()) {
      if (w.contains("lengths")) each(w["lengths"], {"length"}, 120);
    }
    if (what == "offsets" || what.empty()) {
      if (w.contains("offsets")) each(w["offsets"], {"offset"}, 6);
    }
    if (what == "finish" && w.contains("finish")) each(w["finish"], {"thickness"}, 3);
    if (what == "skirting" && w.contains("skirting")) shift(w["skirting"], "thickness", 8, 1);
  }
  // Other legs, another board, another asked height, compound on the floor.
  void heights(Json& room) {
    if (d_["furniture"].contains("legs") && coin())
      for (Json& leg : d_["furniture"]["legs"])
        shift(leg, "max", 60, leg["min"].get<double>() + 10);
    if (d_["furniture"].contains("plinth") && coin())
      shift(d_["furniture"]["plinth"], "height", 30, 60);
    if (room.contains("level_groups"))
      for (Json& g : room["level_groups"]) shift(g, "asked_height", 15, 500);
    if (coin()) floor_again(room);
  }
  static bool about_heights(const Finding& f) {
    for (const char* part :
         {"leg", "plinth", "level suits", "asked height", "sealed edge", "floor"})
      if (f.code.find(part) != std::string::npos) return true;
    return false;
  }
  void unit(Json& room, Json& run, const std::string& index, const Finding& f) {
    if (about_heights(f)) return heights(room);
    Json& u = run["units"][std::size_t(std::atoi(index.c_str()))];
    shift(u, "width", 60, 100);
    shift(u, "height", 40, 300);
    shift(u, "depth", 40, 200);
  }
  void run(Json& room, Json& r, const Finding& f) {
    if (about_heights(f)) return heights(room);
    shift(r, "from_along", 40, 0);
    each(r["units"], {"width"}, 40);
  }
};

// ---- Surveys with something open ----------------------------------------------------------------

struct Case {
  std::string name;
  std::function<void(Json&, Random&)> spoil;
};

Json& any(Json& list, Random& random) { return list[random.below(list.size())]; }

const std::vector<Case>& cases() {
  static const std::vector<Case> all = {
      {"as it is", [](Json&, Random&) {}},
      {"a word not known on a wall",
       [](Json& d, Random& r) { any(d["rooms"][0]["walls"], r)["build"] = "cob"; }},
      {"a service moved",
       [](Json& d, Random& r) {
         if (!d["rooms"][0].contains("services")) return;
         Json& s = any(d["rooms"][0]["services"], r);
         s["projection"] = 95;
         s["action"] = "perhaps";
       }},
      {"a reading of the floor wrong",
       [](Json& d, Random& r) {
         Json& readings = any(d["rooms"][0]["levels"]["setups"], r)["readings"];
         Json& one = any(readings, r);
         one["staff"] = one["staff"].get<double>() + 40;
       }},
      {"a length wrong",
       [](Json& d, Random& r) {
         Json& w = any(d["rooms"][0]["walls"], r);
         if (w.contains("lengths") && !w["lengths"].empty())
           w["lengths"][0]["length"] = w["lengths"][0]["length"].get<double>() + 90;
       }},
      {"short legs",
       [](Json& d, Random&) {
         for (Json& leg : d["furniture"]["legs"]) leg["max"] = leg["min"].get<double>() + 18;
       }},
      {"something skipped",
       [](Json& d, Random&) {
         d["rooms"][0]["skipped"].push_back({{"what", "floor behind the range"}, {"why", "hot"}});
       }},
      {"a unit's word not known",
       [](Json& d, Random& r) {
         any(any(d["rooms"][0]["runs"], r)["units"], r)["hinge"] = "both";
       }},
      {"an opening's word not known",
       [](Json& d, Random& r) {
         if (d["rooms"][0].contains("openings")) any(d["rooms"][0]["openings"], r)["opens"] = "up";
       }},
  };
  return all;
}

}  // namespace

int main(int words, char** word) {
  const int wanted = words > 1 ? std::atoi(word[1]) : 10000;
  const char* samples[] = {"small-l-kitchen", "u-shape-island", "knocked-through",
                           "full-of-trouble"};
  int given = 0, surveys = 0, with_parts = 0, refused = 0, moved = 0;
  long parts = 0, listed = 0, barred = 0, barred_moved = 0;
  std::map<std::string, std::pair<long, long>> by_case;  // listed, of
  for (std::uint64_t seed = 1; given < wanted; ++seed)
    for (const char* sample : samples) {
      auto file = load_survey(std::string(SAMPLES "/") + sample + ".levelrun.json");
      if (!file.ok()) return 1;
      for (const Case& one : cases()) {
        Random random(seed * 1000 + std::uint64_t(surveys));
        Json document = file.value().document;
        one.spoil(document, random);
        const auto survey = survey_from(document);
        if (!survey.ok()) continue;
        const Results before = solve(survey.value());
        std::vector<const Finding*> open;
        for (const Finding& f : before.findings)
          if (f.severity != Severity::note && !f.answered) open.push_back(&f);
        if (open.empty()) continue;
        ++surveys;
        const auto was = numbers(survey.value(), before);
        parts += long(was.size());
        listed += long(before.manufacture.may_cut.size());
        by_case[one.name].first += long(before.manufacture.may_cut.size());
        by_case[one.name].second += long(was.size());
        if (before.manufacture.may_cut.empty()) continue;  // nothing that could move
        ++with_parts;
        for (int n = 0; n < 12 && given < wanted; ++n) {
          Json answered = document;
          Answers answers(answered, random);
          // Some or all of them.
          for (const Finding* f : open)
            if (n % 3 == 0 || random.uniform(0, 1) < 0.5) answers.give(*f);
          const auto again = survey_from(answered);
          if (!again.ok()) {
            ++refused;
            continue;
          }
          ++given;
          const auto is = numbers(again.value(), solve(again.value()));
          const std::set<std::string> free(before.manufacture.may_cut.begin(),
                                           before.manufacture.may_cut.end());
          for (const auto& [part, a] : was) {
            const auto b = is.find(part);
            bool same = b != is.end() && a.size() == b->second.size();
            for (std::size_t i = 0; same && i < a.size(); ++i)
              same = std::abs(a[i] - b->second[i]) < printed;
            if (free.count(part) == 0) {
              barred_moved += !same;
              ++barred;
            } else if (!same && ++moved <= 20) {
              std::printf("MOVED %s, %s, seed %llu: %s\n", sample, one.name.c_str(),
                          static_cast<unsigned long long>(seed), part.c_str());
            }
          }
        }
      }
    }
  std::printf(
      "%d random answers to %d surveys with something open, %d of them with parts that may "
      "be cut (%d answers that no survey could have): %d parts moved\n",
      given, surveys, with_parts, refused, moved);
  std::printf("may be cut although something is open: %ld of %ld units and faces\n", listed, parts);
  std::printf("of those that may not, %.0f %% moved\n",
              100.0 * double(barred_moved) / double(barred));
  for (const auto& [name, counts] : by_case)
    std::printf("  %-32s %5ld of %5ld\n", name.c_str(), counts.first, counts.second);
  return moved == 0 && given >= wanted && with_parts > 0 && barred_moved > 0 ? 0 : 1;
}
