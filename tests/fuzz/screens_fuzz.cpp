// The touch app driven by taps, drags and keys that the input spells, on a disk in memory. Nothing
// breaks, and what is on the screen is what opening the job again gives.
//
// The first two bytes: which survey, how large a screen and letters. Then each deed is a byte and
// what it needs.
#include <cstdint>
#include <fstream>
#include <sstream>
#include <string>

#include "app/windows/headless.h"
#include "survey/open_job.h"
#include "tests/fuzz/must.h"
#include "tests/unit/crash_disk.h"

using namespace levelrun;

namespace {

const std::string path = "/jobs/job.levelrun.json";

class MemoryPlatform final : public Platform {
 public:
  explicit MemoryPlatform(CrashDisk& disk) : disk_(disk) {}
  std::string now() override { return "2026-03-12T14:32:08+00:00"; }
  void tone(int) override {}
  std::string journal_path(const std::string& of) override { return journal_path_beside(of); }
  std::string give_file(const std::string& name, std::string_view) override { return name; }
  std::string put_job(const std::string& name, std::string_view text) override {
    disk_.put("/jobs/" + name, std::string(text));
    return "/jobs/" + name;
  }
  bool ask_for_file() override { return false; }

 private:
  CrashDisk& disk_;
};

std::string sample(int which) {
  const char* const names[] = {"full-of-trouble", "knocked-through", "small-l-kitchen",
                               "u-shape-island"};
  std::ifstream file(std::string(SAMPLES) + "/" + names[which % 4] + ".levelrun.json");
  std::ostringstream text;
  text << file.rdbuf();
  must(!text.str().empty(), "the samples are there");
  return text.str();
}

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}
  bool more() const { return left_ > 0; }
  int next() { return left_ == 0 ? 0 : (--left_, *data_++); }
  float part() { return float(next()) / 255.f; }

 private:
  const std::uint8_t* data_;
  std::size_t left_;
};

void deed(HeadlessWindow& window, App& app, Bytes& bytes, float w, float h) {
  static constexpr ImGuiKey keys[] = {ImGuiKey_Enter,    ImGuiKey_Escape,    ImGuiKey_Backspace,
                                      ImGuiKey_Tab,      ImGuiKey_LeftArrow, ImGuiKey_RightArrow,
                                      ImGuiKey_UpArrow,  ImGuiKey_DownArrow, ImGuiKey_Delete,
                                      ImGuiKey_PageDown, ImGuiKey_Home,      ImGuiKey_End};
  static constexpr char letters[] = "0123456789.,+-/\"'m \nabz=@";
  const int what = bytes.next();
  const auto spot = [&] {
    const float x = bytes.part() * w, y = bytes.part() * h;
    return Spot{x, y};
  };
  switch (what % 16) {
    case 0:
      return window.tap_at(app, spot());
    case 1: {
      const Spot from = spot();
      return window.drag(app, from, spot());
    }
    case 2:
    case 3:
      return window.type(
          app,
          std::string(1, letters[static_cast<std::size_t>(bytes.next()) % (sizeof letters - 1)]));
    case 4:
      return window.key(app, keys[static_cast<std::size_t>(bytes.next()) % std::size(keys)]);
    case 5:
      return window.resize(what & 64 ? w : h, what & 64 ? h : w);
    case 6:
      return app.show(Page(bytes.next() % (int(last_page) + 1)));
    case 7:
      if (what & 64) app.back();
      if (!app.session()) app.open(path);
      return;
    case 8:
      return app.pinch(0.5f + bytes.part(), w / 2, h / 2);
    case 9:
      return what & 64 ? app.file_came("came.levelrun.json", sample(bytes.next()))
                       : app.file_came("came.jpg", std::string(64, char(bytes.next())));
    default: {
      const auto& targets = app.touch().targets();
      const auto which = static_cast<std::size_t>(bytes.next());
      if (!targets.empty()) window.tap_at(app, targets[which % targets.size()].box.middle());
    }
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr std::size_t most = 400;  // bytes: some 200 deeds
  Bytes bytes(data, std::min(size, most));
  const int screen = bytes.next(), which = bytes.next();
  const float w = screen & 1 ? 390.f : 1280.f, h = screen & 1 ? 844.f : 800.f;

  CrashDisk disk;
  disk.put(path, sample(which));
  Settings settings;
  settings.author = "t.v.";
  settings.jobs_folder = "/jobs";
  settings.look.text = screen & 2 ? 2.f : 1.f;
  HeadlessWindow window(w, h);
  MemoryPlatform platform(disk);
  App app(platform, disk, settings);
  window.settle(app);
  must(app.open(path), "the sample opens");
  window.frame(app);
  while (bytes.more()) {
    deed(window, app, bytes, w, h);
    window.frame(app);
  }
  std::string open_path, shown;
  if (app.session()) {
    open_path = app.session()->path();
    shown = write_survey(app.session()->document());
    must(!disk.exists(open_path) || survey_from(app.session()->document()).ok(), "it is a survey");
  }
  app.close();
  disk.crash(CrashDisk::After::least);
  if (open_path.empty()) return 0;
  const auto again = open_job(open_path, journal_path_beside(open_path), disk);
  must(again.ok(), "the job opens again");
  must(write_survey(again.value().document()) == shown, "what was on the screen is on the disk");
  return 0;
}
