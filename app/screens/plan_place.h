// A place in the room by x and y: typed one after the other on the pad, with a tap on the plan that
// gives about where, or stands for both where roughly is enough.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/drawing/drawing.h"
#include "app/jobs/session.h"
#include "app/screens/booking_page.h"
#include "app/screens/screen_context.h"
#include "app/touch/show_drawing.h"
#include "checks/room_plan.h"

namespace levelrun {

struct PlanTap {
  PlanPoint at;        // mm
  bool small = false;  // the plan, so that the tap says nothing to 10 mm
  // What the tap is taken for within 24 dp: the nearest corner of the room, else of a floor area,
  // else the nearest wall's face. Null: nothing is so near.
  Json near;                   // as the file has it
  PlanPoint near_at;           // mm
  std::string near_name, key;  // "corner C3", "C3"
};

struct PlacePad {  // what is half typed
  std::optional<double> x;
  std::optional<PlanTap> tapped;
  std::string typed, refused;
};

struct PlaceAsked {
  std::string name;             // "Corner 3"
  std::string advice;           // in blue; what is refused comes before it
  std::string more;             // a key for what else can be done; empty: none
  std::vector<BookedRow> rows;  // what is there already
  bool tap_is_enough = false;   // to 10 mm, or to the corner or face tapped
  std::string undo = "the last step";
};

struct PlaceEvent {
  std::optional<Json> place;  // as the file has it, once it is whole
  bool more = false;
  bool undo = false;  // beyond what is half typed
  std::string row;
};

// draw_over: on top of the plan, in its view.
PlaceEvent draw_place_pad(ScreenContext&, Box, Session&, const PlaceAsked&, PlacePad&, ViewMoves&,
                          const std::function<void(const DrawingView&)>& draw_over);

// "C3", "x 1200, y −800" or "W2, 400 along, 150 out".
std::string place_text(const Room&, const Place&, const Job&);
// Where a place lies in the plan, or in the sketch while the plan is not known.
std::optional<PlanPoint> place_on_plan(const RoomToDraw&, const Place&);
// A place as the file has it, read back.
Place place_of(const Room&, const Json&);

}  // namespace levelrun
