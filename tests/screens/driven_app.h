// The touch app driven as a person would: a folder of its own, a clock that stands, a finger that
// taps by label.
#pragma once

#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "app/pack/print_survey.h"
#include "app/windows/headless.h"
#include "survey/file_layer.h"
#include "survey/open_job.h"

namespace levelrun {

class TestPlatform final : public Platform {
 public:
  explicit TestPlatform(std::string folder) : folder_(std::move(folder)) {}
  std::string now() override { return "2026-03-12T14:32:08+00:00"; }
  void tone(int times) override { tones += std::to_string(times); }
  std::string journal_path(const std::string& path) override { return journal_path_beside(path); }
  std::string give_file(const std::string& name, std::string_view bytes) override {
    const std::string path = folder_ + "/" + name;
    std::ofstream(path, std::ios::binary) << bytes;
    return "saved as " + path;
  }
  std::string put_job(const std::string& name, std::string_view text) override {
    return give_file(name, text).substr(9);
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
  bool ask_for_photo() override { return has_camera; }
  void* picture(const std::uint8_t* rgba, int w, int h) override {
    ++pictures;
    const std::size_t bytes = std::size_t(4) * std::size_t(w) * std::size_t(h);
    textures_.push_back(std::make_unique<RasterTexture>(RasterTexture{w, h, {rgba, rgba + bytes}}));
    return textures_.back().get();
  }
  void let_go(void* picture) override {
    --pictures;
    std::erase_if(textures_, [&](const auto& one) { return one.get() == picture; });
  }
  std::string tones;
  bool has_camera = false;
  int pictures = 0;  // that were not let go

 private:
  std::string folder_;
  std::vector<std::unique_ptr<RasterTexture>> textures_;
};

inline std::string file_text(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

// A disk that can be filled, or taken away from us, while the app runs.
class FailingDisk final : public DiskFiles {
 public:
  std::error_code fails;  // what every write says from now on; none: it writes
  std::error_code create(const std::string& path, std::string_view text,
                         const std::string& like) override {
    return fails ? fails : DiskFiles::create(path, text, like);
  }
  std::error_code append(const std::string& path, std::string_view text) override {
    return fails ? fails : DiskFiles::append(path, text);
  }
  std::error_code lock(const std::string& path, std::unique_ptr<FileLock>& held) override {
    return fails ? fails : DiskFiles::lock(path, held);
  }
};

struct DrivenApp {
  explicit DrivenApp(float w = 800, float h = 1280, float text = 1, InkSet inks = InkSet::paper)
      : folder(make_folder()),
        window(w, h),
        platform(folder),
        app(platform, files, settings(folder, text, inks)) {
    window.settle(app);
  }
  ~DrivenApp() {
    std::error_code ignored;
    std::filesystem::remove_all(folder, ignored);
  }

  // A survey's text as a file in the folder, opened.
  bool open(const std::string& text, const std::string& name = "job.levelrun.json") {
    path = folder + "/" + name;
    std::ofstream(path, std::ios::binary) << text;
    const bool opened = app.open(path);
    window.settle(app);
    return opened;
  }
  bool has(std::string_view label) const {
    for (const Touch::Target& t : app.touch().targets())
      if (t.label == label) return true;
    return false;
  }
  // More of it than an edge under which the list goes on.
  bool in_sight(std::string_view label) const {
    for (const Touch::Target& t : app.touch().targets())
      if (t.label == label) return t.box.h > least_target / 3;
    return false;
  }
  // All targets with where they stand, so that one can tell whether a list moved.
  std::string shown() const {
    std::string out;
    for (const Touch::Target& t : app.touch().targets())
      out += t.label + "@" + std::to_string(int(t.box.y)) + "\n";
    return out;
  }
  bool tap(std::string_view label) {
    const bool there = window.tap(app, label);
    ++taps;
    return there;
  }
  void show(Page page) {
    app.show(page);
    window.settle(app);
  }

  std::string folder, path;
  HeadlessWindow window;
  TestPlatform platform;
  FailingDisk files;
  mutable App app;
  int taps = 0;

 private:
  static Settings settings(const std::string& folder, float text, InkSet inks) {
    Settings s;
    s.author = "t.v.";
    s.jobs_folder = folder;
    s.look.text = text;
    s.look.inks = inks;
    return s;
  }
  static std::string make_folder() {
    std::string name = (std::filesystem::temp_directory_path() / "levelrun-XXXXXX").string();
    if (!mkdtemp(name.data())) std::abort();
    return name;
  }
};

}  // namespace levelrun
