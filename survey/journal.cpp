// Lines to text and back.
#include "survey/journal.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <utility>

#include "survey/parse_json.h"

namespace levelrun {
namespace {

constexpr int version = 1;
constexpr std::string_view seal = ",\"crc\":\"";  // then 8 digits, a quote and a brace
constexpr std::size_t crc_digits = 8, sealed_end = seal.size() + crc_digits + 2;

constexpr std::array<const char*, 4> deed_words = {"edit", "undo", "redo", "saved"};

std::string hexadecimal(std::uint32_t crc) {
  std::string digits(crc_digits, '0');
  for (std::size_t i = crc_digits; i-- > 0; crc >>= 4) digits[i] = "0123456789abcdef"[crc & 15];
  return digits;
}

// An object as a line, its checksum last.
std::string sealed(const Json& object) {
  std::string text = object.dump(-1, ' ', false, Json::error_handler_t::replace);
  text.pop_back();
  const std::string crc = hexadecimal(crc32(text));
  return text.append(seal).append(crc).append("\"}\n");
}

// The object of a line (without its newline) whose checksum is right.
std::optional<Json> unsealed(std::string_view line) {
  if (line.size() < sealed_end) return {};
  const std::string_view body = line.substr(0, line.size() - sealed_end);
  std::string end(seal);
  end.append(hexadecimal(crc32(body))).append("\"}");
  if (line.substr(body.size()) != end) return {};
  ParsedJson parsed = parse_json(line);
  if (!parsed.complete || !parsed.problems.empty()) return {};
  return std::move(parsed.document);
}

// Fields of the wrong kind read as absent; 0 is no line's number and no text's length.
const Json* field(const Json& object, const char* name) {
  if (!object.is_object()) return nullptr;
  const auto found = object.find(name);
  return found == object.end() ? nullptr : &*found;
}

std::size_t number_in(const Json& object, const char* name) {
  const Json* value = field(object, name);
  return value && value->is_number_unsigned() ? value->get<std::size_t>() : 0;
}

std::string text_in(const Json& object, const char* name) {
  const Json* value = field(object, name);
  const auto* text = value ? value->get_ptr<const std::string*>() : nullptr;
  return text ? *text : std::string();
}

Json identity_json(const TextIdentity& text) {
  return {{"crc", hexadecimal(text.crc)}, {"length", text.length}};
}

std::optional<TextIdentity> identity_in(const Json& object, const char* name) {
  const Json* value = field(object, name);
  if (!value) return {};
  const std::string digits = text_in(*value, "crc");
  TextIdentity identity{0, number_in(*value, "length")};
  for (const char c : digits) {
    const bool letter = c >= 'a' && c <= 'f';
    if (!letter && (c < '0' || c > '9')) return {};
    identity.crc = identity.crc << 4 | static_cast<std::uint32_t>(letter ? c - 'a' + 10 : c - '0');
  }
  return digits.size() == crc_digits && identity.length > 0 ? std::optional(identity)
                                                            : std::nullopt;
}

std::optional<JournalLine> line_in(std::string_view text) {
  std::optional<Json> object = unsealed(text);
  if (!object) return {};
  const std::string does = text_in(*object, "does");
  const auto deed = std::find(deed_words.begin(), deed_words.end(), does);
  JournalLine line;
  line.edit.n = number_in(*object, "n");
  if (deed == deed_words.end() || line.edit.n == 0) return {};
  line.does = static_cast<Deed>(deed - deed_words.begin());
  line.edit.by = {text_in(*object, "by"), text_in(*object, "at")};
  switch (line.does) {
    case Deed::edit: {
      const Json *patch = field(*object, "patch"), *inverse = field(*object, "inverse");
      if (!patch || !inverse) return {};
      line.edit.patch = *patch;
      line.edit.inverse = *inverse;
      line.edit.says = text_in(*object, "says");
      return line;
    }
    case Deed::undo:
    case Deed::redo:
      line.of = number_in(*object, "of");
      return line;
    case Deed::saved: {
      const auto file = identity_in(*object, "file");
      if (!file) return {};
      line.file = *file;
      return line;
    }
  }
  return {};
}

// Reads the head; the place where the lines begin, or 0.
std::size_t read_head(std::string_view text, Journal& journal) {
  const std::size_t end = text.find('\n');
  if (end == text.npos) return 0;
  const std::optional<Json> head = unsealed(text.substr(0, end));
  if (!head || text_in(*head, "format") != "levelrun-journal") return 0;
  if (number_in(*head, "version") != version) {
    journal.state = JournalState::newer;
    return 0;
  }
  const auto base = identity_in(*head, "base");
  if (!base || base->length >= text.size() - end - 1) return 0;
  const std::string_view base_text = text.substr(end + 1, base->length);
  const std::size_t begins = end + 1 + base->length + 1;
  if (text[begins - 1] != '\n') return 0;
  journal.base = *base;
  if (identity_of(base_text) == *base) journal.base_text = base_text;
  return begins;
}

}  // namespace

Journal read_journal(std::string_view text) {
  Journal journal;
  std::size_t begins = read_head(text, journal);
  if (begins == 0) return journal;
  journal.state = JournalState::good;
  journal.good = begins;

  bool gap = false;
  for (std::size_t end = 0; (end = text.find('\n', begins)) != text.npos; begins = end + 1) {
    if (end == begins) continue;  // what comes after a failed append starts with a newline
    ++journal.lost;
    std::optional<JournalLine> line;
    if (!gap) line = line_in(text.substr(begins, end - begins));
    if (!line) continue;
    gap = line->edit.n > journal.lines.size() + 1;
    if (gap) continue;
    journal.lines.resize(line->edit.n - 1);
    line->begins = begins;
    journal.lines.push_back(std::move(*line));
    journal.good = end + 1;
    journal.lost = 0;
  }
  journal.unfinished = begins < text.size();
  return journal;
}

std::string journal_head(std::string_view base_text) {
  return sealed({{"format", "levelrun-journal"},
                 {"version", version},
                 {"base", identity_json(identity_of(base_text))}})
      .append(base_text)
      .append("\n");
}

std::string line_text(const JournalLine& line) {
  Json object = {{"n", line.edit.n}, {"does", deed_words[static_cast<std::size_t>(line.does)]}};
  if (line.does == Deed::edit) object["says"] = line.edit.says;
  if (line.does == Deed::undo || line.does == Deed::redo) object["of"] = line.of;
  if (line.does == Deed::saved) object["file"] = identity_json(line.file);
  object["by"] = line.edit.by.name;
  object["at"] = line.edit.by.at;
  if (line.does == Deed::edit) {
    object["patch"] = line.edit.patch;
    object["inverse"] = line.edit.inverse;
  }
  return sealed(object);
}

bool reads_back(std::string_view text, const JournalLine& line) {
  if (text.empty()) return false;
  const auto read = line_in(text.substr(0, text.size() - 1));
  return read && read->does == line.does && read->edit.n == line.edit.n && read->of == line.of &&
         read->file == line.file && read->edit.patch == line.edit.patch &&
         read->edit.inverse == line.edit.inverse;
}

}  // namespace levelrun
