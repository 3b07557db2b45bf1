// What changed between two surveys of one job, and what that does to the results?
//
// A fact is a number or a word of the survey. Items of lists are matched by id where they have one,
// else by where they stand (a length by its height and out, a reading by its point), what is left
// over by order. A number with a stated or default sd changed beyond its uncertainty if
// |new − old| > 1.96·√(sd_old² + sd_new²); smaller changes are counted, not listed. A number
// without one (the width of a unit, say) is what somebody decided: every change of it counts. What
// the file leaves to a default equals that default. The revision itself is no fact.
//
// A result moved if it differs by `nothing_moved` or more, or by a word. Results are matched by
// what they are of (leg S1 front_left), findings by their id.
//
// Pure; each list is in the new survey's order, what went last.
#pragma once

#include <string>
#include <vector>

#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

// mm, degrees, mm/m: half of the last digit that schedules print.
inline constexpr double nothing_moved = 0.05;

enum class Change { changed, came, went };

struct FactChange {
  Change change = Change::changed;
  std::string at;                  // JSON Pointer in the new survey; of what went, in the old one
  std::string old_text, new_text;  // as the file has it; empty: not there
  Unknown old_value, new_value;    // of a number
  Unknown by, band;                // new − old, and 1.96·sd of that; empty: no number, no sd
};

struct ResultChange {
  std::string kind, room, at, what;  // "leg", "kitchen", "S1 front_left", "height"
  // JSON Pointer of the thing it is of (of a leg its unit, of a plinth its run), as FactChange::at;
  // of what has no place of its own the room's.
  std::string place;
  std::string unit;              // mm, degrees, mm/m, m²; empty: a count or a word
  Unknown old_value, new_value;  // empty: not known, not there, or a word
  std::string old_word, new_word;
  Unknown by;  // new − old, of two numbers
};

// All results of one kind in one room that moved: "leg height, 14 of 20, −3.0 to −3.0".
struct Movement {
  std::string kind, room, what, unit;
  int moved = 0, of = 0;           // of those known in both
  double least = 0, greatest = 0;  // by how much, signed
};

enum class FindingMove { came, went, answered, reopened, changed };  // changed: its severity

struct FindingChange {
  FindingMove move = FindingMove::came;
  Finding finding;  // as it is now; of what went, as it was
  Severity was = Severity::note;
};

struct Comparison {
  std::string old_reference, new_reference;
  int old_revision = 1, new_revision = 1;
  std::vector<FactChange> facts;
  int smaller = 0;  // numbers that changed within their uncertainty
  std::vector<ResultChange> results;
  std::vector<Movement> movements;
  std::vector<FindingChange> findings;
  bool same() const { return facts.empty() && smaller == 0 && results.empty() && findings.empty(); }
};

Comparison compare(const Json& old_document, const Results& old_results, const Json& new_document,
                   const Results& new_results);

// Its parts.
std::vector<FactChange> fact_changes(const Json& old_document, const Json& new_document,
                                     int& smaller);
std::vector<ResultChange> result_changes(const Json& old_document, const Results& old_results,
                                         const Json& new_document, const Results& new_results,
                                         std::vector<Movement>& movements);
std::vector<FindingChange> finding_changes(const Results& old_results, const Results& new_results);

// What tells an item of a list from the others, whatever its place: its id, else where it stands.
// Equal ones are numbered.
std::vector<std::string> item_names(std::string_view list, const Json& items);

// A pointer with names instead of numbers, the same in every revision. What leads nowhere is given
// back as it is.
std::string named_pointer(const Json& document, const std::string& at);

}  // namespace levelrun
