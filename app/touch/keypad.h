// The keypad in the holding hand's bottom corner: digits, ±, point, +, rub out, and Book two rows
// high under the thumb. What is typed stays as text until it is booked; hardware keys and distance
// meters that type digits and Enter come in by the same door.
#pragma once

#include <string>
#include <string_view>

#include "app/touch/sheet.h"

namespace levelrun {

inline constexpr std::size_t most_typed = 40;  // characters

// Tablet 376 x 312, phone as wide as its page with rows of 60 dp.
float keypad_height(const Sheet&);
float keypad_width(const Sheet&, float available);

struct KeypadKeys {
  std::string_view book = "Book";  // what the solid key says
  std::string_view value;          // below it: what would be booked
  bool can_book = true;
  char decimal = '.';
};

// Edits `typed`; true when Book (or Enter) was given.
bool keypad(Sheet&, Box, std::string& typed, const KeypadKeys&);

// What came from a keyboard this frame, into the same text; true on Enter. Letters that a length
// may hold (m, cm, ", ') pass. Nothing is taken while a text field has the keyboard.
bool typed_keys(std::string& typed);

}  // namespace levelrun
