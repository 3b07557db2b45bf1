// A hand that fills in forms: what it taps is brought into sight by the wheel, words are typed into
// their field, numbers on the pad that a field opens.
#pragma once

#include <doctest/doctest.h>

#include <initializer_list>
#include <string>
#include <utility>

#include "app/drawing/drawing.h"
#include "tests/screens/driven_app.h"

namespace levelrun {

class Hand {
 public:
  explicit Hand(DrivenApp& app) : d(app) {}
  DrivenApp& d;

  void settle() { d.window.settle(d.app); }

  // Where lists lie on one page or another, as shares of the screen, the likeliest first.
  bool sees(const std::string& label) {
    settle();
    if (d.in_sight(label)) return true;
    for (const auto& [x, y] :
         {std::pair(0.3f, 0.24f), std::pair(0.3f, 0.6f), std::pair(0.3f, 0.5f),
          std::pair(0.3f, 0.7f), std::pair(0.3f, 0.86f), std::pair(0.85f, 0.4f)}) {
      const Spot at{x, y};
      wheel(200, at);
      for (std::string before; !d.in_sight(label) && d.shown() != before;) {
        before = d.shown();
        wheel(-1, at);
      }
      if (d.in_sight(label)) return true;
    }
    return false;
  }
  void tap(const std::string& label) {
    CAPTURE(label);
    REQUIRE(sees(label));
    REQUIRE(d.tap(label));
    settle();
  }
  void taps(std::initializer_list<const char*> labels) {
    for (const char* label : labels) tap(label);
  }
  void type(const std::string& keys) {
    d.window.type(d.app, keys);
    settle();
  }
  // A field of a form, unless it is asked for already.
  void number(const std::string& caption, const std::string& digits) {
    CAPTURE(caption);
    tap(caption);
    if (!d.has("rub out")) tap(caption);
    type(digits + "\n");
  }
  void words(const std::string& label, const std::string& text) {
    tap(label);
    d.window.key(d.app, ImGuiKey_End);
    for (int n = 0; n < 40; ++n) d.window.key(d.app, ImGuiKey_Backspace);
    type(text + "\n");
  }
  // A spot of the plan or the elevation, mm, in the view that it is drawn in.
  void tap_in(const DrawingView& view, double mm_x, double mm_y) {
    d.window.tap_at(d.app, view.at(mm_x, mm_y));
    settle();
  }
  // All that was done, taken back.
  void undo_all() {
    while (!d.app.session()->undo_says().empty()) REQUIRE(d.app.session()->undo());
  }
  // From the top of what scrolls there to its end, no word is cut.
  void check_nothing_cut(Spot at = {0.3f, 0.24f}) {
    wheel(200, at);
    for (std::string before; d.shown() != before;) {
      CHECK(d.app.touch().cut() == std::vector<std::string>{});
      before = d.shown();
      wheel(-3, at);
    }
    CHECK(d.app.touch().cut() == std::vector<std::string>{});
    wheel(200, at);
  }

 private:
  void wheel(float notches, Spot at) {
    ImGuiIO& io = ImGui::GetIO();
    io.AddMousePosEvent(io.DisplaySize.x * at.x, io.DisplaySize.y * at.y);
    io.AddMouseWheelEvent(0, notches);
    settle();
    io.AddMousePosEvent(-1e6f, -1e6f);
    settle();
  }
};

}  // namespace levelrun
