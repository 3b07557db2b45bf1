// Plinths: the piece to be cut drawn over the page's whole width, its heights large, its ordinates
// in rows to read at the saw; Cut is ticked by its own key, outside what scrolls.
#include <algorithm>
#include <cmath>

#include "app/drawing/board_drawing.h"
#include "app/entry/agreement_mark.h"
#include "app/install_day/day_screens.h"
#include "app/install_day/task_patch.h"
#include "app/screens/app.h"
#include "app/screens/finding_parts.h"
#include "app/text_number.h"
#include "app/touch/show_drawing.h"

namespace levelrun {
namespace {

constexpr float key_row = 88;         // dp
constexpr double same_height = 0.05;  // mm

void refresh(PlinthsScreen& screen, const Session& session) {
  if (screen.version == session.version() && screen.room == session.room) return;
  screen.version = session.version();
  screen.room = session.room;
  screen.cuts.clear();
  if (const RoomResult* result = session.room_result())
    screen.cuts =
        cuts_to_make(session.survey(), *result, install_tasks(session.survey(), session.results()));
  if (screen.cut && *screen.cut >= screen.cuts.size()) screen.cut.reset();
}

Index next_open(const std::vector<CutToMake>& cuts, Index after) {
  for (Index n = 1; n <= cuts.size(); ++n) {
    const Index i = (after + n) % cuts.size();
    if (!cuts[i].done) return i;
  }
  return (after + 1) % cuts.size();
}

class PlinthsPage {
 public:
  PlinthsPage(ScreenContext& c, Session& session, PlinthsScreen& screen)
      : c_(c),
        s_(c.sheet),
        session_(session),
        screen_(screen),
        at_(screen.cut ? *screen.cut : next_open(screen.cuts, screen.cuts.size() - 1)),
        cut_(screen.cuts[at_]),
        p_(*cut_.plinth),
        decimal_(session.survey().job.decimal) {}

  void draw(Box page) {
    draw_all(page);
    // Last, because they replace the results that all the above reads.
    if (undo_)
      session_.undo();
    else if (tick_)
      tick();
  }

 private:
  void draw_all(Box page) {
    const bool low = page.w > page.h * 1.15f && page.h < s_.grown(420);  // a phone on its side
    const bool wide = !low && page.w >= s_.grown(700);
    const float keys_high = std::max(key_row, s_.row(TextSize::title) + s_.row() + 24) + 8;
    Box head = page.take_top(std::max(least_target, s_.row() + 16));
    header(head.inset(margin, 0));
    s_.rule_under(head, Ink::rule);
    if (low) {
      Box right = page.take_right(std::round(page.w * 0.5f));
      s_.line({right.x, right.y}, {right.x, right.bottom()}, Ink::rule, 1);
      keys(right.take_bottom(std::min(keys_high, right.h * 0.45f)).inset(margin, 4));
      drawing(right.inset(margin, 4));
      scrolled(page, "cut", [&](Flow& f) { all(f); });
      return;
    }
    keys(page.take_bottom(keys_high).inset(margin, 4));
    // Where the ordinates' lettering leaves no room for the board, the list has the height.
    const Box whole = page, top = page.take_top(std::min(s_.grown(220), page.h * 0.4f));
    if (!drawing(top.inset(margin, 8))) page = whole;
    s_.line({page.x, page.y}, {page.right(), page.y}, Ink::ink, 2);
    if (!wide) return scrolled(page, "cut", [&](Flow& f) { all(f); });
    Box left = page.take_left(std::round(page.w * 0.5f));
    s_.line({page.x, page.y}, {page.x, page.bottom()}, Ink::rule, 1);
    scrolled(left, "cut", [&](Flow& f) { about(f); });
    scrolled(page, "cuts", [&](Flow& f) { pieces(f); });
  }

  template <typename Content>
  void scrolled(Box b, const char* label, const Content& content) {
    Flow measure(s_, b.inset(margin, 10), false);
    content(measure);
    const float high = measure.height() + 20;
    const float offset = s_.touch.scroll(label, b, high);
    s_.push_clip(b);
    Flow flow(s_, Box{b.x, b.y - offset, b.w, b.h}.inset(margin, 10), true);
    content(flow);
    s_.pop_clip();
    s_.scroll_mark(b, offset, high);
  }

  bool drawing(Box b) {
    const Drawing board = board_drawing(p_, cut_.stock_height, decimal_, b, s_.fonts.text_scale());
    show_drawing(s_, board);
    return !board.primitives.empty();
  }

  void all(Flow& f) {
    about(f);
    f.gap(12);
    pieces(f);
  }

  void header(Box b) {
    int done = 0;
    for (const CutToMake& cut : screen_.cuts) done += cut.done;
    const std::string n =
        std::to_string(done) + " of " + std::to_string(screen_.cuts.size()) + " cut";
    std::string count = plinth_mark(p_) + "   " + n, title = "Plinth " + cut_.name;
    const auto fits = [&] {
      return s_.width(title, TextSize::body, true) + s_.width(count, TextSize::body) + 12 <= b.w;
    };
    if (!fits()) count = n;
    if (!fits()) title = cut_.name;
    s_.text(b.take_right(s_.width(count, TextSize::body) + 4), count,
            {TextSize::body, soft_ink(s_), false, Align::right});
    s_.text(b, title, {TextSize::body, Ink::ink, true});
  }

  std::string heights() const {
    std::string words = shown(p_.height_left, 1, decimal_);
    if (std::abs(p_.height_left - p_.height_right) > same_height)
      words += " to " + shown(p_.height_right, 1, decimal_);
    return words;
  }

  void about(Flow& f) {
    f.pair(shown(p_.length, 1, decimal_) + " long", {TextSize::title, Ink::ink, true},
           heights() + " high", {TextSize::title, Ink::ink, true});
    if (!cut_.board_words.empty())
      f.paragraph("From " + cut_.board_words + ".", {TextSize::body, soft_ink(s_)});
    f.gap(6);
    if (p_.top == TopCut::none && p_.bottom == BottomCut::none)
      f.paragraph("Cut to length only: both edges stay whole.");
    if (p_.top != TopCut::none)
      f.paragraph(std::string("Cut the top edge ") +
                  (p_.top == TopCut::parallel ? "parallel" : "to the heights below") +
                  "; it hides under the carcass. Seal it again.");
    if (p_.bottom == BottomCut::scribe)
      f.paragraph("Scribe the bottom edge: the sealed edge is cut away here. Seal it again.",
                  {TextSize::body, Ink::crayon});
    f.paragraph("Sealed edge " + std::string(p_.sealed_edge_down ? "down, on the floor." : "lost."),
                {TextSize::body, p_.sealed_edge_down ? Ink::ink : Ink::crayon});
    if (!p_.sum.empty()) {
      f.gap(6);
      flow_sum(f, with_decimal_sign(p_.sum, decimal_), cut_.captions,
               p_.verdict != Verdict::within);
    }
    if (p_.ordinates.empty()) return;
    f.gap(8);
    f.rule(Ink::rule);
    f.pair("From left", {TextSize::caption, soft_ink(s_)}, "Height as cut",
           {TextSize::caption, soft_ink(s_)});
    for (const PlinthOrdinate& o : p_.ordinates) {
      f.pair(shown_short(o.along, 1, decimal_), {TextSize::body, Ink::ink},
             shown(o.height, 1, decimal_), {TextSize::body, Ink::ink, true});
      f.rule(Ink::rule);
    }
  }

  void pieces(Flow& f) {
    for (Index i = 0; i < screen_.cuts.size(); ++i) {
      const CutToMake& one = screen_.cuts[i];
      const Box row = f.take(std::max(least_target, s_.row() + s_.row(TextSize::caption) + 14));
      if (!f.draws()) continue;
      if (s_.row_target(row, "Piece " + one.name, i == at_)) screen_.cut = i;
      s_.rule_under(row);
      Box in = row.inset(8, 5);
      const Box mark = in.take_left(28);
      if (one.done)
        s_.fill({mark.x, mark.y + 4, 16, 16}, Ink::ink);
      else
        s_.frame({mark.x, mark.y + 4, 16, 16}, Ink::rule, 2);
      Box first = in.take_top(s_.row());
      const std::string length = shown(one.plinth->length, 1, decimal_);
      s_.text(first.take_right(s_.width(length, TextSize::body, true) + 4), length,
              {TextSize::body, Ink::ink, true, Align::right});
      s_.text(first, one.name, {TextSize::body, i == at_ ? Ink::blue : Ink::ink, i == at_});
      s_.text(in,
              one.done        ? "cut"
              : one.board > 0 ? "board " + std::to_string(one.board)
                              : "",
              {TextSize::caption, soft_ink(s_)});
    }
  }

  void keys(Box b) {
    const float side = std::max(84.f, s_.width("Next", TextSize::body) + 24);
    const bool can_undo = !session_.undo_says().empty() && !session_.read_only();
    undo_ = s_.key(b.take_left(side), "Undo", can_undo ? KeyLook::plain : KeyLook::not_yet);
    b.take_left(gap);
    if (s_.key(b.take_right(side), "Next")) screen_.cut = (at_ + 1) % screen_.cuts.size();
    b.take_right(gap);
    const bool can = !cut_.done && !session_.read_only();
    tick_ = s_.key(b, "Cut", can ? KeyLook::solid : KeyLook::not_yet,
                   !session_.trouble().empty() ? session_.trouble() : cut_.name);
  }

  void tick() {
    const bool taken = session_.apply(
        task_patch(session_.document(), cut_.task, "done", c_.platform.now(), c_.settings.author),
        "plinth " + cut_.name + " cut");
    if (!taken) return;
    if (c_.settings.look.tones) c_.platform.tone(1);
    screen_.cut.reset();
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  PlinthsScreen& screen_;
  Index at_;
  const CutToMake& cut_;
  const PlinthResult& p_;
  char decimal_;
  bool undo_ = false, tick_ = false;
};

}  // namespace

void draw_plinths_screen(ScreenContext& c, Box page, Session& session, PlinthsScreen& screen) {
  refresh(screen, session);
  if (screen.cuts.empty()) {
    c.sheet.paragraph(page.inset(margin),
                      "No plinths in this room, or no floor was read under them.");
    return;
  }
  PlinthsPage(c, session, screen).draw(page);
}

}  // namespace levelrun
