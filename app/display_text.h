// Text as a terminal shows it: what may be printed, how many columns it takes, where it breaks.
//
// Text is UTF-8; a byte that is not part of well-formed UTF-8 is shown as U+FFFD.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace levelrun {

inline constexpr int page_columns = 80;  // every table and report on a terminal or a sheet

// Without anything that could steer a terminal or turn the reading direction: line breaks and
// tabs become spaces, other control characters U+FFFD.
std::string printable(std::string_view text);

// Columns that printable text takes: 2 for wide East Asian characters, 0 for combining marks.
int display_width(std::string_view text);

// Lines of at most `columns` (at least 1), broken at spaces; a longer word is broken anywhere.
// Never empty: no text is one empty line.
std::vector<std::string> wrap(std::string_view text, int columns);

// `first`, then the text wrapped to the page, further lines indented as far as the first text
// was, each line ended by a line feed. `first` is measured as plain text.
std::string paragraph(std::string_view first, std::string_view text, int columns = page_columns);

}  // namespace levelrun
