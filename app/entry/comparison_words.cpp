#include "app/entry/comparison_words.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "app/place_words.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr int fact_decimals = 3;    // as typed; trailing zeros go
constexpr std::size_t widest = 60;  // bytes of a word or a thing that a line repeats

std::string cut_short(const std::string& text) {
  if (text.size() <= widest) return text;
  std::size_t end = widest;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  return text.substr(0, end) + "…";
}

std::string fact_text(const Unknown& value, const std::string& text, char decimal) {
  return value ? shown_short(*value, fact_decimals, decimal) : cut_short(text);
}

int decimals_of(const std::string& unit) { return unit.empty() ? 0 : unit == "m²" ? 2 : 1; }

const char* severity_word(Severity s) {
  return s == Severity::hold ? "hold" : s == Severity::query ? "query" : "note";
}

}  // namespace

std::string place_of(const FactChange& f, const Json& old_document, const Json& new_document) {
  return place_words(f.change == Change::went ? old_document : new_document, f.at);
}

std::string change_words(const FactChange& f, char decimal) {
  const std::string was = fact_text(f.old_value, f.old_text, decimal),
                    is = fact_text(f.new_value, f.new_text, decimal);
  if (f.change == Change::came) return "new: " + is;
  if (f.change == Change::went) return "gone: " + was;
  std::string out = was + " → " + is;
  if (f.by) {
    const std::string by = shown_short(std::abs(*f.by), fact_decimals, decimal);
    out += std::string(" (") + (*f.by < 0 ? "−" : "+") + by + ")";
  }
  return out;
}

std::string movement_words(const Movement& m, char decimal) {
  const int decimals = decimals_of(m.unit);
  const std::string least = shown_change(m.least, decimals, decimal),
                    greatest = shown_change(m.greatest, decimals, decimal);
  const std::string name = m.kind + " " + m.what;
  const bool all = m.moved == m.of && m.of > 1, alike = least == greatest;
  std::string out = m.of == 1 ? name
                    : all     ? "every " + name
                          : std::to_string(m.moved) + " of " + std::to_string(m.of) + ": " + name;
  out += " " + least + (alike ? "" : " to " + greatest);
  if (m.unit == "degrees") out += "°";
  if (m.unit == "m²" || m.unit == "mm/m") out += " " + m.unit;
  return out;
}

std::string place_of(const ResultChange& c) {
  const std::string at = c.kind == "missing" || c.kind == "clearance" ? c.at : spaced(c.at);
  return c.kind + " " + at + ", " + c.what;
}

std::string change_words(const ResultChange& c, char decimal) {
  const int decimals = decimals_of(c.unit);
  const auto text = [&](const Unknown& value, const std::string& word) {
    return value ? shown(value, decimals, decimal) : word.empty() ? "not known" : word;
  };
  const bool old_there = c.old_value || !c.old_word.empty(),
             new_there = c.new_value || !c.new_word.empty();
  if (!old_there) return "new: " + text(c.new_value, c.new_word);
  if (!new_there) return "gone: " + text(c.old_value, c.old_word);
  std::string out = text(c.old_value, c.old_word) + " → " + text(c.new_value, c.new_word);
  if (!c.by) return out;
  // The difference of what stands there, so that the line adds up.
  const auto rounded = [&](const Unknown& v) {
    const double step = std::pow(10.0, decimals);
    return std::round(*v * step) / step;
  };
  return out + " (" + shown_change(rounded(c.new_value) - rounded(c.old_value), decimals, decimal) +
         ")";
}

std::string move_words(const FindingChange& f) {
  const std::string is = severity_word(f.finding.severity);
  switch (f.move) {
    case FindingMove::came:
      return "new " + is;
    case FindingMove::went:
      return is + " gone";
    case FindingMove::answered:
      return is + " answered";
    case FindingMove::reopened:
      return is + " open again";
    case FindingMove::changed:
      return std::string(severity_word(f.was)) + " is now a " + is;
  }
  return {};
}

std::vector<std::string> changed_lines(const Comparison& c, const Json& old_document,
                                       const Json& new_document, char decimal,
                                       std::size_t most_facts, std::size_t most_movements) {
  std::vector<std::string> out;
  const auto more = [&](std::size_t all, std::size_t most, const char* what) {
    if (all > most) out.push_back(std::to_string(all - most) + " more " + what);
  };
  for (std::size_t i = 0; i < std::min(c.facts.size(), most_facts); ++i)
    out.push_back(place_of(c.facts[i], old_document, new_document) + ": " +
                  change_words(c.facts[i], decimal));
  more(c.facts.size(), most_facts, "facts");
  if (c.smaller > 0)
    out.push_back(std::to_string(c.smaller) + (c.smaller == 1 ? " reading" : " readings") +
                  " within what they are known to");
  for (std::size_t i = 0; i < std::min(c.movements.size(), most_movements); ++i)
    out.push_back(movement_words(c.movements[i], decimal));
  more(c.movements.size(), most_movements, "kinds of result");
  return out;
}

}  // namespace levelrun
