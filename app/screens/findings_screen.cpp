// Findings: what holds, what to ask, what to know, and the schedules of results. The line that is
// open shows its place in the plan and the sum behind its number.
#include <algorithm>
#include <array>
#include <cmath>

#include "app/entry/agreement_mark.h"
#include "app/screens/finding_parts.h"
#include "app/screens/screens.h"

namespace levelrun {
namespace {

struct ListKey {
  const char* word;
  const char* label;  // of its target: the staff has pages of the same words
  const char* empty;
};
constexpr std::array<ListKey, 5> lists = {{
    {"Findings", "Show findings", "Nothing found yet. Findings come as readings are booked."},
    {"Legs", "Show legs",
     "No legs yet. Enter the runs on Runs, then read the floor under them on Levels."},
    {"Plinths", "Show plinths",
     "No plinths yet. Enter the runs on Runs, then read the floor under them on Levels."},
    {"Walls", "Show walls", "No walls yet. Book the outline on Walk round."},
    {"Services", "Show services", "No services yet. Place them on Walls."},
}};

void refresh(FindingsScreen& screen, const Session& session) {
  if (screen.version != session.version()) {
    screen.findings = finding_rows(session.document(), session.survey(), session.results());
    screen.version = session.version();
  }
  if (screen.list == 0 ||
      (screen.schedule_version == session.version() && screen.schedule_list == screen.list))
    return;
  const RoomResult* room = session.room_result();
  screen.schedule =
      room ? schedule_rows(Schedule(screen.list - 1), session.survey(), session.room, *room)
           : std::vector<ScheduleRow>();
  screen.mark.clear();
  if (room && !screen.schedule.empty() && screen.list <= 2)
    screen.mark = screen.list == 1 ? legs_mark(*room) : plinths_mark(*room);
  screen.schedule_version = session.version();
  screen.schedule_list = screen.list;
}

const FindingRow* open_finding(const FindingsScreen& screen) {
  if (screen.list != 0 || screen.closed) return nullptr;
  for (const FindingRow& row : screen.findings)
    if (row.label == screen.chosen) return &row;
  if (screen.findings.empty() || screen.findings.front().section > FindingSection::queries)
    return nullptr;
  return &screen.findings.front();
}

const ScheduleRow* open_schedule(const FindingsScreen& screen) {
  if (screen.list == 0) return nullptr;
  for (const ScheduleRow& row : screen.schedule)
    if (row.title == screen.chosen) return &row;
  return nullptr;
}

void choose(FindingsScreen& screen, const std::string& label, bool was_open) {
  screen.chosen = was_open ? "" : label;
  screen.closed = was_open;
}

float key_least(const Sheet& s, const ListKey& key) {
  return s.width(key.word, TextSize::caption, true) + 14;
}
constexpr float key_gap = 6;

// The keys on one line if their words fit at caption size, else on two.
float keys_height(const Sheet& s, float wide) {
  float need = -key_gap;
  for (const ListKey& key : lists) need += key_least(s, key) + key_gap;
  const float high = std::max(least_target, s.row() + 16);
  return need <= wide ? high : 2 * high + gap;
}

void draw_keys(Sheet& s, Box b, FindingsScreen& screen) {
  const float high = std::max(least_target, s.row() + 16);
  const std::size_t each = b.h > high + 1 ? 3 : lists.size();
  for (std::size_t from = 0; from < lists.size(); from += each) {
    Box line = b.take_top(high);
    b.take_top(gap);
    const std::size_t to = std::min(lists.size(), from + each);
    float need = 0;
    for (std::size_t i = from; i < to; ++i) need += key_least(s, lists[i]);
    const float share = (line.w - key_gap * float(to - from - 1)) / need;
    for (std::size_t i = from; i < to; ++i) {
      const Box key = line.take_left(key_least(s, lists[i]) * share);
      line.take_left(key_gap);
      if (s.key(key, lists[i].word, int(i) == screen.list ? KeyLook::in_use : KeyLook::plain, {},
                lists[i].label)) {
        screen.list = int(i);
        screen.chosen.clear();
        screen.closed = false;
        s.touch.scroll_to("findings", 0);
      }
    }
  }
}

class List {
 public:
  List(Sheet& s, Box box, FindingsScreen& screen, char decimal, bool sums)
      : s_(s), box_(box), screen_(screen), decimal_(decimal), sums_(sums) {}

  // One pass over all lines: measured first, then drawn.
  float pass(float top, bool draw) {
    y_ = top;
    draw_ = draw;
    if (screen_.list == 0)
      findings();
    else
      schedule();
    return y_ - top;
  }

 private:
  // A line that can be tapped, with what `content` puts into it.
  template <typename Content>
  void line(const std::string& label, bool chosen, const FindingRow* finding,
            const Content& content) {
    const Box inner{box_.x + margin, y_ + 12, box_.w - 2 * margin, 0};
    Flow measure(s_, inner, false);
    content(measure);
    const Box row{box_.x, y_, box_.w, std::max(measure.height() + 24, least_target + 8)};
    y_ = row.bottom();
    if (!draw_ || row.bottom() < box_.y || row.y > box_.bottom()) return;
    if (s_.row_target(row.inset(4, 0), label, chosen)) {
      if (label == "Cautions")
        screen_.cautions = !screen_.cautions;
      else
        choose(screen_, label, chosen);
    }
    if (chosen && s_.look.inks != InkSet::sun)
      s_.fill({row.x + 4, row.y, 4, row.h}, finding ? Ink::ink : Ink::blue);
    if (!chosen) s_.rule_under(row.inset(margin, 0));
    Flow flow(s_, inner, true);
    content(flow);
  }

  void findings() {
    const FindingRow* open = open_finding(screen_);
    bool told = false;
    for (const FindingRow& row : screen_.findings) {
      if (row.section == FindingSection::cautions && !told) {
        cautions();
        told = true;
      }
      if (row.section == FindingSection::cautions && !screen_.cautions && open != &row) continue;
      line(row.label, open == &row, &row, [&](Flow& f) {
        flow_line(f, line_of(row));
        if (open != &row) return;
        f.gap(8);
        if (box_.w > s_.grown(480)) f.indent(mark_column);
        flow_words(f, row);
        if (sums_ && !row.sum.empty()) {
          f.gap(12);
          flow_sum(f, row.sum, row.captions, row.finding.severity != Severity::note);
          f.gap(4);
          flow_limit(f, row, decimal_);
        }
        if (!row.ways_out.empty()) f.gap(10);
        flow_ways_out(f, row, decimal_);
      });
    }
  }

  // All cautions in one line: what they are of, each kind once.
  void cautions() {
    std::string kinds;
    std::vector<std::string> seen;
    int n = 0;
    for (const FindingRow& row : screen_.findings) {
      if (row.section != FindingSection::cautions) continue;
      ++n;
      if (std::find(seen.begin(), seen.end(), row.finding.code) != seen.end()) continue;
      seen.push_back(row.finding.code);
      kinds += (kinds.empty() ? "" : ", ") + row.finding.code;
    }
    ListLine caution;
    FindingRow note;
    note.finding.severity = Severity::note;
    caution.finding = &note;
    caution.title = capital(count_of(n, "caution"));
    caution.number = screen_.cautions ? "fold" : "unfold";
    caution.words = capital(kinds);
    line("Cautions", false, nullptr, [&](Flow& f) { flow_line(f, caution); });
  }

  void schedule() {
    const ScheduleRow* open = open_schedule(screen_);
    // As the printed sheet of the same numbers has it.
    if (!screen_.mark.empty()) {
      Flow flow(s_, {box_.x + margin, y_ + 8, box_.w - 2 * margin, 0}, draw_);
      flow.paragraph("Agreement mark " + screen_.mark, {TextSize::caption, soft_ink(s_)});
      y_ += flow.height() + 12;
    }
    for (const ScheduleRow& row : screen_.schedule)
      line(row.title, open == &row, nullptr, [&](Flow& f) {
        flow_line(f, {nullptr, row.title, row.value, row.words, &row.judged});
        if (open != &row || !sums_ || row.sum.empty()) return;
        f.gap(10);
        flow_sum(f, row.sum, row.captions, row.judged && row.judged->verdict != Verdict::within);
      });
  }

  Sheet& s_;
  Box box_;
  FindingsScreen& screen_;
  char decimal_;
  bool sums_, draw_ = false;
  float y_ = 0;
};

void draw_list(Sheet& s, Box page, Session& session, FindingsScreen& screen, bool sums) {
  const FindingCounts counts = finding_counts(session.results());
  const auto head = [&](Box b, bool draw) {
    b = b.inset(margin, 0);
    Flow f(s, b, draw);
    f.gap(10);
    flow_counts(f, counts);
    f.gap(8);
    const Box keys = f.take(keys_height(s, b.w));
    if (draw) draw_keys(s, keys, screen);
    f.gap(10);
    return f.height();
  };
  const float head_high = head(page, false);
  // Where there is little height the head scrolls with its list.
  const bool stays = page.h > 2.5f * head_high;
  if (stays) {
    const Box top = page.take_top(head_high);
    head(top, true);
    s.rule_under(top.inset(margin, 0), Ink::ink, 2);
  }
  List list(s, page, screen, session.survey().job.decimal, sums);
  const bool empty = screen.list == 0 ? screen.findings.empty() : screen.schedule.empty();
  const std::string none = screen.list == 0 && !anything_measured(session.survey())
                               ? "Nothing can be judged yet. Begin on Walk round."
                               : lists[std::size_t(screen.list)].empty;
  const float above = stays ? 0 : head_high;
  const float content =
      above + margin +
      (empty ? s.paragraph_height(page.w - 2 * margin, none) + margin : list.pass(page.y, false));
  const float offset = s.touch.scroll("findings", page, content);
  s.push_clip(page);
  if (!stays) head({page.x, page.y - offset, page.w, head_high}, true);
  const float top = page.y - offset + above;
  if (empty)
    s.paragraph({page.x + margin, top + margin, page.w - 2 * margin, page.h}, none);
  else
    list.pass(top, true);
  s.pop_clip();
  s.scroll_mark(page, offset, content);
}

// What the pane under the plan says of the line that is open.
void flow_open(Flow& f, const FindingRow* finding, const ScheduleRow* row, char decimal) {
  const std::string& title = finding ? finding->title : row->title;
  f.paragraph(title, {TextSize::title, Ink::ink, true});
  f.gap(8);
  if (finding) {
    flow_sum(f, finding->sum, finding->captions, finding->finding.severity != Severity::note);
    f.gap(8);
    flow_limit(f, *finding, decimal);
    return;
  }
  flow_sum(f, row->sum, row->captions, row->judged && row->judged->verdict != Verdict::within);
  f.gap(8);
  f.paragraph(row->words, {TextSize::body, soft_ink(f.s)});
}

void draw_plan(Sheet& s, Box box, Session& session, FindingsScreen& screen) {
  PlaceInPlan place;
  if (const FindingRow* open = open_finding(screen)) {
    place = {open->at, open->x, open->y, open->number};
  } else if (const ScheduleRow* row = open_schedule(screen)) {
    place = {row->at, row->x, row->y, row->value.substr(0, row->value.find(' '))};
    if (!row->x) place.number.clear();
  }
  const std::string tapped = draw_place(s, box, session, screen.view, place, false);
  if (tapped.empty()) return;
  if (screen.list == 0) {
    for (const FindingRow& row : screen.findings)
      if (row.section != FindingSection::cautions &&
          fact_in_plan(session.document(), session.survey(), row.at) == tapped)
        return choose(screen, row.label, false);
  } else {
    for (const ScheduleRow& row : screen.schedule)
      if (row.at == tapped) return choose(screen, row.title, false);
  }
}

}  // namespace

void draw_findings_screen(ScreenContext& c, Box page, Session& session, FindingsScreen& screen) {
  Sheet& s = c.sheet;
  refresh(screen, session);
  if (session.survey().rooms.empty()) {
    s.paragraph(page.inset(margin), "No room yet. Add one on Job, then walk round it.");
    return;
  }
  const float text = s.fonts.text_scale();
  const bool beside = page.w > page.h * 1.15f && page.w >= 700;
  if (!beside) {
    const bool plan = !s.narrow() || text <= 1.5f;
    if (plan) {
      const Box strip = page.take_top(std::min(page.h * 0.34f, page.w * 0.75f));
      draw_plan(s, strip, session, screen);
      s.line({page.x, page.y}, {page.right(), page.y}, Ink::ink, 2);
    }
    draw_list(s, page, session, screen, true);
    return;
  }
  Box left = page.take_left(std::round(page.w * (text > 1.5f ? 0.42f : 0.5f)));
  s.line({page.x, page.y}, {page.x, page.bottom()}, Ink::ink, 1);
  const FindingRow* finding = open_finding(screen);
  const ScheduleRow* row = open_schedule(screen);
  bool sums = true;
  if ((finding && !finding->sum.empty()) || (row && !row->sum.empty())) {
    const Box whole = left;
    const char decimal = session.survey().job.decimal;
    Flow measure(s, left.inset(margin, 0), false);
    flow_open(measure, finding, row, decimal);
    const float high = measure.height() + 2 * 12;
    // Too little height for plan and sum both: the sum opens in the list.
    if (high <= whole.h * 0.45f) {
      sums = false;
      const Box pane = left.take_bottom(high);
      s.line({pane.x, pane.y}, {pane.right(), pane.y}, Ink::ink, 2);
      Flow flow(s, pane.inset(margin, 12), true);
      flow_open(flow, finding, row, decimal);
    }
  }
  draw_plan(s, left, session, screen);
  draw_list(s, page, session, screen, sums);
}

}  // namespace levelrun
