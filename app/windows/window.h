// What the touch app is shown in: the seam between the app's core and the machine. SDL2 or GLFW
// behind it, chosen when building (-DLEVELRUN_WINDOW=sdl or glfw); the headless one for tests and
// pictures is windows/headless.h. A window feeds ImGui's input queue and shows its draw data.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <functional>
#include <memory>
#include <string>

namespace levelrun {

struct WindowSize {
  float w = 0, h = 0;  // dp
  float ratio = 1;     // pixels a dp
};

class Window {
 public:
  virtual ~Window() = default;
  // Waits up to `seconds` for events (0: does not wait) and feeds them. False: closed.
  // had_events: whether anything came, so that nothing is drawn while nothing happens.
  virtual bool events(double seconds, bool& had_events) = 0;
  virtual WindowSize size() const = 0;
  virtual void begin_frame() = 0;  // before ImGui::NewFrame
  virtual void fonts_made() = 0;   // the atlas is new: take its texture again
  virtual void show(ImDrawData*, ImVec4 background) = 0;
  virtual void* picture(const std::uint8_t* rgba, int w, int h) = 0;  // as Platform's
  virtual void let_go(void* picture) = 0;
  virtual std::string now() const;  // RFC 3339 with offset
  virtual void tone(int times) = 0;

  // Two fingers: factor and the middle between them, dp.
  std::function<void(float, float, float)> on_pinch;
};

// The current ImGui context must exist. Null: the machine has no display; `why` says what it said.
std::unique_ptr<Window> open_window(const char* title, int w, int h, std::string& why);

}  // namespace levelrun
