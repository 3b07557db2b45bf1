#include "app/jobs/photos.h"

#include <doctest/doctest.h>

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

TEST_CASE("a photo's path cannot leave the job's folder") {
  const std::string survey = "/jobs/K-1.levelrun.json";
  CHECK(is_photo_path(survey, "K-1.photos/photo-1.png"));
  for (const char* path :
       {"../secret.png", "K-1.photos/../secret.png", "/etc/passwd", "K-1.photos/",
        "K-1.photos/a/b.png", "K-2.photos/photo-1.png", "K-1.photos/..", "photo.png"})
    CHECK_FALSE(is_photo_path(survey, path));
}
