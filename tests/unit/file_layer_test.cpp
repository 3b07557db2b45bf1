// The file layer on this machine's own disk.
#include <doctest/doctest.h>
#include <sys/resource.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "survey/open_job.h"
#include "survey_texts.h"

using namespace levelrun;
namespace fs = std::filesystem;

namespace {

struct TemporaryFolder {
  TemporaryFolder() {
    std::string name = (fs::temp_directory_path() / "levelrun-test-XXXXXX").string();
    path = mkdtemp(name.data());
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path, ignored);
  }
  std::string file(const std::string& name) const { return (path / name).string(); }
  fs::path path;
};

}  // namespace

TEST_CASE("the disk does what the file layer promises") {
  const TemporaryFolder folder;
  DiskFiles disk;
  const std::string file = folder.file("a"), other = folder.file("b");
  std::string text;
  std::size_t size = 0;
  CHECK(disk.append(file, "x") == std::errc::no_such_file_or_directory);
  CHECK(disk.read(file, 10, text) == std::errc::no_such_file_or_directory);
  CHECK(disk.size(file, size) == std::errc::no_such_file_or_directory);
  CHECK_FALSE(disk.create(file, "one", ""));
  CHECK(disk.create(file, "two", "") == std::errc::file_exists);
  CHECK_FALSE(disk.append(file, " two three"));
  CHECK_FALSE(disk.cut(file, 7));
  CHECK_FALSE(disk.sync(file));
  CHECK_FALSE(disk.read(file, 7, text));
  CHECK(text == "one two");
  CHECK(disk.read(file, 6, text) == std::errc::file_too_large);
  CHECK(text.empty());
  CHECK_FALSE(disk.size(file, size));
  CHECK(size == 7);
  CHECK_FALSE(disk.create(other, "", file));
  CHECK_FALSE(disk.rename(file, other));
  CHECK_FALSE(disk.sync_folder(other));
  std::vector<std::string> names;
  CHECK_FALSE(disk.list(folder.path.string(), names));
  CHECK(names == std::vector<std::string>{"b"});
  CHECK_FALSE(disk.remove(other));
  CHECK(disk.list(folder.file("none"), names));
  CHECK(names.empty());
}

TEST_CASE("a lock is one window's, and its file goes with it") {
  const TemporaryFolder folder;
  DiskFiles one, two;
  const std::string file = folder.file("job.lock");
  std::unique_ptr<FileLock> first, second;
  CHECK_FALSE(one.lock(file, first));
  CHECK(two.lock(file, second) == std::errc::resource_unavailable_try_again);
  CHECK_FALSE(second);
  first.reset();
  CHECK_FALSE(fs::exists(file));
  CHECK_FALSE(two.lock(file, second));
}

TEST_CASE("a job on the disk: edited, full, opened again") {
  const TemporaryFolder folder;
  const std::string path = folder.file("S-1.levelrun.json");
  const std::string journal = journal_path_beside(path);
  const Json note = Json::array({{{"op", "add"}, {"path", "/job/notes"}, {"value", "one"}}});
  const By by{"R. Field", "2024-03-11T10:00:00+01:00"};
  REQUIRE(save_text(path, small_job).empty());
  DiskFiles disk;
  {
    auto job = open_job(path, journal, disk);
    REQUIRE(job.ok());
    REQUIRE(job.value().apply(note, "note", by).empty());
    const auto size = fs::file_size(journal);

    // A file-size limit stops the append half-way, as a full disk does.
    Json second = note;
    second[0]["value"] = std::string(3000, 'x');
    struct rlimit before {};
    REQUIRE(getrlimit(RLIMIT_FSIZE, &before) == 0);
    struct rlimit small = before;
    small.rlim_cur = size + 100;
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
    const auto problems = job.value().apply(second, "a long note", by);
    REQUIRE(setrlimit(RLIMIT_FSIZE, &before) == 0);
    std::signal(SIGXFSZ, handler);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].found == "not saved: File too large");
    CHECK(fs::file_size(journal) == size);
    CHECK(job.value().document()["job"]["notes"] == "one");
  }
  auto job = open_job(path, journal, disk);
  REQUIRE(job.ok());
  CHECK(job.value().document()["job"]["notes"] == "one");
  CHECK(job.value().notices().empty());
  REQUIRE(job.value().save_snapshot(by).empty());
  const auto saved = load_survey(path);
  REQUIRE(saved.ok());
  CHECK(saved.value().document == job.value().document());
}
