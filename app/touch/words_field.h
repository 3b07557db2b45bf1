// A line for words (names, reasons), where a keyboard or the machine's own on-screen one is used;
// numbers have the keypad. The caption stands above, the text on a ruled line.
#pragma once

#include <string>

#include "app/touch/sheet.h"

namespace levelrun {

// What is typed is kept by the caller. True when it was left or Enter was given, and differs from
// what it was when it was entered: the moment to make it an edit.
bool words_field(Sheet&, Box, const char* caption, const char* id, std::string& text,
                 const char* hint = "");

float words_field_height(const Sheet&);

}  // namespace levelrun
