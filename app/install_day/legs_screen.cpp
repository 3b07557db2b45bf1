// Legs: one unit a card, one height in large digits, one solid key. Set stands outside whatever
// scrolls, so nothing is ticked by scrolling; Undo beside it takes the last one back.
#include <algorithm>
#include <cmath>

#include "app/entry/agreement_mark.h"
#include "app/install_day/day_asks.h"
#include "app/install_day/day_screens.h"
#include "app/screens/app.h"
#include "app/screens/finding_parts.h"
#include "app/text_number.h"
#include "checks/words.h"

namespace levelrun {
namespace {

constexpr float key_row = 88;      // dp: Undo, Set, Next
constexpr float least_card = 150;  // dp of height below which the card is left out

void refresh(LegsScreen& screen, Session& session) {
  if (screen.version == session.version() && screen.room == session.room) return;
  screen.version = session.version();
  screen.room = session.room;
  screen.legs = {};
  if (const RoomResult* result = session.room_result())
    screen.legs = legs_to_set(session.survey(), session.room, *result, session.drawn().runs,
                              session.results().install);
  if (screen.leg && *screen.leg >= screen.legs.legs.size()) screen.leg.reset();
}

bool open(const LegToSet& leg) { return !leg.set || leg.moved; }

Index next_open(const LegsToSet& legs, Index after) {
  for (Index n = 1; n <= legs.legs.size(); ++n) {
    const Index i = (after + n) % legs.legs.size();
    if (open(legs.legs[i])) return i;
  }
  return (after + 1) % legs.legs.size();
}

Index in_use(const LegsScreen& screen) {
  if (screen.leg) return *screen.leg;
  return next_open(screen.legs, screen.legs.legs.size() - 1);
}

std::string height_words(const LegToSet& leg, char decimal) {
  return leg.height ? shown(std::round(*leg.height), 0, decimal) : "?";
}

// To half a turn: finer than that nobody turns.
std::string turns_words(const LegToSet& leg, char decimal) {
  return leg.turns ? shown_change(std::round(*leg.turns * 2) / 2, 1, decimal) : "";
}

class LegsPage {
 public:
  LegsPage(ScreenContext& c, Session& session, LegsScreen& screen)
      : c_(c),
        s_(c.sheet),
        session_(session),
        screen_(screen),
        legs_(screen.legs),
        at_(in_use(screen)),
        decimal_(session.survey().job.decimal) {}

  void draw(Box page) {
    const bool beside = page.w > page.h * 1.15f;
    const bool low = beside && page.h < s_.grown(420);  // a phone on its side
    const float keys_high = std::max(key_row, s_.row(TextSize::title) + s_.row() + 24) + 8;
    Box head = page.take_top(std::max(least_target, s_.row() + 16));
    header(head.inset(margin, 0));
    s_.rule_under(head, Ink::rule);
    if (beside) {
      if (!low) keys(page.take_bottom(keys_high).inset(margin, 4));
      Box left = page.take_left(std::round(page.w * 0.48f));
      s_.line({page.x, page.y}, {page.x, page.bottom()}, Ink::rule, 1);
      if (low)
        keys(page.take_bottom(std::min(keys_high, page.h * 0.45f)).inset(margin, 4));
      else
        glance(left.take_bottom(glance_height()));
      card(left.inset(margin, low ? 2 : 8));
      value(page);
      return;
    }
    keys(page.take_bottom(keys_high).inset(margin, 4));
    glance(page.take_top(glance_height()));
    const float high = std::min(page.h - value_height(page.w - 2 * margin), page.w * 1.1f);
    if (high >= s_.grown(least_card)) {
      Box top = page.take_top(high);
      s_.line({top.x, top.bottom()}, {top.right(), top.bottom()}, Ink::ink, 2);
      card(top.inset(margin, 10));
    }
    value(page);
  }

 private:
  const LegToSet& leg() const { return legs_.legs[at_]; }
  const UnitToSet& unit() const { return legs_.units[legs_.unit_of(leg())]; }

  void header(Box b) {
    // The mark of the unit's card, so that a stale one shows; left out, like what the unit houses,
    // where its name would be cut.
    const std::string n =
        "leg " + std::to_string(at_ + 1) + " of " + std::to_string(legs_.legs.size());
    const std::string mark = unit_mark(*session_.room_result(), unit().id) + "   ";
    std::string count = mark + n, title = "Run " + unit().run + ", " + unit().id;
    const auto fits = [&](const std::string& left, const std::string& right) {
      return s_.width(left, TextSize::body, true) + s_.width(right, TextSize::body) + 12 <= b.w;
    };
    if (const std::string whole = title + ", " + unit().words; fits(whole, count))
      title = whole;
    else if (!fits(title, count))
      count = n;
    if (!fits(title, count)) title = unit().id;
    s_.text(b.take_right(s_.width(count, TextSize::body) + 4), count,
            {TextSize::body, soft_ink(s_), false, Align::right});
    s_.text(b, title, {TextSize::body, Ink::ink, true});
  }

  // The whole run at a glance: a box a unit, a dot a leg.
  float glance_height() const { return std::max(least_target, s_.row() + 22) + 8; }

  void glance(Box b) {
    b = b.inset(margin, 4);
    const Index mine = legs_.unit_of(leg());
    const std::size_t fits =
        std::min(legs_.units.size(), std::max(std::size_t(1), std::size_t(b.w / s_.grown(56))));
    Index first = mine > fits / 2 ? mine - fits / 2 : 0;
    first = std::min(first, legs_.units.size() - fits);
    const float wide = std::min(b.w / float(fits), s_.grown(110));
    for (Index u = first; u < first + fits; ++u) {
      const UnitToSet& one = legs_.units[u];
      const Box box = b.take_left(wide).inset(2, 0);
      if (s_.row_target(box, "Unit " + one.id, u == mine) && !one.legs.empty()) {
        screen_.leg = one.legs.front();
        for (const Index i : one.legs)
          if (open(legs_.legs[i])) {
            screen_.leg = i;
            break;
          }
      }
      s_.frame(box, u == mine ? Ink::blue : Ink::rule, u == mine ? 2.f : 1.f);
      Box in = box.inset(2, 3);
      const Box dots = in.take_bottom(12);
      s_.text(in, one.id,
              {TextSize::caption, u == mine ? Ink::blue : Ink::ink, u == mine, Align::centre});
      const float apart = std::min(14.f, dots.w / float(std::max<std::size_t>(1, one.legs.size())));
      float x = dots.middle().x - apart * float(one.legs.size() - 1) / 2;
      for (const Index i : one.legs) {
        const LegToSet& l = legs_.legs[i];
        const Box dot{x - 3, dots.middle().y - 3, 6, 6};
        if (l.moved)
          s_.frame(dot, Ink::crayon, 2);
        else if (l.set)
          s_.fill(dot, Ink::ink);
        else
          s_.frame(dot, Ink::rule, 1);
        x += apart;
      }
    }
  }

  // The unit from above, as the fitter kneels before it: wall at the top, room at the bottom.
  void card(Box b) {
    if (b.h < s_.grown(least_card) - 20) return;
    Box wall = b.take_top(14);
    s_.line({wall.x, wall.bottom()}, {wall.right(), wall.bottom()}, Ink::ink, 4);
    if (s_.look.inks != InkSet::sun)
      for (float x = wall.x; x + 8 <= wall.right(); x += 8)
        s_.line({x, wall.bottom() - 2}, {x + 8, wall.bottom() - 10}, Ink::rule);
    b.take_top(8);
    Box room = b.take_bottom(s_.row(TextSize::caption) + 8);
    for (float x = room.x; x < room.right(); x += 10)
      s_.line({x, room.y + 4}, {std::min(x + 6, room.right()), room.y + 4}, Ink::rule);
    room.take_top(6);
    s_.text(room, "room", {TextSize::caption, soft_ink(s_), false, Align::centre});
    b.take_bottom(8);
    // To scale across, as high as there is room: the figures need it.
    const float wide = std::min(
        b.w, std::max(s_.grown(280), b.h * float(unit().width / std::max(1.0, unit().depth))));
    const Box outline{b.x + (b.w - wide) / 2, b.y, wide, b.h};
    s_.frame(outline, Ink::ink, 2);
    const bool has_supplied = leg().supplied.has_value();
    const float line = s_.row(TextSize::title) + s_.row(TextSize::caption);
    // Legs front and back: their rows; between them what the turns count from.
    const float cell_h = std::min(outline.h / 2, line + 34);
    float columns = 1;
    for (int side = 0; side < 2; ++side) {
      int n = 0;
      for (const Index i : unit().legs) n += is_front(legs_.legs[i]) == (side == 1);
      columns = std::max(columns, float(n));
    }
    const float cell_w = std::min(outline.w / columns, s_.grown(120));
    std::vector<Box> taken;
    for (const Index i : unit().legs) {
      const LegToSet& l = legs_.legs[i];
      const float t =
          unit().width > 0 ? float(std::clamp(l.from_left / unit().width, 0.0, 1.0)) : 0.5f;
      float x = outline.x + t * outline.w - cell_w / 2;
      x = std::clamp(x, outline.x + 4, outline.right() - cell_w - 4);
      const float y = is_front(l) ? outline.bottom() - cell_h - 2 : outline.y + 2;
      leg_cell({x, y, cell_w, cell_h - 2}, i);
    }
    if (has_supplied && outline.h > 2 * cell_h + s_.row(TextSize::caption))
      s_.text({outline.x, outline.middle().y - s_.row(TextSize::caption) / 2, outline.w,
               s_.row(TextSize::caption)},
              "turns from " + shown_short(*leg().supplied, 1, decimal_),
              {TextSize::caption, soft_ink(s_), false, Align::centre});
  }

  bool is_front(const LegToSet& l) const { return l.from_back > unit().depth / 2; }

  void leg_cell(Box b, Index i) {
    const LegToSet& l = legs_.legs[i];
    const bool mine = i == at_;
    if (s_.row_target(b, spaced(l.position), mine)) screen_.leg = i;
    const Ink ink = l.moved ? Ink::crayon : mine ? Ink::blue : Ink::ink;
    Box in = b.inset(2, 2);
    const float line = s_.row(TextSize::title) + s_.row(TextSize::caption);
    if (in.h > line + 20) {
      const Spot at{in.middle().x, in.y + 12};
      for (const float d : {0.f, 0.8f})
        s_.list.AddCircle({at.x, at.y}, 9 + d, s_.colour(ink), 0, 1.5f);
      if (mine || (l.set && !l.moved))
        s_.list.AddCircleFilled({at.x, at.y}, mine && !l.set ? 3.f : 6.f, s_.colour(ink));
      in.take_top(24);
    }
    s_.text(in.take_top(s_.row(TextSize::title)), height_words(l, decimal_),
            {TextSize::title, ink, true, Align::centre});
    s_.text(in.take_top(s_.row(TextSize::caption)),
            l.moved ? "set " + shown(std::round(*l.set), 0, decimal_)
            : l.set ? "set"
                    : turns_words(l, decimal_),
            {TextSize::caption, l.moved ? Ink::crayon : soft_ink(s_), false, Align::centre});
  }

  std::string turn_words() const {
    const std::string turns = turns_words(leg(), decimal_);
    if (!leg().height) return "The floor was not read here.";
    if (leg().moved)
      return "It was set to " + shown(std::round(*leg().set), 0, decimal_) + ": set it anew.";
    if (leg().set) return "set";
    if (turns.empty()) return "";
    const double n = std::round(*leg().turns * 2) / 2;
    if (n == 0) return "as supplied";
    return std::string(n > 0 ? "wind out " : "wind in ") + shown_short(std::abs(n), 1, decimal_) +
           (std::abs(n) == 1 ? " turn" : " turns");
  }

  std::string captions() const {
    std::string all;
    for (const std::string& one : leg().captions) all += (all.empty() ? "" : ", ") + one;
    return all;
  }

  float value_height(float wide) const {
    float high = s_.row(TextSize::leg) + s_.row() + 4;
    if (!side_by_side(wide)) high += s_.row(TextSize::title) + 30;
    if (!leg().sum.empty())
      high += 8 + s_.paragraph_height(wide, leg().sum, {TextSize::body}) +
              s_.paragraph_height(wide, captions(), {TextSize::caption});
    return high;
  }

  // The height in large digits, where it lies in its range, and its sum. Scrolls where there is too
  // little height; the keys never do.
  void value(Box page) {
    const float high = value_height(page.w - 2 * margin) + 8;
    const float offset = s_.touch.scroll("leg", page, high);
    s_.push_clip(page);
    value_in(Box{page.x, page.y - offset, page.w, std::max(page.h, high)}.inset(margin, 4));
    s_.pop_clip();
    s_.scroll_mark(page, offset, high);
  }

  bool side_by_side(float wide) const {
    return s_.width("000", TextSize::leg, true) + s_.width("front middle", TextSize::title, true) +
               24 <=
           wide;
  }

  void value_in(Box b) {
    const bool two = side_by_side(b.w);
    Box big = b.take_top(s_.row(TextSize::leg));
    const std::string height = height_words(leg(), decimal_);
    const Box digits = big.take_left(std::min(big.w, s_.width(height, TextSize::leg, true) + 16));
    s_.text(digits, height, {TextSize::leg, leg().moved ? Ink::crayon : Ink::ink, true});
    Box side = two ? big : b.take_top(s_.row(TextSize::title) + 30);
    side.take_left(two ? 8 : 0);
    s_.text(side.take_top(s_.row(TextSize::title)), spaced(leg().position),
            {TextSize::title, Ink::ink, true});
    if (leg().judged) {
      side.take_top(4);
      Box v = side.take_top(std::min(side.h, 40.f));
      vial(s_, v.take_left(96), vial_of(*leg().judged));
      std::string range;
      if (leg().judged->least && leg().judged->most)
        range = "of " + shown_short(*leg().judged->least, 1, decimal_) + " to " +
                shown_short(*leg().judged->most, 1, decimal_);
      if (leg().sd) range += ", ±" + shown(1.96 * *leg().sd, 1, decimal_);
      Box words = side.h >= s_.row(TextSize::caption) ? side : v.inset(8, 0);
      s_.text(words.take_top(s_.row(TextSize::caption)), range, {TextSize::caption, soft_ink(s_)});
    }
    const std::string turn = turn_words();
    s_.text(b.take_top(s_.row() + 4), turn, {TextSize::body, leg().moved ? Ink::crayon : Ink::ink});
    if (leg().sum.empty()) return;
    s_.line({b.x, b.y + 2}, {b.right(), b.y + 2}, Ink::rule);
    b.take_top(8);
    b.take_top(s_.paragraph(b, leg().sum, {TextSize::body}));
    s_.paragraph(b, captions(), {TextSize::caption, soft_ink(s_)});
  }

  void keys(Box b) {
    const float side = std::max(84.f, s_.width("Next", TextSize::body) + 24);
    const std::string undo = session_.undo_says();
    const KeyLook can_undo =
        undo.empty() || session_.read_only() ? KeyLook::not_yet : KeyLook::plain;
    if (s_.key(b.take_left(side), "Undo", can_undo) && session_.undo()) screen_.leg.reset();
    b.take_left(gap);
    const Index next = (at_ + 1) % legs_.legs.size();
    if (s_.key(b.take_right(side), "Next", KeyLook::plain, "leg " + std::to_string(next + 1)))
      screen_.leg = next;
    b.take_right(gap);
    // All set: the next thing is whether they stand level.
    if (legs_.all_set() && !open(leg())) {
      const bool level = !cabinet_asks(session_.survey(), session_.room).empty();
      if (s_.key(b, "Check levels", level ? KeyLook::solid : KeyLook::plain,
                 level ? "of the cabinets" : "set up a level on Arrival")) {
        if (level)
          screen_.check.open = true;
        else
          c_.app.show(Page::arrival);
      }
      return;
    }
    const bool can = leg().height && open(leg()) && !session_.read_only();
    const std::string words = height_words(leg(), decimal_) + " " + spaced(leg().position);
    if (s_.key(b, "Set", can ? KeyLook::solid : KeyLook::not_yet,
               !session_.trouble().empty() ? session_.trouble() : words)) {
      const double height = std::round(*leg().height);
      const bool taken =
          session_.apply(set_legs_patch(session_.document(), session_.survey(), session_.room,
                                        {{leg().unit, leg().position, height}}, c_.platform.now(),
                                        c_.settings.author),
                         "leg " + leg().unit + " " + spaced(leg().position) + " set to " +
                             shown(height, 0, decimal_));
      if (taken && c_.settings.look.tones) c_.platform.tone(1);
      if (taken) {
        screen_.legs.legs[at_].set = height;
        screen_.legs.legs[at_].moved = false;
        screen_.leg = next_open(screen_.legs, at_);
      }
    }
  }

  ScreenContext& c_;
  Sheet& s_;
  Session& session_;
  LegsScreen& screen_;
  const LegsToSet& legs_;
  Index at_;
  char decimal_;
};

}  // namespace

void draw_legs_screen(ScreenContext& c, Box page, Session& session, LegsScreen& screen) {
  refresh(screen, session);
  if (screen.legs.legs.empty()) {
    c.sheet.paragraph(page.inset(margin),
                      "No legs in this room. Enter the runs on Runs, in the survey, first.");
    return;
  }
  if (screen.check.open) return draw_level_check(c, page, session, screen.check);
  LegsPage(c, session, screen).draw(page);
}

}  // namespace levelrun
