#include "app/screens/plan_place.h"

#include <algorithm>
#include <cmath>

#include "app/drawing/plan_drawing.h"
#include "app/entry/set_patch.h"
#include "app/entry/typed_number.h"
#include "app/text_number.h"
#include "app/touch/keypad.h"

namespace levelrun {
namespace {

constexpr double farthest = 100000;  // mm from the room's first corner; our choice
constexpr double tapped_to = 10;     // mm; no finger is better on a plan
constexpr double near_within = 24;   // dp: half a target
constexpr double least_within = 6;   // dp: a smaller plan has no corners that can be told apart
constexpr double small_plan = 0.02;  // dp a mm: a finger is then some 200 mm wide; our choice

double rounded(double mm) {
  const double out = std::round(mm / tapped_to) * tapped_to;
  return out == 0 ? 0 : out;  // no minus before it
}

// A corner is the left end of the wall that begins there: it stays the corner's place whatever the
// walls are measured to be.
Json place_of_corner(const Room& room, Index corner) {
  for (const Wall& wall : room.walls)
    if (wall.from == corner) return {{"wall", wall.id}, {"along", 0}, {"out", 0}};
  return {};
}

// To a whole 10 mm, but not past the wall's end.
Json on_face(const Wall& wall, const WallLine& line, double along) {
  return {{"wall", wall.id},
          {"along", number_as_written(std::min(rounded(along), line.length))},
          {"out", 0}};
}

void snap_to_corners(PlanTap& out, const DrawingView& view, Spot tap, Session& session,
                     double within) {
  const RoomToDraw& drawn = session.drawn();
  const Room& room = session.survey().rooms[session.room];
  double nearest = within;
  const auto take = [&](PlanPoint at, const Json& place, const std::string& name,
                        const std::string& key) {
    const Spot spot = view.at(at.x, at.y);
    const double away = std::hypot(spot.x - tap.x, spot.y - tap.y);
    if (place.is_null() || away > nearest || (away == nearest && !out.near.is_null())) return;
    nearest = away;
    out.near = place;
    out.near_at = at;
    out.near_name = name;
    out.key = key;
  };
  for (Index c = 0; c < drawn.corners.size(); ++c)
    take(drawn.corners[c], place_of_corner(room, c), "corner " + room.corners[c].id,
         room.corners[c].id);
  if (!out.near.is_null()) return;
  for (Index a = 0; a < room.floor_areas.size(); ++a) {
    const FloorArea& area = room.floor_areas[a];
    const Json* outline =
        value_at(session.document(), "/rooms/" + std::to_string(session.room) + "/floor_areas/" +
                                         std::to_string(a) + "/outline");
    for (Index i = 0; outline && i < area.outline.size() && i < outline->size(); ++i) {
      if (drawn.guessed && !area.outline[i].wall) continue;
      if (const auto at = place_on_plan(drawn, area.outline[i]))
        take(*at, (*outline)[i], "corner of " + area.id, area.id);
    }
  }
}

void snap_to_faces(PlanTap& out, const DrawingView& view, Session& session, double within) {
  const RoomToDraw& drawn = session.drawn();
  const Room& room = session.survey().rooms[session.room];
  double nearest = within / view.scale;
  for (Index w = 0; w < drawn.walls.size(); ++w) {
    const WallLine& line = drawn.walls[w];
    const double x = out.at.x - line.from.x, y = out.at.y - line.from.y;
    const double along = x * line.along.x + y * line.along.y;
    const double away = std::abs(x * line.out.x + y * line.out.y);
    if (along < 0 || along > line.length || away >= nearest) continue;
    nearest = away;
    out.near = on_face(room.walls[w], line, along);
    out.near_at = {line.from.x + line.along.x * along, line.from.y + line.along.y * along};
    out.key = "on " + room.walls[w].id;
    out.near_name =
        out.key + ", " + shown_length(out.near["along"].get<double>(), session.survey().job, 0);
  }
}

PlanTap tap_on(const DrawingView& view, Spot tap, Session& session) {
  const RoomToDraw& drawn = session.drawn();
  const Spot m = view.box.middle();
  PlanTap out;
  out.at = {(tap.x - m.x) / view.scale + view.x, (m.y - tap.y) / view.scale + view.y};
  out.small = view.scale < small_plan;
  double within = near_within;
  for (const WallLine& wall : drawn.walls) within = std::min(within, wall.length * view.scale / 3);
  if (within < least_within) return out;
  snap_to_corners(out, view, tap, session, within);
  // In a room that is a guess millimetres along a wall would mean nothing.
  if (out.near.is_null() && !drawn.guessed && !out.small) snap_to_faces(out, view, session, within);
  return out;
}

// With the points' heights, which show where the floor steps. A phone has no room for dimensions.
DrawingView show_plan(Sheet& s, Box box, Session& session, ViewMoves& moves) {
  const RoomToDraw& drawn = session.drawn();
  PlanOptions options;
  options.points = true;
  options.dimensions = !s.narrow();
  options.decimal = session.survey().job.decimal;
  const DrawingView view =
      moved_view(s, "plan", plan_view(drawn, box, options.dimensions, s.fonts.text_scale()), moves);
  s.push_clip(box);
  show_drawing(s, plan_drawing(session.survey(), drawn, session.room_result(), view, options,
                               s.fonts.text_scale()));
  s.pop_clip();
  return view;
}

}  // namespace

PlaceEvent draw_place_pad(ScreenContext& c, Box page, Session& session, const PlaceAsked& asked,
                          PlacePad& pad, ViewMoves& moves,
                          const std::function<void(const DrawingView&)>& draw_over) {
  Sheet& s = c.sheet;
  const Job& job = session.survey().job;
  const bool enter = typed_keys(pad.typed);
  const TypedNumber number = typed_number(pad.typed, typed_unit(job));
  BookingView v;
  v.decimal = job.decimal;
  v.can_skip = false;
  v.more = asked.more;
  v.undo_says = asked.undo;
  v.name = asked.name + (pad.x ? " y" : " x");
  v.caption = pad.x ? "into the room is minus" : "along the first wall";
  v.advice = asked.advice;
  v.rows = asked.rows;
  v.typed = pad.typed;
  v.refused = pad.typed.empty() ? pad.refused : number.problem;
  if (number.value && std::abs(*number.value) > farthest) v.refused = "That is too far away.";
  if (number.value) v.book_value = shown_length(*number.value, job);
  // While the room's shape is a guess, a tap says nothing in millimetres; a corner it still says.
  const bool guessed = session.drawn().guessed;
  const bool near = asked.tap_is_enough && pad.tapped && !pad.x && !pad.tapped->near.is_null();
  if (pad.tapped && !guessed)
    v.expected =
        "about " + shown_length(rounded(pad.x ? pad.tapped->at.y : pad.tapped->at.x), job, 0);
  const bool stands = asked.tap_is_enough && pad.typed.empty() && pad.tapped &&
                      (near || (!guessed && !pad.tapped->small));
  if (near) v.expected = pad.tapped->near_name;
  if (stands && near) v.book_value = pad.tapped->key;
  if (stands && !near) {
    v.book_value = "as tapped";
    if (!pad.x) v.expected += "; " + shown_length(rounded(pad.tapped->at.y), job, 0);
  }
  v.can_book = v.refused.empty() && !session.read_only() && (number.value || stands);

  const BookingEvent e = draw_booking_page(s, page, v, pad.typed, [&](Box box) {
    const DrawingView view = show_plan(s, box, session, moves);
    s.push_clip(box);
    draw_over(view);
    if (pad.tapped) {
      const PlanPoint mm = near ? pad.tapped->near_at : pad.tapped->at;
      const Spot at = view.at(mm.x, mm.y);
      s.frame({at.x - 8, at.y - 8, 16, 16}, Ink::blue, 2, 8);
    }
    s.pop_clip();
    if (!s.touch.tapped("plan")) return;
    pad.tapped = tap_on(view, s.touch.tap_spot(), session);
    pad.refused.clear();
  });

  PlaceEvent out;
  out.more = e.more;
  out.row = e.row;
  if (e.undo) {
    pad.refused.clear();
    if (!pad.typed.empty())
      pad.typed.clear();
    else if (pad.x)
      pad.x.reset();
    else if (pad.tapped)
      pad.tapped.reset();
    else
      out.undo = true;
    return out;
  }
  if (!(e.book || enter) || !v.can_book) return out;
  pad.typed.clear();
  pad.refused.clear();
  if (stands && near) {
    out.place = pad.tapped->near;
  } else if (stands && !pad.x) {
    out.place = Json{{"x", number_as_written(rounded(pad.tapped->at.x))},
                     {"y", number_as_written(rounded(pad.tapped->at.y))}};
  } else if (!pad.x) {
    pad.x = *number.value;
    return out;
  } else {
    const double y = number.value ? *number.value : rounded(pad.tapped->at.y);
    out.place = Json{{"x", number_as_written(*pad.x)}, {"y", number_as_written(y)}};
  }
  pad = {};
  return out;
}

std::string place_text(const Room& room, const Place& place, const Job& job) {
  if (!place.wall) return "x " + shown_length(place.x, job) + ", y " + shown_length(place.y, job);
  const Wall& wall = room.walls[*place.wall];
  if (place.along == 0 && place.out == 0) return room.corners[wall.from].id;
  return wall.id + ", " + shown_length(place.along, job) + " along, " +
         shown_length(place.out, job) + " out";
}

std::optional<PlanPoint> place_on_plan(const RoomToDraw& drawn, const Place& place) {
  if (!place.wall) return PlanPoint{place.x, place.y};
  if (*place.wall >= drawn.walls.size()) return std::nullopt;
  const WallLine& wall = drawn.walls[*place.wall];
  return PlanPoint{wall.from.x + wall.along.x * place.along + wall.out.x * place.out,
                   wall.from.y + wall.along.y * place.along + wall.out.y * place.out};
}

Place place_of(const Room& room, const Json& place) {
  Place out;
  out.x = place.value("x", 0.0);
  out.y = place.value("y", 0.0);
  out.along = place.value("along", 0.0);
  out.out = place.value("out", 0.0);
  const std::string id = place.value("wall", "");
  for (Index w = 0; w < room.walls.size(); ++w)
    if (room.walls[w].id == id) out.wall = w;
  return out;
}

}  // namespace levelrun
