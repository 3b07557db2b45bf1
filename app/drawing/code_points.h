// Text as code points.
#pragma once

#include <string_view>

namespace levelrun {

// Takes the next code point off well-formed UTF-8; the text must not be empty.
inline unsigned next_code_point(std::string_view& text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? unsigned(static_cast<unsigned char>(text[i])) : 0u;
  };
  const unsigned first = byte(0);
  const unsigned length = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  unsigned code = length == 1 ? first : first & (0xFFu >> (length + 1));
  for (unsigned i = 1; i < length; ++i) code = code << 6 | (byte(i) & 0x3F);
  text.remove_prefix(length < text.size() ? length : text.size());
  return code;
}

}  // namespace levelrun
