#include "survey/attached_survey.h"

#include <algorithm>

#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wshadow"
#endif
#define STB_IMAGE_STATIC
#define STB_IMAGE_IMPLEMENTATION
#define STBI_ONLY_PNG  // only its unpacking of zlib streams (RFC 1950) is used
#define STBI_NO_STDIO
#include <stb/stb_image.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

namespace levelrun {
namespace {

constexpr std::size_t longest_dictionary = 4096;  // bytes, of an embedded file's stream
constexpr int most_embedded = 16;  // files looked into: ours has one; each may unpack to much

std::optional<std::string> unpacked(std::string_view packed, std::size_t most) {
  // The size is not known beforehand: room is doubled until it fits.
  for (std::size_t room = std::max<std::size_t>(4 * packed.size(), 1 << 16);; room *= 2) {
    std::string out(std::min(room, most), '\0');
    const int got =
        stbi_zlib_decode_buffer(out.data(), int(out.size()), packed.data(), int(packed.size()));
    if (got >= 0) {
      out.resize(std::size_t(got));
      return out;
    }
    if (room >= most) return std::nullopt;
  }
}

// Empty: none, or kept elsewhere ("/Length 9 0 R").
std::optional<std::size_t> stated_length(std::string_view dictionary) {
  const std::size_t at = dictionary.find("/Length ");
  if (at == dictionary.npos) return std::nullopt;
  std::string_view rest = dictionary.substr(at + 8);
  std::size_t length = 0, digits = 0;
  for (; digits < rest.size() && digits < 9 && rest[digits] >= '0' && rest[digits] <= '9'; ++digits)
    length = 10 * length + std::size_t(rest[digits] - '0');
  rest.remove_prefix(digits);
  const std::size_t next = rest.find_first_not_of(" \r\n");
  const bool ends = next != rest.npos && (rest[next] == '/' || rest[next] == '>');
  return digits > 0 && ends ? std::optional(length) : std::nullopt;
}

bool is_survey(std::string_view text) {
  return text.substr(0, 4096).find("levelrun-survey") != text.npos;
}

}  // namespace

bool is_pdf(std::string_view bytes) { return bytes.starts_with("%PDF-"); }

std::optional<std::string> attached_survey(std::string_view pdf, std::size_t most) {
  if (!is_pdf(pdf) || pdf.size() > std::size_t{1} << 30) return std::nullopt;
  int looked_into = 0;
  for (std::size_t at = 0; (at = pdf.find("/EmbeddedFile", at)) != pdf.npos;) {
    at += 13;
    if (at < pdf.size() && pdf[at] == 's') continue;  // "/EmbeddedFiles", the tree of names
    const std::size_t begins =
        pdf.substr(0, std::min(pdf.size(), at + longest_dictionary)).find("stream", at);
    if (begins == pdf.npos) continue;
    const std::string_view dictionary = pdf.substr(at, begins - at);
    std::size_t from = begins + 6;
    if (from < pdf.size() && pdf[from] == '\r') ++from;
    if (from < pdf.size() && pdf[from] == '\n') ++from;
    const std::size_t ends = pdf.find("endstream", from);
    if (ends == pdf.npos || ++looked_into > most_embedded) return std::nullopt;
    at = ends;  // each byte is gone through once, whatever the file says
    std::string_view body = pdf.substr(from, ends - from);
    if (dictionary.find("/FlateDecode") != dictionary.npos) {
      auto text = unpacked(body, most);
      if (text && is_survey(*text)) return text;
    } else if (body.size() <= most && is_survey(body)) {
      // As long as its dictionary says; else without the line end that "endstream" stands after.
      if (const auto said = stated_length(dictionary); said && *said <= body.size()) {
        body = body.substr(0, *said);
      } else {
        if (body.ends_with('\n')) body.remove_suffix(1);
        if (body.ends_with('\r')) body.remove_suffix(1);
      }
      return std::string(body);
    }
  }
  return std::nullopt;
}

}  // namespace levelrun
