// First what was measured or decided anew, then what it moved, then what somebody must look at.

#include "app/commands/compare.h"

#include "app/commands/pdf_output.h"
#include "app/display_text.h"
#include "app/entry/comparison_words.h"
#include "app/entry/finding_words.h"
#include "app/pack/compare_pages.h"
#include "app/place_words.h"
#include "app/solved_file.h"
#include "app/table.h"
#include "app/terminal.h"
#include "app/text_number.h"
#include "checks/json_fields.h"
#include "checks/solve.h"
#include "checks/words.h"

namespace levelrun {

static std::string facts_text(const Comparison& c, const SolvedFile& was, const SolvedFile& is,
                              char decimal, bool styled) {
  std::string out = "\n" + heading("Facts: " + std::to_string(c.facts.size()) + " changed", styled);
  if (!c.facts.empty()) {
    Table table({{"Place"}, {"Change"}, {"±", Table::Kind::number}});
    for (const FactChange& f : c.facts)
      table.row({place_of(f, was.file.document, is.file.document), change_words(f, decimal),
                 f.band ? shown(f.band, 1, decimal) : ""});
    out += table.text(styled);
  }
  if (c.smaller > 0)
    out += paragraph("", std::to_string(c.smaller) +
                             (c.smaller == 1 ? " reading changed" : " readings changed") +
                             " by no more than what readings are known to; not listed.");
  return out;
}

static std::string results_text(const Comparison& c, const SolvedFile& is, char decimal,
                                bool styled) {
  std::string out =
      "\n" + heading("Results: " + std::to_string(c.results.size()) + " moved", styled);
  const bool rooms = is.file.survey.rooms.size() > 1;
  const auto room = [&](const std::string& id) {
    return rooms ? room_words(is.file.survey, id) + ": " : std::string();
  };
  for (const Movement& m : c.movements)
    out += paragraph("  ", printable(room(m.room) + movement_words(m, c.results, decimal)));
  if (c.results.empty()) return out;
  Table table({{"Result"}, {"Change"}});
  for (const ResultChange& r : c.results)
    table.row({room(r.room) + place_of(r), change_words(r, decimal)});
  return out + "\n" + table.text(styled);
}

static std::string findings_text(const Comparison& c, const SolvedFile& was, const SolvedFile& is,
                                 bool styled) {
  std::string out =
      "\n" + heading("Findings: " + std::to_string(c.findings.size()) + " changed", styled);
  for (const FindingChange& f : c.findings) {
    const SolvedFile& in = f.move == FindingMove::went ? was : is;
    const std::string place = place_words(in.file.document, f.finding.at);
    out += paragraph("  ", printable(capital(move_words(f)) + (place.empty() ? "" : ", " + place) +
                                     ": " + sentence(f.finding.says)));
  }
  return out;
}

static std::string page(const Comparison& c, const SolvedFile& was, const SolvedFile& is,
                        bool styled) {
  const char decimal = is.file.survey.job.decimal;
  std::string out =
      heading("Compare: " + reference_line(was.results) + " → " +
                  (c.old_reference == c.new_reference ? "revision " + std::to_string(c.new_revision)
                                                      : reference_line(is.results)),
              styled);
  if (c.old_reference != c.new_reference)
    out += paragraph("", "The references differ: these may be two jobs, not two revisions.");
  if (c.same()) return out + "Nothing changed.\n";
  out += paragraph("", "Lengths in mm. ± is the 95 % band of a change between two readings.");
  out += facts_text(c, was, is, decimal, styled);
  out += results_text(c, is, decimal, styled);
  return out + findings_text(c, was, is, styled);
}

static const char* word_of(Change c) {
  return c == Change::came ? "came" : c == Change::went ? "went" : "changed";
}
static const char* word_of(FindingMove m) {
  constexpr const char* words[] = {"came", "went", "answered", "reopened", "changed"};
  return words[int(m)];
}
static const char* word_of(Severity s) {
  return s == Severity::hold ? "hold" : s == Severity::query ? "query" : "note";
}

static std::string comparison_json(const Comparison& c) {
  JsonText j;
  JsonFields w(j);
  const auto revision = [&](const char* name, const std::string& reference, int number) {
    j.key(name).begin_object();
    j.key("reference").text(reference);
    j.key("revision").integer(number);
    j.end_object();
  };
  // A number as number, a word as text, what is not there or not known as null.
  const auto value = [&](const char* name, const Unknown& number, const std::string& text) {
    j.key(name);
    if (number)
      j.number(number);
    else if (!text.empty())
      j.text(text);
    else
      j.null();
  };
  j.begin_object();
  w.text("format", "levelrun-comparison");
  w.integer("version", 1);
  revision("old", c.old_reference, c.old_revision);
  revision("new", c.new_reference, c.new_revision);
  w.list("facts", c.facts, [&](const FactChange& f) {
    w.text("at", f.at);
    w.text("change", word_of(f.change));
    value("old", f.old_value, f.old_text);
    value("new", f.new_value, f.new_text);
    w.number("by", f.by);
    w.number("band", f.band);
  });
  w.integer("smaller", c.smaller);
  w.list("results", c.results, [&](const ResultChange& r) {
    w.text("kind", r.kind);
    w.text("room", r.room);
    w.text("at", r.at);
    w.text("what", r.what);
    w.text("unit", r.unit);
    value("old", r.old_value, r.old_word);
    value("new", r.new_value, r.new_word);
    w.number("by", r.by);
  });
  w.list("movements", c.movements, [&](const Movement& m) {
    w.text("kind", m.kind);
    w.text("room", m.room);
    w.text("what", m.what);
    w.text("unit", m.unit);
    w.integer("moved", m.moved);
    w.integer("of", m.of);
    w.number("least", m.least);
    w.number("greatest", m.greatest);
  });
  w.list("findings", c.findings, [&](const FindingChange& f) {
    w.text("change", word_of(f.move));
    w.text("id", f.finding.id);
    w.text("code", f.finding.code);
    w.text("severity", word_of(f.finding.severity));
    if (f.move == FindingMove::changed) w.text("was", word_of(f.was));
    w.text("room", f.finding.room);
    w.text("at", f.finding.at);
    w.text("says", f.finding.says);
  });
  j.end_object();
  return j.take();
}

int compare_command(const std::string& old_file, const std::string& new_file, bool json,
                    Output& out) {
  const auto was = load_and_solve(old_file, out);
  const auto is = load_and_solve(new_file, out);
  if (!was || !is) return exit_unusable;
  const Comparison c = compare(was->file.document, was->results, is->file.document, is->results);
  out.print(json ? comparison_json(c) : page(c, *was, *is, output_is_styled()));
  return exit_ok;
}

int compare_print_command(const std::string& old_file, const std::string& new_file,
                          const std::string& to, PaperSize paper, Output& out) {
  const auto was = load_and_solve(old_file, out);
  const Result<std::string> text = load_survey_text(new_file);
  if (!text.ok()) {
    out.complain(new_file, text.problems());
    return exit_unusable;
  }
  const Result<SurveyFile> is = read_survey(text.value());
  if (!is.ok()) out.complain(new_file, is.problems());
  if (!was || !is.ok()) return exit_unusable;
  PackOptions options;
  options.paper = paper;
  options.survey_name = survey_name_inside(new_file);
  const Results results = solve(is.value().survey);
  std::string error;
  const std::string pdf = comparison_sheets(text.value(), {was->file, was->results},
                                            {is.value(), results}, options, error);
  return put_pdf(pdf, to, error, out);
}

}  // namespace levelrun
