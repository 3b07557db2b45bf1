#include "app/display_text.h"

#include <algorithm>
#include <span>

namespace levelrun {

static constexpr char32_t replacement = 0xFFFD;

struct Range {
  char32_t first, last;
};

// From memory of Unicode's East Asian Width and general categories, in blocks: enough for names
// of people and places; a character left out is only set one column too narrow or too wide.
static constexpr Range no_columns[] = {
    {0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x0610, 0x061A},  {0x064B, 0x065F},
    {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x200B, 0x200F}, {0x2060, 0x2064},  {0x20D0, 0x20FF},
    {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF}, {0xE0100, 0xE01EF}};
static constexpr Range two_columns[] = {{0x1100, 0x115F},   {0x2E80, 0x303E},   {0x3041, 0x33FF},
                                        {0x3400, 0x4DBF},   {0x4E00, 0xA4CF},   {0xA960, 0xA97F},
                                        {0xAC00, 0xD7A3},   {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},
                                        {0xFF00, 0xFF60},   {0xFFE0, 0xFFE6},   {0x1F300, 0x1F64F},
                                        {0x1F680, 0x1F6FF}, {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD}};
// Bidirectional embeddings, overrides and isolates; line and paragraph separators.
static constexpr Range steering[] = {
    {0x0000, 0x001F}, {0x007F, 0x009F}, {0x2028, 0x202E}, {0x2066, 0x2069}};

static bool among(char32_t c, std::span<const Range> ranges) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [c](Range r) { return r.first <= c && c <= r.last; });
}

struct Character {
  char32_t code;
  size_t bytes;  // 1 for a byte that belongs to no character
};

// The character that starts at text[0]; text is not empty.
static Character next_character(std::string_view text) {
  const auto byte = [&](size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  if (lead < 0x80) return {lead, 1};
  const size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) return {replacement, 1};
  char32_t code = lead & (0xFFu >> (bytes + 1));
  for (size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return {replacement, 1};
    code = code << 6 | (byte(i) & 0x3F);
  }
  const bool overlong = (bytes == 3 && code < 0x800) || (bytes == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (overlong || surrogate || code > 0x10FFFF) return {replacement, 1};
  return {code, bytes};
}

std::string printable(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const auto [code, bytes] = next_character(text);
    if (code == '\n' || code == '\r' || code == '\t')
      out += ' ';
    else if (code == replacement || among(code, steering))
      out += "\uFFFD";
    else
      out += text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return out;
}

static int columns_of(char32_t code) {
  if (code < 0x300) return 1;
  return among(code, no_columns) ? 0 : among(code, two_columns) ? 2 : 1;
}

int display_width(std::string_view text) {
  int columns = 0;
  while (!text.empty()) {
    const auto [code, bytes] = next_character(text);
    columns += columns_of(code);
    text.remove_prefix(bytes);
  }
  return columns;
}

// How many bytes of text fit into so many columns; at least one character.
static size_t bytes_that_fit(std::string_view text, int columns) {
  size_t fit = 0;
  while (fit < text.size()) {
    const auto [code, bytes] = next_character(text.substr(fit));
    columns -= columns_of(code);
    if (columns < 0 && fit > 0) break;
    fit += bytes;
  }
  return fit;
}

std::vector<std::string> wrap(std::string_view text, int columns) {
  columns = std::max(columns, 1);
  std::vector<std::string> lines(1);
  int used = 0;
  while (!text.empty()) {
    const size_t space = std::min(text.find(' '), text.size());
    std::string_view word = text.substr(0, space);
    text.remove_prefix(std::min(space + 1, text.size()));
    if (word.empty()) continue;
    int width = display_width(word);
    if (used > 0 && used + 1 + width <= columns) {
      lines.back().append(" ").append(word);
      used += 1 + width;
      continue;
    }
    if (used > 0) lines.emplace_back();
    while (width > columns) {
      const size_t fit = bytes_that_fit(word, columns);
      lines.back() = word.substr(0, fit);
      word.remove_prefix(fit);
      width = display_width(word);
      if (word.empty()) break;
      lines.emplace_back();
    }
    if (!word.empty()) lines.back() = word;
    used = display_width(lines.back());
  }
  return lines;
}

std::string paragraph(std::string_view first, std::string_view text, int columns) {
  const int indent = display_width(first);
  std::string out;
  for (const std::string& line : wrap(text, columns - indent)) {
    std::string whole = out.empty() ? std::string(first) : std::string(indent, ' ');
    whole += line;
    whole.erase(whole.find_last_not_of(' ') + 1);
    out += whole + "\n";
  }
  return out;
}

}  // namespace levelrun
