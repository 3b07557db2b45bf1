#include "app/screens/app.h"

#include <imgui.h>

#include <algorithm>

#include "app/jobs/all_jobs.h"
#include "app/jobs/photo_picture.h"
#include "app/jobs/zip_file.h"
#include "app/screens/photo_parts.h"
#include "app/screens/screens.h"
#include "app/touch/staff.h"
#include "survey/attached_survey.h"
#include "survey/file_layer.h"
#include "survey/parse_json.h"

namespace levelrun {
namespace {

constexpr float strip_height = 56;
constexpr std::size_t most_pack = 64U << 20;  // bytes of a job pack that is opened
constexpr const char* settings_key = "Settings";

void plain_style() {
  ImGuiStyle& style = ImGui::GetStyle();
  style.WindowPadding = {0, 0};
  style.WindowBorderSize = 0;
  style.WindowRounding = 0;
  style.FrameRounding = 0;
  style.FrameBorderSize = 0;
  style.FramePadding = {16, 14};
  style.ItemSpacing = {12, 12};
  style.AntiAliasedLinesUseTex = false;
}

}  // namespace

App::App(Platform& platform, FileLayer& files, Settings settings)
    : platform_(platform),
      files_(files),
      settings_(std::move(settings)),
      screens_(std::make_unique<Screens>()),
      photos_(std::make_unique<PhotoShelf>(platform, files)) {
  plain_style();
}

App::~App() = default;

bool App::open(const std::string& path) {
  if (path.ends_with(".pdf")) {  // a job pack: the survey inside becomes a job of its own
    std::string bytes;
    if (!files_.read(path, most_pack, bytes)) {
      file_came(path.substr(path.find_last_of('/') + 1), std::move(bytes));
      return session_ != nullptr;
    }
  }
  leave();
  std::vector<Problem> problems;
  auto opened = Session::open(path, platform_.journal_path(path), files_, platform_,
                              settings_.author, problems);
  if (!opened) {
    screens_->jobs.problems = problems;
    screens_->jobs.problem_path = path;
    page_ = Page::jobs;
    return false;
  }
  session_ = std::move(opened);
  photos_->wish.reset();
  photos_->said.clear();
  *screens_ = Screens{};
  std::erase(settings_.recent, path);
  settings_.recent.insert(settings_.recent.begin(), path);
  page_ = Page::job;
  return true;
}

bool App::prepare(float ratio) { return fonts_.make(ratio, settings_.look.text); }

void App::pinch(float factor, float x, float y) { touch_.pinch(factor, {x, y}); }

bool App::back() {
  if (page_ == Page::settings) {
    page_ = session_ ? Page::job : Page::jobs;
    return true;
  }
  if (screens_->back(page_)) return true;
  if (page_ == Page::jobs) return false;
  if (page_ >= first_of_day) {
    page_ = Page::job;
    return true;
  }
  close();
  return true;
}

void App::close() {
  std::string unsaved;
  if (session_ && !session_->save())
    unsaved = session_->path() + ": " + session_->notices().back() +
              " What was booked is in the journal and comes back when the job is opened.";
  session_.reset();
  photos_->wish.reset();
  photos_->said.clear();
  screens_->jobs.said = unsaved;
  screens_->jobs.listed = false;
  page_ = Page::jobs;
}

void App::pictures_lost() { photos_->lost(); }

void App::file_came(const std::string& name, std::string bytes) {
  if (session_ && !name.ends_with(".json") && (photos_->wish || looks_like_photo(bytes)))
    return photo_came(*photos_, files_, *session_, name, bytes);
  if (is_zip(bytes)) {
    close();
    std::string& said = screens_->jobs.said;
    said += (said.empty() ? "" : " ") +
            take_in_jobs(files_, platform_, settings_.jobs_folder, name, bytes);
    screens_->jobs.problems.clear();
    return;
  }
  std::string free = name;
  if (is_pdf(bytes)) {
    // What is no pack is refused below, as the PDF it is.
    if (auto inside = attached_survey(bytes, most_text)) bytes = std::move(*inside);
    if (free.ends_with(".pdf")) free.resize(free.size() - 4);
  }
  if (!free.ends_with(".levelrun.json")) free += ".levelrun.json";
  // A name that is there already is another job: it is not written over.
  std::vector<std::string> names;
  files_.list(settings_.jobs_folder, names);
  const std::string stem = free.substr(0, free.find(".levelrun.json"));
  for (int n = 2; std::find(names.begin(), names.end(), free) != names.end(); ++n)
    free = stem + "-" + std::to_string(n) + ".levelrun.json";
  if (const auto read = read_survey(bytes); !read.ok()) {
    close();
    screens_->jobs.problems = read.problems();
    screens_->jobs.problem_path = name;
    return;
  }
  const std::string path = platform_.put_job(free, bytes);
  if (path.empty())
    screens_->jobs.said = name + " could not be kept. " + platform_.write_trouble();
  else
    open(path);
}

void App::leave() {
  if (session_) session_->save();
}

const std::string& App::jobs_say() const { return screens_->jobs.said; }

bool App::wants_frame() const { return touch_.moving() || ImGui::GetIO().WantTextInput; }

ImVec4 App::background() const {
  const Rgb c = rgb(settings_.look.inks, Ink::sheet);
  return {float(c.r) / 255, float(c.g) / 255, float(c.b) / 255, 1};
}

void App::draw_strip(Sheet& s, Box strip) {
  s.line({strip.x, strip.bottom()}, {strip.right(), strip.bottom()}, Ink::ink, 2);
  Box in = strip.inset(margin, 4);
  const std::string ink_word(word(settings_.look.inks));
  const float key_width = std::max(66.f, s.width(ink_word, TextSize::body) + 28);
  if (s.key(in.take_right(key_width), ink_word, KeyLook::plain, {}, "Inks"))
    settings_.look.inks = next(settings_.look.inks);
  in.take_right(12);
  const Pen soft{TextSize::caption, s.look.inks == InkSet::sun ? Ink::ink : Ink::soft, false,
                 Align::right};
  if (!session_ || page_ == Page::settings) {
    const char* title = page_ == Page::settings ? "Settings" : "Jobs";
    if (page_ == Page::jobs) {
      const float w = s.width(settings_key, TextSize::body) + 24;
      if (s.key(in.take_right(w), settings_key)) page_ = Page::settings;
    } else if (s.key(in.take_right(s.width("Back", TextSize::body) + 24), "Back")) {
      back();
    }
    s.text(in, title, {TextSize::title, Ink::ink, true});
    return;
  }
  const std::string trouble = platform_.write_trouble();
  const std::string safe = session_->signed_off()    ? "signed off"
                           : session_->read_only()   ? "only to look at"
                           : !trouble.empty()        ? "NOT SAFE: " + trouble
                           : platform_.all_written() ? "safe " + session_->safe_at()
                                                     : "saving …";
  s.text(in.take_right(std::min(in.w * 0.45f, s.width(safe, TextSize::caption) + 4)), safe, soft);
  in.take_right(8);
  const Survey& survey = session_->survey();
  // The reference leads back to the index; a tap on the room goes to the next one.
  const float wide = std::min(in.w, s.width(survey.job.reference, TextSize::title, true) + 2);
  const Box reference = in.take_left(wide);
  if (s.touch.tap("Jobs", {strip.x, strip.y, margin + wide, strip.h})) {
    close();
    return;
  }
  s.text(reference, survey.job.reference, {TextSize::title, Ink::ink, true});
  in.take_left(16);
  if (!s.narrow()) {
    const std::string revision = "rev " + std::to_string(survey.job.revision);
    s.text(in.take_left(s.width(revision, TextSize::body) + 16), revision, {});
  }
  if (survey.rooms.size() > session_->room && (!s.narrow() || survey.rooms.size() > 1)) {
    const Room& room = survey.rooms[session_->room];
    const std::string name = room.name.empty() ? room.id : room.name;
    if (survey.rooms.size() > 1) {
      const std::string label = name + " ›";
      if (s.key(in.take_left(std::min(in.w, s.width(name, TextSize::body) + 28)), name,
                KeyLook::plain, {}, "Next room")) {
        session_->room = (session_->room + 1) % survey.rooms.size();
        screens_->room_changed();
      }
    } else {
      s.text(in, name, {});
    }
  }
}

void App::draw_page(Sheet& s, Box page) {
  ScreenContext context{s, *this, platform_, files_, settings_};
  switch (page_) {
    case Page::jobs:
      return draw_jobs_screen(context, page, screens_->jobs);
    case Page::settings:
      return draw_settings_screen(context, page, screens_->settings);
    case Page::job:
      return draw_job_screen(context, page, *session_, screens_->job);
    case Page::walk:
      return draw_walk_screen(context, page, *session_, screens_->walk);
    case Page::levels:
      return draw_levels_screen(context, page, *session_, screens_->levels);
    case Page::walls:
      return draw_walls_screen(context, page, *session_, screens_->walls);
    case Page::runs:
      return draw_runs_screen(context, page, *session_, screens_->runs);
    case Page::findings:
      return draw_findings_screen(context, page, *session_, screens_->findings);
    case Page::release:
      if (screens_->compare.open)
        return draw_compare_screen(context, page, *session_, screens_->compare);
      return draw_release_screen(context, page, *session_, screens_->release);
    case Page::arrival:
      return draw_arrival_screen(context, page, *session_, screens_->arrival);
    case Page::setting_out:
      return draw_setting_out_screen(context, page, *session_, screens_->setting_out);
    case Page::legs:
      return draw_legs_screen(context, page, *session_, screens_->legs);
    case Page::plinths:
      return draw_plinths_screen(context, page, *session_, screens_->plinths);
    case Page::hand_over:
      return draw_hand_over_screen(context, page, *session_, screens_->hand_over);
  }
}

void App::frame(SafeArea safe) {
  touch_.begin_frame();
  photos_->begin_frame();
  const ImGuiIO& io = ImGui::GetIO();
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize(io.DisplaySize);
  ImGui::PushStyleColor(ImGuiCol_WindowBg, background());
  ImGui::Begin("sheet", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav |
                   ImGuiWindowFlags_NoScrollWithMouse | ImGuiWindowFlags_NoBringToFrontOnFocus);
  Box all{safe.left, safe.top, io.DisplaySize.x - safe.left - safe.right,
          io.DisplaySize.y - safe.top - safe.bottom};
  Sheet s(settings_.look, fonts_, touch_, *ImGui::GetWindowDrawList(), all);
  const Box strip = all.take_top(std::max(strip_height, s.row(TextSize::title) + 16));
  Box staff_box;
  const bool has_staff = session_ && page_ >= Page::job;
  if (has_staff) {
    const float thick = staff_thickness(s);
    staff_box = !staff_upright(s)  ? all.take_bottom(thick)
                : s.look.left_hand ? all.take_left(thick)
                                   : all.take_right(thick);
  }
  s.push_clip(all);
  draw_page(s, all);
  s.pop_clip();
  draw_strip(s, strip);
  if (has_staff && session_) {
    const bool day = page_ >= first_of_day;
    const int first = int(day ? first_of_day : Page::job);
    const std::vector<StaffPage>& pages =
        day ? screens_->day_progress.pages(*session_) : screens_->progress.pages(*session_);
    const int tapped = staff(s, staff_box, pages, int(page_) - first);
    if (tapped >= 0) {
      screens_->page_left();
      page_ = Page(first + tapped);
    }
  }
  ImGui::End();
  ImGui::PopStyleColor();
  touch_.end_frame();
}

}  // namespace levelrun
