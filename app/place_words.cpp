#include "app/place_words.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <utility>
#include <vector>

#include "checks/words.h"

namespace levelrun {

// Lists of the survey and what one of their members is called; "" = goes without saying.
static constexpr std::pair<std::string_view, std::string_view> called[] = {
    {"rooms", ""},
    {"levels", ""},
    {"flooring", ""},
    {"install", ""},
    {"corners", "corner"},
    {"walls", "wall"},
    {"lengths", "length"},
    {"offsets", "offset"},
    {"diagonals", "diagonal"},
    {"angles", "angle"},
    {"openings", "opening"},
    {"ceilings", "ceiling height"},
    {"floor_areas", "floor area"},
    {"points", "point"},
    {"known", "known height"},
    {"setups", "set-up"},
    {"readings", "reading"},
    {"existing", "existing layer"},
    {"laid", "new layer"},
    {"services", "service"},
    {"runs", "run"},
    {"units", "unit"},
    {"feet", "foot"},
    {"legs", "leg type"},
    {"level_groups", "level group"},
    {"instruments", "instrument"},
    {"photos", "photo"},
    {"answers", "answer"},
    {"tasks", "task"},
    {"snags", "snag"},
    {"set_legs", "set leg"},
    {"finished_floor", "laid floor reading"},
    {"unit_levels", "reading on a unit"},
};

static std::string singular(std::string_view key) {
  for (const auto& [list, member] : called)
    if (list == key) return std::string(member);
  return spaced(key);
}

// RFC 6901: ~1 is a slash, ~0 a tilde.
static std::string unescaped(std::string_view token) {
  std::string out;
  for (size_t i = 0; i < token.size(); ++i) {
    const bool escape = token[i] == '~' && i + 1 < token.size();
    out += !escape ? token[i] : token[++i] == '1' ? '/' : '~';
  }
  return out;
}

static std::string text_of(const Json& object, const char* key) {
  const auto found = object.find(key);
  return found != object.end() && found->is_string() ? found->get<std::string>() : "";
}

// What tells one member of a list from the others: its id, else what it is of, else its number.
static std::string name_of(const Json& member, size_t index) {
  if (member.is_object()) {
    for (const char* key : {"id", "name", "file"})
      if (std::string text = text_of(member, key); !text.empty()) return text;
    if (const std::string to = text_of(member, "to"); !to.empty())
      return text_of(member, "from") + "\u2013" + to;
    if (const std::string corner = text_of(member, "corner"); !corner.empty())
      return "at " + corner;
    if (const std::string point = text_of(member, "point"); !point.empty()) return "of " + point;
  }
  return std::to_string(index + 1);
}

static std::optional<size_t> list_index(const std::string& token) {
  size_t index = 0;
  const auto [end, error] = std::from_chars(token.data(), token.data() + token.size(), index);
  if (error != std::errc() || end != token.data() + token.size()) return std::nullopt;
  return index;
}

std::string place_words(const Json& document, std::string_view at) {
  if (!at.starts_with('/')) return std::string(at);
  const Json* here = &document;
  std::string words, member;
  const auto add = [&](const std::string& part) {
    if (!part.empty()) words += (words.empty() ? "" : ", ") + part;
  };
  for (std::string_view rest = at; !rest.empty();) {
    rest.remove_prefix(1);
    const size_t slash = std::min(rest.find('/'), rest.size());
    const std::string token = unescaped(rest.substr(0, slash));
    rest.remove_prefix(slash);
    if (here->is_array()) {
      const auto index = list_index(token);
      if (!index || *index >= here->size()) return std::string(at);
      here = &(*here)[*index];
      if (!member.empty()) add(member + " " + name_of(*here, *index));
    } else if (here->is_object()) {
      const auto found = here->find(token);
      if (found == here->end()) return std::string(at);
      here = &*found;
      member = singular(token);
      if (rest.empty())
        add(here->is_array() || member.empty() ? spaced(token) : member);
      else if (!here->is_array())
        add(member);
    } else {
      return std::string(at);
    }
  }
  return words;
}

std::string room_words(const Survey& survey, std::string_view room) {
  for (const Room& r : survey.rooms)
    if (r.id == room) return r.name.empty() ? r.id : r.name;
  return "";
}

}  // namespace levelrun
