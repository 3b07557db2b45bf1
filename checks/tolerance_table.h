// Which limit does a published table set for a surface, and who says so?
//
// Tables are data (assets/tolerances), each row with its source, edition and how sure we are;
// DEVELOPERS.md, "Tolerance tables". Spans, heights, lengths and limits are mm, >= 0.
// A limit that a table does not give is empty, never guessed: "square, no number given".
// A job may set an entry aside: its limit replaces the row's at that span, or joins the row
// there, and the source then reads "job: " and its reason.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "checks/results.h"
#include "survey/survey.h"

namespace levelrun {

enum class LimitOf {
  wall_finished,
  wall_unfinished,
  floor_finished,
  floor_unfinished,
  ceiling,  // flatness
  plumb,    // offset at the wall's height
  angle,    // offset at the end of an edge of that length
  floor_level,
  ceiling_level
};

enum class LimitRule {
  interpolated,  // linear between entries; below the first its limit; beyond the last
                 // `beyond`, else the last limit
  stepped        // the first entry that is at least the span; beyond the last `beyond`, else none
};

struct ToleranceRow {
  struct Entry {
    double span = 0, limit = 0;
  };
  std::string id, what;
  std::vector<LimitOf> limits_of;       // what it is the table's usual row for; may be none
  std::vector<FlatnessMethod> methods;  // flatness: the tests that the limit is meant for
  LimitRule rule = LimitRule::stepped;
  bool whole_mm = false;       // interpolated limits are rounded, half up
  std::vector<Entry> entries;  // by span; none: the table gives no number
  Unknown beyond;
  Unknown per_storey;  // the most that one storey may take of a limit
  std::string source, edition, seen_at, confidence, note;
};

struct ToleranceTable {
  std::string name, title, note;
  std::vector<ToleranceRow> rows;

  const ToleranceRow* row(std::string_view id) const;  // null: no such row
  const ToleranceRow* row(LimitOf) const;
};

// Null: no such table. The tables live as long as the program.
const ToleranceTable* tolerance_table(std::string_view name);
std::span<const ToleranceTable> tolerance_tables();

struct Limit {
  double value = 0;
  std::string source;  // standard, table and row, edition, confidence
};

// A row as one job uses it: the row with the job's own entries over it. Cheap to ask.
class RowInUse {
 public:
  RowInUse() = default;  // gives no limit
  // row may be null: no limit.
  RowInUse(const ToleranceRow* row, std::span<const Job::TableOverride> overrides);

  Unknown at(double span) const;
  std::optional<Limit> limit(double span) const;
  bool is_for(FlatnessMethod) const;

 private:
  struct Entry {
    double span = 0, limit = 0;
    const std::string* reason = nullptr;
  };
  struct Found {
    Unknown limit;
    const std::string* reason = nullptr;
  };
  Found find(double span) const;

  const ToleranceRow* row_ = nullptr;
  std::vector<Entry> entries_;  // reasons live in the job
};

// Flatness at a spacing of the contact points or blocks; empty also when the row is not meant
// for that method. The table may be null (not known): every answer is then empty.
std::optional<Limit> flatness_limit(const ToleranceTable*, LimitOf surface, FlatnessMethod,
                                    double span, std::span<const Job::TableOverride> = {});

// How far a wall of this height may lean in one storey, or over several in all.
std::optional<Limit> plumb_limit(const ToleranceTable*, double height,
                                 std::span<const Job::TableOverride> = {}, int storeys = 1);

// How far the end of an edge of this length may stand off its nominal direction.
std::optional<Limit> angle_limit(const ToleranceTable*, double length,
                                 std::span<const Job::TableOverride> = {});

// Queries about the job's choice: a table or a row of an override that is not known.
// room stays empty; id is left to the caller.
std::vector<Finding> table_findings(const Job&);

}  // namespace levelrun
