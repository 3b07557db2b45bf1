#include "app/windows/headless.h"

#include <imgui.h>

namespace levelrun {
namespace {

constexpr float frame_seconds = 1.f / 60;
constexpr int most_settle_frames = 240;

}  // namespace

HeadlessWindow::HeadlessWindow(float w, float h, float ratio) : w_(w), h_(h), ratio_(ratio) {
  context_ = ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigInputTrickleEventQueue = true;
}

HeadlessWindow::~HeadlessWindow() { ImGui::DestroyContext(context_); }

void HeadlessWindow::resize(float w, float h, float ratio) {
  w_ = w;
  h_ = h;
  ratio_ = ratio;
}

void HeadlessWindow::frame(App& app) {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {w_, h_};
  io.DisplayFramebufferScale = {ratio_, ratio_};
  io.DeltaTime = frame_seconds;
  app.prepare(ratio_);
  unsigned char* pixels = nullptr;
  int w = 0, h = 0;
  io.Fonts->GetTexDataAsAlpha8(&pixels, &w, &h);
  ImGui::NewFrame();
  app.frame();
  ImGui::Render();
}

void HeadlessWindow::settle(App& app) {
  frame(app);
  for (int i = 0; i < most_settle_frames && app.touch().moving(); ++i) frame(app);
  frame(app);
}

void HeadlessWindow::tap_at(App& app, Spot at) {
  ImGuiIO& io = ImGui::GetIO();
  io.AddMouseSourceEvent(ImGuiMouseSource_TouchScreen);
  io.AddMousePosEvent(at.x, at.y);
  io.AddMouseButtonEvent(0, true);
  frame(app);
  frame(app);
  frame(app);
  io.AddMouseButtonEvent(0, false);
  frame(app);
  frame(app);
  io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
  frame(app);
  frame(app);
}

bool HeadlessWindow::tap(App& app, std::string_view label) {
  for (const Touch::Target& target : app.touch().targets())
    if (target.label == label) {
      tap_at(app, target.box.middle());
      return true;
    }
  return false;
}

void HeadlessWindow::drag(App& app, Spot from, Spot to) {
  constexpr int steps = 8;
  ImGuiIO& io = ImGui::GetIO();
  io.AddMousePosEvent(from.x, from.y);
  io.AddMouseButtonEvent(0, true);
  frame(app);
  frame(app);
  for (int i = 1; i <= steps; ++i) {
    const float t = float(i) / steps;
    io.AddMousePosEvent(from.x + (to.x - from.x) * t, from.y + (to.y - from.y) * t);
    frame(app);
  }
  io.AddMouseButtonEvent(0, false);
  frame(app);
  io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
  settle(app);
}

void HeadlessWindow::type(App& app, std::string_view text) {
  ImGuiIO& io = ImGui::GetIO();
  std::string run;
  const auto flush = [&] {
    if (run.empty()) return;
    io.AddInputCharactersUTF8(run.c_str());
    run.clear();
    frame(app);
    frame(app);
  };
  for (const char c : text) {
    if (c != '\n') {
      run += c;
      continue;
    }
    flush();
    key(app, ImGuiKey_Enter);
  }
  flush();
}

void HeadlessWindow::key(App& app, ImGuiKey k) {
  ImGuiIO& io = ImGui::GetIO();
  io.AddKeyEvent(k, true);
  frame(app);
  frame(app);
  io.AddKeyEvent(k, false);
  frame(app);
}

Picture HeadlessWindow::picture(const App& app) const {
  return raster(*ImGui::GetDrawData(), app.background());
}

}  // namespace levelrun
