#include "app/screens/outline_page.h"

#include <algorithm>
#include <cmath>

#include "app/entry/typed_number.h"
#include "app/screens/booking_page.h"
#include "app/screens/key_page.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"
#include "app/touch/marks.h"
#include "checks/entry_check.h"

namespace levelrun {
namespace {

constexpr double unknown_wall = 2500;   // mm; drawn this long, dotted
constexpr double sharpest_turn = 175;   // degrees either way; two walls need room between them
constexpr std::size_t most_walls = 60;  // our choice: a slip of the thumb, not a room

struct Turn {
  const char* words;
  double degrees;  // to the right
};
constexpr Turn turns[] = {
    {"Right, square", 90}, {"Left, square", -90}, {"Right, by 45", 45}, {"Left, by 45", -45}};

class OutlinePage {
 public:
  OutlinePage(ScreenContext& c, const Job& job, OutlineEntry& e) : s_(c.sheet), job_(job), e_(e) {}

  std::optional<RoomStart> draw(Box page) {
    if (e_.turning && !e_.other_turn) return ask_turn(page);
    type(page);
    return std::nullopt;
  }

 private:
  std::string wall_id(std::size_t n) const { return "W" + std::to_string(n + 1); }

  // Upright the sketch stands above the keys, else beside them.
  std::optional<RoomStart> ask_turn(Box page) {
    Box sketch = s_.portrait() ? page.take_top(page.h * 0.42f) : page.take_left(page.w * 0.42f);
    draw_sketch(sketch);
    if (s_.portrait())
      s_.line({page.x, page.y}, {page.right(), page.y}, Ink::ink, 2);
    else
      s_.line({page.x, page.y}, {page.x, page.bottom()}, Ink::rule);
    std::string said = e_.refused;
    if (const auto miss = said.empty() && e_.walls.size() > 2 && cannot_end(e_.walls).empty()
                              ? missed_by(e_.walls)
                              : std::nullopt)
      said = "As paced, the end lies " + shown_length(std::round(*miss), job_, 0) +
             " from the start: if you are back there, a length or a turn is wrong.";
    if (!said.empty()) {
      const Pen pen{TextSize::body, Ink::crayon};
      Box in = page.take_top(s_.paragraph_height(page.w - 2 * margin - 32, said, pen) + 12)
                   .inset(margin, 6);
      severity_mark(s_, {in.x, in.y + (s_.row() - mark_side) / 2}, Severity::query, false);
      in.take_left(32);
      s_.paragraph(in, said, pen);
    }
    std::vector<RunKey> keys;
    for (const Turn& turn : turns) keys.push_back({turn.words});
    keys.push_back({"Another turn"});
    keys.push_back({"Back at start"});
    const int tapped = draw_key_page(
        s_, page, wall_id(e_.walls.size() - 1) + " ends. Which way next?", keys, "A step back");
    if (tapped == key_page_back) {
      step_back();
    } else if (tapped >= 0 && std::size_t(tapped) < std::size(turns)) {
      turn(turns[tapped].degrees);
    } else if (tapped == int(std::size(turns))) {
      e_.other_turn = true;
      e_.refused.clear();
    } else if (tapped > int(std::size(turns))) {
      e_.refused = cannot_end(e_.walls);
      if (e_.refused.empty()) return finish();
    }
    return std::nullopt;
  }

  RoomStart finish() {
    RoomStart out;
    out.corners = corner_angles(e_.walls);
    for (const WalkedWall& wall : e_.walls) out.rough.push_back(wall.rough);
    e_ = {};
    return out;
  }

  void turn(double degrees) {
    e_.typed.clear();
    e_.other_turn = false;
    if (e_.walls.size() >= most_walls) {
      e_.refused = "More than " + std::to_string(most_walls) + " walls are not taken here.";
      return;
    }
    e_.refused.clear();
    e_.walls.back().turn = degrees;
    e_.turning = false;
  }

  void step_back() {
    e_.typed.clear();
    e_.refused.clear();
    if (e_.other_turn) {
      e_.other_turn = false;
    } else if (e_.turning) {
      e_.walls.pop_back();
      e_.turning = false;
    } else if (e_.walls.empty()) {
      e_ = {};
    } else {
      e_.walls.back().turn.reset();
      e_.turning = true;
    }
  }

  void walk(std::optional<double> rough) {
    e_.walls.push_back({rough, {}});
    e_.turning = true;
    e_.typed.clear();
    e_.refused.clear();
  }

  // A rough length, or a turn in degrees.
  void type(Box page) {
    const bool length = !e_.turning;
    const bool enter = typed_keys(e_.typed);
    const TypedNumber number =
        typed_number(e_.typed, length ? typed_unit(job_) : TypedUnit::degrees);
    BookingView v;
    v.decimal = job_.decimal;
    v.can_skip = false;
    v.undo_says = "the last step";
    v.typed = e_.typed;
    v.name = length ? wall_id(e_.walls.size()) + ", roughly" : "Turn to the right";
    v.caption = length ? "from its left end; pace it" : "degrees; to the left is minus";
    if (length) v.more = "Not known";
    if (length && e_.walls.empty())
      v.advice = "Begin at a corner and go round with the wall on your left.";
    if (!e_.typed.empty()) v.refused = number.value ? refused(*number.value) : number.problem;
    v.can_book = number.value && v.refused.empty();
    if (number.value)
      v.book_value =
          length ? shown_length(*number.value, job_) : shown_short(*number.value, 1, job_.decimal);
    for (std::size_t i = e_.walls.size(); i-- > 0;) {
      const WalkedWall& wall = e_.walls[i];
      v.rows.push_back({"walked " + std::to_string(i),
                        wall_id(i),
                        wall.rough ? shown_length(*wall.rough, job_) : "?",
                        wall.turn ? turn_words(*wall.turn) : "",
                        {},
                        false,
                        false});
    }
    const BookingEvent e =
        draw_booking_page(s_, page, v, e_.typed, [&](Box box) { draw_sketch(box); });
    if (e.undo) return step_back();
    if (e.more) return walk(std::nullopt);
    if (!(e.book || enter) || !v.can_book) return;
    if (length)
      walk(*number.value);
    else
      turn(*number.value);
  }

  std::string refused(double value) const {
    if (!e_.turning) return impossible(ReadingKind::length, value);
    if (value == 0) return "Straight on is still the same wall.";
    return std::abs(value) > sharpest_turn
               ? "A turn is " + shown(sharpest_turn, 0, job_.decimal) + "° at most, either way."
               : "";
  }

  std::string turn_words(double turn) const {
    return (turn > 0 ? "then right " : "then left ") +
           shown_short(std::abs(turn), 1, job_.decimal) + "°";
  }

  // The walls so far as they were paced, at the angles said.
  void draw_sketch(Box box) {
    const std::vector<PlanPoint> corners = walked_corners(e_.walls, unknown_wall);
    double x0 = 0, x1 = unknown_wall, y0 = 0, y1 = 0;
    for (const PlanPoint& p : corners) {
      x0 = std::min(x0, p.x), x1 = std::max(x1, p.x);
      y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
    }
    const Box in = box.inset(s_.grown(44), s_.grown(34));
    if (in.w < 20 || in.h < 20) return;
    const double scale = std::min(in.w / std::max(x1 - x0, 1.0), in.h / std::max(y1 - y0, 1.0));
    const Spot middle = in.middle();
    const auto at = [&](const PlanPoint& p) {
      return Spot{float(middle.x + (p.x - (x0 + x1) / 2) * scale),
                  float(middle.y - (p.y - (y0 + y1) / 2) * scale)};
    };
    s_.push_clip(box);
    for (std::size_t i = 0; i < e_.walls.size(); ++i) {
      const Spot a = at(corners[i]), b = at(corners[i + 1]);
      if (e_.walls[i].rough)
        s_.line(a, b, Ink::ink, 4);
      else
        s_.dotted(a, b, Ink::ink, 2);
      // Its name on the side of the wall that one does not walk on: to the left.
      const float long_ = std::max(1.f, std::hypot(b.x - a.x, b.y - a.y));
      const float out = s_.row(TextSize::caption) * 0.8f, wide = s_.grown(60);
      const Spot m{(a.x + b.x) / 2 + (b.y - a.y) / long_ * out,
                   (a.y + b.y) / 2 - (b.x - a.x) / long_ * out};
      const float high = s_.row(TextSize::caption);
      s_.text({m.x - wide / 2, m.y - high / 2, wide, high}, wall_id(i),
              {TextSize::caption, Ink::ink, false, Align::centre});
    }
    ring_mark(s_, at(corners.back()));
    s_.pop_clip();
  }

  Sheet& s_;
  const Job& job_;
  OutlineEntry& e_;
};

}  // namespace

std::optional<RoomStart> draw_outline_page(ScreenContext& c, Box page, const Job& job,
                                           OutlineEntry& e) {
  return OutlinePage(c, job, e).draw(page);
}

}  // namespace levelrun
