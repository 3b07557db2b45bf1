// What changed, in lines short enough for a page: terminal, release page, print and install day say
// it alike.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checks/compare.h"

namespace levelrun {

// "wall W1, length 2": of what went, by the old document.
std::string place_of(const FactChange&, const Json& old_document, const Json& new_document);

// "3621 → 3624 (+3)", "taper", "gone".
std::string change_words(const FactChange&, char decimal);

// "every leg height −3.0" where all moved alike, else "14 of 20 leg heights, −3.0 to +1.2".
std::string movement_words(const Movement&, char decimal);
// The same by the differences that stand beside its results, so that both say one number.
std::string movement_words(const Movement&, const std::vector<ResultChange>&, char decimal);

// "leg S1 front left, height", and "155.4 → 152.4 (−3.0)".
std::string place_of(const ResultChange&);
std::string change_words(const ResultChange&, char decimal);

// How a finding's coming or going is said before its words: "new hold", "no longer".
std::string move_words(const FindingChange&);

// What changed, line by line: the page Compare and its print show the same.
struct ComparisonRow {
  enum class Part { fact, finding, result };
  Part part = Part::fact;
  std::string place;    // "Set-up A, reading of P6, staff"; of a finding "New hold, run S"
  std::string label;    // the place, made unique in the list
  std::string was, is;  // with the job's decimal sign; empty: not there, or not known
  std::string by;       // "+8"; empty: no number
  std::string band;     // of a fact: what two readings may differ by, 95 %; empty: it was decided
  std::string unit;     // where it is not mm
  std::string says;     // of a finding
  std::optional<Severity> severity;
  bool settled = false;  // the finding went, or was answered
  std::string at;        // JSON Pointer in the new survey; empty: it is there no more
};
// Facts, then findings, then every result; each in the comparison's order.
std::vector<ComparisonRow> comparison_rows(const Comparison&, const Json& old_document,
                                           const Json& new_document, const Survey& new_survey);

// Four letters of all rows, for the sheet and for the page.
std::string comparison_mark(const std::vector<ComparisonRow>&);

// A page's few lines: facts first, then movements, at most so many of each and then how many more.
std::vector<std::string> changed_lines(const Comparison&, const Json& old_document,
                                       const Json& new_document, char decimal,
                                       std::size_t most_facts, std::size_t most_movements);

}  // namespace levelrun
