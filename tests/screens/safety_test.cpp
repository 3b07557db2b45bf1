// What the surveyor sees when the disk, another window or another person gets in the way.
#include <doctest/doctest.h>

#include <filesystem>

#include "tests/screens/driven_app.h"

using namespace levelrun;

namespace {

// A kitchen whose first wall has yet to be measured.
std::string kitchen() {
  Json document = Json::parse(file_text(std::string(SAMPLES) + "/small-l-kitchen.levelrun.json"));
  document["rooms"][0]["walls"][0]["lengths"] = Json::array();
  return write_survey(document);
}

std::size_t lengths(const DrivenApp& d) {
  return d.app.session()->survey().rooms[0].walls[0].lengths.size();
}

std::string all_notices(const Session& session) {
  std::string all;
  for (const std::string& one : session.notices()) all += one + "\n";
  return all;
}

}  // namespace

TEST_CASE("a full disk refuses the reading and keeps it on the pad; with room again it is booked") {
  DrivenApp d;
  REQUIRE(d.open(kitchen()));
  d.show(Page::walk);
  d.window.type(d.app, "3621");
  d.files.fails = std::make_error_code(std::errc::no_space_on_device);
  d.tap("Book");
  CHECK(lengths(d) == 0);
  CHECK(d.app.session()->trouble().find("No space left") != std::string::npos);
  d.files.fails = {};
  REQUIRE(d.tap("Book"));
  REQUIRE(lengths(d) == 1);
  CHECK(d.app.session()->survey().rooms[0].walls[0].lengths[0].length == 3621);
  CHECK(d.app.session()->trouble().empty());
}

TEST_CASE("a job left on a full disk says what was not written, and comes back whole") {
  DrivenApp d;
  REQUIRE(d.open(kitchen()));
  d.show(Page::walk);
  d.window.type(d.app, "3621\n");
  d.window.settle(d.app);
  REQUIRE(lengths(d) == 1);
  d.files.fails = std::make_error_code(std::errc::no_space_on_device);
  d.app.close();
  d.window.settle(d.app);
  CHECK(d.app.jobs_say().find("No space left") != std::string::npos);
  CHECK(d.app.jobs_say().find("comes back") != std::string::npos);
  d.files.fails = {};
  REQUIRE(d.app.open(d.path));
  CHECK(lengths(d) == 1);
}

TEST_CASE("a second window on a job looks on, is told, and overwrites nothing") {
  DrivenApp one;
  REQUIRE(one.open(kitchen()));
  TestPlatform platform(one.folder);
  DiskFiles files;
  App two(platform, files, {});
  REQUIRE(two.open(one.path));
  CHECK(two.session()->read_only());
  CHECK(all_notices(*two.session()).find("another window") != std::string::npos);
  CHECK_FALSE(two.session()->apply(Json::parse(R"([{"op":"remove","path":"/rooms/0"}])"), "all"));
  two.close();
  one.show(Page::walk);
  one.window.type(one.app, "3621\n");
  one.window.settle(one.app);
  CHECK(lengths(one) == 1);
}

TEST_CASE("a folder that cannot be written gives a job to look at, and says so") {
  DrivenApp d;
  d.files.fails = std::make_error_code(std::errc::read_only_file_system);
  REQUIRE(d.open(kitchen()));
  CHECK(d.app.session()->read_only());
  CHECK(all_notices(*d.app.session()).find("Read-only") != std::string::npos);
  d.show(Page::walk);
  d.window.type(d.app, "3621\n");
  d.window.settle(d.app);
  CHECK(lengths(d) == 0);
}

TEST_CASE("a file that someone else changed while it was open is kept, and so is ours") {
  DrivenApp d;
  REQUIRE(d.open(kitchen()));
  d.show(Page::walk);
  d.window.type(d.app, "3621\n");
  d.window.settle(d.app);
  Json theirs = Json::parse(kitchen());
  theirs["job"]["client"] = "somebody else";
  std::ofstream(d.path, std::ios::binary) << write_survey(theirs);
  d.app.close();
  d.window.settle(d.app);
  CHECK(d.app.jobs_say().find("changed") != std::string::npos);
  REQUIRE(d.app.open(d.path));
  CHECK(d.app.session()->survey().job.client == "somebody else");
  const std::string ours = d.folder + "/job (2).levelrun.json";
  REQUIRE(std::filesystem::exists(ours));
  const auto kept = read_survey(file_text(ours));
  REQUIRE(kept.ok());
  CHECK(kept.value().survey.rooms[0].walls[0].lengths.at(0).length == 3621);
}

TEST_CASE("a job pack handed out opens again as the survey inside it, as a job of its own") {
  DrivenApp d;
  REQUIRE(d.open(kitchen()));
  d.show(Page::job);
  REQUIRE(d.tap("Job pack"));
  std::string pack;
  for (const auto& file : std::filesystem::directory_iterator(d.folder))
    if (file.path().extension() == ".pdf") pack = file.path().string();
  REQUIRE_FALSE(pack.empty());
  const Json before = d.app.session()->document();
  d.app.close();
  REQUIRE(d.app.open(pack));
  CHECK(d.app.session()->document() == before);
  CHECK(d.app.session()->path().ends_with(".levelrun.json"));
  CHECK(d.app.session()->path() != d.path);
  // A PDF without a survey opens nothing.
  std::ofstream(d.folder + "/other.pdf") << "%PDF-1.4\nnothing\n";
  CHECK_FALSE(d.app.open(d.folder + "/other.pdf"));
}
