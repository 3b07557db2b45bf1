// Release: the office's review. Every finding with its number, its limit and who answered for it;
// what still bars the release; the title block. Releasing fixes the undersides.
#include <algorithm>

#include "app/entry/release_patch.h"
#include "app/screens/app.h"
#include "app/screens/finding_parts.h"
#include "app/screens/release_lines.h"
#include "app/screens/release_standing.h"
#include "app/screens/screens.h"
#include "app/text_number.h"
#include "app/touch/words_field.h"

namespace levelrun {
namespace {

const FindingRow* open_row(const ReleaseScreen& screen) {
  if (screen.closed) return nullptr;
  for (const FindingRow& row : screen.findings)
    if (row.label == screen.chosen) return &row;
  return screen.findings.empty() ? nullptr : &screen.findings.front();
}

bool can_be_answered(const FindingRow& row) { return row.finding.severity != Severity::note; }

std::string nothing_to_review(const Session& session) {
  return anything_measured(session.survey()) ? "Nothing to review: no finding bars the release."
                                             : "Nothing can be judged yet. Begin on Walk round.";
}

// ---- Answering --------------------------------------------------------------------------------

void begin_answer(ReleaseScreen& screen, const FindingRow& row) {
  screen.answering = true;
  screen.chosen = row.label;
  screen.closed = false;
  screen.says = row.answer;
  screen.lets_pass = false;
}

float key_high(const Sheet& s) { return std::max(least_target, s.row() + 20); }

// The two fields and their keys, in a box that scrolls if it must.
void draw_answer(ScreenContext& c, Box page, Session& session, ReleaseScreen& screen,
                 const FindingRow& row) {
  Sheet& s = c.sheet;
  const bool passable = can_be_let_pass(row.finding);
  const bool hold = row.finding.severity == Severity::hold;
  const std::string warns =
      !hold      ? ""
      : passable ? "A hold stays until its cause is gone, or until somebody lets it pass by name."
                 : "A matter of safety: the answer is kept, but it does not let this hold pass.";
  const Pen crayon{TextSize::body, Ink::crayon};
  const auto lay = [&](Flow& f) {
    f.gap(12);
    f.paragraph(row.title, {TextSize::title, Ink::ink, true});
    f.paragraph(row.says);
    f.gap(8);
    const Box says = f.take(words_field_height(s));
    f.gap(8);
    const Box by = f.take(words_field_height(s));
    f.gap(12);
    if (!warns.empty()) f.paragraph(warns, passable ? Pen{} : crayon);
    f.gap(8);
    const Box pass = passable ? f.take(key_high(s)) : Box{};
    if (passable) f.gap(gap);
    Box keys = f.take(key_high(s));
    if (!session.trouble().empty()) f.paragraph(session.trouble(), crayon);
    f.gap(12);
    if (!f.draws()) return;
    words_field(s, says, "Answer", "answer-says", screen.says, "what is decided, and why");
    words_field(s, by, "Name", "answer-by", screen.by, "who answers for it");
    if (passable && s.key(pass, "Lets it pass", screen.lets_pass ? KeyLook::in_use : KeyLook::plain,
                          screen.lets_pass ? "yes: the hold no longer bars" : "no: it still bars"))
      screen.lets_pass = !screen.lets_pass;
    const Box left = keys.take_left((keys.w - gap) / 2);
    keys.take_left(gap);
    if (s.key(left, "Leave it")) screen.answering = false;
    const bool ready = !screen.says.empty() && !screen.by.empty();
    if (s.key(keys, "Write it down", ready ? KeyLook::plain : KeyLook::not_yet) && ready) {
      const Json patch = answer_patch(session.document(), row.finding.id, screen.says, screen.by,
                                      c.platform.now(), passable && screen.lets_pass);
      if (session.apply(patch, "answer to " + row.title)) screen.answering = false;
    }
  };
  Flow measure(s, page.inset(margin, 0), false);
  lay(measure);
  const float offset = s.touch.scroll("answer", page, measure.height());
  s.push_clip(page);
  Flow flow(s, {page.x + margin, page.y - offset, page.w - 2 * margin, 0}, true);
  lay(flow);
  s.pop_clip();
  s.scroll_mark(page, offset, measure.height());
}

// ---- Title block and what bars it -------------------------------------------------------------

std::string day(const std::string& at) { return at.substr(0, at.find('T')); }

// Cells as on a drawing, status and the Release key in the last line.
float title_block_height(const Sheet& s) {
  const float cell = s.row(TextSize::caption) + s.row() + 10;
  return 2 * cell + std::max(2 * least_target, s.row(TextSize::title) * 2 + s.row());
}

void draw_title_block(ScreenContext& c, Box b, Session& session, ReleaseScreen& screen) {
  Sheet& s = c.sheet;
  const Survey& survey = session.survey();
  const ReleaseStanding now = release_standing(session.survey(), session.results());
  const Manufacture& m = session.results().manufacture;
  const auto cell = [&](Box box, const char* caption, const std::string& words, Ink ink = Ink::ink,
                        bool bold = false) {
    s.frame({box.x, box.y, box.w + 1, box.h + 1}, Ink::ink, 1);  // neighbours share a line
    box = box.inset(8, 4);
    s.text(box.take_top(s.row(TextSize::caption)), caption, {TextSize::caption, soft_ink(s)});
    s.text(box.take_top(s.row()), words, {TextSize::body, ink, bold});
  };
  s.frame(b, Ink::ink, 2);
  const float high = s.row(TextSize::caption) + s.row() + 10;
  Box line = b.take_top(high);
  const Room& room = survey.rooms[session.room];
  cell(line.take_left(line.w * 0.3f), "reference", survey.job.reference, Ink::ink, true);
  cell(line.take_left(line.w * 0.32f), "revision", std::to_string(survey.job.revision), Ink::ink,
       true);
  cell(line, "room", room.name.empty() ? room.id : room.name);
  line = b.take_top(high);
  cell(line.take_left(line.w * 0.24f), "units", survey.job.show_inch ? "inch" : "mm");
  cell(line.take_left(line.w * 0.46f), "by", survey.job.surveyor);
  cell(line, "surveyed", survey.job.surveyed_on);
  const Box key = b.take_right(std::max(b.w * 0.42f, 150.f)).inset(8);
  s.frame(b, Ink::ink, 1);
  Box status = b.inset(8, 4);
  s.text(status.take_top(s.row(TextSize::caption)), "status", {TextSize::caption, soft_ink(s)});
  const Pen loud{TextSize::title, now.released || now.free ? Ink::ink : Ink::crayon, true};
  s.paragraph(status,
              now.released ? "RELEASED"
              : now.free   ? "Nothing bars it"
                           : "NOT RELEASED",
              loud);
  if (now.released)
    s.text(status.take_bottom(s.row(TextSize::caption)), now.by + ", " + day(now.at),
           {TextSize::caption});
  const int left = m.holds + m.queries_open;
  const bool named = !screen.by.empty();
  if (now.released) {
    // What was released stays as it is; a change is another revision.
    if (s.key(key, "Reopen", KeyLook::plain, "makes rev " + std::to_string(survey.job.revision + 1),
              "Reopen job"))
      screen.reopening = true;
    return;
  }
  const std::string why = left > 0                     ? std::to_string(left) + " to answer"
                          : !anything_measured(survey) ? "nothing measured"
                          : !now.free                  ? "no runs yet"
                          : named                      ? "as " + screen.by
                                                       : "a name first";
  if (s.key(key, "Release", now.free && named ? KeyLook::solid : KeyLook::not_yet, why,
            "Release job")) {
    const Json patch =
        release_patch(session.document(), survey, session.results(), screen.by, c.platform.now());
    if (!patch.empty()) session.apply(patch, "release");
  }
}

// Who releases, where the settings do not say.
bool asks_name(const Session& session, const Settings& settings) {
  return settings.author.empty() && release_standing(session.survey(), session.results()).free;
}

float compare_key_high(const Sheet& s) {
  return std::max(60.f, s.row() + s.row(TextSize::caption) + 18);
}

void compare_key(ScreenContext& c, Box b, const ReleaseScreen& screen) {
  const std::string with =
      screen.earlier ? "with rev " + std::to_string(screen.earlier->revision) : "with another file";
  if (c.sheet.key(b, "Compare", KeyLook::plain, with, "Compare revisions"))
    begin_compare(c.app.screens().compare, screen.earlier);
}

// ---- Desk ------------------------------------------------------------------------------------

struct Columns {
  float mark = 44, place = 0, what = 0, number = 0, limit = 0, vial = 64, answer = 0, name = 0;
};

Columns columns(const Sheet& s, float wide, const std::vector<FindingRow>& rows) {
  Columns c;
  for (const FindingRow& row : rows) {
    c.number = std::max(c.number, s.width(row.number, TextSize::body, true));
    c.limit = std::max(c.limit, s.width(row.limit, TextSize::body));
    c.name = std::max(c.name, s.width(row.answered_by, TextSize::body));
  }
  c.number = std::max(c.number, s.width("Number", TextSize::caption)) + 16;
  c.limit = std::max(c.limit, s.width("Limit", TextSize::caption)) + 16;
  c.name = std::clamp(c.name + 16, s.grown(64), s.grown(120));
  const float rest = wide - c.mark - c.number - c.limit - c.vial - c.name - margin;
  c.place = rest * 0.32f;
  c.what = rest * 0.38f;
  c.answer = rest - c.place - c.what;
  return c;
}

void draw_table(Sheet& s, Box page, ReleaseScreen& screen) {
  const Columns c = columns(s, page.w, screen.findings);
  Box head = page.take_top(s.row(TextSize::caption) + 16);
  s.rule_under(head, soft_ink(s));
  const auto headed = [&](float wide, const char* word, Align align = Align::left) {
    s.text(head.take_left(wide).inset(4, 0), word, {TextSize::caption, soft_ink(s), false, align});
  };
  head.take_left(c.mark);
  headed(c.place, "Place");
  headed(c.what, "What");
  headed(c.number, "Number", Align::right);
  headed(c.limit, "Limit", Align::right);
  head.take_left(c.vial);
  headed(c.answer, "Answer");
  headed(c.name, "Name");
  const FindingRow* open = open_row(screen);
  const float least = std::max(least_target, s.row() + 16);
  const auto height_of = [&](const FindingRow& row) {
    const Pen bold{TextSize::body, Ink::ink, true};
    return std::max({least, 16 + s.paragraph_height(c.place - 8, row.title, bold),
                     16 + s.paragraph_height(c.what - 8, row.what),
                     16 + s.paragraph_height(c.answer - 8, row.answer)});
  };
  float content = 0;
  for (const FindingRow& row : screen.findings) content += height_of(row);
  const float offset = s.touch.scroll("review", page, content);
  s.push_clip(page);
  float y = page.y - offset;
  for (const FindingRow& row : screen.findings) {
    Box b{page.x, y, page.w, height_of(row)};
    y = b.bottom();
    if (b.bottom() < page.y || b.y > page.bottom()) continue;
    if (s.row_target(b, row.label, open == &row)) {
      screen.chosen = row.label;
      screen.closed = screen.answering = false;
    }
    s.rule_under(b, open == &row ? Ink::ink : Ink::rule);
    const float line = s.row();
    const float top = b.y + 8;
    severity_mark(s, {b.x + margin, top + (line - mark_side) / 2}, row.finding.severity,
                  row.finding.answered);
    b.take_left(c.mark);
    const auto cell = [&](float wide) {
      Box one = b.take_left(wide).inset(4, 0);
      one.y = top;
      one.h = line;
      return one;
    };
    const bool bad = row.judged && row.judged->verdict != Verdict::within;
    s.paragraph(cell(c.place), row.title, {TextSize::body, Ink::ink, can_be_answered(row)});
    s.paragraph(cell(c.what), row.what);
    s.text(cell(c.number), row.number,
           {TextSize::body, bad ? Ink::crayon : Ink::ink, true, Align::right});
    s.text(cell(c.limit), row.limit, {TextSize::body, Ink::ink, false, Align::right});
    const Box vialed = cell(c.vial);
    if (row.judged)
      vial(s, {vialed.x + 4, vialed.y + (line - 20) / 2, 48, 20}, vial_of(*row.judged));
    const Box answer = cell(c.answer), name = cell(c.name);
    if (can_be_answered(row) && row.answered_by.empty()) {
      for (const Box& field : {answer, name})
        s.dotted({field.x, field.bottom()}, {field.right(), field.bottom()}, Ink::blue);
    } else {
      s.paragraph(answer, row.answer);
      s.text(name, row.answered_by);
    }
  }
  s.pop_clip();
  s.scroll_mark(page, offset, content);
}

void flow_chosen(Flow& f, const FindingRow& row, char decimal) {
  f.gap(12);
  f.paragraph(row.title, {TextSize::title, Ink::ink, true});
  f.gap(6);
  flow_sum(f, row.sum, row.captions, row.finding.severity != Severity::note);
  if (!row.sum.empty()) f.gap(6);
  flow_limit(f, row, decimal);
  f.gap(4);
  flow_words(f, row);
  if (!row.ways_out.empty()) f.gap(12);
  flow_ways_out(f, row, decimal);
  f.gap(12);
}

void draw_chosen(Sheet& s, Box pane, const Session& session, ReleaseScreen& screen,
                 const FindingRow& row) {
  if (can_be_answered(row)) {
    const Box key = pane.take_bottom(key_high(s) + 2 * gap).inset(margin, gap);
    if (s.key({key.x, key.y, std::min(key.w, s.grown(260)), key.h}, "Answer"))
      begin_answer(screen, row);
  }
  const char decimal = session.survey().job.decimal;
  const Box inner = pane.inset(margin, 0);
  Flow measure(s, inner, false);
  flow_chosen(measure, row, decimal);
  const float offset = s.touch.scroll("chosen", pane, measure.height());
  s.push_clip(pane);
  Flow flow(s, {inner.x, inner.y - offset, inner.w, 0}, true);
  flow_chosen(flow, row, decimal);
  s.pop_clip();
  s.scroll_mark(pane, offset, measure.height());
}

void choose_by_tap(Session& session, ReleaseScreen& screen, const std::string& tapped) {
  if (tapped.empty()) return;
  for (const FindingRow& row : screen.findings)
    if (row.at.starts_with(tapped) ||
        fact_in_plan(session.document(), session.survey(), row.at) == tapped) {
      screen.chosen = row.label;
      screen.closed = screen.answering = false;
      return;
    }
}

void draw_plan(Sheet& s, Box box, Session& session, ReleaseScreen& screen) {
  PlaceInPlan place;
  if (const FindingRow* row = open_row(screen)) place = {row->at, row->x, row->y, row->number};
  choose_by_tap(session, screen, draw_place(s, box, session, screen.view, place, true));
}

// Room for the elevation beside the plan, and for the chosen line above the title block.
bool roomy(const Sheet& s, Box page) { return page.w >= s.grown(1500) && page.h >= s.grown(860); }

void draw_desk(ScreenContext& c, Box page, Session& session, ReleaseScreen& screen) {
  Sheet& s = c.sheet;
  const bool wide = roomy(s, page);
  Box top = page.take_top(page.h * 0.47f);
  s.line({page.x, page.y}, {page.right(), page.y}, Ink::ink, 2);
  draw_plan(s, top.take_left(top.w * (wide ? 0.39f : 0.5f)), session, screen);
  s.line({top.x, top.y}, {top.x, top.bottom()}, Ink::ink, 1);
  const FindingRow* row = open_row(screen);
  Box side = page.take_right(std::max(s.grown(330), page.w * (wide ? 0.24f : 0.27f)));
  s.line({side.x, side.y}, {side.x, side.bottom()}, Ink::ink, 2);
  draw_title_block(c, side.take_bottom(title_block_height(s)), session, screen);
  if (asks_name(session, c.settings))
    words_field(s, side.take_bottom(words_field_height(s) + 8).inset(margin, 4),
                "Name of who releases", "release-by", screen.by);
  compare_key(c, side.take_bottom(compare_key_high(s) + 2 * gap).inset(margin, gap), screen);
  const std::string said = session.trouble().empty() ? screen.said : session.trouble();
  if (!said.empty()) {
    const float high = s.paragraph_height(side.w - 2 * margin, said) + 8;
    s.paragraph(side.take_bottom(high).inset(margin, 0), said, {TextSize::body, Ink::crayon});
  }
  if (row && screen.answering)
    draw_answer(c, top, session, screen, *row);
  else if (wide)
    choose_by_tap(session, screen,
                  draw_wall_of(s, top, session, screen.wall_view, row ? row->at : std::string()));
  else if (row)
    draw_chosen(s, top, session, screen, *row);
  if (wide && row && !screen.answering) draw_chosen(s, side, session, screen, *row);
  // Under the table; where the side has nothing else, there.
  const Box lines_in = wide ? page : side;
  Flow measure(s, lines_in.inset(margin, 0), false);
  flow_release_lines(measure, session, screen);
  Box lines = wide ? page.take_bottom(std::min(measure.height() + 16, page.h * 0.5f)) : side;
  if (wide) s.line({lines.x, lines.y}, {lines.right(), lines.y}, Ink::ink, 1);
  const float offset = s.touch.scroll("release lines", lines, measure.height() + 16);
  s.push_clip(lines);
  Flow flow(s, {lines.x + margin, lines.y + 8 - offset, lines.w - 2 * margin, 0}, true);
  flow_release_lines(flow, session, screen);
  s.pop_clip();
  s.scroll_mark(lines, offset, measure.height() + 16);
  if (screen.findings.empty())
    s.paragraph(page.inset(margin), nothing_to_review(session));
  else
    draw_table(s, page, screen);
}

// ---- Everything smaller: one column ----------------------------------------------------------

void draw_column(ScreenContext& c, Box page, Session& session, ReleaseScreen& screen) {
  Sheet& s = c.sheet;
  const FindingRow* open = open_row(screen);
  if (open && screen.answering) {
    if (page.w > 640) page = {page.x, page.y, 640, page.h};
    return draw_answer(c, page, session, screen, *open);
  }
  const char decimal = session.survey().job.decimal;
  const Box inner = page.inset(margin, 0);
  // A plan too small to read leaves its room to the list.
  const float strip = std::min(page.h * 0.36f, page.w * 0.7f);
  const float plan_high = strip < s.grown(160) ? 0 : strip;
  // One pass over everything, measured first, then drawn.
  const auto pass = [&](float y, bool draw) {
    Flow f(s, {inner.x, y, inner.w, 0}, draw);
    const Box plan = f.take(plan_high);
    if (draw && plan_high > 0) draw_plan(s, {page.x, plan.y, page.w, plan.h}, session, screen);
    f.gap(8);
    flow_release_lines(f, session, screen);
    f.gap(8);
    const Box compare = f.take(compare_key_high(s));
    if (draw)
      compare_key(c, {compare.x, compare.y, std::min(compare.w, s.grown(260)), compare.h}, screen);
    f.gap(8);
    f.rule(Ink::ink, 2);
    if (screen.findings.empty()) {
      f.gap(8);
      f.paragraph(nothing_to_review(session));
    }
    for (const FindingRow& row : screen.findings) {
      const bool chosen = open == &row;
      const auto content = [&](Flow& in) {
        flow_line(in, line_of(row));
        if (!chosen) return;
        in.gap(8);
        flow_words(in, row);
        in.gap(8);
        flow_sum(in, row.sum, row.captions, row.finding.severity != Severity::note);
        flow_limit(in, row, decimal);
        flow_ways_out(in, row, decimal);
        if (!can_be_answered(row)) return;
        in.gap(8);
        const Box key = in.take(key_high(s));
        if (in.draws() && s.key(key, "Answer")) begin_answer(screen, row);
      };
      Flow measure(s, {inner.x, f.y() + 12, inner.w, 0}, false);
      content(measure);
      const Box b = f.take(std::max(measure.height() + 24, least_target + 8));
      if (!draw || b.bottom() < page.y || b.y > page.bottom()) continue;
      if (s.row_target({page.x + 4, b.y, page.w - 8, b.h}, row.label, chosen)) {
        screen.chosen = chosen ? "" : row.label;
        screen.closed = chosen;
      }
      if (!chosen) s.rule_under(b);
      Flow in(s, {inner.x, b.y + 12, inner.w, 0}, true);
      content(in);
    }
    f.gap(margin);
    if (asks_name(session, c.settings)) {
      const Box name = f.take(words_field_height(s));
      if (draw) words_field(s, name, "Name of who releases", "release-by", screen.by);
      f.gap(margin);
    }
    const std::string said = session.trouble().empty() ? screen.said : session.trouble();
    if (!said.empty()) f.paragraph(said, {TextSize::body, Ink::crayon});
    const Box block = f.take(title_block_height(s));
    if (draw) draw_title_block(c, block, session, screen);
    f.gap(margin);
    return f.height();
  };
  const float content = pass(page.y, false);
  const float offset = s.touch.scroll("review", page, content);
  s.push_clip(page);
  pass(page.y - offset, true);
  s.pop_clip();
  s.scroll_mark(page, offset, content);
}

}  // namespace

void draw_release_screen(ScreenContext& c, Box page, Session& session, ReleaseScreen& screen) {
  Sheet& s = c.sheet;
  refresh_release(screen, c, session);
  if (session.survey().rooms.empty()) {
    s.paragraph(page.inset(margin), "No room yet. Add one on Job, then walk round it.");
    return;
  }
  if (page.w >= s.grown(1000) && page.h >= s.grown(640))
    draw_desk(c, page, session, screen);
  else
    draw_column(c, page, session, screen);
  if (!screen.reopening) return;
  // Last: opening another file ends this session.
  screen.reopening = false;
  const std::string path =
      put_new_job(c.files, c.platform, c.settings.jobs_folder, reopened(session.document()));
  if (path.empty())
    screen.said = "The new revision could not be written. " + c.platform.write_trouble();
  else
    c.app.open(path);
}

}  // namespace levelrun
