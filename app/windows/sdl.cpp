// The window through SDL2: touch and pen events, on-screen keyboard, multi-finger gestures.
#include <SDL.h>
#include <imgui_impl_sdl2.h>

#include <cmath>
#include <optional>
#include <string>

#include "app/windows/opengl.h"
#include "app/windows/window.h"

namespace levelrun {
namespace {

constexpr int tone_rate = 22050;  // samples a second
constexpr double tone_hz = 880, tone_seconds = 0.06, tone_gap = 0.05, tone_volume = 0.3;

class SdlWindow final : public Window {
 public:
  SdlWindow(SDL_Window* window, SDL_GLContext context) : window_(window), context_(context) {
    ImGui_ImplSDL2_InitForOpenGL(window_, context_);
    ImGui_ImplOpenGL3_Init("#version 130");
  }
  ~SdlWindow() override {
    if (audio_) SDL_CloseAudioDevice(audio_);
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplSDL2_Shutdown();
    SDL_GL_DeleteContext(context_);
    SDL_DestroyWindow(window_);
    SDL_Quit();
  }

  bool events(double seconds, bool& had_events) override {
    had_events = false;
    SDL_Event event;
    int any =
        seconds > 0 ? SDL_WaitEventTimeout(&event, int(seconds * 1000)) : SDL_PollEvent(&event);
    while (any) {
      had_events = true;
      ImGui_ImplSDL2_ProcessEvent(&event);
      follow_pointer(event);
      if (event.type == SDL_QUIT) return false;
      if (event.type == SDL_MULTIGESTURE && event.mgesture.numFingers == 2 && on_pinch) {
        const WindowSize s = size();
        on_pinch(1 + event.mgesture.dDist * 2, event.mgesture.x * s.w, event.mgesture.y * s.h);
      }
      any = SDL_PollEvent(&event);
    }
    return true;
  }

  WindowSize size() const override {
    int w = 0, h = 0, pixels = 0;
    SDL_GetWindowSize(window_, &w, &h);
    SDL_GL_GetDrawableSize(window_, &pixels, nullptr);
    return {float(w), float(h), w > 0 ? float(pixels) / float(w) : 1};
  }

  void begin_frame() override {
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplSDL2_NewFrame();
    // Dear ImGui's layer asks the system where the pointer is; on X11 without raw motion (remote
    // screens, Xvfb) the answer is an old place, and a press would land there. Events are right.
    if (pointer_) ImGui::GetIO().AddMousePosEvent(pointer_->x, pointer_->y);
  }

  void fonts_made() override { take_fonts_again(); }
  void* picture(const std::uint8_t* rgba, int w, int h) override {
    return make_texture(rgba, w, h);
  }
  void let_go(void* picture) override { delete_texture(picture); }

  void show(ImDrawData* data, ImVec4 background) override {
    draw_over(background, data);
    SDL_GL_SwapWindow(window_);
  }

  void tone(int times) override {
    if (!audio_) {
      SDL_AudioSpec wanted{};
      wanted.freq = tone_rate;
      wanted.format = AUDIO_S16SYS;
      wanted.channels = 1;
      wanted.samples = 1024;
      audio_ = SDL_OpenAudioDevice(nullptr, 0, &wanted, nullptr, 0);
      if (!audio_) return;
      SDL_PauseAudioDevice(audio_, 0);
    }
    std::vector<Sint16> samples;
    for (int n = 0; n < times; ++n) {
      for (int i = 0; i < int(tone_seconds * tone_rate); ++i)
        samples.push_back(
            Sint16(32767 * tone_volume * std::sin(2 * 3.14159265 * tone_hz * i / tone_rate)));
      samples.insert(samples.end(), std::size_t(tone_gap * tone_rate), 0);
    }
    SDL_QueueAudio(audio_, samples.data(), Uint32(samples.size() * sizeof(Sint16)));
  }

 private:
  void follow_pointer(const SDL_Event& event) {
    if (event.type == SDL_MOUSEMOTION)
      pointer_ = {float(event.motion.x), float(event.motion.y)};
    else if (event.type == SDL_MOUSEBUTTONDOWN || event.type == SDL_MOUSEBUTTONUP)
      pointer_ = {float(event.button.x), float(event.button.y)};
    else if (event.type == SDL_WINDOWEVENT && event.window.event == SDL_WINDOWEVENT_LEAVE)
      pointer_.reset();
  }

  std::optional<ImVec2> pointer_;  // by the last event, while it is over the window
  SDL_Window* window_;
  SDL_GLContext context_;
  SDL_AudioDeviceID audio_ = 0;
};

}  // namespace

std::unique_ptr<Window> open_window(const char* title, int w, int h, std::string& why) {
  SDL_SetHint(SDL_HINT_VIDEO_ALLOW_SCREENSAVER, "1");
  if (SDL_Init(SDL_INIT_VIDEO | SDL_INIT_TIMER) != 0) {
    why = SDL_GetError();
    return nullptr;
  }
  // Where there is no display SDL may draw on none, for ever: only when it was told to.
  const std::string driver = SDL_GetCurrentVideoDriver();
  if (!SDL_getenv("SDL_VIDEODRIVER") && (driver == "offscreen" || driver == "dummy")) {
    why = "there is no display";
    SDL_Quit();
    return nullptr;
  }
  SDL_InitSubSystem(SDL_INIT_AUDIO);  // without it there are no tones, and no more
  SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
  SDL_GL_SetAttribute(SDL_GL_MULTISAMPLEBUFFERS, 0);
  SDL_Window* window =
      SDL_CreateWindow(title, SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, w, h,
                       SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
  SDL_GLContext context = window ? SDL_GL_CreateContext(window) : nullptr;
  if (!context) {
    why = SDL_GetError();
    if (window) SDL_DestroyWindow(window);
    SDL_Quit();
    return nullptr;
  }
  SDL_GL_SetSwapInterval(1);
  return std::make_unique<SdlWindow>(window, context);
}

}  // namespace levelrun
