// JSON text by named fields: what every file of results is written with.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checks/install_results.h"
#include "checks/json_text.h"
#include "checks/verdict.h"

namespace levelrun {

constexpr std::string_view word(Agreement a) {
  constexpr std::string_view words[] = {"agrees", "unchecked", "rejected", "one_of"};
  return words[int(a)];
}

// Writes into a text that outlives it. `_if`: left out when empty; else not known is null.
class JsonFields {
 public:
  explicit JsonFields(JsonText& text) : j(text) {}

  void text(const char* name, std::string_view value) { j.key(name).text(value); }
  void text_if(const char* name, std::string_view value) {
    if (!value.empty()) text(name, value);
  }
  void number(const char* name, const Unknown& value) { j.key(name).number(value); }
  void number_if(const char* name, const Unknown& value) {
    if (value) number(name, value);
  }
  void integer(const char* name, long long value) { j.key(name).integer(value); }
  void boolean(const char* name, bool value) { j.key(name).boolean(value); }
  void text_or_null(const char* name, std::optional<std::string_view> value) {
    j.key(name);
    if (value)
      j.text(*value);
    else
      j.null();
  }
  void verdict(const std::optional<Verdict>& value) {
    text_or_null("verdict", value ? std::optional(word(*value)) : std::nullopt);
  }
  void texts(const char* name, const std::vector<std::string>& values) {
    j.key(name).begin_array();
    for (const std::string& value : values) j.text(value);
    j.end_array();
  }
  template <class Fields>
  void object(const char* name, const Fields& fields) {
    j.key(name).begin_object();
    fields();
    j.end_object();
  }
  // An object for each item; fields: called with the item.
  template <class Item, class Fields>
  void list(const char* name, const std::vector<Item>& items, const Fields& fields) {
    j.key(name).begin_array();
    for (const Item& item : items) {
      j.begin_object();
      fields(item);
      j.end_object();
    }
    j.end_array();
  }

  JsonText& j;
};

}  // namespace levelrun
