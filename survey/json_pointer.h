// Where a value stands in the document, and how it is shown to a person.
//
// A place is a chain of steps kept on the stack; it becomes a JSON Pointer (RFC 6901) only when
// there is a problem to report, so reading a good file builds none.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "survey/survey.h"
#include "survey/survey_file.h"

namespace levelrun {

struct At {
  const At* up = nullptr;  // nullptr: the whole document
  std::string_view name;   // the member of an object
  Index index = 0;         // the item of a list, if name is empty and is_item
  bool is_item = false;

  static At member(const At& up, std::string_view name) { return {&up, name, 0, false}; }
  static At item(const At& up, Index index) { return {&up, {}, index, true}; }
};

// "" for the whole document. Control characters in a name are shown as \u001b and a name over
// 100 characters is cut short, for the pointer is printed.
std::string pointer_text(const At& at);

void append_member(std::string& pointer, std::string_view name);
void append_item(std::string& pointer, Index index);

// The value as a message states it: "2.4m" in quotes, -3, true, null, a list, an object.
// Texts are cut short after 40 characters.
std::string found_text(const Json& value);
std::string in_quotes(std::string_view text);

}  // namespace levelrun
