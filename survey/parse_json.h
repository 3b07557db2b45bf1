// The text of a file as a JSON document, or why it is not one.
//
// RFC 8259, strictly: no comments, no NaN, no trailing comma, nothing after the value; UTF-8
// only. A byte order mark is skipped, as the RFC allows, and not written back. Members keep
// the file's order.
//
// Time and memory are bounded whatever the bytes: text, nesting and the number of values have
// limits. Never throws.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

#include "survey/problem.h"
#include "survey/survey_file.h"

namespace levelrun {

inline constexpr std::size_t most_text = 16U << 20;    // bytes
inline constexpr std::size_t most_nesting = 32;        // lists and objects within each other
inline constexpr std::size_t most_values = 2'000'000;  // holds memory to some hundred MB; a
                                                       // staff reading is three values
inline constexpr std::size_t most_problems = 100;      // listed

struct ParsedJson {
  Json document;
  // Duplicate keys: each at the pointer of the repeated member; the document then holds both.
  std::vector<Problem> problems;
  // False: the reading stopped at the last problem (at the pointer of the value being read) and
  // the document is not to be used.
  bool complete = false;
};

ParsedJson parse_json(std::string_view text);

}  // namespace levelrun
