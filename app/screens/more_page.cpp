#include "app/screens/more_page.h"

#include <algorithm>
#include <cmath>

#include "app/entry/typed_number.h"
#include "app/screens/booking_page.h"
#include "app/screens/key_page.h"
#include "app/touch/keypad.h"
#include "checks/entry_check.h"

namespace levelrun {
namespace {

using What = MoreToRead::What;

constexpr const char* back_words = "Back to the readings";
constexpr const char* height_words = "At another height";
constexpr double usual_height = 900;  // mm; the plan's
constexpr double farthest = 100000;   // mm from the room's first corner; our choice, to catch slips

struct Step {
  std::string name, caption;
  ReadingKind kind;
};

class MorePage {
 public:
  MorePage(ScreenContext& c, Session& session, MoreToRead& more)
      : s_(c.sheet), session_(session), more_(more), room_(session.survey().rooms[session.room]) {}

  void draw(Box page, const std::function<DrawingView(Box)>& draw_plan) {
    more_.added.walls.resize(room_.walls.size());
    if (more_.what == What::none) return ask_what(page);
    if (!more_.placed) {
      if (more_.what == What::length) return ask_wall(page);
      if (more_.what == What::ceiling) return ask_where(page);
      if (more_.what == What::angle && !more_.chosen.empty()) return ask_how(page);
      return ask_corner_of(page);
    }
    if (more_.numbers.size() == steps().size()) return finish();
    type(page, draw_plan);
  }

 private:
  int choose(Box page, const std::string& question, const std::vector<RunKey>& keys) {
    const int tapped = draw_key_page(s_, page, question, keys, back_words);
    if (tapped == key_page_back) close();
    return tapped;
  }

  void close() {
    const Protocol added = std::move(more_.added);
    const bool just_added = more_.just_added;
    more_ = {};
    more_.added = added;
    more_.just_added = just_added;
  }

  void ask_what(Box page) {
    const int tapped = choose(page, "What else is read?",
                              {{"Length at another height"},
                               {"Another diagonal"},
                               {"Angle of a corner"},
                               {"Ceiling height"}});
    if (tapped >= 0) more_.what = What(tapped + 1);
  }

  void ask_wall(Box page) {
    std::vector<RunKey> keys;
    for (const Wall& wall : room_.walls) keys.push_back({wall.id});
    keys.push_back({"All that carry units"});
    const int tapped = choose(page, "Of which wall?", keys);
    if (tapped < 0) return;
    for (Index w = 0; w < room_.walls.size(); ++w)
      if (Index(tapped) == w || (Index(tapped) == room_.walls.size() && room_.walls[w].furnished))
        more_.chosen.push_back(w);
    more_.placed = !more_.chosen.empty();
  }

  void ask_corner_of(Box page) {
    const Index count = room_.corners.size();
    std::vector<RunKey> keys;
    std::vector<Index> corners;
    for (Index c = 0; c < count; ++c) {
      // A diagonal to the next corner is a wall.
      if (!more_.chosen.empty() && (c == more_.chosen[0] || beside(c, more_.chosen[0]))) continue;
      keys.push_back({room_.corners[c].id});
      corners.push_back(c);
    }
    const bool to = !more_.chosen.empty();
    if (to) keys.push_back({height_words, more_.other_height});
    const int tapped =
        choose(page,
               more_.what == What::angle ? "Which corner?"
               : to ? "From " + room_.corners[more_.chosen[0]].id + " to which corner?"
                    : "From which corner?",
               keys);
    if (tapped < 0) return;
    if (Index(tapped) == corners.size()) {
      more_.other_height = !more_.other_height;
      return;
    }
    more_.chosen.push_back(corners[std::size_t(tapped)]);
    more_.placed = more_.what == What::diagonal && more_.chosen.size() == 2;
  }

  bool beside(Index a, Index b) const {
    return std::any_of(room_.walls.begin(), room_.walls.end(), [&](const Wall& wall) {
      return (wall.from == a && wall.to == b) || (wall.from == b && wall.to == a);
    });
  }

  void ask_how(Box page) {
    const Corner& corner = room_.corners[more_.chosen[0]];
    const Job& job = session_.survey().job;
    std::vector<RunKey> keys = {{"In degrees"}};
    const auto legs = usual_legs(room_, more_.chosen[0]);
    for (const auto& [a, b] : legs)
      keys.push_back({shown_length(a, job) + " and " + shown_length(b, job)});
    // Above 180 the triangle would lie in the wall.
    const int own = corner.angle < 180 ? int(keys.size()) : -1;
    if (own > 0) keys.push_back({"Other legs"});
    const int height = int(keys.size());
    keys.push_back({height_words, more_.other_height});
    const int tapped = choose(
        page,
        own > 0 ? "Angle of " + corner.id + ": by a square, or across from legs along its walls?"
                : "Angle of " + corner.id + ", as seen from the room",
        keys);
    if (tapped < 0) return;
    if (tapped == height) {
      more_.other_height = !more_.other_height;
      return;
    }
    more_.degrees = tapped == 0;
    more_.own_legs = tapped == own;
    if (!more_.degrees && !more_.own_legs) more_.legs = legs[std::size_t(tapped - 1)];
    more_.placed = true;
  }

  void ask_where(Box page) {
    std::vector<RunKey> keys = {{"At x and y"}};
    for (const Wall& wall : room_.walls) keys.push_back({"Along " + wall.id});
    const std::size_t first = keys.size();
    const auto& setups = room_.levels.setups;
    for (Index i = 0; i < setups.size(); ++i)
      keys.push_back({"From the line of " + setups[i].id, more_.setup == i});
    const int tapped = choose(page, "Where is the ceiling read?", keys);
    if (tapped < 0) return;
    if (std::size_t(tapped) >= first) {
      const Index setup = std::size_t(tapped) - first;
      more_.setup = more_.setup == setup ? std::nullopt : std::optional(setup);
      return;
    }
    if (tapped > 0) more_.chosen.push_back(Index(tapped - 1));
    more_.placed = true;
  }

  std::vector<Step> steps() const {
    std::vector<Step> out;
    const auto id = [&](std::size_t n) { return room_.corners[more_.chosen[n]].id; };
    const Step height{"Height", "above the floor, where it is read", ReadingKind::level};
    switch (more_.what) {
      case What::length:
        out.push_back(height);
        break;
      case What::diagonal:
        if (more_.other_height) out.push_back(height);
        break;
      case What::angle:
        if (more_.own_legs) {
          out.push_back(
              {"First leg at " + id(0), "along the wall that ends there", ReadingKind::size});
          out.push_back(
              {"Second leg at " + id(0), "along the wall that begins there", ReadingKind::size});
        }
        if (more_.other_height) out.push_back(height);
        break;
      default:
        if (more_.chosen.empty()) {
          out.push_back(
              {"Ceiling, x", "along the first wall, from the first corner", ReadingKind::staff});
          out.push_back({"Ceiling, y", "into the room is minus", ReadingKind::staff});
        } else {
          const std::string& wall = room_.walls[more_.chosen[0]].id;
          out.push_back({"Ceiling, along " + wall, "from its left end", ReadingKind::along});
          out.push_back({"Ceiling, out from " + wall, "into the room", ReadingKind::level});
        }
    }
    return out;
  }

  // Why the number cannot be of this step; empty: it can.
  std::string refused(const Step& step, double value) const {
    if (step.kind == ReadingKind::staff)  // a coordinate: of either sign
      return std::abs(value) > farthest ? "That is too far away." : "";
    return impossible(step.kind, value);
  }

  void type(Box page, const std::function<DrawingView(Box)>& draw_plan) {
    const Job& job = session_.survey().job;
    const std::vector<Step> all = steps();
    const std::size_t n = more_.numbers.size();
    const Step& step = all[n];
    const bool enter = typed_keys(more_.typed);
    const TypedNumber number = typed_number(more_.typed, typed_unit(job));
    BookingView v;
    v.decimal = job.decimal;
    v.name = step.name;
    v.caption = step.caption;
    v.typed = more_.typed;
    v.can_skip = false;
    v.undo_says = "the last step";
    if (!more_.typed.empty())
      v.refused = number.value ? refused(step, *number.value) : number.problem;
    if (more_.at && more_.what == What::ceiling && more_.chosen.empty())
      v.expected = "about " + shown_length(std::round(n == 0 ? more_.at->x : more_.at->y), job, 0);
    v.can_book = number.value && v.refused.empty() && !session_.read_only();
    if (number.value) v.book_value = shown_length(*number.value, job);
    for (std::size_t i = n; i-- > 0;)
      v.rows.push_back({"more " + std::to_string(i),
                        all[i].name,
                        shown_length(more_.numbers[i], job),
                        "",
                        {},
                        false,
                        false});
    const BookingEvent e = draw_booking_page(s_, page, v, more_.typed, [&](Box box) {
      const DrawingView view = draw_plan(box);
      if (view.scale <= 0 || !s_.touch.tapped("plan")) return;
      const Spot tap = s_.touch.tap_spot(), m = view.box.middle();
      more_.at = Spot{float((tap.x - m.x) / view.scale + view.x),
                      float((m.y - tap.y) / view.scale + view.y)};
    });
    if (e.undo) {
      more_.typed.clear();
      if (!more_.numbers.empty())
        more_.numbers.pop_back();
      else
        close();
      return;
    }
    if (!(e.book || enter) || !v.can_book) return;
    more_.numbers.push_back(*number.value);
    more_.typed.clear();
  }

  // Adds to `list` until the place is there once more than it was read.
  template <class At, class Read>
  void add(std::vector<At>& list, const At& at, const Read& is_read, std::size_t read) {
    const auto there = std::size_t(std::count_if(list.begin(), list.end(), is_read));
    for (std::size_t n = there; n <= read; ++n) list.push_back(at);
  }

  void finish() {
    const std::vector<double>& numbers = more_.numbers;
    const double height = more_.other_height ? numbers.back() : usual_height;
    Protocol& to = more_.added;
    switch (more_.what) {
      case What::length:
        for (const Index w : more_.chosen) {
          const double at = numbers[0];
          const auto& read = room_.walls[w].lengths;
          // Another height comes besides the usual one, whichever is read first.
          const auto usual = [](const auto& l) { return l.height == usual_height && l.out == 0; };
          if (std::none_of(read.begin(), read.end(), usual) &&
              std::none_of(to.walls[w].lengths.begin(), to.walls[w].lengths.end(), usual))
            to.walls[w].lengths.push_back({usual_height, 0});
          add(
              to.walls[w].lengths, Protocol::LengthAt{at, 0},
              [&](const auto& l) { return l.height == at && l.out == 0; },
              std::size_t(std::count_if(read.begin(), read.end(), [&](const WallLength& l) {
                return l.height == at && l.out == 0;
              })));
        }
        break;
      case What::diagonal: {
        const Index from = more_.chosen[0], end = more_.chosen[1];
        const auto is_it = [&](const auto& d) {
          return d.from == from && d.to == end && d.height == height;
        };
        add(to.diagonals, Protocol::DiagonalOf{from, end, height}, is_it,
            std::size_t(std::count_if(room_.diagonals.begin(), room_.diagonals.end(), is_it)));
        break;
      }
      case What::angle: {
        Protocol::AngleOf angle;
        angle.corner = more_.chosen[0];
        angle.height = height;
        if (more_.own_legs)
          angle.legs = std::pair(numbers[0], numbers[1]);
        else
          angle.legs = more_.legs;
        const auto read = std::size_t(
            std::count_if(room_.angles.begin(), room_.angles.end(), [&](const CornerAngle& a) {
              const bool same_legs =
                  angle.legs ? !a.degrees && std::pair(a.triangle.a, a.triangle.b) == *angle.legs
                             : a.degrees.has_value();
              return a.corner == angle.corner && a.height == angle.height && same_legs;
            }));
        add(
            to.angles, angle,
            [&](const Protocol::AngleOf& a) {
              return a.corner == angle.corner && a.height == angle.height && a.legs == angle.legs;
            },
            read);
        break;
      }
      default: {
        Protocol::CeilingAt at;
        at.setup = more_.setup;
        if (!more_.chosen.empty()) {
          at.place.wall = more_.chosen[0];
          at.place.along = numbers[0];
          at.place.out = numbers[1];
        } else {
          at.place.x = numbers[0];
          at.place.y = numbers[1];
        }
        to.ceilings.push_back(at);
      }
    }
    more_.just_added = true;
    close();
  }

  Sheet& s_;
  Session& session_;
  MoreToRead& more_;
  const Room& room_;
};

}  // namespace

void ask_corner(MoreToRead& more, Index corner) {
  more.open = true;
  more.what = What::angle;
  more.chosen = {corner};
}

bool draw_more_page(ScreenContext& c, Box page, Session& session, MoreToRead& more,
                    const std::function<DrawingView(Box)>& draw_plan) {
  if (!more.open) return false;
  if (session.survey().rooms.empty()) return more.open = false;
  MorePage(c, session, more).draw(page, draw_plan);
  return true;
}

}  // namespace levelrun
