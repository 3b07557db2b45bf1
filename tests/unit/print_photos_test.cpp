// Photos in print: what of a JPEG is kept, what is refused, and that it stands in the as-built PDF.
#include "app/pack/print_photos.h"

#include <doctest/doctest.h>

#include "app/pack/as_built.h"
#include "checks/solve.h"
#include "survey/survey_file.h"

using namespace levelrun;

namespace {

std::string segment(int marker, const std::string& content) {
  const std::size_t length = content.size() + 2;
  return std::string("\xFF") + char(marker) + char(length / 256) + char(length % 256) + content;
}

// Frame and scan as ITU-T T.81 lays them out; nobody decodes them here.
const std::string start("\xFF\xD8", 2), end("\xFF\xD9", 2);
const std::string jfif = segment(0xE0, std::string("JFIF\0\1\1\0\0\1\0\1\0\0", 14));
const std::string exif = segment(0xE1, "Exif: where it was taken");
const std::string comment = segment(0xFE, "a camera");
const std::string frame = segment(0xC0, std::string("\x08\0\x02\0\x03\x01\x01\x11\0", 9));
const std::string scan =
    segment(0xDA, std::string("\x01\x01\0\0\x3F\0", 6)) + std::string(
                                                              "AB\xFF\0C\xFF\xD0"
                                                              "D",
                                                              8);

}  // namespace

TEST_CASE("a photo is printed as it is, without what the camera wrote beside it") {
  const auto plain = plain_jpeg(start + jfif + exif + comment + frame + scan + end + "more");
  REQUIRE(plain);
  CHECK(plain->w == 3);
  CHECK(plain->h == 2);
  CHECK(plain->bytes == start + jfif + frame + scan + end);
  // A second scan, as progressive files have.
  const auto two = plain_jpeg(start + frame + scan + exif + scan + end);
  REQUIRE(two);
  CHECK(two->bytes == start + frame + scan + scan + end);
}

TEST_CASE("what is no whole JPEG is not printed") {
  const std::string whole = start + jfif + frame + scan + end;
  for (std::size_t n = 0; n < whole.size(); ++n) CHECK_FALSE(plain_jpeg(whole.substr(0, n)));
  CHECK_FALSE(plain_jpeg("\x89PNG\r\n\x1A\n and so on"));
  CHECK_FALSE(plain_jpeg(start + scan + end));   // no frame
  CHECK_FALSE(plain_jpeg(start + frame + end));  // no picture
  // Four colours, and 12 bits.
  const std::string four =
      segment(0xC0, std::string("\x08\0\x02\0\x03\x04", 6) + std::string(12, 1));
  const std::string deep = segment(0xC1, std::string("\x0C\0\x02\0\x03\x01\x01\x11\0", 9));
  CHECK_FALSE(plain_jpeg(start + four + scan + end));
  CHECK_FALSE(plain_jpeg(start + deep + scan + end));
}

TEST_CASE("a snag's photo stands in the as-built sheets; one that is missing is named") {
  Json job = Json::parse(
      load_survey_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json").value());
  job["install"]["snags"] =
      Json::array({{{"id", "N1"},
                    {"text", "front scratched"},
                    {"at", "2026-04-20T16:05:00Z"},
                    {"by", "a.b."},
                    {"place", {{"wall", "W1"}, {"along", 900}, {"out", 0}}}}});
  job["rooms"][0]["photos"] =
      Json::array({{{"file", "j.photos/photo-1.jpg"}, {"at", "/install/snags/0"}, {"note", ""}},
                   {{"file", "j.photos/photo-2.jpg"}, {"at", ""}, {"note", "before"}}});
  const std::string text = job.dump();
  const auto file = read_survey(text);
  REQUIRE(file.ok());
  const Results results = solve(file.value().survey);
  PackOptions options;
  PrintPhoto one, two;
  one.file = "j.photos/photo-1.jpg";
  one.picture = plain_jpeg(start + jfif + frame + scan + end);
  two.file = "j.photos/photo-2.jpg";
  two.missing = true;
  options.photos = {one, two};
  std::string why;
  const std::string with = as_built(text, file.value(), results, options, why);
  CHECK(why == "");
  CHECK(with.find("/DCTDecode") != std::string::npos);
  CHECK(with.find(one.picture->bytes) != std::string::npos);
  // The library takes no such file: the sheets come all the same.
  options.photos[0].picture->bytes = "no picture";
  const std::string without = as_built(text, file.value(), results, options, why);
  CHECK(why == "");
  CHECK(without.starts_with("%PDF"));
}

TEST_CASE("photos are looked for beside the survey and nowhere else") {
  Survey survey;
  survey.rooms.emplace_back();
  survey.rooms[0].photos = {{"../secret.jpg", "", ""}, {"/etc/hostname", "", ""}};
  DiskFiles disk;
  for (const PrintPhoto& photo : print_photos(disk, "/tmp/j.levelrun.json", survey)) {
    CHECK(photo.missing);
    CHECK_FALSE(photo.picture);
  }
}
