#include "app/pack/compare_pages.h"

#include "app/entry/comparison_words.h"
#include "app/pack/pack_pages.h"
#include "app/place_words.h"

namespace levelrun {
namespace {

constexpr const char* not_there = "–";

std::string of_revision(const Job& job) { return "revision " + std::to_string(job.revision); }

// "MH-26-031, revision 1 → revision 2"
std::string both(const Job& was, const Job& is) {
  return was.reference + ", " + of_revision(was) + " → " +
         (was.reference == is.reference ? "" : is.reference + ", ") + of_revision(is);
}

std::string foot_rest(const Job& was, const Job& is) {
  constexpr std::size_t most = 60;  // bytes of a reference that is not the first
  return ", " + of_revision(was) + " → " +
         (was.reference == is.reference ? ""
          : is.reference.size() <= most ? is.reference + ", "
                                        : "another reference, ") +
         of_revision(is);
}

std::string or_dash(const std::string& text) { return text.empty() ? not_there : text; }

void revision_line(Paper& paper, const char* head, const PrintedRevision& r) {
  const Job& job = r.file.survey.job;
  const FindingCounts n = finding_counts(r.results);
  std::string says = std::string(head) + ": " + of_revision(job);
  if (!job.surveyor.empty()) says += ", surveyed by " + job.surveyor;
  if (!job.surveyed_on.empty()) says += ", " + job.surveyed_on.substr(0, 10);
  paper.words(says + ", " + release_state(r.file.survey, r.results) + "; " +
              count_of(n.holds, "hold") + ", " + count_of_queries(n.queries) + ", " +
              count_of(n.notes, "note") + ".");
}

void facts(Paper& paper, const Comparison& c, const std::vector<ComparisonRow>& rows) {
  paper.heading("Facts: " + std::to_string(c.facts.size()) + " changed");
  std::vector<Paper::Row> lines;
  for (const ComparisonRow& row : rows)
    if (row.part == ComparisonRow::Part::fact)
      lines.push_back(
          {{row.place, or_dash(row.was), or_dash(row.is), row.by, row.band}, {}, false});
  if (!lines.empty())
    paper.table({{"Fact", 4.6f},
                 {"Was", 1.8f, TextAlign::right},
                 {"Is", 1.8f, TextAlign::right, true},
                 {"By", 1, TextAlign::right},
                 {"±", 0.8f, TextAlign::right}},
                lines);
  if (c.smaller > 0)
    paper.words(std::to_string(c.smaller) +
                (c.smaller == 1 ? " reading changed" : " readings changed") +
                " by no more than two readings of one thing may differ; not listed.");
}

void movements(Paper& paper, const Comparison& c, const Survey& survey) {
  paper.heading("Results: " + std::to_string(c.results.size()) + " moved");
  if (c.results.empty()) paper.words("None.");
  for (const Movement& m : c.movements) {
    const std::string room =
        survey.rooms.size() > 1 ? room_words(survey, m.room) + ": " : std::string();
    paper.words(room + movement_words(m, c.results, survey.job.decimal));
  }
}

void findings(Paper& paper, const Comparison& c, const std::vector<ComparisonRow>& rows) {
  paper.heading("Findings: " + std::to_string(c.findings.size()) + " came or went");
  if (c.findings.empty()) paper.words("None.");
  constexpr float indent = 7;
  for (const ComparisonRow& row : rows) {
    if (row.part != ComparisonRow::Part::finding) continue;
    paper.need(14);
    print_mark(paper.pdf(), paper.x(), paper.y() + 0.4f, *row.severity, row.settled);
    paper.words(row.place, {text_em, true}, indent);
    paper.words(row.says, {text_em}, indent);
    paper.gap(1.6f);
  }
}

void results(Paper& paper, const std::vector<ComparisonRow>& rows) {
  std::vector<Paper::Row> lines;
  for (const ComparisonRow& row : rows)
    if (row.part == ComparisonRow::Part::result)
      lines.push_back({{row.place + (row.unit.empty() ? "" : " (" + row.unit + ")"),
                        or_dash(row.was), or_dash(row.is), row.by},
                       {},
                       false});
  if (lines.empty()) return;
  paper.heading("Every result that moved");
  paper.table({{"Result", 4.8f},
               {"Was", 1.8f, TextAlign::right},
               {"Is", 1.8f, TextAlign::right, true},
               {"By", 1, TextAlign::right}},
              lines);
}

}  // namespace

std::string comparison_sheets(std::string_view new_text, const PrintedRevision& was,
                              const PrintedRevision& is, const PackOptions& options,
                              std::string& error) {
  const Survey& survey = is.file.survey;
  const Comparison c = compare(was.file.document, was.results, is.file.document, is.results);
  const auto rows = comparison_rows(c, was.file.document, is.file.document, survey);
  const std::string title = both(was.file.survey.job, survey.job);
  PdfFile pdf(options.paper, title, survey.job.surveyed_on);
  Paper paper(pdf, was.file.survey.job.reference, foot_rest(was.file.survey.job, survey.job), "");
  paper.page("Compare: " + title);
  if (c.old_reference != c.new_reference)
    paper.words("The references differ: these may be two jobs, not two revisions.",
                {text_em, true});
  revision_line(paper, "Before", was);
  revision_line(paper, "After", is);
  paper.gap(2);
  if (c.same()) {
    paper.words("Nothing changed.", {4.2f, true});
    return finished(paper, new_text, options, error);
  }
  paper.words(
      "Agreement mark " + comparison_mark(rows) +
          ": the app's page Compare shows these letters for the same two revisions. Lengths "
          "in mm. ± is what two readings of one thing may differ by, 95 %; a fact without "
          "it was decided, not measured. " +
          not_there + " is not there, or not known.",
      {caption_em});
  facts(paper, c, rows);
  movements(paper, c, survey);
  findings(paper, c, rows);
  results(paper, rows);
  paper.signature("Seen and agreed");
  return finished(paper, new_text, options, error);
}

}  // namespace levelrun
