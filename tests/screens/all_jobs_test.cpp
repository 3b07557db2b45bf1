// All jobs as one archive, and taken in again; archives of other programs and broken ones.
#include "app/jobs/all_jobs.h"

#include <doctest/doctest.h>

#include <cstdlib>

#include "app/jobs/zip_file.h"
#include "tests/screens/driven_app.h"
#include "tests/screens/invented_photos.h"

using namespace levelrun;

namespace {

std::string sample() { return file_text(SAMPLES "/small-l-kitchen.levelrun.json"); }

std::string photo() { return wall_photo(80, 60); }

bool any(std::string_view) { return true; }

std::string with_photo(const std::string& file) {
  Json document = Json::parse(sample());
  document["rooms"][0]["photos"] = {{{"file", file}, {"note", ""}}};
  return write_survey(document);
}

void put_file(const std::string& path, const std::string& bytes) {
  std::filesystem::create_directories(path.substr(0, path.rfind('/')));
  std::ofstream(path, std::ios::binary) << bytes;
}

}  // namespace

TEST_CASE("An archive has the structure that APPNOTE 4.3 asks for, and gives back what went in") {
  const std::vector<ZipEntry> in = {{"a.txt", "123456789"},
                                    {"Küche/ö.bin", std::string("\0\1\2", 3)}};
  const std::string zip = zipped(in);
  // The CRC-32 of "123456789" is 0xCBF43926 (APPNOTE 4.4.7 names the polynomial; the check value is
  // that of IEEE 802.3), stored little-endian behind 14 bytes.
  CHECK(zip.substr(0, 4) == "PK\3\4");
  CHECK(zip.substr(14, 4) == "\x26\x39\xF4\xCB");
  CHECK(zip.substr(zip.size() - 22, 4) == "PK\5\6");
  std::string why;
  const auto out = unzipped(zip, 1000, any, why);
  REQUIRE(out);
  REQUIRE(out->size() == 2);
  CHECK((*out)[1].name == in[1].name);
  CHECK((*out)[1].bytes == in[1].bytes);
  CHECK(zipped({}) == std::string("PK\5\6") + std::string(18, '\0'));
}

TEST_CASE("Python's zipfile reads our archive, and we read what it packs") {
  DrivenApp d;
  const std::string ours = d.folder + "/ours.zip", theirs = d.folder + "/theirs.zip";
  const std::string text(5000, 'x');
  put_file(ours, zipped({{"Küche.txt", text}, {"b/c.txt", "two"}}));
  const std::string python =
      "/usr/bin/python3 -c \"import sys,zipfile; a=zipfile.ZipFile(sys.argv[1]); assert "
      "a.testzip() is None; "
      "b=zipfile.ZipFile(sys.argv[2],'w',zipfile.ZIP_DEFLATED); [b.writestr(n,a.read(n)) for n in "
      "a.namelist()]; b.close()\" ";
  REQUIRE(std::system((python + ours + " " + theirs).c_str()) == 0);
  const std::string packed = file_text(theirs);
  CHECK(packed.size() < 1000);
  std::string why;
  const auto out = unzipped(packed, 10'000, any, why);
  REQUIRE(out);
  CHECK((*out)[0].name == "Küche.txt");
  CHECK((*out)[0].bytes == text);
  CHECK_FALSE(unzipped(packed, 4'999, any, why));
  CHECK(why == "is larger than what is taken in at once (0 MB).");
}

TEST_CASE("A damaged archive is refused whatever byte of it is wrong or missing") {
  const std::string zip = zipped({{"a.txt", "123456789"}, {"b.txt", "two"}});
  std::string why;
  for (std::size_t cut = 0; cut < zip.size(); ++cut)
    CHECK_FALSE(unzipped(std::string_view(zip).substr(0, cut), 1000, any, why));
  for (std::size_t at = 0; at < zip.size(); ++at)
    for (const int bit : {1, 128}) {
      std::string wrong = zip;
      wrong[at] = char(wrong[at] ^ bit);
      const auto out = unzipped(wrong, 1000, any, why);
      if (!out) continue;
      // What does not matter (a time, a name) may be wrong; the bytes are never.
      for (const ZipEntry& entry : *out)
        CHECK((entry.bytes == "123456789" || entry.bytes == "two"));
    }
}

TEST_CASE(
    "All jobs go out with what is only in the journal and with their photos, and come in once") {
  DrivenApp a;
  put_file(a.folder + "/one.photos/photo-1.jpg", photo());
  REQUIRE(a.open(with_photo("one.photos/photo-1.jpg"), "one.levelrun.json"));
  REQUIRE(a.app.session()->apply(
      Json::parse(R"([{"op":"replace","path":"/job/client","value":"only in the journal"}])"),
      "client"));
  put_file(a.folder + "/two.levelrun.json", sample());
  const AllJobs all = all_jobs(a.files, a.folder);
  CHECK(all.jobs == 2);
  CHECK(all.photos == 1);
  CHECK(all.zip == all_jobs(a.files, a.folder).zip);

  DrivenApp b;
  put_file(b.folder + "/two.levelrun.json", with_photo("none.jpg"));  // another job of that name
  b.app.file_came("jobs.zip", all.zip);
  CHECK(b.app.jobs_say() == "Taken in: 2 jobs, 1 photo.");
  CHECK(file_text(b.folder + "/two-2.levelrun.json") == sample());
  CHECK(file_text(b.folder + "/one.photos/photo-1.jpg") == photo());
  b.app.file_came("jobs.zip", all.zip);
  CHECK(b.app.jobs_say() == "Nothing was taken in. 2 jobs were here already.");
}

TEST_CASE("A photo of another job is not written over: the one taken in gets a name of its own") {
  DrivenApp d;
  put_file(d.folder + "/one.photos/photo-1.jpg", "another");
  d.app.file_came("jobs.zip", zipped({{"x/one.levelrun.json", with_photo("one.photos/photo-1.jpg")},
                                      {"x/one.photos/photo-1.jpg", photo()}}));
  CHECK(d.app.jobs_say() == "Taken in: 1 job, 1 photo.");
  CHECK(file_text(d.folder + "/one.photos/photo-1.jpg") == "another");
  CHECK(file_text(d.folder + "/one.photos/2-photo-1.jpg") == photo());
  CHECK(file_text(d.folder + "/one.levelrun.json").find("one.photos/2-photo-1.jpg") !=
        std::string::npos);
}

TEST_CASE("No name in an archive leads out of the folder of jobs") {
  DrivenApp d;
  d.app.file_came("jobs.zip", zipped({{"../../one.levelrun.json", with_photo("../../evil.jpg")},
                                      {"../../evil.jpg", photo()}}));
  CHECK(std::filesystem::exists(d.folder + "/one.levelrun.json"));
  CHECK_FALSE(std::filesystem::exists(d.folder + "/../../evil.jpg"));
  d.app.file_came("notes.zip", zipped({{"notes.txt", "no job"}}));
  CHECK(d.app.jobs_say() == "Nothing was taken in.");
}
