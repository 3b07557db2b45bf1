// Findings as the lines of a list: what a screen shows of each, in reading order.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/entry/finding_words.h"
#include "app/entry/schedule_rows.h"

namespace levelrun {

struct FindingRow {
  Finding finding;
  FindingSection section = FindingSection::notes;
  std::string title;          // where: "Run S, unit S1"; of a leg "Leg S1 front right"
  std::string label;          // the title, made unique in the list
  std::string what;           // "Leg too long for the floor"
  std::string number, limit;  // "183.0", "180"; a leg's and others' with the job's sign
  std::string says;           // in full, a sentence
  std::optional<Judged> judged;
  std::optional<std::string> limit_words;  // "Longest leg of this type"
  std::optional<double> too_much;          // beyond the limit
  std::string sum;                         // with the job's decimal sign; empty: none
  std::vector<std::string> captions;
  std::vector<WayOut> ways_out;
  std::string answer, answered_by, answered_at;  // the latest
  std::string at;                                // what to show in the plan
  Unknown x, y;                                  // and where, if it is a place
  std::optional<Index> room;
};

std::vector<FindingRow> finding_rows(const Json& document, const Survey&, const Results&);

struct FindingCounts {
  int holds = 0, queries = 0, answered = 0, notes = 0, cautions = 0;
};
FindingCounts finding_counts(const Results&);

// Whether an answer by a name can let it pass: a hold of the fit, never one of safety.
bool can_be_let_pass(const Finding&);

// The fact of the plan that a pointer belongs to: itself, or the wall, opening, diagonal, run,
// unit or point above it; of a reading its point. Empty: the plan shows none.
std::string fact_in_plan(const Json& document, const Survey&, const std::string& at);

}  // namespace levelrun
