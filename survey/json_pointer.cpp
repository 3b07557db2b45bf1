// Pointers and found values as text.
#include "survey/json_pointer.h"

#include <cmath>

#include "survey/utf8.h"

namespace levelrun {
namespace {

constexpr std::size_t shown_name = 100, shown_text = 40;  // characters; enough to know it again

}  // namespace

void append_member(std::string& pointer, std::string_view name) {
  pointer += '/';
  for (const char c : visible(name, shown_name)) {
    if (c == '~') {
      pointer += "~0";
    } else if (c == '/') {
      pointer += "~1";
    } else {
      pointer += c;
    }
  }
}

void append_item(std::string& pointer, Index index) {
  pointer += '/';
  pointer += std::to_string(index);
}

std::string pointer_text(const At& at) {
  if (!at.up) return {};
  std::string pointer = pointer_text(*at.up);
  if (at.is_item) {
    append_item(pointer, at.index);
  } else {
    append_member(pointer, at.name);
  }
  return pointer;
}

std::string in_quotes(std::string_view text) { return '"' + visible(text, shown_text) + '"'; }

std::string found_text(const Json& value) {
  if (const auto* text = value.get_ptr<const std::string*>()) return in_quotes(*text);
  if (value.is_object()) return "an object";
  if (value.is_array()) return value.empty() ? "an empty list" : "a list";
  if (value.is_number_float() && !std::isfinite(value.get<double>())) {
    return "a number that is not finite";
  }
  return value.dump();  // a number, true, false or null: nothing that could throw
}

}  // namespace levelrun
