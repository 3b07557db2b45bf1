// One walk over the document; its depth is bounded before it goes deeper.
#include "survey/check_values.h"

#include <cmath>

#include "survey/parse_json.h"
#include "survey/utf8.h"

namespace levelrun {
namespace {

void check_value(const Json& value, const At& at, std::size_t depth, Reading& reading) {
  if (value.is_number()) {
    if (!(std::abs(value.get<double>()) <= most_number)) {
      reading.problem(at, found_text(value), "a number up to 1000000 in size");
    }
    return;
  }
  if (const auto* text = value.get_ptr<const std::string*>()) {
    if (!is_utf8(*text)) reading.problem(at, found_text(value), "well-formed UTF-8");
    return;
  }
  if (!value.is_structured()) return;
  if (depth == most_nesting) {
    reading.problem(at, "lists and objects nested deeper than that",
                    "at most " + std::to_string(most_nesting) + " levels of nesting");
    return;
  }
  if (const auto* list = value.get_ptr<const Json::array_t*>()) {
    for (Index i = 0; i < list->size(); ++i) {
      check_value((*list)[i], At::item(at, i), depth + 1, reading);
    }
    return;
  }
  for (const auto& [name, member] : value.get_ref<const Json::object_t&>()) {
    const At member_at = At::member(at, name);
    if (!is_utf8(name)) reading.problem(member_at, in_quotes(name), "a name in well-formed UTF-8");
    check_value(member, member_at, depth + 1, reading);
  }
}

}  // namespace

void check_values(const Json& document, Reading& reading) {
  check_value(document, At{}, 0, reading);
}

}  // namespace levelrun
