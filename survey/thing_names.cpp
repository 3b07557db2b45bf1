#include "survey/thing_names.h"

#include <algorithm>
#include <utility>

#include "survey/json_pointer.h"
#include "survey/utf8.h"

namespace levelrun {
namespace {

constexpr std::size_t shown_id = 40;  // characters; an id may have no more

// Lists whose members have ids, and what one member is called.
constexpr std::pair<std::string_view, std::string_view> called[] = {
    {"rooms", "room"},       {"instruments", "instrument"},
    {"corners", "corner"},   {"walls", "wall"},
    {"openings", "opening"}, {"floor_areas", "floor area"},
    {"points", "point"},     {"setups", "set-up"},
    {"services", "service"}, {"runs", "run"},
    {"units", "unit"},       {"level_groups", "level group"},
    {"legs", "leg type"},    {"tasks", "task"},
    {"snags", "snag"}};

std::string_view one_of_list(std::string_view list) {
  for (const auto& [name, member] : called)
    if (name == list) return member;
  return {};
}

// The member of an object or list that the token names; nullptr if there is none. Names are
// compared as pointers show them, for they were cut and escaped there.
const Json* step(const Json& here, const std::string& token) {
  if (here.is_array()) {
    for (Index i = 0; i < here.size(); ++i)
      if (std::to_string(i) == token) return &here[i];
  } else if (here.is_object()) {
    for (const auto& [name, value] : here.get_ref<const Json::object_t&>()) {
      std::string shown;
      append_member(shown, name);
      if (shown.compare(1, shown.npos, token) == 0) return &value;
    }
  }
  return nullptr;
}

}  // namespace

std::string thing_names(const Json& document, std::string_view at) {
  std::string out;
  const Json* here = &document;
  std::string list;  // the member that was entered last
  for (std::string_view rest = at; rest.size() > 1;) {
    rest.remove_prefix(1);
    const std::size_t slash = std::min(rest.find('/'), rest.size());
    const std::string token(rest.substr(0, slash));
    rest.remove_prefix(slash);
    const bool in_list = here->is_array();
    const bool alone = in_list && list == "rooms" && here->size() < 2;
    here = step(*here, token);
    if (!here) break;
    if (!in_list) {
      list = token;
      continue;
    }
    const std::string_view kind = one_of_list(list);
    if (kind.empty() || alone || rest == "/id" || !here->is_object()) continue;
    const auto id = here->find("id");
    if (id == here->end() || !id->is_string()) continue;
    out += (out.empty() ? "" : ", ") + std::string(kind) + " " +
           visible(id->get_ref<const std::string&>(), shown_id);
  }
  return out;
}

}  // namespace levelrun
