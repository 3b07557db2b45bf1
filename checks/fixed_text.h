// A number with so many decimals, correctly rounded, "." whatever the locale.
#pragma once

#include <charconv>
#ifdef __EMSCRIPTEN__
#include <cstdio>
#endif

namespace levelrun {

// Writes into begin..end, which must hold it (400 characters hold any double); gives its end.
inline char* fixed_text(char* begin, char* end, double value, int decimals) {
#ifdef __EMSCRIPTEN__
  // Its library has no std::to_chars of a double; its printf is exact and knows one locale only.
  return begin +
         std::snprintf(begin, static_cast<std::size_t>(end - begin), "%.*f", decimals, value);
#else
  return std::to_chars(begin, end, value, std::chars_format::fixed, decimals).ptr;
#endif
}

}  // namespace levelrun
