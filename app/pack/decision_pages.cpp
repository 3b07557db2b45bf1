#include <algorithm>

#include "app/pack/pack_pages.h"
#include "app/place_words.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {
namespace {

std::string severity_word(Severity s) {
  return s == Severity::hold ? "HOLD" : s == Severity::query ? "Query" : "Note";
}

bool is_answered(const FindingRow& row) { return !row.answered_by.empty() || row.finding.answered; }

// ways_out: with those of its level group.
void finding_lines(Paper& paper, const PackMatter& m, const FindingRow& row, bool ways_out) {
  constexpr float indent = 7;
  paper.need(36);  // of most findings: they are read whole
  print_mark(paper.pdf(), paper.x(), paper.y() + 0.4f, row.finding.severity, is_answered(row));
  paper.words(severity_word(row.finding.severity) + ": " + row.title, {text_em, true}, indent);
  paper.words(row.says, {text_em}, indent);
  if (!row.sum.empty() && row.says.find(row.sum) == std::string::npos)
    paper.words(row.sum, {caption_em}, indent);
  const std::string limit = measured_and_limit(row.finding, m.decimal());
  if (!limit.empty()) paper.words(limit, {caption_em}, indent);
  if (!row.finding.remedy.empty()) paper.words("→ " + row.finding.remedy, {text_em}, indent);
  if (ways_out)
    for (const WayOut& way : row.ways_out)
      paper.words("Way out: " + way.what +
                      (way.sum.empty() ? "" : " (" + with_decimal_sign(way.sum, m.decimal()) + ")"),
                  {text_em}, indent);
  if (!row.answered_by.empty())
    paper.words("Answered by " + row.answered_by + ", " + row.answered_at + ": " + row.answer,
                {text_em, true}, indent);
  else if (row.finding.severity != Severity::note)
    paper.words("Answer: ____________________________   by: ______________   date: __________",
                {text_em}, indent);
  paper.gap(2.4f);
}

bool missing(const PackMatter& m, const std::string& photo) {
  return std::find(m.missing_photos.begin(), m.missing_photos.end(), photo) !=
         m.missing_photos.end();
}

std::string counted(int n, const char* one, const char* many) {
  return (n == 0 ? "no" : std::to_string(n)) + " " + (n == 1 ? one : many);
}

}  // namespace

void print_mark(PdfFile& pdf, float x, float y, Severity severity, bool answered) {
  if (severity == Severity::note) {
    pdf.fill(x, y + 1.2f, 1.2f, 1.2f);
    pdf.line(x + 1.2f, y + 1.8f, x + 4, y + 1.8f, 0.35f);
  } else if (answered) {
    pdf.rectangle(x, y, 3.6f, 3.6f, 0.5f);
    pdf.fill(x + 1.2f, y + 1.2f, 1.2f, 1.2f);
  } else if (severity == Severity::hold) {
    pdf.fill(x, y, 3.6f, 3.6f);
  } else {
    pdf.line(x + 3.4f, y, x, y, 0.7f);
    pdf.line(x, y, x, y + 3.6f, 0.7f);
    pdf.line(x, y + 3.6f, x + 3.4f, y + 3.6f, 0.7f);
  }
}

std::string release_state(const Survey& survey, const Results& results) {
  const Manufacture& made = results.manufacture;
  bool any = false, all = true;
  std::string by, at;
  for (const RoomResult& room : results.rooms)
    for (const GroupResult& g : room.groups) {
      any = true;
      all = all && g.set;
    }
  for (const Room& room : survey.rooms)
    for (const LevelGroup& g : room.level_groups)
      if (g.underside_set && g.underside_set->at >= at) {
        at = g.underside_set->at;
        by = g.underside_set->by;
      }
  if (made.open && any && all)
    return "released " + at.substr(0, 10) + (by.empty() ? "" : " by " + by);
  if (made.open) return any ? "not released yet; nothing bars it" : "nothing to release: no runs";
  std::string bars;
  if (made.holds > 0) bars = counted(made.holds, "hold", "holds");
  if (made.queries_open > 0)
    bars += (bars.empty() ? "" : ", ") + counted(made.queries_open, "open query", "open queries");
  return "not released: " + (bars.empty() ? "nothing to make yet" : bars);
}

void cover_page(Paper& paper, const PackMatter& m) {
  const Survey& survey = m.survey();
  const Job& job = survey.job;
  paper.page("Job pack: " + job.reference);
  const auto line = [&](const char* head, const std::string& says) {
    if (!says.empty()) paper.words(std::string(head) + ": " + says);
  };
  line("Client", job.client);
  line("Site", job.site);
  line("Surveyed by",
       job.surveyor + (job.surveyed_on.empty() ? "" : ", " + job.surveyed_on.substr(0, 10)));
  line("Revision", std::to_string(job.revision));
  line("Notes", job.notes);
  paper.gap(3);
  paper.words("State: " + release_state(m) + ".", {title_em, true});
  paper.gap(3);
  const FindingCounts counts = finding_counts(m.results);
  std::string counted_up =
      counted(counts.holds, "hold", "holds") + ", " + counted(counts.queries, "query", "queries");
  if (counts.answered > 0) counted_up += ", " + std::to_string(counts.answered) + " answered";
  paper.words(capital(counted_up + ", " + counted(counts.notes, "note", "notes") + "."));
  paper.gap(1);
  if (survey.rooms.empty()) {
    paper.words("No room was entered: there is nothing to draw, to set or to cut.",
                {text_em, true});
    return;
  }
  for (const FindingRow& row : m.findings)
    if (row.finding.severity == Severity::hold && !row.finding.answered) {
      paper.need(12);
      print_mark(paper.pdf(), paper.x(), paper.y() + 0.4f, row.finding.severity, is_answered(row));
      paper.words(row.title + ": " + row.says, {}, 7);
      paper.gap(1);
    }
  paper.heading("Levels");
  bool any_level = false;
  for (Index r = 0; r < survey.rooms.size(); ++r)
    for (const GroupResult& g : m.results.rooms[r].groups) {
      std::string says = m.room_prefix(r) + "Level group " + g.id + ": underside U " +
                         shown(g.underside, 1, m.decimal()) + (g.set ? ", set" : ", as proposed");
      if (!g.feasible) says += ", though no level suits all";
      paper.words(says + ".");
      any_level = true;
    }
  if (!any_level)
    paper.words("None is worked out: no level group stands on a floor that was read.");
  if (!m.results.manufacture.open && !m.results.manufacture.may_cut.empty()) {
    std::string parts;
    for (const std::string& part : m.results.manufacture.may_cut)
      parts += (parts.empty() ? "" : ", ") + part;
    paper.heading("May be cut, whatever is answered");
    paper.words(parts + ".");
  }
  const auto in_room = [&](const std::string& id) {
    return survey.rooms.size() > 1 ? room_words(survey, id) + ": " : std::string();
  };
  if (!m.quantities.legs.empty() || !m.quantities.boards.empty())
    paper.heading("Ordered by this pack");
  for (const Quantities::Legs& l : m.quantities.legs)
    paper.words(in_room(l.room) + std::to_string(l.count) + " legs of type " + l.type +
                (l.shortest ? ", " + shown(l.shortest, 1, m.decimal()) + " to " +
                                  shown(l.tallest, 1, m.decimal())
                            : "") +
                (l.not_within > 0 ? ", " + std::to_string(l.not_within) + " not surely within " +
                                        shown_short(l.least, 1, m.decimal()) + " to " +
                                        shown_short(l.most, 1, m.decimal())
                                  : "") +
                (l.not_known > 0 ? ", " + std::to_string(l.not_known) + " of unknown height" : ""));
  for (const Quantities::Boards& b : m.quantities.boards)
    paper.words(in_room(b.room) + std::to_string(b.count) +
                (b.count == 1 ? " plinth board " : " plinth boards ") +
                shown_short(b.stock_length, 1, m.decimal()) + " × " +
                shown_short(b.height, 1, m.decimal()));
  int photos = 0;
  for (const Room& room : survey.rooms) photos += int(room.photos.size());
  if (photos > 0)
    paper.words(counted(photos, "photo", "photos") + " kept beside the survey, not in this file:");
  for (const Room& room : survey.rooms)
    for (const Photo& photo : room.photos)
      paper.words(photo.file + (photo.note.empty() ? "" : ": " + photo.note) +
                      (missing(m, photo.file) ? " (MISSING: there is no such file)" : ""),
                  {caption_em, missing(m, photo.file)}, 6);
  paper.gap(3);
  paper.words(
      "This file carries its survey: levelrun opens it as the survey. Four letters on a sheet or "
      "card "
      "are made from its own numbers; the app shows the same letters while they hold.",
      {caption_em});
}

void finding_pages(Paper& paper, const PackMatter& m) {
  paper.page("Findings");
  // Ways out belong to a level group: they stand once, with the first finding that has them.
  const auto ways = [](const FindingRow& row) {
    std::string all;
    for (const WayOut& way : row.ways_out) all += way.what + "\n";
    return all;
  };
  std::vector<std::string> printed;
  bool any = false;
  for (const FindingRow& row : m.findings) {
    if (row.section == FindingSection::cautions) continue;
    const std::string own = ways(row);
    const bool fresh = std::find(printed.begin(), printed.end(), own) == printed.end();
    finding_lines(paper, m, row, fresh);
    if (fresh) printed.push_back(own);
    any = true;
  }
  if (!any) paper.words("Nothing was found.");
}

void checklist_pages(Paper& paper, const PackMatter& m) {
  if (m.tasks.tasks.empty()) return;
  paper.page("Checklist for the day, in working order");
  PdfFile& pdf = paper.pdf();
  std::string stage;
  for (const InstallTask& task : m.tasks.tasks) {
    // Units of two rooms may have one name: each stage is headed with its room.
    std::string now = capital(std::string(word(task.stage)));
    if (m.survey().rooms.size() > 1 && !task.room.empty())
      now = room_words(m.survey(), task.room) + ": " + std::string(word(task.stage));
    if (now != stage) {
      stage = now;
      paper.heading(now);
    }
    paper.need(9);
    pdf.rectangle(paper.x(), paper.y() + 0.3f, 3.6f, 3.6f, 0.35f);
    if (task.state == TaskState::done) pdf.fill(paper.x() + 0.8f, paper.y() + 1.1f, 2, 2);
    std::string says = task.says;
    if (task.state == TaskState::done && !task.by.empty())
      says += " (done, " + task.by + ", " + task.at.substr(0, 16) + ")";
    if (task.state == TaskState::not_needed) says += " (not needed: " + task.note + ")";
    paper.words(says, {}, 7);
    for (const std::string& caution : task.cautions)
      paper.words("Caution: " + caution, {caption_em, true}, 7);
    paper.gap(1.4f);
  }
}

void caution_pages(Paper& paper, const PackMatter& m) {
  const bool any = std::any_of(m.findings.begin(), m.findings.end(), [](const FindingRow& row) {
    return row.section == FindingSection::cautions;
  });
  paper.page("Cautions");
  paper.words(
      "None of this is an approval. Gas, electricity, water under pressure and structure: by a "
      "licensed person, to the local code. Trace hidden pipes and cables before drilling. Suspect "
      "asbestos in old boards, tiles and textured coatings: stop, and have it tested. Lift heavy "
      "units "
      "with two people. Keep dust down and out of lungs.",
      {text_em, true});
  paper.gap(3);
  if (!any) return;
  for (const FindingRow& row : m.findings)
    if (row.section == FindingSection::cautions) finding_lines(paper, m, row, false);
}

void sign_off_page(Paper& paper, const PackMatter& m) {
  paper.need(95);
  paper.heading("Signed");
  const auto& signed_off = m.survey().install.sign_off;
  if (signed_off)
    paper.words("Signed off by " + signed_off->by + ", " + signed_off->role + ", " +
                signed_off->at + (signed_off->note.empty() ? "" : ": " + signed_off->note));
  for (const char* who : {"Office, released for manufacture", "Workshop, made as this pack says",
                          "Fitter, level and complete", "Client, handed over"})
    paper.signature(who);
}

}  // namespace levelrun
