#include "app/screens/compare_screen.h"

#include <algorithm>
#include <cstdlib>

#include "app/entry/finding_words.h"
#include "app/jobs/new_job.h"
#include "app/place_words.h"
#include "app/screens/app.h"
#include "app/screens/finding_parts.h"
#include "app/screens/release_lines.h"
#include "app/screens/screens.h"
#include "app/touch/marks.h"
#include "app/touch/words_field.h"

namespace levelrun {
namespace {

void compare_with(CompareScreen& screen, std::shared_ptr<const EarlierRevision> other) {
  screen.other = std::move(other);
  screen.version = -1;
  screen.chosen.clear();
  screen.said.clear();
  screen.choosing = screen.other == nullptr;
}

void refresh(CompareScreen& screen, const Session& session) {
  if (!screen.other || screen.version == session.version()) return;
  const EarlierRevision& was = *screen.other;
  const Survey& survey = session.survey();
  const Comparison c = compare(was.document, was.results, session.document(), session.results());
  screen.rows = comparison_rows(c, was.document, session.document(), survey);
  screen.mark = comparison_mark(screen.rows);
  screen.movements.clear();
  for (const Movement& m : c.movements)
    screen.movements.push_back(
        (survey.rooms.size() > 1 ? room_words(survey, m.room) + ": " : std::string()) +
        movement_words(m, c.results, survey.job.decimal));
  screen.smaller = c.smaller == 0   ? ""
                   : c.smaller == 1 ? "1 reading changed within what it is known to"
                                    : std::to_string(c.smaller) +
                                          " readings changed within what they are known to";
  screen.facts = int(c.facts.size());
  screen.findings = int(c.findings.size());
  screen.results = int(c.results.size());
  screen.version = session.version();
  screen.heights.clear();
}

const ComparisonRow* chosen_row(const CompareScreen& screen) {
  for (const ComparisonRow& row : screen.rows)
    if (row.label == screen.chosen) return &row;
  return nullptr;
}

// ---- The list ----------------------------------------------------------------------------------

std::string figures(const ComparisonRow& row) {
  if (row.part == ComparisonRow::Part::finding) return {};
  if (row.was.empty()) return "new: " + row.is;
  if (row.is.empty()) return "gone: " + row.was;
  std::string out = row.was + " → " + row.is;
  if (!row.by.empty()) out += " (" + row.by + (row.band.empty() ? "" : ", ±" + row.band) + ")";
  return out + (row.unit.empty() ? "" : " " + row.unit);
}

void flow_comparison_row(Flow& f, const ComparisonRow& row) {
  if (row.part != ComparisonRow::Part::finding)
    return f.pair(row.place, {}, figures(row), {TextSize::body, Ink::ink, true});
  if (f.draws())
    severity_mark(f.s, {f.take(0).x, f.y() + (f.s.row() - mark_side) / 2}, *row.severity,
                  row.settled);
  f.indent(mark_column);
  f.paragraph(row.place, {TextSize::body, Ink::ink, true});
  f.paragraph(row.says);
}

std::string heading_of(const CompareScreen& screen, ComparisonRow::Part part) {
  const auto counted = [](int n, const char* what, const char* deed) {
    return std::string(what) + ": " + (n == 0 ? "none" : std::to_string(n)) + " " + deed;
  };
  return part == ComparisonRow::Part::fact ? counted(screen.facts, "Facts", "changed")
         : part == ComparisonRow::Part::finding
             ? counted(screen.findings, "Findings", "came or went")
             : counted(screen.results, "Results", "moved");
}

// What stands above the rows of a part: its heading and, of the results, the movements.
void flow_part_head(Flow& f, const CompareScreen& screen, ComparisonRow::Part part) {
  f.gap(16);
  f.paragraph(heading_of(screen, part), {TextSize::body, Ink::ink, true});
  if (part == ComparisonRow::Part::fact && !screen.smaller.empty())
    f.paragraph(screen.smaller, {TextSize::caption, soft_ink(f.s)});
  if (part == ComparisonRow::Part::result)
    for (const std::string& line : screen.movements) f.paragraph(line);
  f.gap(6);
  f.rule(Ink::ink, 2);
}

float row_height(Sheet& s, float wide, const ComparisonRow& row) {
  Flow measure(s, {0, 0, wide, 0}, false);
  flow_comparison_row(measure, row);
  return std::max(least_target, measure.height() + 16);
}

void choose(ScreenContext& c, Session& session, CompareScreen& screen, const ComparisonRow& row) {
  screen.chosen = screen.chosen == row.label ? "" : row.label;
  // Its room comes on show, so that its place is in the plan.
  if (!row.at.starts_with("/rooms/")) return;
  const auto room = Index(std::atoi(row.at.c_str() + 7));
  if (room == session.room || room >= session.survey().rooms.size()) return;
  session.room = room;
  c.app.screens().room_changed();
}

// Long comparisons have hundreds of rows: they are measured once, and only what is in sight is
// drawn.
void draw_list(ScreenContext& c, Box box, Session& session, CompareScreen& screen) {
  Sheet& s = c.sheet;
  const float wide = std::min(box.w - 2 * margin, s.grown(820));
  const float inner = wide - 16;
  if (screen.heights.size() != screen.rows.size() || screen.heights_wide != wide ||
      screen.heights_text != s.fonts.text_scale()) {
    screen.heights.clear();
    for (const ComparisonRow& row : screen.rows)
      screen.heights.push_back(row_height(s, inner, row));
    screen.heights_wide = wide;
    screen.heights_text = s.fonts.text_scale();
  }
  const ComparisonRow* tapped = nullptr;
  const auto pass = [&](float top, bool draw) {
    Flow f(s, {box.x + margin, top, wide, 0}, draw);
    std::size_t n = 0;
    for (const auto part :
         {ComparisonRow::Part::fact, ComparisonRow::Part::finding, ComparisonRow::Part::result}) {
      flow_part_head(f, screen, part);
      for (; n < screen.rows.size() && screen.rows[n].part == part; ++n) {
        const ComparisonRow& row = screen.rows[n];
        const Box b = f.take(screen.heights[n]);
        if (!draw || b.bottom() < box.y || b.y > box.bottom()) continue;
        const bool chosen = row.label == screen.chosen;
        if (s.row_target(b, row.label, chosen)) tapped = &row;
        if (!chosen) s.rule_under(b);
        Flow in(s, {b.x + 8, b.y + 8, inner, 0}, true);
        flow_comparison_row(in, row);
      }
    }
    f.gap(margin);
    return f.height();
  };
  const float high = pass(box.y, false);
  const float offset = s.touch.scroll("changes", box, high);
  s.push_clip(box);
  pass(box.y - offset, true);
  s.pop_clip();
  s.scroll_mark(box, offset, high);
  if (tapped) choose(c, session, screen, *tapped);
}

// ---- Its place ---------------------------------------------------------------------------------

void draw_plan(Sheet& s, Box box, Session& session, CompareScreen& screen) {
  PlaceInPlan place;
  const ComparisonRow* row = chosen_row(screen);
  if (row) {
    place.at = row->at;
    place.number = row->by;
    const std::string caption =
        row->at.empty() ? row->place + " (not in this revision)" : row->place;
    const float high = s.row(TextSize::caption) + 8;
    s.text(box.take_bottom(high).inset(margin, 0), caption, {TextSize::caption, soft_ink(s)});
  }
  const std::string tapped = draw_place(s, box, session, screen.view, place, false);
  if (tapped.empty()) return;
  for (const ComparisonRow& one : screen.rows)
    if (one.at.starts_with(tapped) ||
        fact_in_plan(session.document(), session.survey(), one.at) == tapped) {
      screen.chosen = one.label;
      return;
    }
}

// ---- Head and keys -----------------------------------------------------------------------------

std::string title_of(const Session& session, const EarlierRevision& was) {
  const Job& job = session.survey().job;
  const bool same = was.results.reference == job.reference;
  const std::string revision = std::to_string(was.revision);
  return same ? "Rev " + revision + " → rev " + std::to_string(job.revision)
              : was.results.reference + " rev " + revision + " → " + job.reference + " rev " +
                    std::to_string(job.revision);
}

void flow_head(Flow& f, const Session& session, const CompareScreen& screen) {
  f.gap(10);
  f.paragraph(title_of(session, *screen.other), {TextSize::title, Ink::ink, true});
  std::string caption = screen.other->path.substr(screen.other->path.rfind('/') + 1);
  if (!screen.rows.empty()) caption += ", agreement mark " + screen.mark;
  f.paragraph(caption, {TextSize::caption, soft_ink(f.s)});
  if (screen.other->results.reference != session.survey().job.reference)
    f.paragraph("The references differ: these may be two jobs, not two revisions.",
                {TextSize::body, Ink::crayon});
  f.paragraph(screen.said, {TextSize::body, Ink::blue});
  f.gap(6);
}

std::string print(ScreenContext& c, const Session& session, const CompareScreen& screen) {
  const std::string name = job_file_name(session.document());
  std::string why;
  const std::string pdf = c.platform.printed_comparison(
      write_survey(screen.other->document), write_survey(session.document()), name, why);
  if (pdf.empty()) return why;
  const std::string did =
      c.platform.give_file(name.substr(0, name.find(".levelrun.json")) + " compared.pdf", pdf);
  return did.empty() ? "The comparison was handed out." : "The comparison was " + did + ".";
}

// Beside each other; in a column the page's key stands below, under the thumb. to_list: the place
// of a row stands where the list was.
void draw_keys(ScreenContext& c, Box b, Session& session, CompareScreen& screen,
               bool to_list = false) {
  Sheet& s = c.sheet;
  const bool column = b.h > b.w * 0.5f;
  if (!column) {
    const float wide = std::min(b.w, s.grown(760));
    b = s.look.left_hand ? b.take_left(wide) : b.take_right(wide);
  }
  Box upper = column ? b.take_top((b.h - gap) / 2) : b.take_left((b.w - gap) * 2 / 3);
  column ? b.take_top(gap) : b.take_left(gap);
  const Box back = upper.take_left((upper.w - gap) / 2);
  upper.take_left(gap);
  // A second line only where it does not touch the first.
  const bool two = back.h > s.row() + s.row(TextSize::caption) + 12;
  const bool some = !screen.rows.empty();
  if (to_list) {
    if (s.key(back, "Back", KeyLook::plain, two ? "to the list" : "", "Back to the list"))
      screen.chosen.clear();
  } else if (s.key(back, "Back", KeyLook::plain, two ? "to Release" : "", "Back to Release")) {
    screen.open = false;
  }
  if (s.key(upper, "With …", KeyLook::plain, two ? "another file" : "", "Compare with another")) {
    screen.choosing = true;
    screen.listed = false;
  }
  if (s.key(b, "Print", some ? KeyLook::solid : KeyLook::not_yet, two ? "a PDF" : "",
            "Print comparison") &&
      some)
    screen.said = print(c, session, screen);
}

// Too low for a list under a plan, or a plan beside keys.
bool is_low(const Sheet& s, Box page) { return page.h < s.grown(320); }

float key_row(const Sheet& s) { return std::max(64.f, s.row() + s.row(TextSize::caption) + 22); }

void draw_comparison(ScreenContext& c, Box page, Session& session, CompareScreen& screen) {
  Sheet& s = c.sheet;
  const auto head = [&](Box& from) {
    Flow measure(s, {0, 0, from.w - 2 * margin, 0}, false);
    flow_head(measure, session, screen);
    const Box b = from.take_top(measure.height());
    Flow flow(s, {b.x + margin, b.y, b.w - 2 * margin, 0}, true);
    flow_head(flow, session, screen);
    s.rule_under(b, Ink::ink, 2);
  };
  const auto list = [&](Box b) {
    if (!screen.rows.empty() || !screen.smaller.empty()) return draw_list(c, b, session, screen);
    s.paragraph(b.inset(margin), "Nothing changed between these two.");
  };
  const ComparisonRow* row = chosen_row(screen);
  if (page.w > page.h * 1.2f && is_low(s, page)) {  // a phone on its side: list or place
    Box side = page.take_right(page.w * 0.36f);
    s.line({side.x, side.y}, {side.x, side.bottom()}, Ink::ink, 1);
    draw_keys(c, side.inset(8, gap), session, screen, row != nullptr);
    if (row) return draw_plan(s, page, session, screen);
    head(page);
    return list(page);
  }
  if (page.w > page.h * 1.2f) {  // the list, and its places beside it
    Box side = page.take_right(page.w * 0.42f);
    s.line({side.x, side.y}, {side.x, side.bottom()}, Ink::ink, 1);
    draw_keys(c, side.take_bottom(key_row(s) + 2 * gap).inset(margin, gap), session, screen);
    head(page);
    if (side.h > s.grown(560)) {
      const Box lower = side.take_bottom(side.h * 0.45f);
      s.line({lower.x, lower.y}, {lower.right(), lower.y}, Ink::ink, 1);
      draw_wall_of(s, lower, session, screen.wall_view, row ? row->at : std::string());
    }
    draw_plan(s, side, session, screen);
    return list(page);
  }
  draw_keys(c, page.take_bottom(key_row(s) + 2 * gap).inset(margin, gap), session, screen);
  head(page);
  const float strip = std::min(page.h * 0.38f, page.w * 0.7f);
  if (strip >= s.grown(160)) {
    const Box plan = page.take_top(strip);
    draw_plan(s, plan, session, screen);
    s.rule_under(plan, Ink::ink, 1);
  }
  list(page);
}

// ---- With what ---------------------------------------------------------------------------------

void draw_choice(ScreenContext& c, Box page, Session& session, CompareScreen& screen) {
  Sheet& s = c.sheet;
  const Job& job = session.survey().job;
  if (!screen.listed) {
    screen.files = other_surveys(c.files, session.path(), c.settings.jobs_folder, job.reference);
    screen.listed = true;
  }
  const auto take = [&](const std::string& path) {
    std::string why;
    auto read = read_revision(c.files, path, why);
    if (read)
      return compare_with(screen, std::make_shared<const EarlierRevision>(std::move(*read)));
    screen.said = path + " was not opened: " + why + ".";
  };
  const float wide = std::min(page.w, s.grown(760));
  const float key_high = is_low(s, page) ? std::max(least_target, s.row() + 8) : key_row(s);
  Box keys = page.take_bottom(key_high + 2 * gap).inset(margin, gap);
  keys.w = std::min(keys.w, wide - 2 * margin);
  if (s.key(keys, "Leave it", KeyLook::plain, {}, "Leave the choice")) {
    screen.choosing = false;
    if (!screen.other) screen.open = false;
    return;
  }
  std::string picked;
  const auto lay = [&](Flow& f) {
    f.gap(12);
    f.paragraph("Compare rev " + std::to_string(job.revision) + " with",
                {TextSize::title, Ink::ink, true});
    f.paragraph(screen.said, {TextSize::body, Ink::crayon});
    f.gap(8);
    const Box field = f.take(words_field_height(s) + 8);
    if (f.draws() &&
        words_field(s, field, "Path of a survey or a job pack", "compare-path", screen.path) &&
        !screen.path.empty())
      picked = screen.path;
    if (screen.files.empty())
      f.paragraph(
          "No other survey lies beside this one. Reopening a released job makes its next "
          "revision.");
    std::string under = "\n";
    for (const RevisionFile& file : screen.files) {
      const std::string heading = file.reference == job.reference
                                      ? "Revisions of " + job.reference
                                      : "Other jobs: not revisions of this one";
      if (heading != under) {
        under = heading;
        f.gap(14);
        f.paragraph(heading, {TextSize::caption, Ink::ink, true});
        f.rule(Ink::ink, 2);
      }
      const std::string name = file.path.substr(file.path.rfind('/') + 1);
      const std::string words = "Rev " + std::to_string(file.revision) +
                                (file.reference == job.reference ? "" : " of " + file.reference);
      const float high = std::max(least_target, s.row() + s.row(TextSize::caption) + 20);
      const Box row = f.take(high);
      if (!f.draws()) continue;
      if (s.row_target(row, words + ", " + name)) picked = file.path;
      s.rule_under(row);
      Box in = row.inset(8, 8);
      Box first = in.take_top(s.row());
      s.text(first.take_right(s.width(file.surveyed_on, TextSize::caption) + 4), file.surveyed_on,
             {TextSize::caption, soft_ink(s), false, Align::right});
      s.text(first, words, {TextSize::body, Ink::ink, true});
      s.text(in, name, {TextSize::caption, soft_ink(s)});
    }
    f.gap(margin);
  };
  Flow measure(s, {page.x + margin, page.y, wide - 2 * margin, 0}, false);
  lay(measure);
  const float offset = s.touch.scroll("compare with", page, measure.height());
  s.push_clip(page);
  Flow flow(s, {page.x + margin, page.y - offset, wide - 2 * margin, 0}, true);
  lay(flow);
  s.pop_clip();
  s.scroll_mark(page, offset, measure.height());
  if (!picked.empty()) take(picked);
}

}  // namespace

void begin_compare(CompareScreen& screen, std::shared_ptr<const EarlierRevision> other) {
  screen.open = true;
  if (!screen.other || other) compare_with(screen, std::move(other));
  screen.listed = false;
}

void draw_compare_screen(ScreenContext& c, Box page, Session& session, CompareScreen& screen) {
  if (screen.choosing || !screen.other) return draw_choice(c, page, session, screen);
  refresh(screen, session);
  draw_comparison(c, page, session, screen);
}

}  // namespace levelrun
