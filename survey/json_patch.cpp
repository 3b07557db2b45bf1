// Operation by operation, each leaving the operation that takes it back; a problem half-way is
// taken back by the same list.
//
// The library's own patch throws, and asserts where a pointer leads through a number; a journal
// comes from outside, so it must do neither. Nor may a short patch of copies within copies fill
// the memory or nest without end, so what is put in is counted.
#include "survey/json_patch.h"

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <iterator>
#include <optional>
#include <string>
#include <utility>

#include "survey/json_pointer.h"
#include "survey/parse_json.h"
#include "survey/utf8.h"

namespace levelrun {
namespace {

constexpr std::size_t most_operations = 20'000;  // each may shift a long list

using Steps = std::vector<std::string>;

// The steps of a pointer; none if it is not one.
std::optional<Steps> steps_of(const std::string& pointer) {
  Steps steps;
  if (pointer.empty()) return steps;
  if (pointer[0] != '/') return {};
  for (std::size_t i = 0; i < pointer.size(); ++i) {
    if (pointer[i] == '/') {
      steps.emplace_back();
    } else if (pointer[i] == '~') {
      ++i;
      if (i == pointer.size() || (pointer[i] != '0' && pointer[i] != '1')) return {};
      steps.back() += pointer[i] == '0' ? '~' : '/';
    } else {
      steps.back() += pointer[i];
    }
  }
  return steps;
}

// An item's number, at most `most`.
std::optional<std::size_t> index_of(const std::string& step, std::size_t most) {
  constexpr std::size_t most_digits = 9;  // no list is longer, and no number overflows
  if (step.empty() || step.size() > most_digits || (step.size() > 1 && step[0] == '0')) return {};
  std::size_t index = 0;
  for (const char c : step) {
    if (c < '0' || c > '9') return {};
    index = 10 * index + static_cast<std::size_t>(c - '0');
  }
  return index <= most ? std::optional(index) : std::nullopt;
}

Json* child(Json& value, const std::string& step) {
  if (value.is_object()) {
    const auto found = value.find(step);
    return found == value.end() ? nullptr : &*found;
  }
  if (!value.is_array() || value.empty()) return nullptr;
  const auto index = index_of(step, value.size() - 1);
  return index ? &value[*index] : nullptr;
}

// What the first `count` steps lead to, or nullptr.
Json* reached(Json& document, const Steps& steps, std::size_t count) {
  Json* value = &document;
  for (std::size_t i = 0; value && i < count; ++i) value = child(*value, steps[i]);
  return value;
}

// A new member where it belongs; the last if there is no `before`.
void insert_member(Json& object, const std::string& name, Json value, const std::string* before) {
  if (!before || !object.contains(*before)) {
    object[name] = std::move(value);
    return;
  }
  Json::object_t members;
  for (auto& [old_name, old_value] : object.get_ref<Json::object_t&>()) {
    if (old_name == *before) members.emplace(name, std::move(value));
    members.emplace(old_name, std::move(old_value));
  }
  object.get_ref<Json::object_t&>() = std::move(members);
}

// Takes the number of values in `value` from `room`; false if they are more or nest deeper.
bool fits(const Json& value, std::size_t nesting, std::size_t& room) {
  if (room == 0 || nesting == 0) return false;
  --room;
  return !value.is_structured() || std::all_of(value.begin(), value.end(), [&](const Json& one) {
    return fits(one, nesting - 1, room);
  });
}

class Patching {
 public:
  explicit Patching(Json& document) : document_(document) {}

  bool all_of(const Json& patch) {
    if (!patch.is_array()) return fails("", found_text(patch), "a list of operations");
    if (patch.size() > most_operations) {
      return fails("", std::to_string(patch.size()) + " operations",
                   "at most " + std::to_string(most_operations));
    }
    if (!std::all_of(patch.begin(), patch.end(), [&](const Json& one) { return operation(one); })) {
      return false;
    }
    return back_.size() <= most_operations ||
           fails("", std::to_string(back_.size()) + " operations to take it back",
                 "at most " + std::to_string(most_operations));
  }

  // What takes back everything done so far.
  Json inverse() const { return Json::array_t(back_.rbegin(), back_.rend()); }
  const Problem& problem() const { return problem_; }

  void takes(const Json& inverse) {
    bounded_ = false;  // all of it has been there before
    for (const Json& one : inverse) {
      const bool taken_back = operation(one);
      assert(taken_back);
      static_cast<void>(taken_back);
    }
  }

 private:
  bool add(const std::string& path, Json value, const std::string* before) {
    const auto steps = pointer(path);
    if (!steps) return false;
    if (steps->empty()) return replace(path, std::move(value));
    if (!may_put(path, *steps, value)) return false;
    Json* parent = reached(document_, *steps, steps->size() - 1);
    if (!parent || !parent->is_structured()) {
      return fails(path, parent ? found_text(*parent) + " around it" : "nothing around it",
                   "a place in an object or a list");
    }
    const std::string& last = steps->back();
    if (parent->is_object()) {
      if (parent->contains(last)) return replace(path, std::move(value));
      takes_back({{"op", "remove"}, {"path", path}});
      insert_member(*parent, last, std::move(value), before);
      return true;
    }
    const auto index = last == "-" ? std::optional(parent->size()) : index_of(last, parent->size());
    if (!index) {
      return fails(path, "a list of " + std::to_string(parent->size()), "an item's place in it");
    }
    takes_back(
        {{"op", "remove"}, {"path", path.substr(0, path.rfind('/') + 1) + std::to_string(*index)}});
    parent->insert(parent->begin() + static_cast<std::ptrdiff_t>(*index), std::move(value));
    return true;
  }

  bool remove(const std::string& path) {
    const auto steps = pointer(path);
    if (!steps) return false;
    if (steps->empty()) return fails(path, "the whole document", "a part of it");
    Json* parent = reached(document_, *steps, steps->size() - 1);
    Json* old = parent ? child(*parent, steps->back()) : nullptr;
    if (!old) return fails(path, "nothing", "something to take away");
    Json back = {{"op", "add"}, {"path", path}, {"value", std::move(*old)}};
    if (parent->is_object()) {
      auto place = parent->find(steps->back());
      const auto next = std::next(place);
      if (next != parent->end()) back["before"] = next.key();
      parent->erase(place);
    } else {
      parent->erase(*index_of(steps->back(), parent->size()));
    }
    takes_back(std::move(back));
    return true;
  }

  bool replace(const std::string& path, Json value) {
    const auto steps = pointer(path);
    if (!steps || !may_put(path, *steps, value)) return false;
    Json* old = existing(path);
    if (!old) return false;
    takes_back({{"op", "replace"}, {"path", path}, {"value", std::move(*old)}});
    *old = std::move(value);
    return true;
  }

  bool move(const std::string& from, const std::string& path) {
    if (path.size() > from.size() && path.compare(0, from.size(), from) == 0 &&
        path[from.size()] == '/') {
      return fails(path, "a place inside what is moved", "a place outside it");
    }
    const Json* old = existing(from);
    if (!old) return false;
    if (from == path) return true;
    Json value = *old;
    return remove(from) && add(path, std::move(value), nullptr);
  }

  bool copy(const std::string& from, const std::string& path) {
    const Json* old = existing(from);
    return old && add(path, *old, nullptr);
  }

  bool test(const std::string& path, const Json& value) {
    const Json* old = existing(path);
    if (!old) return false;
    return same_json(*old, value) || fails(path, found_text(*old), found_text(value));
  }

  bool operation(const Json& one) {
    if (!one.is_object()) return fails("", found_text(one), "an operation of a patch");
    const std::string *op = text(one, "op"), *path = text(one, "path");
    if (!op || !path) return fails("", "an operation without op or path", "both");
    const auto value = one.find("value");
    const bool needs_value = *op == "add" || *op == "replace" || *op == "test";
    if (needs_value && value == one.end()) return fails(*path, *op + " without a value", "a value");
    if (*op == "add") return add(*path, *value, text(one, "before"));
    if (*op == "replace") return replace(*path, *value);
    if (*op == "test") return test(*path, *value);
    if (*op == "remove") return remove(*path);
    const std::string* from = text(one, "from");
    if (*op != "move" && *op != "copy") {
      return fails(*path, in_quotes(*op), "add, remove, replace, move, copy or test");
    }
    if (!from) return fails(*path, *op + " without from", "where from");
    return *op == "move" ? move(*from, *path) : copy(*from, *path);
  }

  static const std::string* text(const Json& object, const char* name) {
    const auto found = object.find(name);
    return found == object.end() ? nullptr : found->get_ptr<const std::string*>();
  }

  std::optional<Steps> pointer(const std::string& path) {
    auto steps = steps_of(path);
    if (!steps) fails("", in_quotes(path), "a JSON Pointer");
    return steps;
  }

  Json* existing(const std::string& path) {
    const auto steps = pointer(path);
    if (!steps) return nullptr;
    Json* value = reached(document_, *steps, steps->size());
    if (!value) fails(path, "nothing", "something there");
    return value;
  }

  bool may_put(const std::string& path, const Steps& steps, const Json& value) {
    if (!bounded_) return true;
    const std::size_t nesting = steps.size() < most_nesting ? most_nesting + 1 - steps.size() : 0;
    return fits(value, nesting, room_) ||
           fails(path, "a value nested too deep or too large",
                 "at most " + std::to_string(most_nesting) + " levels and " +
                     std::to_string(most_values) + " values in all");
  }

  void takes_back(Json operation) { back_.push_back(std::move(operation)); }

  bool fails(const std::string& at, std::string found, std::string expected) {
    constexpr std::size_t most_shown = 200;  // characters; the pointer is printed
    problem_ = {visible(at, most_shown), std::move(found), std::move(expected)};
    return false;
  }

  Json& document_;
  Json::array_t back_;
  Problem problem_;
  bool bounded_ = true;
  std::size_t room_ = most_values;  // values that may still be put in
};

}  // namespace

std::vector<Problem> apply_patch(Json& document, const Json& patch, Json* inverse) {
  Patching patching(document);
  if (!patching.all_of(patch)) {
    take_back(document, patching.inverse());
    return {patching.problem()};
  }
  if (inverse) *inverse = patching.inverse();
  return {};
}

void take_back(Json& document, const Json& inverse) { Patching(document).takes(inverse); }

bool same_json(const Json& a, const Json& b) {
  if (a.is_object() && b.is_object()) {
    if (a.size() != b.size()) return false;
    for (const auto& [name, value] : a.items()) {
      const auto other = b.find(name);
      if (other == b.end() || !same_json(value, *other)) return false;
    }
    return true;
  }
  if (a.is_array() && b.is_array()) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_json);
  }
  return a == b;
}

}  // namespace levelrun
