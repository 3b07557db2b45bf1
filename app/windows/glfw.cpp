// The window through GLFW: mouse and keyboard.
#include <GLFW/glfw3.h>
#include <imgui_impl_glfw.h>

#include "app/windows/opengl.h"
#include "app/windows/window.h"

namespace levelrun {
namespace {

std::string last_error;
bool any_event = false;

class GlfwWindow final : public Window {
 public:
  explicit GlfwWindow(GLFWwindow* window) : window_(window) {
    // Ours first: the backend's callbacks call those that were there.
    const auto note = [](GLFWwindow*) { any_event = true; };
    glfwSetWindowRefreshCallback(window_, note);
    glfwSetCursorPosCallback(window_, [](GLFWwindow*, double, double) { any_event = true; });
    glfwSetMouseButtonCallback(window_, [](GLFWwindow*, int, int, int) { any_event = true; });
    glfwSetScrollCallback(window_, [](GLFWwindow*, double, double) { any_event = true; });
    glfwSetKeyCallback(window_, [](GLFWwindow*, int, int, int, int) { any_event = true; });
    glfwSetCharCallback(window_, [](GLFWwindow*, unsigned) { any_event = true; });
    glfwSetFramebufferSizeCallback(window_, [](GLFWwindow*, int, int) { any_event = true; });
    ImGui_ImplGlfw_InitForOpenGL(window_, true);
    ImGui_ImplOpenGL3_Init("#version 130");
  }
  ~GlfwWindow() override {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    glfwDestroyWindow(window_);
    glfwTerminate();
  }

  bool events(double seconds, bool& had_events) override {
    any_event = false;
    if (seconds > 0)
      glfwWaitEventsTimeout(seconds);
    else
      glfwPollEvents();
    had_events = any_event;
    return !glfwWindowShouldClose(window_);
  }
  WindowSize size() const override {
    int w = 0, h = 0, pixels = 0;
    glfwGetWindowSize(window_, &w, &h);
    glfwGetFramebufferSize(window_, &pixels, nullptr);
    return {float(w), float(h), w > 0 ? float(pixels) / float(w) : 1};
  }
  void begin_frame() override {
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
  }
  void fonts_made() override { take_fonts_again(); }
  void* picture(const std::uint8_t* rgba, int w, int h) override {
    return make_texture(rgba, w, h);
  }
  void let_go(void* picture) override { delete_texture(picture); }
  void show(ImDrawData* data, ImVec4 background) override {
    draw_over(background, data);
    glfwSwapBuffers(window_);
  }
  void tone(int) override {}  // GLFW makes no sound

 private:
  GLFWwindow* window_;
};

}  // namespace

std::unique_ptr<Window> open_window(const char* title, int w, int h, std::string& why) {
  glfwSetErrorCallback([](int, const char* text) { last_error = text; });
  GLFWwindow* window = glfwInit() ? glfwCreateWindow(w, h, title, nullptr, nullptr) : nullptr;
  if (!window) {
    why = last_error;
    glfwTerminate();
    return nullptr;
  }
  glfwMakeContextCurrent(window);
  glfwSwapInterval(1);
  return std::make_unique<GlfwWindow>(window);
}

}  // namespace levelrun
