// Hand-over: the checklist in working order, snags, and the sign-off. Rows only choose; what is
// ticked, closed or signed has its own key outside what scrolls.
#include <algorithm>

#include "app/entry/finding_words.h"
#include "app/entry/set_patch.h"
#include "app/install_day/day_parts.h"
#include "app/install_day/day_screens.h"
#include "app/install_day/hand_over_edits.h"
#include "app/install_day/task_patch.h"
#include "app/jobs/hand_out.h"
#include "app/screens/app.h"
#include "app/sign_off_seal.h"
#include "app/text_number.h"
#include "app/touch/words_field.h"

namespace levelrun {
namespace {

enum Part { checklist, snags, sign_off };
constexpr HeadKey head_keys[] = {{"Checklist", "List", "Show checklist"},
                                 {"Snags", "Snags", "Show snags"},
                                 {"Sign-off", "Sign", "Show sign-off"}};

// "2026-03-12T14:32:08Z" as "2026-03-12 14:32".
std::string when(const std::string& at) {
  return at.size() >= 16 ? at.substr(0, 10) + " " + at.substr(11, 5) : at;
}

void refresh(HandOverScreen& screen, const Session& session, const Settings& settings) {
  if (!screen.by_started) {
    screen.by = settings.author;
    screen.by_started = true;
  }
  if (screen.version == session.version()) return;
  screen.version = session.version();
  screen.tasks = install_tasks(session.survey(), session.results());
  screen.state = sign_off_state(session.survey(), session.results(), screen.tasks);
  screen.changed_since = changed_since_signed(session.document());
  if (screen.snag && *screen.snag >= session.survey().install.snags.size()) screen.snag.reset();
}

class HandOverPage {
 public:
  HandOverPage(ScreenContext& c, Session& session, HandOverScreen& screen)
      : c_(c),
        s_(c.sheet),
        session_(session),
        screen_(screen),
        decimal_(session.survey().job.decimal) {}

  void draw(Box page) {
    if (screen_.asking_why && task()) return why_not(page);
    if (screen_.part == snags && draw_snag_page(c_, page, session_, screen_)) return;
    screen_.asking_why = false;
    const Box head = page.take_top(head_height(s_));
    s_.rule_under(head);
    const int tapped = draw_head(s_, head, head_keys, screen_.part);
    if (tapped >= 0) {
      screen_.part = tapped;
      screen_.said.clear();
    }
    const Box foot = take_foot(s_, page);
    if (screen_.part == checklist)
      draw_checklist(page, foot);
    else if (screen_.part == snags)
      draw_snags(c_, page, foot, session_, screen_);
    else
      draw_sign_off(page, foot);
  }

 private:
  // ---- Checklist ---------------------------------------------------------------------------

  const InstallTask* task() const {
    for (const InstallTask& one : screen_.tasks.tasks)
      if (one.id == screen_.task) return &one;
    if (screen_.task_closed) return nullptr;
    for (const InstallTask& one : screen_.tasks.tasks)
      if (one.state == TaskState::open) return &one;
    return nullptr;
  }

  void draw_checklist(Box page, Box foot) {
    if (screen_.tasks.tasks.empty()) {
      s_.paragraph(page.inset(margin),
                   "No checklist: no runs yet. Enter them on Runs, in the survey, first.");
      return;
    }
    const InstallTask* chosen = task();
    float chosen_at = 0;
    scrolled(s_, page, "checklist", [&](Flow& f) {
      const float top = f.y();
      f.paragraph(std::to_string(screen_.tasks.done) + " done, " +
                      std::to_string(screen_.tasks.not_needed) + " not needed, " +
                      std::to_string(screen_.tasks.open) + " open",
                  {TextSize::body, soft_ink(s_)});
      std::string group;
      for (const InstallTask& one : screen_.tasks.tasks) {
        const std::string heading = group_of(one);
        if (heading != group) {
          group = heading;
          f.gap(12);
          f.paragraph(heading, {TextSize::body, Ink::ink, true});
          f.rule(Ink::ink, 2);
        }
        if (&one == chosen) chosen_at = f.y() - top;
        if (flow_row(f, "Task " + one.id, &one == chosen,
                     [&](Flow& in) { task_words(in, one, &one == chosen); })) {
          screen_.task = &one == chosen ? "" : one.id;
          screen_.task_closed = &one == chosen;
        }
      }
      for (const Task& tick : screen_.tasks.unmatched)
        f.paragraph("Ticked, and no longer in this job: " + tick.id + ", " +
                        (tick.by.empty() ? "" : tick.by + " ") + when(tick.at),
                    {TextSize::caption, soft_ink(s_)});
    });
    if (screen_.to_chosen) {
      s_.touch.scroll_to("checklist", std::max(0.f, chosen_at - s_.grown(60)));
      screen_.to_chosen = false;
    }
    checklist_keys(foot, chosen);
  }

  std::string group_of(const InstallTask& one) const {
    const std::string stage = capital(std::string(word(one.stage)));
    const auto& rooms = session_.survey().rooms;
    if (one.room.empty() || rooms.size() < 2) return stage;
    for (const Room& room : rooms)
      if (room.id == one.room) return stage + ", " + (room.name.empty() ? room.id : room.name);
    return stage;
  }

  void task_words(Flow& f, const InstallTask& one, bool whole) {
    const Pen soft{TextSize::caption, soft_ink(s_)};
    const float side = 18, left = 30;
    const bool trouble = !one.trouble.empty();
    Pen pen{TextSize::body, whole ? Ink::blue : Ink::ink, whole};
    if (f.draws()) {
      const Box box{f.take(0).x, f.y() + (s_.row() - side) / 2, side, side};
      if (one.state == TaskState::done)
        s_.fill(box, Ink::ink);
      else
        s_.frame(box, trouble ? Ink::crayon : Ink::rule, 2);
      if (one.state == TaskState::not_needed)
        s_.line({box.x, box.bottom()}, {box.right(), box.y}, Ink::ink, 2);
    }
    f.indent(left);
    f.paragraph(one.says, pen);
    if (one.state != TaskState::open) {
      std::string tick = one.state == TaskState::done ? "done" : "not needed";
      for (const std::string& part : {one.by, when(one.at)})
        if (!part.empty()) tick += ", " + part;
      if (!one.note.empty()) tick += ": " + one.note;
      f.paragraph(tick, soft);
    }
    if (trouble) f.paragraph(capital(one.trouble) + ".", {TextSize::caption, Ink::crayon});
    if (!whole && !one.cautions.empty() && one.state == TaskState::open)
      f.paragraph(one.cautions.size() == 1 ? "1 caution"
                                           : std::to_string(one.cautions.size()) + " cautions",
                  {TextSize::caption, Ink::crayon});
    if (!whole) return;
    for (const std::string& caution : one.cautions) {
      f.gap(4);
      f.paragraph(caution, {TextSize::body, Ink::crayon});
    }
  }

  bool ticked(const InstallTask& one) const {
    for (const Task& tick : session_.survey().install.tasks)
      if (tick.id == one.id && tick.state != "open") return true;
    return false;
  }

  void checklist_keys(Box foot, const InstallTask* chosen) {
    const bool free = chosen && !session_.read_only();
    const bool is_open = chosen && chosen->state == TaskState::open;
    const bool reopens = free && !is_open && ticked(*chosen);
    FootKey first{"Done", below(chosen ? chosen->id : ""),
                  free && is_open ? KeyLook::solid : KeyLook::not_yet};
    if (reopens) first = {"Open again", chosen->id, KeyLook::plain};
    const FootTapped tapped =
        draw_foot(s_, foot, session_, first,
                  {"Not needed", "", free && is_open ? KeyLook::plain : KeyLook::not_yet});
    if (tapped.undo) {
      session_.undo();
      return;
    }
    if (!chosen) return;
    if (tapped.second) {
      screen_.task = chosen->id;
      screen_.asking_why = true;
      screen_.why.clear();
    }
    if (tapped.first) tick(*chosen, reopens ? "open" : "done", {});
  }

  void tick(const InstallTask& one, const char* state, const std::string& note) {
    const std::string id = one.id, says = std::string(state) == "not_needed" ? "not needed" : state;
    if (!session_.apply(
            task_patch(session_.document(), id, state, c_.platform.now(), c_.settings.author, note),
            id + " " + says))
      return;
    if (c_.settings.look.tones) c_.platform.tone(1);
    screen_.asking_why = false;
    if (std::string(state) == "open") return;
    screen_.task.clear();
    screen_.task_closed = false;
    screen_.to_chosen = true;
  }

  void why_not(Box page) {
    const InstallTask& one = *task();
    Box in = page.inset(margin, margin);
    in.w = std::min(in.w, 560.f);
    in.take_top(s_.paragraph(in, "Why is it not needed?", {TextSize::title, Ink::ink, true}) + 8);
    in.take_top(s_.paragraph(in, one.says, {TextSize::body}) + 12);
    words_field(s_, in.take_top(words_field_height(s_)), "Reason", "why-not", screen_.why);
    in.take_top(16);
    Box keys = in.take_top(std::max(56.f, s_.row() + 24));
    const float w = (keys.w - gap) / 2;
    if (s_.key(keys.take_left(w), "Back to the list")) screen_.asking_why = false;
    keys.take_left(gap);
    const bool can = !screen_.why.empty() && !session_.read_only();
    if (s_.key(keys, "Not needed", can ? KeyLook::solid : KeyLook::not_yet))
      return tick(one, "not_needed", screen_.why);
    in.take_top(8);
    if (!session_.trouble().empty())
      s_.paragraph(in, session_.trouble(), {TextSize::body, Ink::crayon});
  }

  std::string below(const std::string& words) const {
    return session_.trouble().empty() ? words : session_.trouble();
  }

  // ---- Sign-off ----------------------------------------------------------------------------

  void draw_sign_off(Box page, Box foot) {
    const bool locked = session_.read_only() && !session_.signed_off();
    scrolled(s_, page, "sign-off", [&](Flow& f) {
      f.paragraph(screen_.state.says, {TextSize::body, Ink::ink, true});
      if (!screen_.said.empty()) f.paragraph(screen_.said, {TextSize::body, Ink::blue});
      f.gap(8);
      if (session_.signed_off())
        signed_words(f, locked);
      else
        to_sign(f);
      for (const Reopened& one : session_.survey().install.reopened) {
        f.gap(8);
        f.paragraph("Reopened by " + one.by + ", " + when(one.at) + ": " + one.why);
        if (one.sign_off)
          f.paragraph("It had been signed off by " + one.sign_off->by + ", " + one.sign_off->role +
                          ", " + when(one.sign_off->at),
                      {TextSize::caption, soft_ink(s_)});
      }
    });
    const FootKey sheets{"As built", "a PDF", KeyLook::plain};
    if (session_.signed_off()) {
      const bool named = !c_.settings.author.empty() || !screen_.by.empty();
      const bool can = !locked && named && !screen_.reopen_why.empty();
      const FootTapped tapped = draw_foot(s_, foot, session_,
                                          {"Reopen",
                                           below(can     ? ""
                                                 : named ? "give a reason"
                                                         : "a reason, and who?"),
                                           can ? KeyLook::plain : KeyLook::not_yet},
                                          sheets);
      if (tapped.second) screen_.said = hand_out(c_.platform, session_, Sheets::as_built);
      if (tapped.first) reopen();
      return;
    }
    const bool named = !screen_.by.empty() && !screen_.role.empty();
    const bool can = screen_.state.may_sign && named && !locked;
    std::string why = below("");
    if (why.empty() && !screen_.state.may_sign)
      why = std::to_string(screen_.state.bars.size()) + " in the way";
    else if (why.empty() && !named)
      why = "who, and as what?";
    const FootTapped tapped = draw_foot(
        s_, foot, session_, {"Sign off", why, can ? KeyLook::solid : KeyLook::not_yet}, sheets);
    if (tapped.second) screen_.said = hand_out(c_.platform, session_, Sheets::as_built);
    if (tapped.undo) session_.undo();
    if (!tapped.first) return;
    if (!session_.apply(sign_off_patch(session_.document(), screen_.by, screen_.role,
                                       c_.platform.now(), screen_.note),
                        "signed off"))
      return;
    if (c_.settings.look.tones) c_.platform.tone(1);
    screen_.reopen_why.clear();
  }

  void to_sign(Flow& f) {
    const auto field = [&](const char* caption, const char* id, std::string& words,
                           const char* hint = "") {
      const Box box = f.take(words_field_height(s_) + 10);
      if (f.draws()) words_field(s_, {box.x, box.y, box.w, box.h - 10}, caption, id, words, hint);
    };
    if (screen_.state.may_sign) {
      field("Signed by", "sign-by", screen_.by);
      field("As what", "sign-role", screen_.role, "fitter, client, builder");
      field("Note", "sign-note", screen_.note);
      return;
    }
    for (const SignOffBar& bar : screen_.state.bars) {
      if (flow_row(f, "Bar " + bar.id, false, [&](Flow& in) { bar_words(in, bar); })) show(bar);
    }
  }

  void bar_words(Flow& f, const SignOffBar& bar) {
    using Kind = SignOffBar::Kind;
    const Severity severity = bar.kind == Kind::hold    ? Severity::hold
                              : bar.kind == Kind::query ? Severity::query
                                                        : Severity::note;
    if (f.draws())
      severity_mark(s_, {f.take(0).x, f.y() + (s_.row() - mark_side) / 2}, severity, false);
    f.indent(mark_column);
    const char* words = bar.kind == Kind::task    ? "open task"
                        : bar.kind == Kind::snag  ? "open snag"
                        : bar.kind == Kind::level ? "not level"
                        : bar.kind == Kind::hold  ? "hold"
                                                  : "query";
    f.paragraph(with_decimal_sign(bar.says, decimal_),
                {TextSize::body,
                 bar.kind == Kind::hold || bar.kind == Kind::query ? Ink::crayon : Ink::ink});
    f.paragraph(words, {TextSize::caption, soft_ink(s_)});
  }

  // To where it is dealt with.
  void show(const SignOffBar& bar) {
    using Kind = SignOffBar::Kind;
    if (bar.kind == Kind::task) {
      screen_.part = checklist;
      screen_.task = bar.id;
      screen_.to_chosen = true;
    } else if (bar.kind == Kind::snag) {
      screen_.part = snags;
      const auto& all = session_.survey().install.snags;
      for (Index i = 0; i < all.size(); ++i)
        if (all[i].id == bar.id) screen_.snag = i;
    } else {
      c_.app.show(bar.kind == Kind::level ? Page::legs : Page::release);
    }
  }

  void signed_words(Flow& f, bool locked) {
    const SignOff& by = *session_.survey().install.sign_off;
    f.pair(by.by + ", " + by.role, {TextSize::title, Ink::ink, true}, when(by.at),
           {TextSize::body, Ink::ink});
    f.paragraph(by.note);
    if (screen_.changed_since)
      f.paragraph(changed_since_signed_says, {TextSize::body, Ink::crayon, true});
    f.gap(12);
    if (locked) return;
    const auto field = [&](const char* caption, const char* id, std::string& words) {
      const Box box = f.take(words_field_height(s_) + 10);
      if (f.draws()) words_field(s_, {box.x, box.y, box.w, box.h - 10}, caption, id, words);
    };
    field("Why it is reopened", "reopen-why", screen_.reopen_why);
    if (c_.settings.author.empty()) field("By whom", "reopen-by", screen_.by);
  }

  void reopen() {
    const std::string by = c_.settings.author.empty() ? screen_.by : c_.settings.author;
    if (!session_.apply(
            reopen_patch(session_.document(), screen_.reopen_why, by, c_.platform.now()),
            "reopened: " + screen_.reopen_why))
      return;
    screen_.reopen_why.clear();
    screen_.role.clear();
    screen_.note.clear();
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  HandOverScreen& screen_;
  char decimal_;
};

}  // namespace

void draw_hand_over_screen(ScreenContext& c, Box page, Session& session, HandOverScreen& screen) {
  refresh(screen, session, c.settings);
  HandOverPage(c, session, screen).draw(page);
}

}  // namespace levelrun
