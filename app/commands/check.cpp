// By severity, then by place, each named once; below it what is the matter and, after an arrow,
// what to do about it. A solid block, an open bracket, a dot, and always the word: no colour.
// Notes keep to a line and cautions to a list, so that the page can be read standing up.

#include "app/commands/check.h"

#include <algorithm>
#include <array>
#include <span>
#include <string_view>
#include <thread>
#include <utility>

#include "app/display_text.h"
#include "app/entry/finding_words.h"
#include "app/entry/job_summary.h"
#include "app/in_order.h"
#include "app/solved_file.h"
#include "app/survey_files.h"
#include "app/table.h"
#include "app/terminal.h"
#include "checks/results_json.h"
#include "checks/solve.h"

namespace levelrun {

// One line of the page, cut at a word.
static std::string on_one_line(const std::string& indent, const std::string& text) {
  const int columns = page_columns - display_width(indent);
  const std::string all = printable(text);
  if (display_width(all) <= columns) return indent + all + "\n";
  return indent + wrap(all, columns - 2).front() + " …\n";
}

static std::string section_line(FindingSection section, int n, bool all, bool styled) {
  const std::string more = all ? "" : " (in full: --all)";
  switch (section) {
    case FindingSection::holds:
      return "■ " + (styled ? reverse(count_of(n, "hold")) : count_of(n, "hold")) + "\n";
    case FindingSection::queries:
      return "[ " + (styled ? bold(count_of_queries(n)) : count_of_queries(n)) + "\n";
    case FindingSection::notes:
      return "• " + count_of(n, "note") + more + "\n";
    case FindingSection::cautions:
      return "• " + count_of(n, "caution") + more + "\n";
    case FindingSection::answered:
      return "▣ " + std::to_string(n) + " answered" + "\n";
  }
  return {};
}

// One after the other, the places of each kind together: "lifting (unit T1, unit T2); gas".
static std::string caution_list(std::span<const PlacedFinding> cautions) {
  std::vector<std::pair<std::string, std::string>> kinds;
  for (const PlacedFinding& s : cautions) {
    auto kind =
        std::ranges::find(kinds, s.finding->code, &std::pair<std::string, std::string>::first);
    if (kind == kinds.end()) kind = kinds.insert(kinds.end(), {s.finding->code, ""});
    kind->second += (kind->second.empty() ? "" : ", ") + (s.part.empty() ? s.place : s.part);
  }
  std::string text;
  for (const auto& [code, places] : kinds)
    text += (text.empty() ? "" : "; ") + code + " (" + places + ")";
  return paragraph("  ", printable(sentence(text)));
}

// Findings of one section and place. One remedy of several findings in a row is said once.
static std::string place_lines(std::span<const PlacedFinding> shown, bool all, char decimal,
                               bool styled) {
  std::string out;
  for (const std::string& line : wrap(printable(shown.front().place), page_columns - 2))
    out += "  " + (styled ? bold(line) : line) + "\n";
  for (size_t i = 0; i < shown.size(); ++i) {
    const Finding& f = *shown[i].finding;
    const FindingSection section = section_of(f);
    const bool brief = !all && section >= FindingSection::notes;
    std::string text = matter(shown[i]);
    if (brief) {
      out += on_one_line("    ", first_sentence(text));
      continue;
    }
    if (const std::string numbers = measured_and_limit(f, decimal); all && !numbers.empty())
      text += " " + sentence(numbers);
    const std::vector<std::string> lines = wrap(printable(text), page_columns - 6);
    for (size_t k = 0; k < lines.size(); ++k) out += (k ? "      " : "    ") + lines[k] + "\n";
    const bool again = i + 1 < shown.size() && shown[i + 1].finding->remedy == f.remedy;
    if (!f.remedy.empty() && section != FindingSection::answered && !again)
      out += paragraph("    → ", printable(sentence(f.remedy)));
  }
  return out;
}

static std::string count_line(const Results& results) {
  std::array<int, 5> n{};
  for (const Finding& f : results.findings) ++n[static_cast<size_t>(section_of(f))];
  std::string line =
      count_of(n[0], "hold") + ", " + count_of_queries(n[1]) + ", " + count_of(n[2], "note");
  if (n[3] > 0) line += ", " + count_of(n[3], "caution");
  if (n[4] > 0) line += "; " + std::to_string(n[4]) + " answered";
  return line + (n[0]   ? ": do not manufacture or fit."
                 : n[1] ? ": answer before manufacture."
                        : ": nothing found that bars manufacture.");
}

static std::string page(const std::string& path, const SolvedFile& solved, bool all, bool styled) {
  // The path stays whole whatever its length, so that it can be copied.
  const std::string file = printable(path), reference = reference_line(solved.results);
  const bool one_line = display_width(file) + 2 + display_width(reference) <= page_columns;
  std::string out = (styled ? bold(file) : file) + (one_line ? "  " + reference + "\n" : "\n");
  if (!one_line) out += paragraph("  ", reference);
  const std::vector<PlacedFinding> shown =
      in_reading_order(solved.file.document, solved.file.survey, solved.results);
  const std::span<const PlacedFinding> rest(shown);
  const auto until = [&](size_t from, auto same) {
    size_t end = from;
    while (end < shown.size() && same(shown[end])) ++end;
    return end;
  };
  for (size_t i = 0; i < shown.size();) {
    const FindingSection section = section_of(*shown[i].finding);
    const auto in_section = [&](const PlacedFinding& s) {
      return section_of(*s.finding) == section;
    };
    const size_t end = until(i, in_section);
    out += section_line(section, static_cast<int>(end - i), all, styled);
    if (section == FindingSection::cautions && !all) {
      out += caution_list(rest.subspan(i, end - i));
      i = end;
    }
    while (i < end) {
      const size_t next = until(i, [&](const PlacedFinding& s) {
        return in_section(s) && s.place == shown[i].place &&
               s.finding->room == shown[i].finding->room;
      });
      out += place_lines(rest.subspan(i, next - i), all, solved.file.survey.job.decimal, styled);
      i = next;
    }
  }
  return out + count_line(solved.results) + "\n";
}

// ---- Many files ---------------------------------------------------------------------------------

// Up to so many files each have their page; of more there is the table alone, unless --all.
static constexpr std::size_t few = 6;

static Json as_json(const std::string& path, const std::vector<Problem>& problems) {
  Json list = Json::array();
  for (const Problem& p : problems)
    list.push_back({{"at", p.at}, {"found", p.found}, {"expected", p.expected}});
  return {{"file", path}, {"problems", std::move(list)}};
}

static Json as_json(const std::string& path, const Results& results, const JobSummary& job) {
  const Json all = Json::parse(results_json(results), nullptr, false);
  Json file = {{"file", path}};
  for (const char* member : {"survey", "findings", "manufacture"})
    file[member] = all.value(member, Json());
  file["state"] = word(job.state);
  file["surveyed_on"] = job.day;
  return file;
}

// What is left of a file once it has been solved.
struct Checked {
  std::vector<Problem> problems;  // none: it could be used
  JobSummary job;
  std::string text;  // its page or its JSON, if one is wanted
};

struct Row {
  std::string path;
  JobSummary job;
};

// Where a text of one survey stands in the list of them all.
static std::string indented(const std::string& text) {
  std::string out = "    ";
  for (std::size_t i = 0; i + 1 < text.size(); ++i) {
    out += text[i];
    if (text[i] == '\n') out += "    ";
  }
  return out;
}

// A bar on a terminal while nothing else is printed there.
class ProgressBar {
 public:
  ProgressBar(std::size_t count, bool wanted)
      : count_(count), shown_(wanted && errors_go_to_a_terminal()) {}
  ~ProgressBar() { clear(); }
  void clear() {
    if (drawn_) draw("\r\033[K");
    drawn_ = false;
  }
  void done(std::size_t n) {
    const std::size_t full = n * columns / count_;
    if (!shown_ || (drawn_ && full == full_)) return;
    full_ = full;
    drawn_ = true;
    std::string bar = "\r[";
    for (std::size_t i = 0; i < columns; ++i) bar += i < full ? '=' : ' ';
    draw(bar + "] " + std::to_string(n) + " of " + std::to_string(count_));
  }

 private:
  static constexpr std::size_t columns = 50;
  static void draw(const std::string& text) { print_progress(text); }
  std::size_t count_, full_ = 0;
  bool shown_, drawn_ = false;
};

static std::string table(std::vector<Row> rows, int unusable, bool styled) {
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Row& a, const Row& b) { return older(a.job, b.job); });
  using enum Table::Kind;
  Table t({{"Surveyed", text},
           {"Reference", text},
           {"Rev", number},
           {"State", text},
           {"Holds", number},
           {"Queries", number},
           {"File", text}});
  int holds = 0, queries = 0;
  for (const Row& row : rows) {
    const JobSummary& job = row.job;
    // A path that leaves too little room stays whole on a line of its own.
    const bool fits = display_width(printable(row.path)) <= 24;
    t.row({job.day, job.reference, std::to_string(job.revision), word(job.state),
           std::to_string(job.holds), std::to_string(job.queries), fits ? row.path : ""},
          job.holds > 0);
    if (!fits) t.line(row.path);
    holds += job.holds > 0;
    queries += job.holds == 0 && job.queries > 0;
  }
  const int files = static_cast<int>(rows.size()) + unusable;
  return (rows.empty() ? "" : t.text(styled) + "\n") +
         paragraph("", count_of(files, "file") + ": " + std::to_string(holds) + " with holds, " +
                           std::to_string(unusable) + " could not be used, " +
                           std::to_string(queries) + " with queries only.");
}

int check_command(const std::vector<std::string>& paths, bool all, bool json, Output& out) {
  const bool styled = output_is_styled();
  const std::vector<NamedFile> files = survey_files(paths);
  const bool pages = !json && (all || files.size() <= few);
  // Standard input is read by whoever comes first, so then one comes after the other.
  const bool one_by_one = std::find(paths.begin(), paths.end(), "-") != paths.end();
  const std::size_t threads = one_by_one ? 1 : std::thread::hardware_concurrency();
  const auto work = [&](std::size_t i) {
    const NamedFile& named = files[i];
    Checked done;
    done.problems = named.problems;
    if (done.problems.empty()) {
      Result<SurveyFile> read = load_survey(named.path);
      if (read.ok()) {
        SolvedFile solved{std::move(read.value()), {}};
        solved.results = solve(solved.file.survey);
        done.job = job_summary(solved.file.survey, solved.results);
        if (json)
          done.text = json_text(as_json(named.path, solved.results, done.job));
        else if (pages)
          done.text = page(named.path, solved, all, styled);
      } else {
        done.problems = read.problems();
      }
    }
    if (json && !done.problems.empty()) done.text = json_text(as_json(named.path, done.problems));
    return done;
  };
  std::vector<Row> rows;
  int with_holds = 0, unusable = 0;
  bool begun = false;
  if (json) out.print("{\n  \"format\": \"levelrun-findings\",\n  \"version\": 1,\n  \"files\": [");
  {
    ProgressBar bar(files.size(), !pages && !json && files.size() > few);
    in_order(files.size(), threads, work, [&](std::size_t i, Checked done) {
      if (!done.problems.empty()) {
        ++unusable;
        bar.clear();
        out.complain(files[i].path, done.problems);
      } else {
        with_holds += done.job.holds > 0;
        rows.push_back({files[i].path, std::move(done.job)});
      }
      if (json)
        out.print((begun ? ",\n" : "\n") + indented(done.text));
      else if (!done.text.empty())
        out.print((begun ? "\n" : "") + done.text);
      begun = begun || json || !done.text.empty();
      bar.done(i + 1);
    });
  }
  if (json)
    out.print(begun ? "\n  ]\n}\n" : "]\n}\n");
  else if (files.size() > 1)
    out.print((begun ? "\n" : "") + table(std::move(rows), unusable, styled));
  return out.exit_code(unusable > 0 ? exit_unusable : with_holds > 0 ? exit_hold : exit_ok);
}

}  // namespace levelrun
