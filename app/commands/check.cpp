// Weight tells the severity: a solid block, an open bracket, a dot, and always the word. The
// first lines say where, how much of what limit, and what is the matter; the arrow says what to
// do about it.

#include "app/commands/check.h"

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

#include "app/display_text.h"
#include "app/place_words.h"
#include "app/solved_file.h"
#include "app/survey_files.h"
#include "app/terminal.h"
#include "app/text_number.h"
#include "checks/results_json.h"

namespace levelrun {

static constexpr int word_columns = 8;  // "■ query " and its like

static std::string_view severity_word(Severity s) {
  return s == Severity::hold ? "hold" : s == Severity::query ? "query" : "note";
}

static std::string_view mark(const Finding& f) {
  if (f.answered) return "▣";
  return f.severity == Severity::hold ? "■" : f.severity == Severity::query ? "[" : "•";
}

static std::string count_of(int n, const std::string& one) {
  return (n == 0 ? "no" : std::to_string(n)) + " " + one + (n == 1 ? "" : "s");
}

// "172.4 mm, limit 170 mm (source)", as much of it as is known; what is counted is named once.
static std::string measured_and_limit(const Finding& f, char decimal) {
  const int decimals = f.unit == "mm" ? 1 : 2;
  const bool counted = f.unit.find(' ') != std::string::npos;
  const auto with_unit = [&](double v) {
    return shown_short(v, decimals, decimal) + (f.unit.empty() ? "" : " " + f.unit);
  };
  std::string text;
  if (f.measured) text = with_unit(*f.measured);
  if (f.limit)
    text +=
        (text.empty() ? "limit " : ", limit ") +
        (counted && f.measured ? shown_short(*f.limit, decimals, decimal) : with_unit(*f.limit));
  if (!f.source.empty()) text += (text.empty() ? "(" : " (") + f.source + ")";
  return text;
}

static std::string sentence(std::string text) {
  if (!text.empty() && std::string_view(".!?").find(text.back()) == std::string_view::npos)
    text += '.';
  return text;
}

static std::string finding_lines(const Finding& f, const std::string& place, char decimal,
                                 bool styled) {
  std::string first = std::string(mark(f)) + " " + std::string(severity_word(f.severity));
  first.append(word_columns - display_width(first), ' ');
  const std::string indent(word_columns, ' ');

  std::string text = place;
  if (const std::string numbers = measured_and_limit(f, decimal); !numbers.empty())
    text += (text.empty() ? "" : ": ") + numbers;
  text = sentence(text) + (text.empty() ? "" : " ") + sentence(f.says.empty() ? f.code : f.says);
  if (f.answered) text += " Answered.";
  std::string lines = paragraph(first, printable(text));
  if (!f.remedy.empty() && !f.answered)
    lines += paragraph(indent + "→ ", printable(sentence(f.remedy)));

  // Weight goes on last, so that it does not count as columns.
  const std::string_view word = severity_word(f.severity);
  if (styled && !f.answered && f.severity != Severity::note)
    lines.replace(lines.find(word), word.size(),
                  f.severity == Severity::hold ? reverse(word) : bold(word));
  return lines;
}

// The findings by severity, room and place, each group in the order of its first finding.
static std::vector<const Finding*> in_reading_order(const Results& results) {
  std::map<std::string, size_t> room_order;
  std::map<std::pair<std::string, std::string>, size_t> place_order;
  for (const RoomResult& room : results.rooms) room_order.emplace(room.id, room_order.size() + 1);
  std::vector<const Finding*> order;
  for (const Finding& f : results.findings) {
    place_order.emplace(std::pair(f.room, f.at), place_order.size());
    order.push_back(&f);
  }
  const auto key = [&](const Finding* f) {
    const auto room = room_order.find(f->room);
    return std::tuple(f->severity, room == room_order.end() ? 0 : room->second,
                      place_order.at({f->room, f->at}));
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](const Finding* a, const Finding* b) { return key(a) < key(b); });
  return order;
}

static std::string count_line(const Results& results) {
  std::array<int, 3> open{};
  int answered = 0;
  for (const Finding& f : results.findings)
    f.answered ? ++answered : ++open[static_cast<size_t>(f.severity)];
  std::string line = count_of(open[0], "hold") + ", " +
                     (open[1] == 1 ? "1 query"
                      : open[1]    ? std::to_string(open[1]) + " queries"
                                   : "no queries") +
                     ", " + count_of(open[2], "note");
  if (answered > 0) line += "; " + std::to_string(answered) + " answered";
  return line + (open[0]   ? ": do not manufacture or fit."
                 : open[1] ? ": answer before manufacture."
                           : ": nothing found that bars manufacture.");
}

static std::string page(const std::string& path, const SolvedFile& solved, bool styled) {
  // The path stays whole whatever its length, so that it can be copied.
  const std::string file = printable(path), reference = reference_line(solved.results);
  const bool one_line = display_width(file) + 2 + display_width(reference) <= page_columns;
  std::string out = (styled ? bold(file) : file) + (one_line ? "  " + reference + "\n" : "\n");
  if (!one_line) out += paragraph("  ", reference);
  for (const Finding* f : in_reading_order(solved.results)) {
    std::string place = room_words(solved.file.survey, f->room);
    const std::string words = place_words(solved.file.document, f->at);
    if (!words.empty()) place += (place.empty() ? "" : ", ") + words;
    out += finding_lines(*f, place, solved.file.survey.job.decimal, styled);
  }
  return out + count_line(solved.results) + "\n";
}

static Json as_json(const std::string& path, const std::vector<Problem>& problems) {
  Json list = Json::array();
  for (const Problem& p : problems)
    list.push_back({{"at", p.at}, {"found", p.found}, {"expected", p.expected}});
  return {{"file", path}, {"problems", std::move(list)}};
}

static Json as_json(const std::string& path, const Results& results) {
  const Json all = Json::parse(results_json(results), nullptr, false);
  Json file = {{"file", path}};
  for (const char* member : {"survey", "findings", "manufacture"})
    file[member] = all.value(member, Json());
  return file;
}

int check_command(const std::vector<std::string>& paths, bool json, Output& out) {
  const bool styled = output_is_styled();
  const std::vector<NamedFile> files = survey_files(paths);
  Json list = Json::array();
  int with_holds = 0, unusable = 0, pages = 0;
  for (const NamedFile& named : files) {
    std::vector<Problem> problems = named.problems;
    const auto solved =
        problems.empty() ? load_and_solve(named.path, out, &problems) : std::optional<SolvedFile>();
    if (!named.problems.empty()) out.complain(named.path, problems);
    if (solved && open_holds(solved->results) > 0) ++with_holds;
    if (!solved) ++unusable;
    if (json)
      list.push_back(solved ? as_json(named.path, solved->results) : as_json(named.path, problems));
    else if (solved)
      out.print((pages++ > 0 ? "\n" : "") + page(named.path, *solved, styled));
  }
  if (json)
    out.print(
        json_text({{"format", "levelrun-findings"}, {"version", 1}, {"files", std::move(list)}}));
  else if (files.size() > 1)
    out.print("\n" + count_of(static_cast<int>(files.size()), "file") + ": " +
              std::to_string(with_holds) + " with holds, " + std::to_string(unusable) +
              " could not be used.\n");
  return out.exit_code(unusable > 0 ? exit_unusable : with_holds > 0 ? exit_hold : exit_ok);
}

}  // namespace levelrun
