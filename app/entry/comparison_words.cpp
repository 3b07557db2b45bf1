#include "app/entry/comparison_words.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string_view>

#include "app/entry/agreement_mark.h"
#include "app/entry/finding_words.h"
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

std::string shown_sign(double value) { return value < 0 ? "−" : "+"; }

// As `shown` rounds it.
double rounded(double value, int decimals) {
  const double step = std::pow(10.0, decimals);
  constexpr double counts_as_half = 5e-8;
  const double nearest = std::floor(std::abs(value) * step + 0.5 + counts_as_half * step) / step;
  return value < 0 ? -nearest : nearest;
}

// One more where both would otherwise read the same.
int decimals_of(const ResultChange& r) {
  const int decimals = decimals_of(r.unit);
  const bool alike = r.old_value && r.new_value && *r.old_value != *r.new_value &&
                     rounded(*r.old_value, decimals) == rounded(*r.new_value, decimals);
  return alike ? decimals + 1 : decimals;
}

// Of what stands there, so that the line adds up.
double written_difference(const ResultChange& r) {
  const int decimals = decimals_of(r);
  return rounded(*r.new_value, decimals) - rounded(*r.old_value, decimals);
}

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
    out += " (" + shown_sign(*f.by) + shown_short(std::abs(*f.by), fact_decimals, decimal) + ")";
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

std::string movement_words(const Movement& m, const std::vector<ResultChange>& results,
                           char decimal) {
  Movement as_written = m;
  bool first = true;
  for (const ResultChange& r : results) {
    if (!r.by || r.kind != m.kind || r.room != m.room || r.what != m.what) continue;
    const double by = written_difference(r);
    as_written.least = first ? by : std::min(as_written.least, by);
    as_written.greatest = first ? by : std::max(as_written.greatest, by);
    first = false;
  }
  return movement_words(as_written, decimal);
}

std::string place_of(const ResultChange& c) {
  const std::string at = c.kind == "missing" || c.kind == "clearance" ? c.at : spaced(c.at);
  return c.kind + " " + at + ", " + c.what;
}

std::string change_words(const ResultChange& c, char decimal) {
  const int decimals = decimals_of(c);
  const auto text = [&](const Unknown& value, const std::string& word) {
    return value ? shown(value, decimals, decimal) : word.empty() ? "not known" : word;
  };
  const bool old_there = c.old_value || !c.old_word.empty(),
             new_there = c.new_value || !c.new_word.empty();
  if (!old_there) return "new: " + text(c.new_value, c.new_word);
  if (!new_there) return "gone: " + text(c.old_value, c.old_word);
  std::string out = text(c.old_value, c.old_word) + " → " + text(c.new_value, c.new_word);
  if (!c.by) return out;
  return out + " (" + shown_change(written_difference(c), decimals, decimal) + ")";
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

std::vector<ComparisonRow> comparison_rows(const Comparison& c, const Json& old_document,
                                           const Json& new_document, const Survey& survey) {
  const char decimal = survey.job.decimal;
  const bool rooms = survey.rooms.size() > 1;
  const auto in_room = [&](const std::string& id) {
    const std::string name = rooms ? room_words(survey, id) : std::string();
    return name.empty() ? "" : name + ": ";
  };
  // "/rooms/1/…" is of the second room; of what went the place is in the old survey.
  const auto room_of = [&](const Json& document, const std::string& at) {
    if (!rooms || !at.starts_with("/rooms/")) return std::string();
    const auto index = std::size_t(std::atoi(at.c_str() + 7));
    const Json& all = document["rooms"];
    return index < all.size() && all[index].contains("id") && all[index]["id"].is_string()
               ? in_room(all[index]["id"].get<std::string>())
               : std::string();
  };
  std::vector<ComparisonRow> out;
  for (const FactChange& f : c.facts) {
    ComparisonRow row;
    row.part = ComparisonRow::Part::fact;
    const bool went = f.change == Change::went;
    const std::string place = place_of(f, old_document, new_document);
    row.place = capital(room_of(went ? old_document : new_document, f.at) + place);
    row.was = f.change == Change::came ? "" : fact_text(f.old_value, f.old_text, decimal);
    row.is = went ? "" : fact_text(f.new_value, f.new_text, decimal);
    if (f.by) row.by = shown_sign(*f.by) + shown_short(std::abs(*f.by), fact_decimals, decimal);
    if (f.band) row.band = shown(f.band, 1, decimal);
    if (!went) row.at = f.at;
    out.push_back(std::move(row));
  }
  for (const FindingChange& f : c.findings) {
    ComparisonRow row;
    row.part = ComparisonRow::Part::finding;
    const bool went = f.move == FindingMove::went;
    const Json& document = went ? old_document : new_document;
    const std::string place = place_words(document, f.finding.at);
    row.place = capital(move_words(f)) + ", " +
                (place.empty() ? f.finding.code : room_of(document, f.finding.at) + place);
    row.says = sentence(with_decimal_sign(f.finding.says, decimal));
    row.severity = f.finding.severity;
    row.settled = went || f.move == FindingMove::answered;
    if (!went) row.at = f.finding.at;
    out.push_back(std::move(row));
  }
  for (const ResultChange& r : c.results) {
    ComparisonRow row;
    row.part = ComparisonRow::Part::result;
    const int decimals = decimals_of(r);
    const bool old_there = r.old_value || !r.old_word.empty(),
               new_there = r.new_value || !r.new_word.empty();
    row.place = capital(in_room(r.room) + place_of(r));
    row.was = old_there ? r.old_value ? shown(r.old_value, decimals, decimal) : r.old_word : "";
    row.is = new_there ? r.new_value ? shown(r.new_value, decimals, decimal) : r.new_word : "";
    if (r.by) row.by = shown_change(written_difference(r), decimals, decimal);
    if (r.unit == "degrees" || r.unit == "m²" || r.unit == "mm/m") row.unit = r.unit;
    if (new_there) row.at = r.place;
    out.push_back(std::move(row));
  }
  std::map<std::string, int> seen;
  for (ComparisonRow& row : out) {
    const int n = ++seen[row.place];
    row.label = row.place + (n > 1 ? " (" + std::to_string(n) + ")" : "");
  }
  return out;
}

std::string comparison_mark(const std::vector<ComparisonRow>& rows) {
  std::vector<std::string> lines;
  for (const ComparisonRow& row : rows)
    lines.push_back(row.place + ": " + row.was + " → " + row.is + " " + row.says);
  return agreement_mark(lines);
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
    out.push_back(movement_words(c.movements[i], c.results, decimal));
  more(c.movements.size(), most_movements, "kinds of result");
  return out;
}

}  // namespace levelrun
