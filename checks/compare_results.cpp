#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include "checks/compare.h"
#include "checks/words.h"

namespace levelrun {
namespace {

// One number or word of the results, with what it is of.
struct Tracked {
  std::string kind, room, at, what, unit;
  Unknown value;
  std::string word;
  std::string key;    // the same in both revisions
  std::string place;  // JSON Pointer
};

const Json* member_of(const Json& object, const char* name) {
  if (!object.is_object()) return nullptr;
  const auto found = object.find(name);
  return found == object.end() ? nullptr : &*found;
}

// Where an item of a room's list stands, by its id; empty: the list has no such item.
std::string item_place(const Json* list, const std::string& at, const std::string& id) {
  if (!list || !list->is_array()) return {};
  for (std::size_t i = 0; i < list->size(); ++i)
    if (const Json* own = member_of((*list)[i], "id"); own && *own == id)
      return at + "/" + std::to_string(i);
  return {};
}

std::string_view cut_word(TopCut c) {
  return c == TopCut::none ? "none" : c == TopCut::parallel ? "parallel" : "taper";
}

class Collector {
 public:
  Collector(const Json& document, const Results& results) : document_(document) {
    for (const RoomResult& room : results.rooms) of_room(room);
  }
  std::vector<Tracked> all;

 private:
  const Json& document_;
  const Json* facts_ = nullptr;  // of the room
  std::string room_, room_at_, kind_, at_, key_, place_;

  void of(const char* kind, std::string at, std::string place, const std::string& key = {}) {
    kind_ = kind;
    key_ = key.empty() ? at : key;
    at_ = std::move(at);
    place_ = place.empty() ? room_at_ : std::move(place);
  }
  const Json* list(const char* name) const { return facts_ ? member_of(*facts_, name) : nullptr; }
  std::string item(const char* name, const std::string& id) const {
    return item_place(list(name), room_at_ + "/" + name, id);
  }
  std::string unit(const std::string& id) const {
    const Json* runs = list("runs");
    for (std::size_t r = 0; runs && runs->is_array() && r < runs->size(); ++r) {
      const std::string at = room_at_ + "/runs/" + std::to_string(r) + "/units";
      const std::string found = item_place(member_of((*runs)[r], "units"), at, id);
      if (!found.empty()) return found;
    }
    return {};
  }
  void number(const char* what, const Unknown& value, const char* unit = "mm") {
    all.push_back({kind_, room_, at_, what, unit, value, "",
                   kind_ + '\n' + room_ + '\n' + key_ + '\n' + what, place_});
  }
  void words(const char* what, std::string_view text) {
    number(what, {}, "");
    all.back().word = text;
  }
  void verdict(const std::optional<Verdict>& v) {
    words("verdict", v ? word(*v) : std::string_view());
  }

  void of_room(const RoomResult& room) {
    room_ = room.id;
    const Json* rooms = member_of(document_, "rooms");
    room_at_ = item_place(rooms, "/rooms", room.id);
    facts_ = room_at_.empty()
                 ? nullptr
                 : &(*rooms)[std::size_t(std::atoi(room_at_.c_str() + room_at_.rfind('/') + 1))];
    of("room", room.id, room_at_);
    number("area", room.plan.area, "m²");
    for (const CornerResult& c : room.corners) {
      of("corner", c.id, item("corners", c.id));
      number("angle", c.angle, "degrees");
      number("out of square", c.out_of_square);
      verdict(c.verdict);
    }
    for (const WallResult& w : room.walls) {
      of("wall", w.wall, item("walls", w.wall));
      number("lean", w.lean);
      number("bow", w.bow);
      number("gap", w.gap);
      number("scribe", w.scribe);
      verdict(w.verdict);
    }
    for (const GroupResult& g : room.groups) {
      of("level group", g.id, item("level_groups", g.id));
      number("underside", g.underside);
      number("worktop above floor", g.worktop_above_floor.at);
      words("feasible", g.feasible ? "yes" : "no");
    }
    for (const LegResult& l : room.legs) {
      of("leg", l.unit + " " + l.position, unit(l.unit));
      number("height", l.height);
      words("type", l.type);
      verdict(l.verdict);
    }
    for (const PlinthResult& p : room.plinths) {
      of("plinth", p.run + " " + p.face + (p.piece > 1 ? " " + std::to_string(p.piece) : ""),
         item("runs", p.run));
      number("length", p.length);
      number("height left", p.height_left);
      number("height right", p.height_right);
      words("top cut", cut_word(p.top));
      words("bottom cut", p.bottom == BottomCut::none ? "none" : "scribe");
      number("greatest top gap", p.top_gap_greatest);
      number("floor gap", p.floor_gap);
      words("verdict", word(p.verdict));
    }
    std::map<std::pair<double, double>, int> boards;
    for (const Board& b : room.boards) ++boards[{b.height, b.stock_length}];
    for (const auto& [size, count] : boards) {
      of("boards", millimetres(size.first) + " × " + millimetres(size.second), "");
      number("count", double(count), "");
    }
    for (const EndPanelResult& e : room.end_panels) {
      of("end panel", e.unit, unit(e.unit));
      number("front", e.front);
      number("back", e.back);
    }
    for (const FitResult& f : room.fits) {
      of("fit", f.run, item("runs", f.run));
      number("clear", f.clear);
      number("left over", f.left_over);
      number("infill left", f.infill_left);
      number("infill right", f.infill_right);
      number("taper", f.taper);
      verdict(f.verdict);
    }
    for (const WorktopResult& w : room.worktops) {
      of("worktop", w.run + " " + std::to_string(w.piece), item("runs", w.run));
      number("length", w.length);
      number("depth left", w.depth_left);
      number("scribe", w.scribe);
      verdict(w.verdict);
      for (const WorktopJoint& j : w.joints)
        if (j.kind == "corner") {
          of("worktop", w.run + " " + std::to_string(w.piece) + " to " + j.with,
             item("runs", w.run));
          number("joint angle", j.angle, "degrees");
        }
    }
    for (const ServiceResult& s : room.services) {
      of("service", s.service, item("services", s.service));
      number("void", s.void_here);
      number("void needed", s.void_needed);
      if (s.fall) number("fall", s.fall->available, "mm/m");
      number("notches", double(s.notches.size()), "");
      verdict(s.verdict);
    }
    for (const RunVoidResult& v : room.run_voids) {
      of("run void", v.run, item("runs", v.run));
      number("needed", v.needed);
      verdict(v.verdict);
    }
    for (const ClearanceResult& c : room.clearances) {
      const std::string at = named_pointer(document_, c.at);
      of("clearance", c.what, c.at, c.what + '\n' + at);
      number("clear", c.clear);
      verdict(c.verdict);
    }
    for (const MissingResult& m : room.missing) {
      of("missing", m.what, m.at, m.what + '\n' + named_pointer(document_, m.at));
      words("why", m.why);
    }
  }
};

void number_doubles(std::vector<Tracked>& all) {
  std::map<std::string, int> seen;
  for (Tracked& t : all)
    if (const int n = ++seen[t.key]; n > 1) t.key += '\n' + std::to_string(n);
}

}  // namespace

std::vector<ResultChange> result_changes(const Json& old_document, const Results& old_results,
                                         const Json& new_document, const Results& new_results,
                                         std::vector<Movement>& movements) {
  std::vector<Tracked> olds = Collector(old_document, old_results).all,
                       news = Collector(new_document, new_results).all;
  number_doubles(olds);
  number_doubles(news);
  std::map<std::string, const Tracked*> was;
  for (const Tracked& t : olds) was[t.key] = &t;
  std::vector<ResultChange> out;
  const auto change = [](const Tracked& t) {
    ResultChange c;
    c.kind = t.kind;
    c.room = t.room;
    c.at = t.at;
    c.what = t.what;
    c.unit = t.unit;
    c.place = t.place;
    return c;
  };
  const auto movement = [&](const Tracked& t) -> Movement& {
    for (Movement& m : movements)
      if (m.kind == t.kind && m.room == t.room && m.what == t.what) return m;
    movements.push_back({t.kind, t.room, t.what, t.unit});
    return movements.back();
  };
  for (const Tracked& is : news) {
    ResultChange c = change(is);
    c.new_value = is.value;
    c.new_word = is.word;
    const auto found = was.find(is.key);
    if (found == was.end()) {
      if (is.value || !is.word.empty()) out.push_back(std::move(c));
      continue;
    }
    const Tracked& before = *found->second;
    was.erase(found);
    c.old_value = before.value;
    c.old_word = before.word;
    if (is.value && before.value) {
      c.by = *is.value - *before.value;
      Movement& m = movement(is);
      ++m.of;
      // A hair's breadth for what binary fractions leave of an exact half digit.
      if (std::abs(*c.by) < nothing_moved - 1e-9) continue;
      m.least = m.moved ? std::min(m.least, *c.by) : *c.by;
      m.greatest = m.moved ? std::max(m.greatest, *c.by) : *c.by;
      ++m.moved;
    } else if (!is.value && !before.value && is.word == before.word) {
      continue;
    }
    out.push_back(std::move(c));
  }
  for (const Tracked& t : olds) {
    if (!was.count(t.key) || (!t.value && t.word.empty())) continue;
    ResultChange c = change(t);
    c.old_value = t.value;
    c.old_word = t.word;
    out.push_back(std::move(c));
  }
  movements.erase(std::remove_if(movements.begin(), movements.end(),
                                 [](const Movement& m) { return m.moved == 0; }),
                  movements.end());
  return out;
}

std::vector<FindingChange> finding_changes(const Results& old_results, const Results& new_results) {
  std::map<std::string, const Finding*> was;
  for (const Finding& f : old_results.findings) was[f.id] = &f;
  std::vector<FindingChange> out;
  for (const Finding& f : new_results.findings) {
    const auto found = was.find(f.id);
    if (found == was.end()) {
      out.push_back({FindingMove::came, f, f.severity});
      continue;
    }
    const Finding& before = *found->second;
    was.erase(found);
    if (f.severity != before.severity)
      out.push_back({FindingMove::changed, f, before.severity});
    else if (f.answered != before.answered)
      out.push_back({f.answered ? FindingMove::answered : FindingMove::reopened, f, f.severity});
  }
  for (const Finding& f : old_results.findings)
    if (was.count(f.id)) out.push_back({FindingMove::went, f, f.severity});
  return out;
}

Comparison compare(const Json& old_document, const Results& old_results, const Json& new_document,
                   const Results& new_results) {
  Comparison out;
  out.old_reference = old_results.reference;
  out.new_reference = new_results.reference;
  out.old_revision = old_results.revision;
  out.new_revision = new_results.revision;
  out.facts = fact_changes(old_document, new_document, out.smaller);
  out.results = result_changes(old_document, old_results, new_document, new_results, out.movements);
  out.findings = finding_changes(old_results, new_results);
  return out;
}

}  // namespace levelrun
