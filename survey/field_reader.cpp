// Fields of one object. An object has some twenty members, so a search from the front finds
// them sooner than any index would.
#include "survey/field_reader.h"

#include <algorithm>
#include <cmath>

#include "survey/near_word.h"
#include "survey/parse_json.h"
#include "survey/utf8.h"

namespace levelrun {
namespace {

constexpr std::size_t longest_id = 40;            // characters
constexpr std::size_t most_unknown_words = 1000;  // each is asked about; more say no more

std::string any_id_of(const Ids& ids) { return "the id of one of " + std::string(ids.list()); }

std::string number_text(double value) { return Json(value == 0 ? 0.0 : value).dump(); }

}  // namespace

bool Reading::full() const { return problems.size() >= most_problems; }

void Reading::problem(const At& at, std::string found, std::string expected) {
  if (full()) return;
  std::string pointer = pointer_text(at);
  for (const Problem& known : problems) {
    if (known.at == pointer) return;
  }
  problems.push_back({std::move(pointer), std::move(found), std::move(expected)});
}

std::optional<Index> Ids::find(std::string_view id) const {
  const auto found = index_of_.find(id);
  if (found == index_of_.end()) return std::nullopt;
  return found->second;
}

const Json* Fields::find(std::string_view name) const {
  if (!object_) return nullptr;
  std::size_t index = 0;
  for (const auto& [member, value] : object_->get_ref<const Json::object_t&>()) {
    if (member == name) {
      if (index < 64) asked_ |= std::uint64_t{1} << index;
      return &value;
    }
    ++index;
  }
  if (missed_ < missing_.size()) missing_[missed_++] = name;
  return nullptr;
}

Fields::~Fields() {
  if (!object_ || missed_ == 0) return;
  std::size_t index = 0;
  for (const auto& member : object_->get_ref<const Json::object_t&>()) {
    if (index == 64) return;
    if ((asked_ >> index++ & 1) != 0) continue;
    for (std::size_t i = 0; i < missed_; ++i)
      if (is_slip_of(member.first, missing_[i])) {
        unknown_word(At::member(at_, member.first), member.first,
                     "the field \"" + std::string(missing_[i]) + "\"");
        break;
      }
  }
}

const Json* Fields::find_list(std::string_view name, std::string_view expected, Index most) const {
  const Json* value = find(name);
  if (!value) return nullptr;
  if (!value->is_array()) {
    refuse(name, expected);
  } else if (value->size() > most) {
    problem(name, std::to_string(value->size()) + " items", "up to " + std::to_string(most));
  } else {
    return value;
  }
  return nullptr;
}

void Fields::unknown_word(const At& at, const std::string& word, std::string expected) const {
  if (reading_.unknown_words.size() == most_unknown_words) return;
  reading_.unknown_words.push_back({pointer_text(at), word, std::move(expected)});
}

void Fields::problem(std::string_view name, std::string found, std::string expected) const {
  reading_.problem(At::member(at_, name), std::move(found), std::move(expected));
}

void Fields::problem(std::string found, std::string expected) const {
  reading_.problem(at_, std::move(found), std::move(expected));
}

void Fields::refuse(std::string_view name, std::string_view expected) const {
  if (!object_ || reading_.full()) return;
  const Json* value = find(name);
  if (value) return problem(name, found_text(*value), std::string(expected));
  std::string wanted(expected);
  for (const auto& member : object_->get_ref<const Json::object_t&>())
    if (is_slip_of(member.first, name)) {
      wanted += "; " + in_quotes(member.first) + " stands there";
      break;
    }
  problem(name, "nothing", std::move(wanted));
}

std::optional<double> Fields::number_if(std::string_view name, const NumberKind& kind) const {
  const Json* value = find(name);
  if (!value) return std::nullopt;
  const double number = value->is_number() ? value->get<double>() : 0;
  if (!value->is_number()) {
    refuse(name, kind.type);
  } else if (!kind.holds(number)) {
    refuse(name, kind.range);
  }
  return number;
}

double Fields::number(std::string_view name, const NumberKind& kind) const {
  const auto value = number_if(name, kind);
  if (!value) refuse(name, kind.type);
  return value.value_or(0);
}

double Fields::number(std::string_view name, const NumberKind& kind, double otherwise) const {
  return number_if(name, kind).value_or(otherwise);
}

std::vector<double> Fields::numbers(std::string_view name, const NumberKind& kind,
                                    Index most) const {
  std::vector<double> values;
  const Json* list = find_list(name, "a list of numbers of mm", most);
  if (!list) return values;
  const At at = At::member(at_, name);
  for (Index i = 0; i < list->size(); ++i) {
    const Json& value = (*list)[i];
    values.push_back(value.is_number() ? value.get<double>() : 0);
    if (value.is_number() && kind.holds(values.back())) continue;
    reading_.problem(At::item(at, i), found_text(value),
                     std::string(value.is_number() ? kind.range : kind.type));
  }
  return values;
}

int Fields::counting_number(std::string_view name, int otherwise) const {
  const Json* value = find(name);
  if (!value) return otherwise;
  const double number = value->is_number() ? value->get<double>() : 0;
  if (number >= 1 && number <= most_number && number == std::floor(number)) {
    return static_cast<int>(number);
  }
  refuse(name, "a whole number from 1 up");
  return otherwise;
}

void Fields::ordered(std::string_view least_name, double least, std::string_view most_name,
                     double most) const {
  if (!object_ || most >= least) return;
  problem(most_name, number_text(most),
          "at least " + std::string(least_name) + " (" + number_text(least) + ")");
}

const std::string* Fields::text_at(std::string_view name, std::string_view expected) const {
  const Json* value = find(name);
  if (!value) return nullptr;
  const auto* text = value->get_ptr<const std::string*>();
  if (!text) refuse(name, expected);
  return text;
}

std::optional<double> Fields::peek_number(std::string_view name) const {
  const Json* value = find(name);
  if (!value || !value->is_number()) return std::nullopt;
  return value->get<double>();
}

std::optional<std::string_view> Fields::peek_text(std::string_view name) const {
  const Json* value = find(name);
  const auto* held = value ? value->get_ptr<const std::string*>() : nullptr;
  if (!held) return std::nullopt;
  return *held;
}

std::string Fields::text(std::string_view name) const {
  if (!has(name)) refuse(name, "a text");
  return text(name, "");
}

std::string Fields::text(std::string_view name, std::string_view otherwise) const {
  const std::string* text = text_at(name, "a text");
  return text ? *text : std::string(otherwise);
}

std::string Fields::short_text(std::string_view name, std::string_view otherwise,
                               Index most) const {
  const auto held = peek_text(name);
  if (!held || characters(*held) <= most) return text(name, otherwise);
  refuse(name, "a text of up to " + std::to_string(most) + " characters");
  return {};
}

bool Fields::flag(std::string_view name) const {
  if (!has(name)) refuse(name, "true or false");
  return flag(name, false);
}

bool Fields::flag(std::string_view name, bool otherwise) const {
  const Json* value = find(name);
  if (!value) return otherwise;
  if (!value->is_boolean()) {
    refuse(name, "true or false");
    return otherwise;
  }
  return value->get<bool>();
}

std::string Fields::one_of(std::span<const std::string_view> words) {
  std::string text = "one of";
  const char* before = " ";
  for (const std::string_view word : words) {
    text += before;
    text += word;
    before = ", ";
  }
  return text;
}

std::optional<Index> Fields::word_index(std::string_view name,
                                        std::span<const std::string_view> words) const {
  const Json* value = find(name);
  if (!value) return std::nullopt;
  const auto* text = value->get_ptr<const std::string*>();
  if (!text) {
    refuse(name, one_of(words));
    return std::nullopt;
  }
  const auto index =
      static_cast<Index>(std::find(words.begin(), words.end(), *text) - words.begin());
  if (index == words.size()) {
    unknown_word(At::member(at_, name), *text, one_of(words));
  }
  return index;
}

std::vector<std::string> Fields::words(std::string_view name,
                                       std::span<const std::string_view> words) const {
  std::vector<std::string> known;
  const Json* list = find_list(name, "a list of words", any_count);
  if (!list) return known;
  const At at = At::member(at_, name);
  for (Index i = 0; i < list->size(); ++i) {
    const auto* text = (*list)[i].get_ptr<const std::string*>();
    if (!text) {
      reading_.problem(At::item(at, i), found_text((*list)[i]), one_of(words));
    } else if (std::find(words.begin(), words.end(), *text) != words.end()) {
      known.push_back(*text);
    } else {
      unknown_word(At::item(at, i), *text, one_of(words));
    }
  }
  return known;
}

std::string Fields::new_id(Ids& ids, Index index) const {
  constexpr std::string_view expected = "an id of 1 to 40 characters";
  if (!has("id")) refuse("id", expected);
  const std::string* id = text_at("id", expected);
  if (!id) return {};
  if (id->empty() || characters(*id) > longest_id) {
    problem("id", in_quotes(*id), std::string(expected));
  } else if (!ids.add(*id, index)) {
    problem("id", in_quotes(*id), "an id that no other of " + std::string(ids.list()) + " has");
  }
  return *id;
}

Index Fields::reference(std::string_view name, const Ids& ids) const {
  if (!has(name)) refuse(name, any_id_of(ids));
  return reference_if(name, ids).value_or(0);
}

std::optional<Index> Fields::reference_if(std::string_view name, const Ids& ids,
                                          std::string_view or_else) const {
  const Json* value = find(name);
  if (!value) return std::nullopt;
  const auto* id = value->get_ptr<const std::string*>();
  const auto index = id ? ids.find(*id) : std::nullopt;
  if (!index) refuse(name, std::string(or_else) + any_id_of(ids));
  return index;
}

Fields Fields::object(std::string_view name) const {
  if (!has(name)) refuse(name, "an object");
  return object_if(name);
}

Fields Fields::object_if(std::string_view name) const {
  const Json* value = find(name);
  if (value && !value->is_object()) {
    refuse(name, "an object");
    value = nullptr;
  }
  return Fields(value, At::member(at_, name), reading_);
}

FieldList Fields::list(std::string_view name, Index most) const {
  return FieldList(find_list(name, "a list", most), At::member(at_, name), reading_);
}

Fields FieldList::item(Index index) const {
  const Json* value = &(*list_)[index];
  if (!value->is_object()) {
    reading_.problem(At::item(at_, index), found_text(*value), "an object");
    value = nullptr;
  }
  return Fields(value, At::item(at_, index), reading_);
}

}  // namespace levelrun
