#include "app/screens/putting_page.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "app/drawing/elevation_view.h"
#include "app/entry/typed_number.h"
#include "app/entry/wall_edits.h"
#include "app/screens/no_drill_why.h"
#include "app/touch/keypad.h"
#include "checks/entry_check.h"

namespace levelrun {
namespace {

constexpr KindWord service_kinds[] = {{"socket", "Socket"},
                                      {"cold_water", "Cold water"},
                                      {"hot_water", "Hot water"},
                                      {"waste", "Waste"},
                                      {"gas", "Gas"},
                                      {"switch", "Switch"},
                                      {"fused_spur", "Spur"},
                                      {"cooker_outlet", "Cooker outlet"},
                                      {"duct", "Duct"},
                                      {"radiator", "Radiator"},
                                      {"soil_stack", "Soil stack"},
                                      {"data", "Data"},
                                      {"boiler", "Boiler"},
                                      {"meter", "Meter"},
                                      {"stopcock", "Stopcock"},
                                      {"consumer_unit", "Consumer unit"},
                                      {"underfloor_heating", "Floor heating"},
                                      {"other", "Other"}};
constexpr KindWord opening_kinds[] = {
    {"window", "Window"}, {"door", "Door"}, {"archway", "Archway"}};

// mm past a wall's end or a ceiling that readings of crooked faces may be apart by: our choice.
constexpr double past_end = 50;

struct Step {
  const char *name, *words;
  ReadingKind kind;
};
constexpr Step service_steps[] = {
    {"along", "to its middle, from the wall’s left end", ReadingKind::along},
    {"height", "high, to its middle", ReadingKind::level}};
constexpr Step window_steps[] = {
    {"left edge", "to its left edge, from the wall’s left end", ReadingKind::along},
    {"sill", "high, to its sill", ReadingKind::level},
    {"width", "wide", ReadingKind::size},
    {"height", "from sill to head", ReadingKind::size}};
constexpr Step door_steps[] = {
    {"left edge", "to its left edge, from the wall’s left end", ReadingKind::along},
    {"width", "wide", ReadingKind::size},
    {"height", "from floor to head", ReadingKind::size}};
constexpr Step no_drill_steps[] = {
    {"left edge", "to its left edge, from the wall’s left end", ReadingKind::along},
    {"lower edge", "high, to its lower edge", ReadingKind::level},
    {"width", "wide", ReadingKind::size},
    {"height", "from its lower to its upper edge", ReadingKind::size}};
constexpr const char* no_drill = "no_drill";
constexpr const char* no_drill_words = "No drilling here";

using Putting = WallsScreen::Putting;

bool is_no_drill(const Putting& p) { return p.kind == no_drill; }

std::vector<Step> steps_of(const Putting& p) {
  if (is_no_drill(p)) return {std::begin(no_drill_steps), std::end(no_drill_steps)};
  if (!p.opening) return {std::begin(service_steps), std::end(service_steps)};
  if (p.kind == "window") return {std::begin(window_steps), std::end(window_steps)};
  return {std::begin(door_steps), std::end(door_steps)};
}

const char* words_of(const Putting& p) {
  if (is_no_drill(p)) return "No drilling";
  for (const KindWord& k : service_kinds)
    if (!p.opening && p.kind == k.name) return k.words;
  for (const KindWord& k : opening_kinds)
    if (p.opening && p.kind == k.name) return k.words;
  return "";
}

void ask_kind(Sheet& s, Box page, Putting& p) {
  Box in = page.inset(margin, 10);
  in.w = std::min(in.w, s.grown(820));
  const float high = std::max(56.f, s.row() + 20);
  Box head = in.take_top(high);
  in.take_top(gap);
  const std::string back = "Back to the wall";
  const bool below = head.w < s.width(back, TextSize::body) + s.grown(230);
  Box back_key = below ? in.take_bottom(high) : head.take_right(s.width(back, TextSize::body) + 28);
  if (below) in.take_bottom(gap);
  s.text(head, p.opening ? "Which opening?" : "Which service?", {TextSize::title, Ink::ink, true});
  std::vector<const KindWord*> kinds;
  if (p.opening)
    for (const KindWord& kind : opening_kinds) kinds.push_back(&kind);
  else
    for (const KindWord& kind : service_kinds) kinds.push_back(&kind);
  constexpr KindWord none{no_drill, no_drill_words};
  kinds.push_back(&none);
  const auto columns = std::size_t(std::clamp(in.w / s.grown(150), 2.f, 5.f));
  const float w = (in.w - gap * float(columns - 1)) / float(columns);
  const float content = float((kinds.size() + columns - 1) / columns) * (high + gap);
  const float offset = s.touch.scroll("kinds", in, content);
  s.push_clip(in);
  for (std::size_t n = 0; n < kinds.size(); ++n) {
    const Box b{in.x + float(n % columns) * (w + gap),
                in.y - offset + float(n / columns) * (high + gap), w, high};
    if (s.key(b, kinds[n]->words)) p.kind = kinds[n]->name;
  }
  s.pop_clip();
  s.scroll_mark(in, offset, content);
  if (s.key(back_key, back)) p = {};
}

// What a number is held against: as much of the wall as is known.
struct Known {
  std::optional<double> length, ceiling;
  std::vector<std::optional<double>> levels;  // each set-up's level line above the floor
};

Known known_of(const Survey& survey, const RoomToDraw& drawn, Index wall) {
  Known known;
  if (wall >= drawn.walls.size()) return known;
  const WallExtent extent = wall_extent(survey, drawn, wall);
  if (!drawn.guessed) known.length = extent.length;
  if (extent.ceiling_read) known.ceiling = extent.height;
  const auto floor = surveyed_floor(drawn, wall);
  for (const auto& plane : drawn.planes) {
    known.levels.emplace_back();
    if (floor && plane) known.levels.back() = plane->value - *floor;
  }
  return known;
}

// Why the number cannot stand there; empty: it can.
std::string refused(const Putting& p, const Step& step, double value, const Known& known,
                    const Job& job) {
  const std::string why = impossible(step.kind, value);
  if (!why.empty()) return why;
  const bool last = p.numbers.size() + 1 == steps_of(p).size();
  const bool sized = p.opening || is_no_drill(p);
  if (step.kind == ReadingKind::along || (sized && step.kind == ReadingKind::size && !last)) {
    const double end = step.kind == ReadingKind::along ? value : p.numbers[0] + value;
    if (known.length && end > *known.length + past_end)
      return "That is past the wall’s end at " + shown_length(*known.length, job, 0) + ".";
  }
  if (step.kind == ReadingKind::level) {
    if (!p.setup && value < 0) return "That is below the floor.";
    double high = value;
    if (p.setup) {
      if (*p.setup >= known.levels.size() || !known.levels[*p.setup]) return {};
      high += *known.levels[*p.setup];
    }
    if (known.ceiling && high > *known.ceiling + past_end)
      return "That is above the ceiling at " + shown_length(*known.ceiling, job, 0) + ".";
  }
  return {};
}

// What the height is from: the floor, then each set-up's level line, then the floor again.
std::string words_of_base(const std::optional<Index>& setup, const std::vector<SetUp>& setups) {
  if (!setup) return "From the floor";
  if (setups.size() == 1) return "From the level line";
  return "From the level line of " + setups[*setup].id;
}

std::optional<Index> next_base(const std::optional<Index>& setup, std::size_t setups) {
  const Index next = setup ? *setup + 1 : 0;
  return next < setups ? std::optional<Index>(next) : std::nullopt;
}

bool put(Session& session, const WallsScreen& screen, const std::string& why = "") {
  const Putting& p = screen.putting;
  const Room& room = session.survey().rooms[session.room];
  const bool has_height = !p.opening || p.kind == "window" || is_no_drill(p);
  const OnWall place{p.numbers[0], has_height ? p.numbers[1] : 0,
                     has_height && p.setup ? room.levels.setups[*p.setup].id : std::string()};
  const std::size_t size = has_height ? 2 : 1;
  const Json patch =
      is_no_drill(p) ? add_no_drill_patch(session.document(), session.survey(), session.room,
                                          screen.wall, place, p.numbers[2], p.numbers[3], why)
      : p.opening
          ? add_opening_patch(session.document(), session.survey(), session.room, screen.wall,
                              p.kind, place, p.numbers[size], p.numbers[size + 1])
          : add_service_patch(session.document(), session.survey(), session.room, screen.wall,
                              p.kind, place);
  const std::string wall = room.walls[screen.wall].id;
  return session.apply(patch, std::string(words_of(p)) + " on " + wall);
}

void ask_why(ScreenContext& c, Box page, Session& session, WallsScreen& screen) {
  Putting& p = screen.putting;
  const Room& room = session.survey().rooms[session.room];
  const NoDrillWhy said = draw_no_drill_why(c, page, session, screen.form, p.why,
                                            "No drilling on " + room.walls[screen.wall].id);
  if (!said.why.empty() && put(session, screen, said.why)) {
    p = {};
    screen.form = {};
  } else if (said.back) {
    p.numbers.pop_back();
  }
}

}  // namespace

std::span<const KindWord> service_kind_words() { return service_kinds; }

Box key_beside_wall(Sheet& s, Box& box, const std::string& words) {
  const float high = std::max(least_target, s.row() + 16);
  const float wide = std::min(box.w - 12, s.width(words, TextSize::body) + 28);
  const bool low = box.h < 3 * high;
  Box strip = low ? box.take_right(wide + 12) : box.take_bottom(high + 12);
  strip = strip.inset(6, 6);
  Box key = low ? strip.take_top(high) : strip;
  return s.look.left_hand ? key.take_left(wide) : key.take_right(wide);
}

void draw_putting_page(ScreenContext& c, Box page, Session& session, WallsScreen& screen,
                       const DrawWall& draw_wall) {
  Sheet& s = c.sheet;
  Putting& p = screen.putting;
  if (p.kind.empty()) return ask_kind(s, page, p);
  const Job& job = session.survey().job;
  const Room& room = session.survey().rooms[session.room];
  const std::vector<SetUp>& setups = room.levels.setups;
  if (p.setup && *p.setup >= setups.size()) p.setup.reset();  // undone
  const std::vector<Step> steps = steps_of(p);
  const std::size_t n = p.numbers.size();
  if (n == steps.size()) return ask_why(c, page, session, screen);
  const Step step = steps[n];
  const RoomToDraw& drawn = session.drawn();
  const Known known = known_of(session.survey(), drawn, screen.wall);
  // A tap is wanted first: digits that come now are no number of it.
  std::string none;
  const bool tap_first = !p.at;
  const bool enter = typed_keys(tap_first ? none : p.typed);
  const TypedNumber number = typed_number(p.typed, typed_unit(job));
  const std::string why =
      number.value ? refused(p, step, *number.value, known, job) : number.problem;

  BookingView v;
  v.needs_plan = true;
  v.decimal = job.decimal;
  v.name = words_of(p);
  v.caption = p.at ? step.words : "tap on the wall where it is";
  if (p.at && step.kind != ReadingKind::size && !(step.kind == ReadingKind::level && p.setup))
    v.expected = "about " + shown_length(std::round(n == 0 ? p.at->x : p.at->y), job, 0);
  v.typed = p.typed;
  v.refused = p.typed.empty() ? p.refused : why;
  if (number.value) v.book_value = shown_length(*number.value, job);
  v.can_book = p.at && number.value && why.empty() && !session.read_only();
  v.can_skip = false;
  v.undo_says = "the last step";
  if (p.at && step.kind == ReadingKind::level)
    v.advice = p.setup ? "Below the level line is minus." : "From the floor below it.";
  else if (!p.at)
    v.advice = "Roughly will do.";
  for (std::size_t i = n; i-- > 0;)
    v.rows.push_back({"put " + std::to_string(i),
                      steps[i].name,
                      shown_length(p.numbers[i], job),
                      "",
                      {},
                      false,
                      false});
  const BookingEvent e = draw_booking_page(s, page, v, p.typed, [&](Box box) {
    std::optional<Spot> mark = p.at;
    if (mark && n > 0) mark->x = float(p.numbers[0]);
    if (p.at && step.kind == ReadingKind::level && !setups.empty() && !is_no_drill(p)) {
      const Box key = key_beside_wall(s, box, words_of_base(setups.size() - 1, setups));
      if (s.key(key, words_of_base(p.setup, setups))) p.setup = next_base(p.setup, setups.size());
    }
    const DrawingView view = draw_wall(box, mark);
    if (n == 0 && view.scale > 0 && s.touch.tapped("elevation")) {
      const Spot tap = s.touch.tap_spot(), m = view.box.middle();
      p.at = Spot{float((tap.x - m.x) / view.scale + view.x),
                  float((m.y - tap.y) / view.scale + view.y)};
      if (known.length) p.at->x = std::clamp(p.at->x, 0.f, float(*known.length));
    }
  });
  if (tap_first) {
    if (!none.empty() || !p.typed.empty())
      p.refused = "First tap on the wall where it is; its numbers come then.";
    if (p.at) p.refused.clear();
    p.typed.clear();
  }
  if (e.undo) {
    p.typed.clear();
    p.refused.clear();
    if (!p.numbers.empty())
      p.numbers.pop_back();
    else if (p.at)
      p.at.reset();
    else
      p = {};
    return;
  }
  if (!(e.book || enter) || !v.can_book) return;
  p.numbers.push_back(*number.value);
  // No drilling is asked for its why when its numbers are there.
  if (p.numbers.size() < steps.size() || is_no_drill(p)) {
    p.typed.clear();
    p.refused.clear();
  } else if (put(session, screen)) {
    p = {};
  } else {
    p.numbers.pop_back();
    p.typed.clear();
    p.refused = session.trouble();
  }
}

}  // namespace levelrun
