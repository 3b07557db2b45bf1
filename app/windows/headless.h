// The app without a window: for tests, pictures and benchmarks. A finger that taps by label or
// place, a keyboard, and the screen as pixels.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "app/screens/app.h"
#include "app/windows/raster.h"

namespace levelrun {

class HeadlessWindow {
 public:
  HeadlessWindow(float w, float h, float ratio = 1);
  ~HeadlessWindow();
  HeadlessWindow(const HeadlessWindow&) = delete;
  HeadlessWindow& operator=(const HeadlessWindow&) = delete;

  void resize(float w, float h, float ratio = 1);
  void frame(App&);
  // Frames until nothing more is wanted.
  void settle(App&);

  // False: no such target is on the screen.
  bool tap(App&, std::string_view label);
  void tap_at(App&, Spot);
  void drag(App&, Spot from, Spot to);
  void type(App&, std::string_view text);  // '\n' is Enter
  void key(App&, ImGuiKey);

  Picture picture(const App&) const;

 private:
  void make_context();
  ImGuiContext* context_ = nullptr;
  float w_, h_, ratio_;
};

}  // namespace levelrun
