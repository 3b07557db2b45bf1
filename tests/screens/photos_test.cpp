#include "app/jobs/photos.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>

#include "app/jobs/photo_picture.h"
#include "app/screens/photo_parts.h"
#include "tests/screens/driven_app.h"

using namespace levelrun;
using namespace std::string_literals;

namespace {

constexpr const char* place = "CAMERA AND PLACE";

// A photo of one colour, with what a camera adds in front.
std::string plain_jpeg(int w, int h, int r, int g, int b) {
  PhotoPixels p{w, h, {}};
  for (int i = 0; i < w * h; ++i)
    for (const int part : {r, g, b}) p.rgb.push_back(std::uint8_t(part));
  const std::string jpeg = photo_jpeg(p), added = "Exif\0\0"s + place;
  return jpeg.substr(0, 2) + "\xFF\xE1\0"s + char(added.size() + 2) + added + jpeg.substr(2);
}

std::string sample(const char* name) {
  return file_text(std::string(SAMPLES) + "/" + name + ".levelrun.json");
}

void write(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

void to_lists_end(DrivenApp& d, float x, float y) {
  for (int n = 0; n < 40; ++n) {
    ImGui::GetIO().AddMousePosEvent(x, y);
    ImGui::GetIO().AddMouseWheelEvent(0, -5);
    d.window.settle(d.app);
  }
}

// How many pixels of the screen have about this colour.
int pixels_of(DrivenApp& d, int r, int g, int b) {
  const Picture shot = d.window.picture(d.app);
  int count = 0;
  for (std::size_t i = 0; i < shot.rgb.size(); i += 3)
    count += std::abs(shot.rgb[i] - r) < 12 && std::abs(shot.rgb[i + 1] - g) < 12 &&
             std::abs(shot.rgb[i + 2] - b) < 12;
  return count;
}

bool taps(DrivenApp& d, std::string_view label) {
  const bool there = d.tap(label);
  d.window.settle(d.app);
  return there;
}

}  // namespace

TEST_CASE("a photo is kept beside the survey without what the camera added, and named in it") {
  DrivenApp d;
  REQUIRE(d.open(sample("small-l-kitchen")));
  const std::string jpg = d.folder + "/cam.jpg", text = d.folder + "/cam.txt";
  write(jpg, plain_jpeg(64, 48, 200, 40, 160));
  write(text, "no picture");
  std::string why;
  const std::string kept = keep_photo(d.files, d.path, jpg, why);
  CHECK(kept == "job.photos/photo-1.jpg");
  const std::string bytes = file_text(d.folder + "/" + kept);
  CHECK(photo_orientation(bytes) == 1);
  CHECK(file_text(jpg).find(place) != std::string::npos);
  CHECK(bytes.find(place) == bytes.npos);
  CHECK(bytes.find("Exif") == bytes.npos);
  CHECK(keep_photo(d.files, d.path, jpg, why) == "job.photos/photo-2.jpg");
  CHECK(keep_photo(d.files, d.path, text, why).empty());
  CHECK(why == "cam.txt is no JPEG or PNG picture.");
  CHECK(keep_photo(d.files, d.path, d.folder + "/none.png", why).empty());
  CHECK(why.starts_with("none.png: "));
  std::filesystem::resize_file(text, most_photo + 1);
  CHECK(keep_photo(d.files, d.path, text, why).empty());
  CHECK(why == "cam.txt is larger than 50 MB.");
  Session& session = *d.app.session();
  REQUIRE(session.apply(photo_patch(session.document(), 0, kept, "/rooms/0/walls/0", "the boxing"),
                        "photo"));
  REQUIRE(session.survey().rooms[0].photos.size() == 1);
  CHECK(session.survey().rooms[0].photos[0].file == kept);
}

TEST_CASE(
    "whatever a picture's file is called, it is kept under a name of ours in the job's folder") {
  DrivenApp d;
  REQUIRE(d.open(sample("small-l-kitchen")));
  const std::string bytes = plain_jpeg(16, 16, 9, 9, 9);
  std::string why;
  for (const char* name : {"../../up.jpg", "/etc/passwd", "C:\\x.jpg", "", "photo-1.jpg"}) {
    const std::string kept = keep_photo_bytes(d.files, d.path, name, bytes, why);
    CAPTURE(name);
    CHECK(kept.starts_with("job.photos/photo-"));
    CHECK(std::filesystem::exists(d.folder + "/" + kept));
  }
  d.files.fails = std::make_error_code(std::errc::no_space_on_device);
  CHECK(keep_photo_bytes(d.files, d.path, "cam.jpg", bytes, why).empty());
  CHECK(why.starts_with("cam.jpg was not kept: "));
}

TEST_CASE("a photo's name in a survey cannot lead out of the job's folder") {
  const std::string survey = "/jobs/K-1.levelrun.json";
  CHECK(photo_path(survey, "K-1.photos/photo-1.png") == "/jobs/K-1.photos/photo-1.png");
  CHECK(photo_path(survey, "photo.png") == "/jobs/photo.png");
  CHECK(photo_path("K-1.levelrun.json", "a/b.jpg") == "./a/b.jpg");
  for (const std::string& file :
       {"../secret.png"s, "K-1.photos/../../secret.png"s, "/etc/passwd"s, "K-1.photos/"s, ""s,
        "K-1.photos/.."s, ".."s, "./a.png"s, "a//b.png"s, "C:\\a.png"s, "..\\a.png"s, "C:a.png"s,
        "a.png\0.txt"s}) {
    CAPTURE(file);
    CHECK(photo_path(survey, file).empty());
  }
}

TEST_CASE("a photo of a wall is added on the Walls page by its path, is seen there, and large") {
  DrivenApp d(1280, 800);
  REQUIRE(d.open(sample("knocked-through")));
  d.show(Page::walls);
  write(d.folder + "/cam.jpg", plain_jpeg(320, 240, 200, 40, 160));
  to_lists_end(d, 1000, 400);
  CHECK_FALSE(d.has("photo"));
  CHECK(pixels_of(d, 200, 40, 160) == 0);
  REQUIRE(taps(d, "Add a photo"));
  to_lists_end(d, 1000, 400);
  REQUIRE(taps(d, "photo"));
  REQUIRE(taps(d, "photo"));
  d.window.type(d.app, d.folder + "/cam.jpg");
  d.window.key(d.app, ImGuiKey_Enter);
  d.window.settle(d.app);
  const Session& session = *d.app.session();
  const auto photos = [&] { return session.survey().rooms[0].photos; };
  REQUIRE(photos().size() == 1);
  CHECK(photos()[0].at == "/rooms/0/walls/0");
  CHECK(session.undo_says() == "photo job.photos/photo-1.jpg");
  to_lists_end(d, 1000, 400);
  const int small = pixels_of(d, 200, 40, 160);
  CHECK(small > 5000);  // 96 by 72
  CHECK(d.platform.pictures == 1);

  REQUIRE(taps(d, "Photo 1"));
  CHECK(pixels_of(d, 200, 40, 160) > 40 * small);
  REQUIRE(taps(d, "photo note"));
  REQUIRE(taps(d, "photo note"));
  d.window.type(d.app, "boxing hides the stack");
  d.window.key(d.app, ImGuiKey_Enter);
  d.window.settle(d.app);
  CHECK(photos()[0].note == "boxing hides the stack");

  // The device's own Back, and the key: to the wall.
  CHECK(d.app.back());
  d.window.settle(d.app);
  CHECK(d.app.page() == Page::walls);
  CHECK(d.has("Next wall"));
  CHECK(d.platform.pictures == 1);
  REQUIRE(taps(d, "Photo 1"));
  REQUIRE(taps(d, "Back"));
  CHECK(d.has("Next wall"));

  // Deleted at once, and back by Undo: its file has stayed.
  REQUIRE(taps(d, "Photo 1"));
  REQUIRE(taps(d, "Delete"));
  CHECK(photos().empty());
  CHECK(pixels_of(d, 200, 40, 160) == 0);
  REQUIRE(taps(d, "Undo"));
  CHECK(photos().size() == 1);
  CHECK(pixels_of(d, 200, 40, 160) == small);

  // Another page: no texture is left.
  d.show(Page::runs);
  CHECK(d.platform.pictures == 0);
}

TEST_CASE("a photo that the machine's camera brings goes where it was asked for") {
  DrivenApp d;
  d.platform.has_camera = true;
  REQUIRE(d.open(sample("knocked-through")));
  d.show(Page::job);
  to_lists_end(d, 400, 600);
  REQUIRE(taps(d, "Add a photo"));
  CHECK_FALSE(d.has("photo"));
  d.app.file_came("IMG_1.heic",
                  "\0\0\0\x18"
                  "ftypheic\0\0\0\0"s);
  d.window.settle(d.app);
  REQUIRE(d.app.session());
  CHECK(d.app.session()->survey().rooms[0].photos.empty());
  CHECK(d.app.photos().said.starts_with("IMG_1.heic is a HEIF picture"));
  d.app.file_came("IMG_2.jpg", plain_jpeg(90, 120, 30, 90, 200));
  to_lists_end(d, 400, 600);
  REQUIRE(d.app.session()->survey().rooms[0].photos.size() == 1);
  CHECK(d.app.session()->survey().rooms[0].photos[0].at.empty());
  CHECK(d.app.photos().said == "Kept as job.photos/photo-1.jpg.");
  CHECK(pixels_of(d, 30, 90, 200) > 3000);  // 54 by 72
  REQUIRE(taps(d, "Photo 1"));
  CHECK(d.app.back());
  d.window.settle(d.app);
  CHECK(d.has("Copy out"));
  // A survey that comes is a survey still.
  d.app.file_came("other.levelrun.json", sample("small-l-kitchen"));
  CHECK(d.app.session()->path().ends_with("other.levelrun.json"));
}

TEST_CASE("a photo that is not there, leads elsewhere or is damaged is said in a sentence") {
  DrivenApp d;
  std::string text = sample("small-l-kitchen");
  write(d.folder + "/broken.jpg", plain_jpeg(64, 48, 1, 2, 3).substr(0, 200));
  REQUIRE(d.open(text));
  Session& session = *d.app.session();
  for (const char* file : {"job.photos/gone.jpg", "../../etc/passwd", "broken.jpg"})
    REQUIRE(session.apply(photo_patch(session.document(), 0, file, "", ""), "photo"));
  d.show(Page::job);
  to_lists_end(d, 400, 600);
  const auto& photos = session.survey().rooms[0].photos;
  const auto why = [&](Index i) { return d.app.photos().large(session, photos[i], 100).why; };
  CHECK(why(0) == "The picture is not on this machine. Put its file beside the job to see it.");
  CHECK(why(1) == "Its name leads out of the folder this job is in, so it is not opened.");
  CHECK(why(2) == "The file is cut off: its end is missing.");
  for (const char* label : {"Photo 1", "Photo 2", "Photo 3"}) {
    REQUIRE(taps(d, label));
    CHECK(d.has("Back"));
    CHECK_FALSE(d.has("The photo"));
    CHECK(d.app.touch().cut().empty());
    REQUIRE(taps(d, "Back"));
  }
  CHECK(d.platform.pictures == 0);
}

TEST_CASE("a disk that takes nothing gets no photo, and none is named") {
  DrivenApp d;
  d.platform.has_camera = true;
  REQUIRE(d.open(sample("small-l-kitchen")));
  Session& session = *d.app.session();
  d.files.fails = std::make_error_code(std::errc::read_only_file_system);
  d.app.file_came("cam.jpg", plain_jpeg(16, 16, 9, 9, 9));
  CHECK(session.survey().rooms[0].photos.empty());
  CHECK(!d.app.photos().said.empty());
  CHECK_FALSE(std::filesystem::exists(d.folder + "/job.photos/photo-1.jpg"));
}

TEST_CASE("textures of photos are bounded, and made anew when the renderer lost them") {
  DrivenApp d(800, 1280);
  REQUIRE(d.open(sample("small-l-kitchen")));
  Session& session = *d.app.session();
  std::string why;
  const std::string bytes = plain_jpeg(300, 200, 120, 10, 60);
  for (int n = 0; n < 60; ++n)
    REQUIRE(session.apply(photo_patch(session.document(), 0,
                                      keep_photo_bytes(d.files, d.path, "x", bytes, why), "", ""),
                          "photo"));
  d.show(Page::job);
  int most = 0;
  for (int n = 0; n < 160; ++n) {
    ImGui::GetIO().AddMousePosEvent(400, 600);
    ImGui::GetIO().AddMouseWheelEvent(0, -2);
    d.window.frame(d.app);
    most = std::max(most, d.platform.pictures);
  }
  CHECK(most > 30);
  CHECK(most <= 32 + 16);  // out of sight and kept, and in sight
  d.window.settle(d.app);
  const int before = pixels_of(d, 120, 10, 60), held = d.platform.pictures;
  d.app.pictures_lost();  // the renderer took them with it
  d.window.settle(d.app);
  CHECK(pixels_of(d, 120, 10, 60) == before);
  CHECK(d.platform.pictures > held);  // those lost are not given back
}
