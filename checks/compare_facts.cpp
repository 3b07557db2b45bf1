// The documents are walked side by side. That keeps fields which this version does not know among
// the facts, and gives every change its pointer.
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>

#include "checks/compare.h"
#include "survey/json_patch.h"
#include "survey/json_pointer.h"

namespace levelrun {
namespace {

// Members that say where an item of a list stands.
struct Stands {
  std::string_view list;
  std::vector<std::string_view> members;
};
const std::vector<Stands>& stands() {
  static const std::vector<Stands> all = {
      {"lengths", {"height", "out"}},
      {"offsets", {"along", "height"}},
      {"diagonals", {"from", "to", "height"}},
      {"angles", {"corner", "height"}},
      {"known", {"point"}},
      {"readings", {"point"}},
      {"ceilings", {"place"}},
      {"existing", {"name"}},
      {"laid", {"name"}},
      {"finish", {"name"}},
      {"skipped", {"what"}},
      {"photos", {"file"}},
      {"no_drill", {"why"}},
      {"tolerance_overrides", {"row", "span"}},
      {"finished_floor", {"room", "place"}},
      {"set_legs", {"room", "unit", "position"}},
      {"unit_levels", {"room", "unit", "corner"}},
      {"answers", {"finding", "at"}},
  };
  return all;
}

// What a member is when the file does not say so; by the list or member it stands in.
struct Default {
  std::string_view in, member;
  Json value;
};
const std::vector<Default>& defaults() {
  static const std::vector<Default> all = {
      {"job", "new_build", false},
      {"job", "tolerance_table", "din18202"},
      {"job", "revision", 1},
      {"show", "units", "mm"},
      {"show", "decimal", "."},
      {"instruments", "sd_per_m", 0},
      {"furniture", "base_height", 720},
      {"furniture", "base_depth", 560},
      {"furniture", "front_thickness", 18},
      {"furniture", "handle", 35},
      {"furniture", "back", "recessed"},
      {"furniture", "back_thickness", 18},
      {"furniture", "void_depth", 42},
      {"furniture", "cornice", 0},
      {"wall_unit", "height", 720},
      {"wall_unit", "depth", 300},
      {"wall_unit", "above_worktop", 450},
      {"worktop", "thickness", 38},
      {"worktop", "depth", 600},
      {"worktop", "overhang", 20},
      {"plinth", "height", 150},
      {"plinth", "thickness", 16},
      {"plinth", "setback", 50},
      {"plinth", "top_gap_min", 3},
      {"plinth", "top_gap_max", 15},
      {"plinth", "floor_gap_max", 3},
      {"plinth", "stock_length", 3000},
      {"plinth", "kerf", 4},
      {"plinth", "sealed_edges", "long"},
      {"infill", "min", 20},
      {"infill", "max", 100},
      {"legs", "foot_radius", 30},
      {"legs", "front_inset", 100},
      {"legs", "back_inset", 60},
      {"legs", "side_inset", 50},
      {"legs", "span", 900},
      {"corners", "angle", 90},
      {"walls", "build", "masonry"},
      {"walls", "furnished", true},
      {"walls", "offsets_from", "plumb_plane"},
      {"lengths", "out", 0},
      {"diagonals", "height", 900},
      {"angles", "height", 900},
      {"openings", "sill", 0},
      {"openings", "architrave", 0},
      {"openings", "from", "floor"},
      {"services", "from", "floor"},
      {"services", "action", "stay"},
      {"services", "projection", 0},
      {"ceilings", "from", "floor"},
      {"benchmark", "height", 0},
      {"points", "off_floor", false},
      {"setups", "collimation", 0},
      {"existing", "sd", 0.5},
      {"existing", "strip", true},
      {"laid", "sd", 0.5},
      {"laid", "to", "wall"},
      {"laid", "into_niches", true},
      {"laid", "floating", false},
      {"place", "sd", 20},
      {"outline", "sd", 20},
      {"runs", "level_group", "A"},
      {"runs", "starts_at", "wall"},
      {"runs", "ends_at", "wall"},
      {"units", "kind", "base"},
      {"units", "drawers", false},
      {"niche", "slide_in", 3},
      {"level_groups", "tolerance", 10},
  };
  return all;
}

const Json* default_of(std::string_view in, std::string_view member) {
  for (const Default& d : defaults())
    if (d.in == in && d.member == member) return &d.value;
  return nullptr;
}

const Json* member_of(const Json& object, std::string_view name) {
  if (!object.is_object()) return nullptr;
  const auto found = object.find(std::string(name));
  return found == object.end() ? nullptr : &*found;
}

// Where a value stands: the name of its member, what that stands in, and up from there.
struct Standing {
  const Standing* up = nullptr;
  std::string_view name;  // of the member; of an item: its list's
  const Json* value = nullptr;
};

constexpr double tape_sd = 2;  // mm: where no instrument is named (the file format's default)
constexpr double square_sd =
    0.6;  // degrees: of an angle that states none (as the room plan takes it)

std::optional<double> number_in(const Json& object, std::string_view name) {
  const Json* value = member_of(object, name);
  return value && value->is_number() ? std::optional(value->get<double>()) : std::nullopt;
}

double instrument_sd(const Json& document, const Json& holder, const char* field, double unset) {
  const Json* named = member_of(holder, "instrument");
  const Json* all = member_of(document, "instruments");
  if (!named || !named->is_string() || !all || !all->is_array()) return unset;
  for (const Json& instrument : *all) {
    const Json* id = member_of(instrument, "id");
    if (id && *id == *named) return number_in(instrument, field).value_or(unset);
  }
  return unset;
}

// The sd of one reading of this number; empty: it is no measurement.
std::optional<double> sd_of(const Json& document, const Standing& number) {
  if (!number.up || !number.up->value) return std::nullopt;
  const std::string_view in = number.up->name, name = number.name;
  const Json& holder = *number.up->value;
  const auto any = [&](std::initializer_list<std::string_view> names) {
    return std::find(names.begin(), names.end(), name) != names.end();
  };
  if ((in == "lengths" || in == "diagonals") && name == "length")
    return instrument_sd(document, holder, "sd", tape_sd);
  if (in == "offsets" && name == "offset") return instrument_sd(document, holder, "sd", tape_sd);
  if (in == "ceilings" && any({"clear", "height"}))
    return instrument_sd(document, holder, "sd", tape_sd);
  if (in == "angles" && any({"a", "b", "across"}))
    return instrument_sd(document, holder, "sd", tape_sd);
  if (in == "angles" && name == "degrees")
    return instrument_sd(document, holder, "sd_deg", square_sd);
  if (in == "readings" && name == "staff") {
    const Standing* setup = number.up->up ? number.up->up->up : nullptr;  // reading, list, set-up
    return setup && setup->value ? instrument_sd(document, *setup->value, "sd", tape_sd) : tape_sd;
  }
  if (in == "known" && name == "height") return number_in(holder, "sd").value_or(1);
  if ((in == "existing" || in == "laid") && name == "thickness")
    return number_in(holder, "sd").value_or(0.5);
  if (in == "finish" && name == "thickness") return number_in(holder, "sd");
  if (any({"x", "y", "along", "out"}) && (in == "place" || in == "outline" || in == "height_at"))
    return number_in(holder, "sd").value_or(20);
  return std::nullopt;
}

std::string in_words(const Json& value) {
  if (const auto* text = value.get_ptr<const std::string*>()) return *text;
  if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
  if (value.is_null()) return "nothing";
  if (!value.is_structured()) return value.dump();
  std::string out;  // of a thing that came or went: the words and numbers it begins with
  constexpr std::size_t enough = 60;
  for (auto it = value.begin(); it != value.end() && out.size() < enough; ++it) {
    if (it->is_structured()) continue;
    out += (out.empty() ? "" : ", ") + (value.is_object() ? it.key() + " " : std::string()) +
           in_words(*it);
  }
  if (!out.empty()) return out;
  return std::to_string(value.size()) + (value.size() == 1 ? " entry" : " entries");
}

class Walk {
 public:
  Walk(const Json& was, const Json& is) : old_(was), new_(is) {}

  std::vector<FactChange> listed, gone;
  int smaller = 0;

  void objects(const Standing& was, const Standing& is, const std::string& old_at,
               const std::string& new_at) {
    for (const auto& member : is.value->items()) {
      const std::string at = child(new_at, member.key());
      if (at == "/job/revision" || at == "/format" || at == "/version") continue;
      const Json* before = member_of(*was.value, member.key());
      const Json* unset = default_of(is.name, member.key());
      if (!before && unset && !member.value().is_structured()) before = unset;
      const Standing now{&is, member.key(), &member.value()};
      if (before)
        values({&was, member.key(), before}, now, child(old_at, member.key()), at);
      else if (!same_json(member.value(), Json::array()) &&
               !same_json(member.value(), Json::object()))
        came(now, at);
    }
    for (const auto& member : was.value->items()) {
      if (member_of(*is.value, member.key())) continue;
      const std::string at = child(old_at, member.key());
      if (at == "/job/revision") continue;
      const Json* unset = default_of(was.name, member.key());
      if (unset && same_json(*unset, member.value())) continue;
      if (unset && !member.value().is_structured())
        values({&was, member.key(), &member.value()}, {&is, member.key(), unset}, at, at);
      else if (!member.value().is_structured() || !member.value().empty())
        went(member.value(), at);
    }
  }

 private:
  const Json &old_, &new_;

  static std::string child(std::string at, const std::string& name) {
    append_member(at, name);
    return at;
  }
  static std::string child(std::string at, std::size_t index) {
    append_item(at, index);
    return at;
  }

  void came(const Standing& is, const std::string& at) {
    FactChange f;
    f.change = Change::came;
    f.at = at;
    f.new_text = in_words(*is.value);
    if (is.value->is_number()) f.new_value = is.value->get<double>();
    listed.push_back(std::move(f));
  }
  void went(const Json& was, const std::string& at) {
    FactChange f;
    f.change = Change::went;
    f.at = at;
    f.old_text = in_words(was);
    if (was.is_number()) f.old_value = was.get<double>();
    gone.push_back(std::move(f));
  }

  void values(const Standing& was, const Standing& is, const std::string& old_at,
              const std::string& new_at) {
    if (was.value->is_object() && is.value->is_object()) return objects(was, is, old_at, new_at);
    if (was.value->is_array() && is.value->is_array()) return lists(was, is, old_at, new_at);
    if (same_json(*was.value, *is.value)) return;
    FactChange f;
    f.at = new_at;
    f.old_text = in_words(*was.value);
    f.new_text = in_words(*is.value);
    if (was.value->is_number() && is.value->is_number()) {
      f.old_value = was.value->get<double>();
      f.new_value = is.value->get<double>();
      f.by = *f.new_value - *f.old_value;
      const auto old_sd = sd_of(old_, was), new_sd = sd_of(new_, is);
      if (old_sd && new_sd) {
        f.band = band95 * std::hypot(*old_sd, *new_sd);
        if (std::abs(*f.by) <= *f.band) {
          ++smaller;
          return;
        }
      }
    }
    listed.push_back(std::move(f));
  }

  void lists(const Standing& was, const Standing& is, const std::string& old_at,
             const std::string& new_at) {
    const Json &olds = *was.value, &news = *is.value;
    const std::vector<std::string> old_names = item_names(is.name, olds),
                                   new_names = item_names(is.name, news);
    std::map<std::string, std::size_t> place;
    for (std::size_t i = 0; i < olds.size(); ++i) place[old_names[i]] = i;
    std::vector<std::optional<std::size_t>> partner(news.size());
    std::vector<char> taken(olds.size(), 0);
    for (std::size_t k = 0; k < news.size(); ++k)
      if (const auto found = place.find(new_names[k]); found != place.end())
        taken[found->second] = 1, partner[k] = found->second;
    // Things without an id that stand nowhere known: paired in their order, so that a height or a
    // place that was put right reads as one change.
    std::size_t next = 0;
    for (std::size_t k = 0; k < news.size(); ++k) {
      if (partner[k] || member_of(news[k], "id")) continue;
      while (next < olds.size() && (taken[next] || member_of(olds[next], "id"))) ++next;
      if (next == olds.size()) break;
      taken[next] = 1;
      partner[k] = next;
    }
    for (std::size_t k = 0; k < news.size(); ++k) {
      const Standing item{&is, is.name, &news[k]};
      if (partner[k])
        values({&was, is.name, &olds[*partner[k]]}, item, child(old_at, *partner[k]),
               child(new_at, k));
      else
        came(item, child(new_at, k));
    }
    for (std::size_t i = 0; i < olds.size(); ++i)
      if (!taken[i]) went(olds[i], child(old_at, i));
    if (is.name == "units" || is.name == "existing" || is.name == "laid")
      order(old_names, new_names, partner, new_at);
  }

  // Units stand, and layers lie, in the list's order.
  void order(const std::vector<std::string>& old_names, const std::vector<std::string>& new_names,
             const std::vector<std::optional<std::size_t>>& partner, const std::string& at) {
    std::vector<std::size_t> both;
    for (const auto& p : partner)
      if (p) both.push_back(*p);
    if (std::is_sorted(both.begin(), both.end())) return;
    const auto joined = [](const std::vector<std::string>& names) {
      std::string out;
      for (const std::string& name : names) out += (out.empty() ? "" : ", ") + name;
      return out;
    };
    FactChange f;
    f.at = at;
    f.old_text = joined(old_names);
    f.new_text = joined(new_names);
    listed.push_back(std::move(f));
  }
};

}  // namespace

std::vector<std::string> item_names(std::string_view list, const Json& items) {
  std::vector<std::string> out;
  std::map<std::string, int> seen;
  const auto where = std::find_if(stands().begin(), stands().end(),
                                  [&](const Stands& s) { return s.list == list; });
  std::size_t index = 0;
  for (const Json& item : items) {
    std::string name;
    if (const Json* id = member_of(item, "id"); id && id->is_string()) {
      name = id->get<std::string>();
    } else if (item.is_object() && where != stands().end()) {
      for (const std::string_view member : where->members) {
        const Json* value = member_of(item, member);
        if (!value) value = default_of(list, member);
        if (!value) continue;
        if (!name.empty()) name += ' ';
        const auto* text = value->get_ptr<const Json::string_t*>();
        // Numbers by value: 900 and 900.0 are one height.
        name += text                 ? *text
                : value->is_number() ? Json(value->get<double>()).dump()
                                     : value->dump(-1, ' ', false, Json::error_handler_t::replace);
      }
    } else {
      name = '#' + std::to_string(index);
    }
    ++index;
    if (const int n = ++seen[name]; n > 1) name += " #" + std::to_string(n);
    out.push_back(std::move(name));
  }
  return out;
}

std::string named_pointer(const Json& document, const std::string& at) {
  const Json* here = &document;
  std::string out, list;
  for (std::size_t i = 0; i < at.size();) {
    const std::size_t end = std::min(at.find('/', i + 1), at.size());
    std::string token = at.substr(i + 1, end - i - 1);
    i = end;
    if (here->is_array()) {
      const std::size_t index = std::size_t(std::atoi(token.c_str()));
      if (index >= here->size()) return at;
      out += '/' + item_names(list, *here)[index];
      here = &(*here)[index];
    } else {
      here = member_of(*here, token);
      if (!here) return at;
      list = token;
      out += '/' + token;
    }
  }
  return out;
}

std::vector<FactChange> fact_changes(const Json& old_document, const Json& new_document,
                                     int& smaller) {
  Walk walk(old_document, new_document);
  if (old_document.is_object() && new_document.is_object())
    walk.objects({nullptr, "", &old_document}, {nullptr, "", &new_document}, "", "");
  smaller = walk.smaller;
  std::vector<FactChange> out = std::move(walk.listed);
  for (FactChange& f : walk.gone) out.push_back(std::move(f));
  return out;
}

}  // namespace levelrun
