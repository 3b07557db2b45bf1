// How drawings are put together: strokes in mm through a view, hatch, dimensions, and lettering
// that never overlaps.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "app/drawing/drawing.h"
#include "checks/room_plan.h"

namespace levelrun {

class DrawingPen {
 public:
  DrawingPen(Drawing& drawing, const DrawingView& view, float text_scale)
      : drawing_(drawing), view_(view), text_scale_(text_scale) {}

  Spot at(PlanPoint p) const { return view_.at(p.x, p.y); }
  const DrawingView& view() const { return view_; }
  float text_scale() const { return text_scale_; }

  void stroke(std::vector<Spot> points, Ink, LineWidth = LineWidth::thin, Dash = Dash::solid,
              bool closed = false);
  void area(std::vector<Spot> outline, Ink);
  void disc(Spot, float radius, Ink, bool filled = true);
  // Hatch of the wall's build on the side of `behind` (unit vector on the sheet) of a face.
  enum class Hatch { none, diagonal, upright };
  void hatch(Spot from, Spot to, Spot behind, Hatch);

  // Draws it if it lies on the sheet and overlaps no lettering drawn before; false: it does not.
  // Always: drawn all the same.
  bool letter(const Lettering&, bool always = false);
  // Keeps lettering out of a box.
  void reserve(Box box) { taken_.push_back(box); }
  bool is_free(Box) const;

  // A dimension along from..to, `away` dp off on the side of `side` (unit vector on the sheet):
  // extension lines, 45° strokes, text above the line. Moves further out until its text is free;
  // false: there is no room within reach, and nothing is drawn.
  bool dimension(Spot from, Spot to, Spot side, float away, const std::string& text,
                 Ink ink = Ink::ink, bool bold = false);

  // A fact that can be tapped.
  void fact(std::string at, Box box) { drawing_.facts.push_back({std::move(at), box}); }
  Drawing& drawing() { return drawing_; }

 private:
  Box box_of(const Lettering&) const;
  bool on_sheet(Box) const;

  Drawing& drawing_;
  DrawingView view_;
  float text_scale_;
  std::vector<Box> taken_;
};

}  // namespace levelrun
