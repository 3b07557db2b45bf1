// Rectangles of the screen in dp (one dp is a CSS pixel), y downwards, and cutting them up.
#pragma once

#include <algorithm>

namespace levelrun {

struct Spot {
  float x = 0, y = 0;
};

struct Box {
  float x = 0, y = 0, w = 0, h = 0;

  float right() const { return x + w; }
  float bottom() const { return y + h; }
  Spot middle() const { return {x + w / 2, y + h / 2}; }
  bool holds(Spot s) const { return s.x >= x && s.x < right() && s.y >= y && s.y < bottom(); }
  bool empty() const { return w <= 0 || h <= 0; }

  Box inset(float dx, float dy) const {
    return {x + dx, y + dy, std::max(0.f, w - 2 * dx), std::max(0.f, h - 2 * dy)};
  }
  Box inset(float d) const { return inset(d, d); }

  // Takes a piece off one side; what is left stays in *this.
  Box take_top(float amount) {
    amount = std::clamp(amount, 0.f, std::max(0.f, h));
    const Box piece{x, y, w, amount};
    y += amount;
    h -= amount;
    return piece;
  }
  Box take_bottom(float amount) {
    amount = std::clamp(amount, 0.f, std::max(0.f, h));
    h -= amount;
    return {x, y + h, w, amount};
  }
  Box take_left(float amount) {
    amount = std::clamp(amount, 0.f, std::max(0.f, w));
    const Box piece{x, y, amount, h};
    x += amount;
    w -= amount;
    return piece;
  }
  Box take_right(float amount) {
    amount = std::clamp(amount, 0.f, std::max(0.f, w));
    w -= amount;
    return {x + w, y, amount, h};
  }
};

}  // namespace levelrun
