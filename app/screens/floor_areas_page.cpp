#include "app/screens/floor_areas_page.h"

#include <algorithm>
#include <cmath>

#include "app/entry/floor_edits.h"
#include "app/entry/wall_edits.h"
#include "app/screens/form_fields.h"
#include "app/screens/form_parts.h"
#include "app/screens/no_drill_why.h"

namespace levelrun {
namespace {

using Adding = FloorAreasEntry::Adding;

constexpr std::size_t least_corners = 3;
constexpr double same_place = 1;  // mm: two corners that near are one; our choice

// Whether the segments cross, ends not counted.
bool cross(PlanPoint a, PlanPoint b, PlanPoint c, PlanPoint d) {
  const auto side = [](PlanPoint p, PlanPoint q, PlanPoint r) {
    return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  };
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

bool crosses_itself(const std::vector<PlanPoint>& outline) {
  const std::size_t n = outline.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t k = i + 2; k < n; ++k)
      if (cross(outline[i], outline[(i + 1) % n], outline[k], outline[(k + 1) % n])) return true;
  return false;
}

class FloorAreasPage {
 public:
  FloorAreasPage(ScreenContext& c, Session& session, FloorAreasEntry& e)
      : c_(c),
        session_(session),
        e_(e),
        room_(session.survey().rooms[session.room]),
        at_("/rooms/" + std::to_string(session.room)) {}

  void draw(Box page) {
    if (e_.adding != Adding::none) return e_.asking_why ? ask_why(page) : add_corners(page);
    const bool leaves = draw_form_head(c_, page, session_, e_.form, "Areas of the floor", "Areas",
                                       "Back to the points");
    draw_form(c_, page, session_, fields(), e_.form, "floor areas");
    if (leaves) e_ = {};
  }

 private:
  std::string outline_words(const std::vector<Place>& outline) const {
    std::string out;
    for (const Place& place : outline)
      out += (out.empty() ? "" : "; ") + place_text(room_, place, session_.survey().job);
    return out.empty() ? "no corners" : "Corners " + out + ".";
  }

  void begin(Adding adding) {
    e_ = {};
    e_.open = true;
    e_.adding = adding;
  }

  std::vector<FormField> fields() {
    std::vector<FormField> out;
    out.push_back(form_heading("Floor areas"));
    if (room_.floor_areas.empty())
      out.push_back(
          form_paragraph("Areas are parts of the floor with a step between them, such as a kitchen "
                         "and a lower extension. A floor without a step needs none."));
    for (Index i = 0; i < room_.floor_areas.size(); ++i) area_fields(out, i);
    out.push_back(form_page_key("Add a floor area", [this] { begin(Adding::area); }));
    out.push_back(form_heading("No drilling into the floor"));
    bool none = true;
    for (Index i = 0; i < room_.no_drill.size(); ++i) {
      const NoDrill& zone = room_.no_drill[i];
      if (zone.wall) continue;
      none = false;
      const std::string at = at_ + "/no_drill/" + std::to_string(i);
      const std::string n = std::to_string(i + 1);
      out.push_back(form_words(at + "/why", "Zone " + n + ": why"));
      out.push_back(form_paragraph(outline_words(zone.outline)));
      out.push_back(form_key("Take out zone " + n, remove_patch(at), "no drilling taken out"));
    }
    if (none)
      out.push_back(
          form_paragraph("Where pipes or heating lie in the floor, so that islands and "
                         "plinths are fixed beside them."));
    out.push_back(form_page_key("Add a zone", [this] { begin(Adding::no_drill); }));
    out.push_back(form_paragraph(no_drill_caution, Ink::ink));
    return out;
  }

  void area_fields(std::vector<FormField>& out, Index i) {
    const FloorArea& area = room_.floor_areas[i];
    const std::string at = at_ + "/floor_areas/" + std::to_string(i);
    out.push_back(form_name(session_, at, "Floor area " + std::to_string(i + 1)));
    out.push_back(form_paragraph(outline_words(area.outline)));
    // Where a layer lies when its area is gone is for a person to say.
    std::string layers;
    const auto count = [&](const std::string& name, const std::optional<Index>& in) {
      if (in == i) layers += (layers.empty() ? "" : ", ") + name;
    };
    for (const LaidLayer& layer : room_.flooring.laid) count(layer.name, layer.area);
    for (const ExistingLayer& layer : room_.flooring.existing) count(layer.name, layer.area);
    if (layers.empty())
      out.push_back(form_key("Take out " + area.id,
                             take_out_area_patch(session_.document(), session_.room, i),
                             "floor area " + area.id + " taken out"));
    else
      out.push_back(form_paragraph("Layers lie in it: " + layers +
                                   ". To take it out, say first on the page Job where they lie."));
  }

  std::vector<PlanPoint> outline() const {
    std::vector<PlanPoint> out;
    for (const Json& corner : e_.corners)
      if (const auto at = place_on_plan(session_.drawn(), place_of(room_, corner)))
        out.push_back(*at);
    return out;
  }

  void add_corners(Box page) {
    PlaceAsked asked;
    asked.name = "Corner " + std::to_string(e_.corners.size() + 1);
    asked.advice =
        e_.corners.size() < least_corners ? "Tap it, then Book; or type it." : "Done ends it.";
    asked.more = "Done";
    asked.tap_is_enough = true;
    for (std::size_t i = e_.corners.size(); i-- > 0;) {
      BookedRow row;
      row.id = "corner " + std::to_string(i + 1);
      row.name = std::to_string(i + 1);
      // A phone's column of the last ones has room for no more.
      if (!c_.sheet.narrow())
        row.name += ": " + place_text(room_, place_of(room_, e_.corners[i]), session_.survey().job);
      asked.rows.push_back(row);
    }
    const PlaceEvent e = draw_place_pad(c_, page, session_, asked, e_.pad, e_.view,
                                        [this](const DrawingView& view) { draw_outlines(view); });
    if (e.more) return done();
    if (e.undo) {
      if (e_.corners.empty())
        begin(Adding::none);
      else
        e_.corners.pop_back();
    }
    if (e.place) take(*e.place);
  }

  void take(const Json& place) {
    const std::vector<PlanPoint> before = outline();
    const auto at = place_on_plan(session_.drawn(), place_of(room_, place));
    for (const PlanPoint& p : before)
      if (at && std::hypot(at->x - p.x, at->y - p.y) < same_place) {
        e_.pad.refused = "That corner is booked already.";
        return;
      }
    e_.corners.push_back(place);
  }

  void done() {
    if (!e_.pad.typed.empty() || e_.pad.x || e_.pad.tapped)
      e_.pad.refused = "Book this corner first, or take it back by Undo.";
    else if (e_.corners.size() < least_corners)
      e_.pad.refused = "It takes at least three corners.";
    else if (crosses_itself(outline()))
      e_.pad.refused = "Its edges cross: book the corners in order round it.";
    else if (e_.adding == Adding::no_drill)
      e_.asking_why = true;
    else
      put(floor_area_patch(session_.document(), session_.room, e_.corners), "floor area");
  }

  void put(const Json& patch, const std::string& says) {
    if (session_.apply(patch, says))
      begin(Adding::none);
    else
      e_.pad.refused = session_.trouble();
  }

  void ask_why(Box page) {
    const NoDrillWhy said =
        draw_no_drill_why(c_, page, session_, e_.form, e_.why, "No drilling into the floor");
    if (said.back) e_.asking_why = false;
    if (!said.why.empty())
      put(floor_no_drill_patch(session_.document(), session_.room, e_.corners, said.why),
          "no drilling into the floor");
  }

  void draw_outlines(const DrawingView& view) {
    Sheet& s = c_.sheet;
    const auto spot = [&](const PlanPoint& p) { return view.at(p.x, p.y); };
    for (const FloorArea& area : room_.floor_areas)
      for (std::size_t i = 0; i < area.outline.size(); ++i) {
        const auto from = place_on_plan(session_.drawn(), area.outline[i]);
        const auto to =
            place_on_plan(session_.drawn(), area.outline[(i + 1) % area.outline.size()]);
        if (from && to) s.dotted(spot(*from), spot(*to), Ink::ink, 1, 6, 4);
      }
    const std::vector<PlanPoint> corners = outline();
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Spot at = spot(corners[i]);
      if (i > 0) s.line(spot(corners[i - 1]), at, Ink::blue, 2);
      s.fill({at.x - 4, at.y - 4, 8, 8}, Ink::blue);
    }
    // The edge that would close it.
    if (corners.size() >= least_corners)
      s.dotted(spot(corners.back()), spot(corners.front()), Ink::blue, 2, 6, 4);
  }

  ScreenContext& c_;
  Session& session_;
  FloorAreasEntry& e_;
  const Room& room_;
  std::string at_;
};

}  // namespace

bool FloorAreasEntry::back() {
  if (!open) return false;
  const FloorAreasEntry before = std::move(*this);
  *this = {};
  if (before.asking_why) {
    *this = before;
    asking_why = false;
  } else if (before.adding != Adding::none) {
    open = true;
  }
  return true;
}

void draw_floor_areas_page(ScreenContext& c, Box page, Session& session, FloorAreasEntry& e) {
  FloorAreasPage(c, session, e).draw(page);
}

}  // namespace levelrun
