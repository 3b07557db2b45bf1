// UTF-8 by RFC 3629, table 3-7 of the Unicode standard put as ranges of the second byte.
#include "survey/utf8.h"

#include <algorithm>
#include <cstdio>

namespace levelrun {
namespace {

unsigned byte_at(std::string_view text, std::size_t at) {
  return at < text.size() ? static_cast<unsigned char>(text[at]) : 0;
}

// Bidirectional marks would let a file reorder the words of our own message.
bool is_hidden(unsigned code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0x200E || code == 0x200F ||
         (code >= 0x2028 && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

unsigned code_point(std::string_view text, std::size_t at, std::size_t size) {
  const unsigned first = byte_at(text, at);
  if (size == 1) return first;
  unsigned code = first & (0x7FU >> size);
  for (std::size_t i = 1; i < size; ++i) code = code << 6 | (byte_at(text, at + i) & 0x3F);
  return code;
}

}  // namespace

std::size_t character_size(std::string_view text, std::size_t at) {
  const unsigned first = byte_at(text, at);
  if (first < 0x80) return 1;
  if (first < 0xC2 || first > 0xF4) return 0;
  const std::size_t size = first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  const unsigned least = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
  const unsigned most = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
  const unsigned second = byte_at(text, at + 1);
  if (second < least || second > most) return 0;
  for (std::size_t i = 2; i < size; ++i) {
    if ((byte_at(text, at + i) & 0xC0) != 0x80) return 0;
  }
  return size;
}

bool is_utf8(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    if (static_cast<unsigned char>(text[at]) < 0x80) {
      ++at;
      continue;
    }
    const std::size_t size = character_size(text, at);
    if (size == 0) return false;
    at += size;
  }
  return true;
}

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

std::string visible(std::string_view text, std::size_t most) {
  std::string shown;
  std::size_t count = 0;
  for (std::size_t at = 0; at < text.size(); ++count) {
    if (count == most) return shown + "...";
    const std::size_t size = character_size(text, at);
    if (size == 0) {
      shown += "\xEF\xBF\xBD";
      ++at;
      continue;
    }
    const unsigned code = code_point(text, at, size);
    if (is_hidden(code)) {
      char escaped[8];
      std::snprintf(escaped, sizeof escaped, "\\u%04x", code & 0xFFFFU);
      shown += escaped;
    } else {
      shown.append(text, at, size);
    }
    at += size;
  }
  return shown;
}

}  // namespace levelrun
