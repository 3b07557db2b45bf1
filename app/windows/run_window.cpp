#include "app/windows/run_window.h"

#include <imgui.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "app/pack/print_survey.h"
#include "app/screens/app.h"
#include "app/windows/window.h"
#include "survey/open_job.h"

namespace levelrun {
namespace {

constexpr int settle_frames = 3;       // after an event: a tap takes more than one frame
constexpr double idle_seconds = 3600;  // nothing happens: nothing is drawn
constexpr double caret_seconds = 0.5;  // a text field's caret blinks

std::string read_text(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

class DeskPlatform final : public Platform {
 public:
  DeskPlatform(Window& window, UserFolders folders)
      : window_(window), folders_(std::move(folders)) {}

  std::string now() override { return window_.now(); }
  void tone(int times) override { window_.tone(times); }
  std::string journal_path(const std::string& path) override {
    std::string folder = std::filesystem::path(path).parent_path().string();
    if (folder.empty()) folder = ".";
    if (access(folder.c_str(), W_OK) == 0) return journal_path_beside(path);
    // A name for the whole path, so that two jobs of one name do not meet.
    std::string name = std::filesystem::absolute(path).string();
    for (char& c : name)
      if (c == '/') c = '_';
    std::error_code ignored;
    std::filesystem::create_directories(folders_.state, ignored);
    return folders_.state + "/" + journal_path_beside(name);
  }
  std::string give_file(const std::string& name, std::string_view bytes) override {
    std::error_code ignored;
    std::filesystem::create_directories(folders_.jobs, ignored);
    const std::string path = folders_.jobs + "/" + name;
    const auto problems = save_text(path, bytes);
    return problems.empty() ? "saved as " + path : "not saved: " + problems.front().found;
  }
  std::string put_job(const std::string& name, std::string_view text) override {
    std::error_code ignored;
    std::filesystem::create_directories(folders_.jobs, ignored);
    const std::string path = folders_.jobs + "/" + name;
    return save_text(path, text).empty() ? path : "";
  }
  std::string printed(Sheets sheets, std::string_view survey, const std::string& survey_path,
                      std::string& why) override {
    DiskFiles files;
    return print_survey(files, sheets, survey, survey_path, why);
  }
  std::string printed_comparison(std::string_view was, std::string_view is,
                                 const std::string& survey_name, std::string& why) override {
    return print_comparison(was, is, survey_name, why);
  }
  bool ask_for_file() override { return false; }
  void* picture(const std::uint8_t* rgba, int w, int h) override {
    return window_.picture(rgba, w, h);
  }
  void let_go(void* picture) override { window_.let_go(picture); }

 private:
  Window& window_;
  UserFolders folders_;
};

}  // namespace

int run_window(const std::string& path) {
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  std::string why;
  std::unique_ptr<Window> window = open_window("Levelrun", 1280, 800, why);
  if (!window) {
    std::fprintf(stderr, "levelrun: no window: %s\n", why.c_str());
    ImGui::DestroyContext();
    return 2;
  }
  UserFolders folders = user_folders();
  const std::string settings_path = folders.config + "/settings.json";
  Settings settings = settings_from(read_text(settings_path));
  if (settings.jobs_folder.empty()) settings.jobs_folder = folders.jobs;
  folders.jobs = settings.jobs_folder;
  DeskPlatform platform(*window, folders);
  DiskFiles files;
  std::string settings_saved = settings_text(settings);
  {
    App app(platform, files, std::move(settings));
    window->on_pinch = [&](float factor, float x, float y) { app.pinch(factor, x, y); };
    if (!path.empty()) app.open(path);
    int frames = settle_frames;
    for (bool had_events = true;;) {
      const bool typing = ImGui::GetIO().WantTextInput;
      const double wait = frames > 0 || app.wants_frame() ? 0
                          : typing                        ? caret_seconds
                                                          : idle_seconds;
      if (!window->events(wait, had_events)) break;
      if (had_events) frames = settle_frames;
      if (app.prepare(window->size().ratio)) window->fonts_made();
      window->begin_frame();
      ImGui::NewFrame();
      app.frame();
      ImGui::Render();
      window->show(ImGui::GetDrawData(), app.background());
      if (frames > 0) --frames;
      if (const std::string now = settings_text(app.settings()); now != settings_saved) {
        std::error_code ignored;
        std::filesystem::create_directories(folders.config, ignored);
        save_text(settings_path, now);
        settings_saved = now;
      }
    }
    app.leave();
  }
  window.reset();
  ImGui::DestroyContext();
  return 0;
}

}  // namespace levelrun
