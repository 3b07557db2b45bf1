// Weight on a terminal: bold and reverse, never colour.
#pragma once

#include <string>
#include <string_view>

namespace levelrun {

// Whether standard output is a terminal that shows weight and nobody asked for plain text
// (NO_COLOR set and not empty, TERM=dumb).
bool output_is_styled();

// The same of standard error, for what is shown while one waits and wiped out after.
bool errors_go_to_a_terminal();

std::string bold(std::string_view text);
std::string reverse(std::string_view text);

// A heading of a page: printable, wrapped, bold if styled; ended by a line feed.
std::string heading(std::string_view text, bool styled);

}  // namespace levelrun
