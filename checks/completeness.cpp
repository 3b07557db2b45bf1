#include "checks/completeness.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <string_view>

#include "checks/outline.h"
#include "checks/pointer.h"
#include "checks/run_line.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// mm; all common practice, no source.
constexpr double heights_apart = 300;      // less says nothing about lean
constexpr double floor_reach = 600;        // from a leg to the nearest reading
constexpr double leg_sd = 1.5;             // of the bare floor under a leg
constexpr double ceiling_reach = 2000;     // from a tall or wall unit to the nearest reading
constexpr double meets_at_corner = 1000;   // a run that ends nearer to a corner fills it
constexpr double beside_an_opening = 300;  // from a run's end to an opening's edge

constexpr std::size_t most_names = 4;  // in one sentence

// Words that mean the way was barred by what will be gone after the strip-out.
constexpr std::string_view gone_later[] = {
    "old",      "strip",     "kitchen",   "in the way", "behind", "under",
    "cupboard", "unit",      "range",     "oven",       "fridge", "appliance",
    "machine",  "connected", "furniture", "tiled",      "boxed"};

bool stands_high(const Unit& unit) {
  return unit.kind == UnitKind::tall || unit.kind == UnitKind::wall;
}

bool has_high_units(const Run& run) {
  return std::any_of(run.units.begin(), run.units.end(), stands_high);
}

double ends_along(const Run& run) {
  double along = run.from_along;
  for (const Unit& unit : run.units) along += unit.width;
  return along;
}

template <class Items>
bool at_two_heights(const Items& items) {
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (const auto& item : items) {
    least = std::min(least, item.height);
    most = std::max(most, item.height);
  }
  return most - least >= heights_apart;
}

bool lean_known(const Wall& wall) {
  return wall.offsets_from == OffsetsFrom::plumb_plane && at_two_heights(wall.offsets);
}

// Things of which the distance they stand off the wall decides the void.
bool stands_off(ServiceKind kind) {
  switch (kind) {
    case ServiceKind::cold_water:
    case ServiceKind::hot_water:
    case ServiceKind::waste:
    case ServiceKind::soil_stack:
    case ServiceKind::gas:
    case ServiceKind::duct:
    case ServiceKind::boiler:
    case ServiceKind::radiator:
    case ServiceKind::meter:
      return true;
    default:
      return false;
  }
}

class Lister {
 public:
  explicit Lister(const RoomFacts& f) : f_(f), room_(f.room) {}

  Completeness list() {
    for (Index w = 0; w < room_.walls.size(); ++w) wall(w);
    if (!f_.plan.known)
      for (const std::string& what : f_.plan.missing)
        if (!what.starts_with("length of "))
          add(what, pointer(f_.index), "the plan cannot be worked out without it", Weight::said);
    for (Index c = 0; c < room_.corners.size(); ++c) corner(c);
    for (Index o = 0; o < room_.openings.size(); ++o) opening(o);
    ceilings();
    set_ups();
    for (Index s = 0; s < room_.services.size(); ++s) service(s);
    floor();
    out_.today = out_.missing.size();
    summarise();
    skipped();
    return std::move(out_);
  }

 private:
  enum class Weight {
    needed,  // changes what is made
    checks,  // would only check it
    said     // another check has a finding for it
  };

  void add(std::string what, std::string at, std::string why, Weight weight) {
    if (weight != Weight::said) names_.push_back(what);
    needed_ = needed_ || weight == Weight::needed;
    out_.missing.push_back({std::move(what), std::move(at), std::move(why)});
  }

  template <class Ask>
  bool any_run_on(Index wall, Ask ask) const {
    return std::any_of(room_.runs.begin(), room_.runs.end(), [&](const Run& run) {
      return run.wall == wall && !run.units.empty() && ask(run);
    });
  }

  void wall(Index w) {
    const Wall& wall = room_.walls[w];
    const std::string at = pointer(f_.index, "walls", w);
    if (wall.lengths.empty()) {
      if (f_.plan.known)
        add("length of " + wall.id, at, "it only follows from the other walls",
            wall.furnished ? Weight::needed : Weight::checks);
      else
        add("length of " + wall.id, at, "the plan cannot be worked out without it", Weight::said);
    }
    if (const Run* run = run_beside_unseen_lean(room_, w); run && !wall.lengths.empty())
      add("length of " + wall.id + " at another height", at,
          "a leaning side wall would not show beside run " + run->id, Weight::checks);
    offsets(wall, w, at);
  }

  void offsets(const Wall& wall, Index w, const std::string& at) {
    for (const Run& run : room_.runs) {
      if (run.wall != w || run.units.empty()) continue;
      const double from = run.from_along - reading_reach, to = ends_along(run) + reading_reach;
      if (std::none_of(wall.offsets.begin(), wall.offsets.end(),
                       [&](const WallOffset& o) { return o.along >= from && o.along <= to; })) {
        add("offsets of " + wall.id + " behind run " + run.id, at,
            "its void and scribe are taken as if the wall were straight and plumb", Weight::needed);
        continue;
      }
      if (!has_high_units(run) || lean_known(wall)) continue;
      add("offsets of " + wall.id +
              (at_two_heights(wall.offsets) ? " from a plumb plane" : " at a second height"),
          at, "tall or wall units of run " + run.id + " stand there and its lean is not known",
          Weight::needed);
      return;
    }
  }

  void corner(Index c) {
    if (!f_.plan.known || !f_.plan.corner_results[c].assumed) return;
    const Run *before = nullptr, *after = nullptr;
    for (const Run& run : room_.runs) {
      if (!run.wall || run.units.empty()) continue;
      const Wall& wall = room_.walls[*run.wall];
      const double length = f_.plan.walls[*run.wall].length;
      if (wall.to == c && ends_along(run) > length - meets_at_corner) before = &run;
      if (wall.from == c && run.from_along < meets_at_corner) after = &run;
    }
    if (!before || !after) return;
    add("angle of " + room_.corners[c].id + ", or a diagonal", pointer(f_.index, "corners", c),
        "runs " + before->id + " and " + after->id + " meet there and it is taken as square",
        Weight::needed);
  }

  void opening(Index o) {
    const Opening& opening = room_.openings[o];
    const Wall& wall = room_.walls[opening.wall];
    const std::string at = pointer(f_.index, "openings", o);
    if (opening.kind == OpeningKind::door && !opening.opens)
      add("way that " + opening.id + " opens", at, "its swing may foul units", Weight::checks);
    if (!wall.furnished || !any_run_on(opening.wall, [](const Run&) { return true; })) return;
    if (!opening.above)
      add("height from the head of " + opening.id + " to the ceiling", at,
          "nothing checks its heights", Weight::checks);
    const bool beside = any_run_on(opening.wall, [&](const Run& run) {
      return ends_along(run) > opening.left - beside_an_opening &&
             run.from_along < opening.left + opening.width + beside_an_opening;
    });
    if (opening.kind == OpeningKind::door && opening.architrave == 0 && beside)
      add("architrave of " + opening.id, at, "none is booked and units stand beside it",
          Weight::checks);
  }

  void ceilings() {
    for (Index r = 0; r < room_.runs.size(); ++r) {
      const Run& run = room_.runs[r];
      if (!has_high_units(run)) continue;
      std::string far;
      if (f_.runs[r])
        for (const PlacedUnit& unit : f_.runs[r]->units)
          if (stands_high(run.units[unit.unit]) &&
              !ceiling_near(f_.runs[r]->frame.at((unit.left + unit.right) / 2, unit.front)))
            far += (far.empty() ? "" : ", ") + run.units[unit.unit].id;
      if (room_.ceilings.empty())
        add("ceiling over run " + run.id, pointer(f_.index, "runs", r),
            "nothing says that its tall or wall units go under it", Weight::needed);
      else if (!far.empty())
        add("ceiling over " + far, pointer(f_.index, "runs", r),
            "no reading within " + millimetres(ceiling_reach), Weight::checks);
    }
  }

  bool ceiling_near(PlanPoint p) const {
    return std::any_of(room_.ceilings.begin(), room_.ceilings.end(), [&](const CeilingReading& c) {
      const auto at = f_.plan.at(c.place);
      return at && distance(*at, p) <= ceiling_reach;
    });
  }

  // A set-up whose plane rests on one reading: a slip in it, or a knock, would not show.
  void set_ups() {
    const Levels& levels = room_.levels;
    if (!levels.benchmark) return;
    std::map<Index, int> times;
    for (const LevelReading& reading : f_.levels.readings) ++times[reading.point];
    for (const KnownHeight& known : levels.known) ++times[known.point];
    for (Index s = 0; s < levels.setups.size(); ++s) {
      if (!f_.levels.planes[s]) continue;
      int ties = 0;
      bool on_floor = false;
      for (const LevelReading& reading : f_.levels.readings) {
        if (reading.setup != s) continue;
        on_floor = on_floor || !levels.points[reading.point].off_floor;
        ties += reading.point == levels.benchmark->point || times[reading.point] > 1;
      }
      if (ties >= 2 || !on_floor) continue;
      add("benchmark again from set-up " + levels.setups[s].id,
          pointer(f_.index) + "/levels/setups/" + std::to_string(s),
          "one reading ties it: nothing shows that it was not knocked", Weight::checks);
    }
  }

  void service(Index s) {
    const Service& service = room_.services[s];
    if (!service.place.wall ||
        (service.action != ServiceAction::stay && service.action != ServiceAction::unknown))
      return;
    const auto run = std::find_if(room_.runs.begin(), room_.runs.end(), [&](const Run& each) {
      return each.wall == service.place.wall && service.place.along >= each.from_along &&
             service.place.along <= ends_along(each);
    });
    if (run == room_.runs.end()) return;
    const std::string at = pointer(f_.index, "services", s);
    if (!service.height)
      add("height of service " + service.id, at, "units of run " + run->id + " stand in front",
          Weight::needed);
    if (service.projection == 0 && stands_off(service.kind))
      add("projection of service " + service.id, at,
          "units of run " + run->id + " stand in front: the void must clear it", Weight::needed);
  }

  void floor() {
    std::vector<PlanPoint> read;
    std::set<Index> seen;
    for (const LevelReading& reading : f_.levels.readings) {
      const LevelPoint& point = room_.levels.points[reading.point];
      if (!reading.used || point.off_floor || !point.place || !seen.insert(reading.point).second)
        continue;
      if (const auto at = f_.plan.at(*point.place)) read.push_back(*at);
    }
    for (Index r = 0; r < room_.runs.size(); ++r) {
      std::vector<std::string> unread, unsure, far;
      Index last = room_.runs[r].units.size();
      for (const LegPlace& leg : f_.legs) {
        if (leg.run != r || leg.unit == last) continue;
        const std::string& unit = room_.runs[r].units[leg.unit].id;
        std::vector<std::string>* to = nullptr;
        if (!leg.bare)
          to = &unread;
        else if (leg.bare->sd > leg_sd)
          to = &unsure;
        else if (std::none_of(read.begin(), read.end(),
                              [&](PlanPoint p) { return distance(p, leg.place) <= floor_reach; }))
          to = &far;
        if (!to) continue;
        to->push_back(unit);
        last = leg.unit;
      }
      const std::string at = pointer(f_.index, "runs", r);
      const auto ask = [&](const std::vector<std::string>& units, std::string why, Weight weight) {
        if (!units.empty()) add("floor under " + listed(units), at, std::move(why), weight);
      };
      ask(unread, "no reading reaches it", Weight::said);
      ask(unsure, "the nearest readings leave more than " + decimal(leg_sd) + " mm sd",
          Weight::said);
      ask(far, "no reading within " + millimetres(floor_reach), Weight::checks);
    }
  }

  static std::string listed(const std::vector<std::string>& names) {
    std::string out;
    for (std::size_t i = 0; i < names.size() && i < most_names; ++i)
      out += (i ? ", " : "") + names[i];
    if (names.size() > most_names)
      out += " and " + std::to_string(names.size() - most_names) + " more";
    return out;
  }

  void summarise() {
    if (names_.empty()) return;
    Finding f;
    f.code = "still to measure";
    f.severity = needed_ ? Severity::query : Severity::note;
    f.at = pointer(f_.index);
    f.measured = double(names_.size());
    f.limit = 0;
    f.unit = "measurements";
    f.source = "this survey";
    f.says = "Still to measure: " + listed(names_) + ".";
    f.remedy = needed_ ? "Measure them before leaving, or say why they are not needed."
                       : "They would check what is there; a minute each.";
    out_.findings.push_back(std::move(f));
  }

  void skipped() {
    for (Index s = 0; s < room_.skipped.size(); ++s) {
      const Skipped& skip = room_.skipped[s];
      const std::string at = pointer(f_.index, "skipped", s);
      out_.missing.push_back({skip.what, at, skip.why.empty() ? "skipped" : skip.why});
      std::string why = skip.why;
      std::transform(why.begin(), why.end(), why.begin(),
                     [](unsigned char c) { return char(std::tolower(c)); });
      const bool later =
          std::any_of(std::begin(gone_later), std::end(gone_later),
                      [&](std::string_view word) { return why.find(word) != std::string::npos; });
      Finding f;
      f.code = "skipped";
      f.severity = Severity::query;
      f.id = std::to_string(s);
      f.at = at;
      f.source = "this survey";
      f.says = "Skipped: " + skip.what + (why.empty() ? "." : " (" + skip.why + ").");
      f.remedy = later ? "Check it again after strip-out, before panels are cut."
                       : "Measure it before manufacture.";
      out_.findings.push_back(std::move(f));
    }
  }

  const RoomFacts& f_;
  const Room& room_;
  Completeness out_;
  std::vector<std::string> names_;
  bool needed_ = false;
};

}  // namespace

const Run* run_beside_unseen_lean(const Room& room, Index w) {
  const Wall& wall = room.walls[w];
  if (at_two_heights(wall.lengths)) return nullptr;
  const auto meets = [](RunEnd end) { return end == RunEnd::wall || end == RunEnd::corner; };
  for (const Run& run : room.runs) {
    if (run.wall != w || run.units.empty()) continue;
    for (const Wall& side : room.walls) {
      const bool left = side.to == wall.from, right = side.from == wall.to;
      if (((left && meets(run.starts_at)) || (right && meets(run.ends_at))) && !lean_known(side))
        return &run;
    }
  }
  return nullptr;
}

Completeness completeness(const RoomFacts& f) { return Lister(f).list(); }

}  // namespace levelrun
