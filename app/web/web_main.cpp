// The touch app as a web page: what the page's own script (page.js) calls, and what it is called
// for. No main loop: the script asks for a frame when something happened or one is wanted.
#include <emscripten.h>
#include <emscripten/html5.h>
#include <imgui.h>

#include <cfloat>
#include <cstdlib>
#include <memory>

#include "app/jobs/all_jobs.h"
#include "app/pack/print_survey.h"
#include "app/screens/app.h"
#include "app/web/half_typed.h"
#include "app/web/web_files.h"
#include "app/windows/opengl.h"
#include "checks/results_json.h"
#include "checks/solve.h"
#include "survey/open_job.h"
#include "survey/parse_json.h"

namespace levelrun {
namespace {

// clang-format off
EM_JS(void, page_tone, (int times), { Module.tone(times); });
EM_JS(void, page_give, (const char* name, const char* data, int length), {
  Module.give(UTF8ToString(name), HEAPU8.slice(data, data + length));
});
EM_JS(void, page_ask, (), { Module.askForFile(); });
EM_JS(void, page_ask_photo, (), { Module.askForPhoto(); });
EM_JS(char*, page_now, (), {
  const text = Module.now();
  const length = lengthBytesUTF8(text) + 1;
  const at = _malloc(length);
  stringToUTF8(text, at, length);
  return at;
});
EM_JS(void, page_settings, (const char* text), { Module.keepSettings(UTF8ToString(text)); });
// clang-format on

constexpr const char* jobs_folder = "/jobs";

class WebPlatform final : public Platform {
 public:
  explicit WebPlatform(WebFiles& files) : files_(files) {}
  std::string now() override {
    char* text = page_now();
    std::string out = text;
    std::free(text);
    return out;
  }
  void tone(int times) override { page_tone(times); }
  std::string journal_path(const std::string& path) override { return journal_path_beside(path); }
  std::string give_file(const std::string& name, std::string_view bytes) override {
    page_give(name.c_str(), bytes.data(), int(bytes.size()));
    return "handed over as " + name;
  }
  std::string put_job(const std::string& name, std::string_view text) override {
    const std::string path = std::string(jobs_folder) + "/" + name;
    return files_.put(path, text) ? std::string() : path;
  }
  std::string printed(Sheets sheets, std::string_view text, const std::string& survey_path,
                      std::string& why) override {
    return print_survey(files_, sheets, text, survey_path, why);
  }
  std::string printed_comparison(std::string_view was, std::string_view is,
                                 const std::string& survey_name, std::string& why) override {
    return print_comparison(was, is, survey_name, why);
  }
  bool ask_for_file() override {
    page_ask();
    return true;
  }
  bool ask_for_photo() override {
    page_ask_photo();
    return true;
  }
  void* picture(const std::uint8_t* rgba, int w, int h) override {
    return make_texture(rgba, w, h);
  }
  void let_go(void* picture) override { delete_texture(picture); }
  bool all_written() override { return files_.sent == files_.written; }
  std::string write_trouble() override { return files_.trouble; }

 private:
  WebFiles& files_;
};

struct WebPage {
  WebFiles files;
  WebPlatform platform{files};
  std::unique_ptr<App> app;
  std::string settings, place, packed;
  EMSCRIPTEN_WEBGL_CONTEXT_HANDLE context = 0;
};

WebPage& web_page() {
  static WebPage one;
  return one;
}

}  // namespace
}  // namespace levelrun

using namespace levelrun;

extern "C" {

EMSCRIPTEN_KEEPALIVE void web_recall(const char* kind, const char* path, const char* data,
                                     int length) {
  web_page().files.recall(kind, path, std::string(data, std::size_t(length)));
}

EMSCRIPTEN_KEEPALIVE void web_only_look(const char* why) {
  web_page().files.only_look();
  web_page().files.trouble = why;
}
EMSCRIPTEN_KEEPALIVE void web_written(int n) { web_page().files.written += n; }
// Why what is booked is not safe; refuses: and nothing more is taken. "": it is safe again.
EMSCRIPTEN_KEEPALIVE void web_write_trouble(const char* why, int refuses) {
  web_page().files.trouble = why;
  web_page().files.refuses = refuses != 0;
}

// 0: no WebGL 2.
EMSCRIPTEN_KEEPALIVE int web_start(const char* settings_text_of_page) {
  WebPage& p = web_page();
  EmscriptenWebGLContextAttributes wanted;
  emscripten_webgl_init_context_attributes(&wanted);
  wanted.majorVersion = 2;
  wanted.antialias = false;
  wanted.alpha = false;
  wanted.depth = false;
  p.context = emscripten_webgl_create_context("#sheet", &wanted);
  if (p.context <= 0) return 0;
  emscripten_webgl_make_context_current(p.context);
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  ImGui_ImplOpenGL3_Init("#version 300 es");
  Settings settings = settings_from(settings_text_of_page);
  settings.jobs_folder = jobs_folder;
  settings.recent.clear();
  p.app = std::make_unique<App>(p.platform, p.files, std::move(settings));
  p.app->touch().words.external = true;
  return 1;
}

EMSCRIPTEN_KEEPALIVE void web_context_lost() { ImGui_ImplOpenGL3_Shutdown(); }
EMSCRIPTEN_KEEPALIVE void web_context_back() {
  emscripten_webgl_make_context_current(web_page().context);
  ImGui_ImplOpenGL3_Init("#version 300 es");
  web_page().app->pictures_lost();
}

// Draws; whether another frame is wanted.
EMSCRIPTEN_KEEPALIVE int web_frame(float w, float h, float ratio, float seconds, float left,
                                   float top, float right, float bottom) {
  WebPage& p = web_page();
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {w, h};
  io.DisplayFramebufferScale = {ratio, ratio};
  io.DeltaTime = seconds > 0 ? seconds : 1.f / 60;
  if (p.app->prepare(ratio)) {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
  }
  ImGui_ImplOpenGL3_NewFrame();
  ImGui::NewFrame();
  p.app->frame({left, top, right, bottom});
  ImGui::Render();
  const ImVec4 sheet = p.app->background();
  glViewport(0, 0, int(w * ratio), int(h * ratio));
  glClearColor(sheet.x, sheet.y, sheet.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  if (std::string now = settings_text(p.app->settings()); now != p.settings) {
    p.settings = std::move(now);
    page_settings(p.settings.c_str());
  }
  return p.app->touch().moving();
}

EMSCRIPTEN_KEEPALIVE void web_pointer(float x, float y, int touch) {
  ImGuiIO& io = ImGui::GetIO();
  io.AddMouseSourceEvent(touch ? ImGuiMouseSource_TouchScreen : ImGuiMouseSource_Mouse);
  io.AddMousePosEvent(x, y);
}
EMSCRIPTEN_KEEPALIVE void web_button(int down) { ImGui::GetIO().AddMouseButtonEvent(0, down != 0); }
EMSCRIPTEN_KEEPALIVE void web_pointer_away() {
  ImGui::GetIO().AddMousePosEvent(-FLT_MAX, -FLT_MAX);
}
EMSCRIPTEN_KEEPALIVE void web_wheel(float notches) {
  ImGui::GetIO().AddMouseWheelEvent(0, notches);
}
EMSCRIPTEN_KEEPALIVE void web_pinch(float factor, float x, float y) {
  web_page().app->pinch(factor, x, y);
}
EMSCRIPTEN_KEEPALIVE void web_typed(const char* text) {
  ImGui::GetIO().AddInputCharactersUTF8(text);
}
// 0 Enter, 1 Backspace.
EMSCRIPTEN_KEEPALIVE void web_key(int key, int down) {
  ImGui::GetIO().AddKeyEvent(key == 0 ? ImGuiKey_Enter : ImGuiKey_Backspace, down != 0);
}
EMSCRIPTEN_KEEPALIVE int web_back() { return web_page().app->back(); }
EMSCRIPTEN_KEEPALIVE void web_leave() { web_page().app->leave(); }
EMSCRIPTEN_KEEPALIVE int web_measuring() {
  return web_page().app->session() && web_page().app->page() >= levelrun::Page::walk;
}
EMSCRIPTEN_KEEPALIVE int web_job_open() { return web_page().app->session() != nullptr; }
EMSCRIPTEN_KEEPALIVE int web_on_index() {
  return web_page().app->page() == levelrun::Page::jobs && web_page().app->session() == nullptr;
}

// What is half typed, and back to it.
EMSCRIPTEN_KEEPALIVE const char* web_half_typed() {
  web_page().place = half_typed(*web_page().app);
  return web_page().place.c_str();
}
EMSCRIPTEN_KEEPALIVE void web_back_to(const char* half) {
  back_to_half_typed(*web_page().app, half);
}

// A job that is not open, handed to the person; all jobs as one file.
EMSCRIPTEN_KEEPALIVE void web_give_job(const char* path) {
  std::string text;
  if (web_page().files.read(path, most_text, text)) return;
  web_page().platform.give_file(std::string(path).substr(std::string(path).rfind('/') + 1), text);
}
EMSCRIPTEN_KEEPALIVE void web_give_all(const char* name) {
  web_page().app->leave();
  web_page().platform.give_file(name, all_jobs(web_page().files, jobs_folder).zip);
}
EMSCRIPTEN_KEEPALIVE void web_file_came(const char* name, const char* data, int length) {
  web_page().app->file_came(name, std::string(data, std::size_t(length)));
}

// The words being typed in a field of the page's own: id, place and text; empty id: none.
EMSCRIPTEN_KEEPALIVE const char* web_words_id() { return web_page().app->touch().words.id.c_str(); }
EMSCRIPTEN_KEEPALIVE const char* web_words_text() {
  return web_page().app->touch().words.text.c_str();
}
EMSCRIPTEN_KEEPALIVE float web_words_box(int n) {
  const Box b = web_page().app->touch().words.box;
  return n == 0 ? b.x : n == 1 ? b.y : n == 2 ? b.w : b.h;
}
EMSCRIPTEN_KEEPALIVE void web_words_typed(const char* text) {
  web_page().app->touch().words.text = text;
}
EMSCRIPTEN_KEEPALIVE void web_words_done() { web_page().app->touch().words.done = true; }

// For a screen reader: the field in use and its result.
EMSCRIPTEN_KEEPALIVE const char* web_said() { return web_page().app->touch().said().c_str(); }

// For tests: a target's middle by its label, the labels, and the results of a survey.
EMSCRIPTEN_KEEPALIVE float web_target(const char* label, int n) {
  for (const Touch::Target& t : web_page().app->touch().targets())
    if (t.label == label) return n == 0 ? t.box.middle().x : t.box.middle().y;
  return -1;
}
EMSCRIPTEN_KEEPALIVE const char* web_targets() {
  static std::string all;
  all.clear();
  for (const Touch::Target& t : web_page().app->touch().targets()) all += t.label + "\n";
  return all.c_str();
}
EMSCRIPTEN_KEEPALIVE const char* web_solve(const char* text) {
  static std::string results;
  const auto survey = read_survey(text);
  results = survey.ok() ? results_json(solve(survey.value().survey)) : "";
  return results.c_str();
}
EMSCRIPTEN_KEEPALIVE const char* web_file(const char* path) {
  const auto& all = web_page().files.all();
  const auto found = all.find(path);
  return found == all.end() ? "" : found->second.c_str();
}
EMSCRIPTEN_KEEPALIVE const char* web_path() {
  return web_page().app->session() ? web_page().app->session()->path().c_str() : "";
}

}  // extern "C"
