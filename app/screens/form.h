// A ruled form: sections of fields, each a fact of the document. Words are typed in place, numbers
// on the pad, choices by keys. What a field changes becomes an edit at once.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "app/jobs/session.h"
#include "app/screens/screen_context.h"

namespace levelrun {

struct FormField {
  enum class Kind { heading, words, number, choice, key, drawing };
  Kind kind = Kind::words;
  std::string at;                    // JSON Pointer
  std::string caption;               // also the target's label, unless `label` is given
  std::string unset;                 // what holds while the file does not say ("720")
  std::vector<std::string> choices;  // the words shown
  std::vector<Json> values;          // and what each sets
  std::string label;
  bool half = false;  // shares its line with the next
  Json patch;         // key: what it does
  std::string says;   // key: the words to undo it by
  std::vector<std::string>
      together;        // number, choice: members that the file takes only all at once
  std::string object;  // and what goes with them when they are taken out, if any
  std::function<Json(const Json& value)> edit;  // words: the patch, where it is more than the value
  std::function<void(Sheet&, Box)> draw;        // drawing
  float height = 0;                             // and its height, dp at 100 % text
  std::function<float(const Sheet&, float width)> tall;  // or as it comes, dp
};

struct FormState {
  std::map<std::string, std::string> words;  // being typed, by pointer
  std::string editing;                       // the number on the pad
  std::string seen;                          // and whether it was brought into sight
  std::map<std::string, Json> waiting;       // for others that belong to them, by pointer
  std::string typed;
  std::string refused;
};

// Draws in the page; while a number is on the pad, the pad takes the bottom or the side.
void draw_form(ScreenContext&, Box, Session&, const std::vector<FormField>&, FormState&,
               const char* scroll_label);

}  // namespace levelrun
