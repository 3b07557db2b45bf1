// The touch app without a machine around it: given a platform, files and ImGui's current context,
// it draws a frame. Windows, the web page and tests all drive this.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "app/jobs/session.h"
#include "app/jobs/settings.h"
#include "app/touch/sheet.h"
#include "app/windows/platform.h"

namespace levelrun {

class PhotoShelf;
struct Screens;

enum class Page {
  jobs,
  settings,
  // the survey
  job,
  walk,
  levels,
  walls,
  runs,
  findings,
  release,
  // the install day
  arrival,
  setting_out,
  legs,
  plinths,
  hand_over,
};
inline constexpr Page first_of_day = Page::arrival, last_page = Page::hand_over;

struct SafeArea {  // dp kept clear of notches and rounded corners
  float left = 0, top = 0, right = 0, bottom = 0;
};

class App {
 public:
  App(Platform&, FileLayer&, Settings);
  ~App();

  // Opens a survey file; its problems are shown on the index page otherwise.
  bool open(const std::string& path);
  // A survey, a pack or an archive with surveys inside, or a photo for the job that is open.
  void file_came(const std::string& name, std::string bytes);
  // The renderer was made anew and its textures are gone; it has the atlas again by itself.
  void pictures_lost();

  // Makes the atlas when ratio or text scale changed; true: the renderer must take it again. Before
  // ImGui::NewFrame.
  bool prepare(float ratio);
  // Between ImGui::NewFrame and Render.
  void frame(SafeArea = {});
  // Whether another frame is wanted although nothing happens: inertia, a key still inked.
  bool wants_frame() const;
  void pinch(float factor, float x, float y);
  // The device's back gesture; false: there is nowhere further back.
  bool back();
  void close();  // back to the index of jobs
  // Everything is safe on disk after this; called when the window closes or the page is hidden.
  void leave();

  ImVec4 background() const;
  Touch& touch() { return touch_; }
  PhotoShelf& photos() { return *photos_; }
  Screens& screens() { return *screens_; }  // what is half typed there
  const std::string& jobs_say() const;      // what the index page tells of the last deed
  Session* session() { return session_.get(); }
  Settings& settings() { return settings_; }
  Page page() const { return page_; }
  // A survey's page needs an open survey; without one nothing changes.
  void show(Page page) {
    if (session_ || page < Page::job) page_ = page;
  }

 private:
  void draw_strip(Sheet&, Box);
  void draw_page(Sheet&, Box);

  Platform& platform_;
  FileLayer& files_;
  Settings settings_;
  Fonts fonts_;
  Touch touch_;
  std::unique_ptr<Session> session_;
  std::unique_ptr<Screens> screens_;
  std::unique_ptr<PhotoShelf> photos_;
  Page page_ = Page::jobs;
};

}  // namespace levelrun
