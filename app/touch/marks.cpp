#include "app/touch/marks.h"

#include <cmath>

namespace levelrun {
namespace {

constexpr float vial_width = 48, tick_left = 14, tick_right = 34, zero_at = 6, clear_of_tick = 2;
constexpr float least_bubble = 10, most_bubble = 20, bubble_high = 12;

}  // namespace

void severity_mark(Sheet& s, Spot at, Severity severity, bool answered, float side) {
  const float x = at.x, y = at.y, k = side / mark_side;
  if (answered) {
    s.frame({x, y, side, side}, Ink::ink, 3 * k / s.line_scale());
    const float c = 7 * k;
    s.fill({x + (side - c) / 2, y + (side - c) / 2, c, c}, Ink::ink);
  } else if (severity == Severity::hold) {
    s.fill({x, y, side, side}, Ink::crayon);
  } else if (severity == Severity::query) {
    const float w = 3 * k, reach = 0.75f * side;
    s.fill({x, y, w, side}, Ink::crayon);
    s.fill({x, y, reach, w}, Ink::crayon);
    s.fill({x, y + side - w, reach, w}, Ink::crayon);
  } else {
    const float middle = y + side / 2, r = 3.5f * k;
    s.list.AddCircleFilled({x + r, middle}, r, s.colour(Ink::ink));
    s.fill({x + r, middle - 0.75f * k, side - r, 1.5f * k}, Ink::ink);
  }
}

void vial(Sheet& s, Box b, const Vial& v) {
  const float k = b.w / vial_width, radius = b.h / 2;
  s.list.AddRectFilled({b.x, b.y}, {b.right(), b.bottom()}, s.colour(Ink::sheet), radius);
  s.frame(b, Ink::ink, 1.2f * k, radius);
  const bool both = v.least && v.most;
  // Where on the vial a number lies.
  const auto place = [&](double number) -> double {
    if (both)
      return tick_left + (number - *v.least) / (*v.most - *v.least) * (tick_right - tick_left);
    if (v.most) return zero_at + number / *v.most * (tick_right - zero_at);
    if (v.least && *v.least != 0)
      return tick_left + (number - *v.least) / std::abs(*v.least) * (tick_right - tick_left);
    return v.least ? tick_left + number : vial_width / 2;
  };
  const auto tick = [&](float at) {
    const float x = b.x + at * k;
    s.fill({x - 0.9f * k, b.y, 1.8f * k, b.h}, Ink::ink);
  };
  if (v.least) tick(tick_left);
  if (v.most) tick(tick_right);

  const double a = place(v.value - band95 * v.sd), z = place(v.value + band95 * v.sd);
  float wide = float(std::clamp(std::isfinite(z - a) ? std::abs(z - a) : 10.0, double(least_bubble),
                                double(most_bubble)));
  double at = place(v.value);
  if (!std::isfinite(at)) at = vial_width / 2;
  const bool low =
      v.least && v.value < (both ? (*v.least + *v.most) / 2
                                 : *v.least + 1e-9 + (v.most ? 0 : (v.value - *v.least)));
  const bool at_least_side = !v.most || (both && low);
  if (v.verdict == Verdict::within) {
    const float from = v.least ? tick_left + clear_of_tick : 3;
    const float to = v.most ? tick_right - clear_of_tick : vial_width - 3;
    wide = std::min(wide, to - from);
    at = std::clamp(at, double(from + wide / 2), double(to - wide / 2));
  } else if (v.verdict == Verdict::doubtful) {
    const float t = at_least_side ? tick_left : tick_right;
    at = std::clamp(at, double(t - wide / 2 + 1), double(t + wide / 2 - 1));
  } else {
    wide = least_bubble;
    at = at_least_side ? 2 + wide / 2 : vial_width - 2 - wide / 2;
  }
  const ImVec2 centre{b.x + float(at) * k, b.y + b.h / 2};
  const float rx = wide / 2 * k, ry = bubble_high / 2 * k;
  const auto ellipse = [&](bool filled, Ink ink) {
    constexpr int steps = 24;
    for (int i = 0; i < steps; ++i) {
      const float angle = 2 * 3.14159265f * float(i) / steps;
      s.list.PathLineTo({centre.x + rx * std::cos(angle), centre.y + ry * std::sin(angle)});
    }
    if (filled)
      s.list.PathFillConvex(s.colour(ink));
    else
      s.list.PathStroke(s.colour(ink), ImDrawFlags_Closed, 2.2f * k);
  };
  if (v.verdict == Verdict::doubtful)
    ellipse(false, Ink::crayon);
  else
    ellipse(true, v.verdict == Verdict::within ? Ink::ink : Ink::crayon);
}

void booked_mark(Sheet& s, Spot at, Ink ink) {
  s.line({at.x - 5, at.y - 5}, {at.x + 5, at.y + 5}, ink, 1.5f);
  s.line({at.x - 5, at.y + 5}, {at.x + 5, at.y - 5}, ink, 1.5f);
}

void ring_mark(Sheet& s, Spot at) {
  s.list.AddCircle({at.x, at.y}, 4, s.colour(Ink::blue), 16, 1.5f * s.line_scale());
}

}  // namespace levelrun
