// Question: which limit does a published table set, and who says so?
// Method: the tables are read once from the text that the program carries; a limit is an
// interpolation or a step in a short sorted list.
// Source: each row of assets/tolerances names its own.
#include "checks/tolerance_table.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <utility>

#include "assets/embedded.h"

namespace levelrun {
namespace {

using nlohmann::json;

// mm; two spans no further apart are the same entry.
constexpr double same_span = 1e-6;
// mm; half a millimetre that rounding has left just short still rounds up.
constexpr double half_up_slack = 1e-9;

constexpr std::pair<std::string_view, LimitOf> limit_words[] = {
    {"wall_finished", LimitOf::wall_finished},
    {"wall_unfinished", LimitOf::wall_unfinished},
    {"floor_finished", LimitOf::floor_finished},
    {"floor_unfinished", LimitOf::floor_unfinished},
    {"ceiling", LimitOf::ceiling},
    {"plumb", LimitOf::plumb},
    {"angle", LimitOf::angle},
    {"floor_level", LimitOf::floor_level},
    {"ceiling_level", LimitOf::ceiling_level}};
constexpr std::pair<std::string_view, FlatnessMethod> method_words[] = {
    {"resting_bar", FlatnessMethod::resting_bar}, {"equal_offsets", FlatnessMethod::equal_offsets}};
constexpr std::pair<std::string_view, LimitRule> rule_words[] = {
    {"interpolated", LimitRule::interpolated}, {"stepped", LimitRule::stepped}};

// A table that we ship and cannot read is our own bug: stop, in every build.
[[noreturn]] void bad_table(std::string_view name, const char* what) {
  std::fprintf(stderr, "tolerance table %.*s: %s\n", static_cast<int>(name.size()), name.data(),
               what);
  std::abort();
}

template <class T, std::size_t n>
T meaning(std::string_view table, const json& word,
          const std::pair<std::string_view, T> (&words)[n]) {
  for (const auto& [text, value] : words)
    if (word == text) return value;
  bad_table(table, "a word that is not known");
}

ToleranceRow read_row(std::string_view table, const json& j) {
  ToleranceRow row;
  row.id = j.at("row");
  row.what = j.at("what");
  for (const json& word : j.at("for")) row.limits_of.push_back(meaning(table, word, limit_words));
  for (const json& word : j.at("methods"))
    row.methods.push_back(meaning(table, word, method_words));
  row.rule = meaning(table, j.at("rule"), rule_words);
  row.whole_mm = j.value("whole_mm", false);
  for (const json& entry : j.at("limits")) row.entries.push_back({entry.at(0), entry.at(1)});
  if (j.contains("beyond")) row.beyond = j["beyond"].get<double>();
  if (j.contains("per_storey")) row.per_storey = j["per_storey"].get<double>();
  row.source = j.at("source");
  row.edition = j.at("edition");
  row.seen_at = j.at("seen_at");
  row.confidence = j.at("confidence");
  row.note = j.value("note", "");
  return row;
}

std::vector<ToleranceTable> read_tables() {
  std::vector<ToleranceTable> tables;
  for (const EmbeddedFile& file : embedded_tolerance_tables()) try {
      const json j = json::parse(file.text);
      ToleranceTable table{std::string(file.name), j.at("title"), j.at("note"), {}};
      for (const json& row : j.at("rows")) table.rows.push_back(read_row(file.name, row));
      tables.push_back(std::move(table));
    } catch (const json::exception& e) {
      bad_table(file.name, e.what());
    }
  return tables;
}

std::string source_text(const ToleranceRow& row) {
  return row.source + ", edition " + row.edition + " (" + row.confidence + ")";
}

RowInUse row_for(const ToleranceTable* table, LimitOf what,
                 std::span<const Job::TableOverride> overrides) {
  return table ? RowInUse(table->row(what), overrides) : RowInUse();
}

template <class Range, class Word>
std::string listed(const Range& things, Word word) {
  std::string text;
  for (const auto& thing : things) text += (text.empty() ? "" : ", ") + word(thing);
  return text;
}

}  // namespace

const ToleranceRow* ToleranceTable::row(std::string_view id) const {
  const auto found =
      std::find_if(rows.begin(), rows.end(), [&](const ToleranceRow& r) { return r.id == id; });
  return found == rows.end() ? nullptr : &*found;
}

const ToleranceRow* ToleranceTable::row(LimitOf what) const {
  for (const ToleranceRow& row : rows)
    if (std::count(row.limits_of.begin(), row.limits_of.end(), what)) return &row;
  return nullptr;
}

std::span<const ToleranceTable> tolerance_tables() {
  static const std::vector<ToleranceTable> tables = read_tables();
  return tables;
}

const ToleranceTable* tolerance_table(std::string_view name) {
  for (const ToleranceTable& table : tolerance_tables())
    if (table.name == name) return &table;
  return nullptr;
}

RowInUse::RowInUse(const ToleranceRow* row, std::span<const Job::TableOverride> overrides)
    : row_(row) {
  if (!row) return;
  for (const ToleranceRow::Entry& e : row->entries) entries_.push_back({e.span, e.limit});
  for (const Job::TableOverride& over : overrides) {
    if (over.row != row->id) continue;
    auto place = std::find_if(entries_.begin(), entries_.end(),
                              [&](const Entry& e) { return e.span >= over.span - same_span; });
    if (place == entries_.end() || place->span > over.span + same_span)
      place = entries_.insert(place, Entry{});
    *place = {over.span, over.limit, &over.reason};
  }
}

RowInUse::Found RowInUse::find(double span) const {
  if (!row_ || entries_.empty()) return {};
  const auto next = std::find_if(entries_.begin(), entries_.end(),
                                 [&](const Entry& e) { return e.span >= span - same_span; });
  if (next == entries_.end()) {
    if (row_->beyond) return {row_->beyond};
    if (row_->rule == LimitRule::stepped) return {};
    return {entries_.back().limit, entries_.back().reason};
  }
  if (row_->rule == LimitRule::stepped || next == entries_.begin() ||
      next->span - span <= same_span)
    return {next->limit, next->reason};
  const Entry &a = *(next - 1), &b = *next;
  const double limit = a.limit + (b.limit - a.limit) * (span - a.span) / (b.span - a.span);
  if (const std::string* reason = a.reason ? a.reason : b.reason) return {limit, reason};
  return {row_->whole_mm ? std::floor(limit + 0.5 + half_up_slack) : limit};
}

Unknown RowInUse::at(double span) const { return find(span).limit; }

std::optional<Limit> RowInUse::limit(double span) const {
  const Found found = find(span);
  if (!found.limit) return {};
  return Limit{*found.limit, found.reason ? "job: " + *found.reason : source_text(*row_)};
}

bool RowInUse::is_for(FlatnessMethod method) const {
  return row_ && std::count(row_->methods.begin(), row_->methods.end(), method);
}

std::optional<Limit> flatness_limit(const ToleranceTable* table, LimitOf surface,
                                    FlatnessMethod method, double span,
                                    std::span<const Job::TableOverride> overrides) {
  const RowInUse row = row_for(table, surface, overrides);
  return row.is_for(method) ? row.limit(span) : std::nullopt;
}

std::optional<Limit> plumb_limit(const ToleranceTable* table, double height,
                                 std::span<const Job::TableOverride> overrides, int storeys) {
  std::optional<Limit> limit = row_for(table, LimitOf::plumb, overrides).limit(height);
  // What a job has agreed stands as it is.
  if (!limit || limit->source.starts_with("job: ")) return limit;
  if (const Unknown per_storey = table->row(LimitOf::plumb)->per_storey)
    limit->value = std::min(limit->value, *per_storey * storeys);
  return limit;
}

std::optional<Limit> angle_limit(const ToleranceTable* table, double length,
                                 std::span<const Job::TableOverride> overrides) {
  return row_for(table, LimitOf::angle, overrides).limit(length);
}

std::vector<Finding> table_findings(const Job& job) {
  std::vector<Finding> findings;
  const auto query = [&](const char* code, std::string at, std::string says, std::string remedy) {
    Finding& f = findings.emplace_back();
    f.code = code;
    f.severity = Severity::query;
    f.at = std::move(at);
    f.says = std::move(says);
    f.remedy = std::move(remedy);
  };
  const ToleranceTable* table = tolerance_table(job.tolerance_table);
  if (!table) {
    query("tolerance table not known", "/job/tolerance_table",
          "The job's tolerance table \"" + job.tolerance_table +
              "\" is not known, so no wall is judged flat or plumb.",
          "Choose one of " +
              listed(tolerance_tables(), [](const ToleranceTable& t) { return t.name; }) + ".");
    return findings;
  }
  for (Index i = 0; i < job.table_overrides.size(); ++i) {
    const Job::TableOverride& over = job.table_overrides[i];
    if (table->row(over.row)) continue;
    query("table row not known", "/job/table_overrides/" + std::to_string(i),
          "The job sets aside row \"" + over.row + "\", which " + table->name +
              " does not have, so it has no effect.",
          "Choose one of " + listed(table->rows, [](const ToleranceRow& r) { return r.id; }) + ".");
  }
  return findings;
}

}  // namespace levelrun
