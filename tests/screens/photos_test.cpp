#include "app/jobs/photos.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include "tests/screens/driven_app.h"

using namespace levelrun;

TEST_CASE("a photo is copied beside the survey and named in it; nothing else passes for one") {
  DrivenApp d;
  REQUIRE(d.open(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json")));
  const std::string png = d.folder + "/cam.png", text = d.folder + "/cam.txt";
  std::ofstream(png, std::ios::binary) << "\x89PNG\r\n\x1A\n....";
  std::ofstream(text) << "no picture";
  std::string why;
  const std::string kept = keep_photo(d.files, d.path, png, why);
  CHECK(kept == "job.photos/photo-1.png");
  CHECK(file_text(d.folder + "/" + kept) == file_text(png));
  CHECK(keep_photo(d.files, d.path, png, why) == "job.photos/photo-2.png");
  CHECK(keep_photo(d.files, d.path, text, why).empty());
  CHECK(why == "cam.txt is no JPEG or PNG picture.");
  CHECK(keep_photo(d.files, d.path, d.folder + "/none.png", why).empty());
  Session& session = *d.app.session();
  REQUIRE(session.apply(photo_patch(session.document(), 0, kept, "/rooms/0/walls/0", "the boxing"),
                        "photo"));
  REQUIRE(session.survey().rooms[0].photos.size() == 1);
  CHECK(session.survey().rooms[0].photos[0].file == kept);
}

TEST_CASE("a photo of a wall is taken by its path on the Walls page, and undone like any edit") {
  DrivenApp d(1280, 800);
  REQUIRE(d.open(file_text(std::string(SAMPLES) + "/knocked-through.levelrun.json")));
  d.show(Page::walls);
  const std::string jpg = d.folder + "/cam.jpg";
  std::ofstream(jpg, std::ios::binary) << "\xFF\xD8\xFF....";
  for (int n = 0; n < 12; ++n) {  // to the list's end
    ImGui::GetIO().AddMousePosEvent(1000, 400);
    ImGui::GetIO().AddMouseWheelEvent(0, -3);
    d.window.settle(d.app);
  }
  REQUIRE(d.tap("photo"));
  REQUIRE(d.tap("photo"));
  d.window.settle(d.app);
  d.window.type(d.app, jpg);
  d.window.key(d.app, ImGuiKey_Enter);
  d.window.settle(d.app);
  const auto& photos = d.app.session()->survey().rooms[0].photos;
  REQUIRE(photos.size() == 1);
  CHECK(photos[0].at == "/rooms/0/walls/0");
  CHECK(d.app.session()->undo_says() == "photo " + photos[0].file);
}

TEST_CASE("a photo's path cannot leave the job's folder") {
  const std::string survey = "/jobs/K-1.levelrun.json";
  CHECK(is_photo_path(survey, "K-1.photos/photo-1.png"));
  for (const char* path :
       {"../secret.png", "K-1.photos/../secret.png", "/etc/passwd", "K-1.photos/",
        "K-1.photos/a/b.png", "K-2.photos/photo-1.png", "K-1.photos/..", "photo.png"})
    CHECK_FALSE(is_photo_path(survey, path));
}
