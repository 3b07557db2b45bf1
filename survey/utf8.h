// Is a text well-formed Unicode, and how long is it in characters?
//
// Well-formed as RFC 3629 says: no overlong forms, no surrogates, nothing past U+10FFFF.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace levelrun {

// Bytes of the character that starts at `at` (at < text.size()); 0 if it is ill-formed.
std::size_t character_size(std::string_view text, std::size_t at);

bool is_utf8(std::string_view text);

// Code points in a well-formed text.
std::size_t characters(std::string_view text);

// The text as it may be shown on one line of a terminal: at most `most` characters ("..." after
// them if there were more), control and direction characters as \u001b, bytes that are not UTF-8
// as U+FFFD.
std::string visible(std::string_view text, std::size_t most);

}  // namespace levelrun
