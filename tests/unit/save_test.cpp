// Files: loading within bounds, saving whole or not at all.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "survey/survey_file.h"
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
  std::size_t entries() const {
    return static_cast<std::size_t>(
        std::distance(fs::directory_iterator(path), fs::directory_iterator()));
  }
  fs::path path;
};

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

mode_t mode_of(const std::string& path) {
  struct stat about {};
  return stat(path.c_str(), &about) == 0 ? about.st_mode & 07777 : 0;
}

void check_refused(const Result<SurveyFile>& result, const std::string& found) {
  REQUIRE_FALSE(result.ok());
  REQUIRE(result.problems().size() == 1);
  CHECK(result.problems()[0].at == "");
  CHECK(result.problems()[0].found == found);
}

}  // namespace

TEST_CASE("what is saved is what is loaded") {
  const TemporaryFolder folder;
  const std::string path = folder.file("job.levelrun.json");
  const std::string text = write_survey(document_of(every_field));
  CHECK(save_text(path, text).empty());
  CHECK(text_of(path) == text);
  const auto loaded = load_survey(path);
  REQUIRE(loaded.ok());
  CHECK(write_survey(loaded.value().document) == text);
  CHECK(folder.entries() == 1);
}

TEST_CASE("a save keeps the old file's permissions and its link") {
  const TemporaryFolder folder;
  const std::string path = folder.file("job.levelrun.json");
  const mode_t mask = umask(027);
  CHECK(save_text(path, "old").empty());
  umask(mask);
  CHECK(mode_of(path) == 0640);
  REQUIRE(chmod(path.c_str(), 0604) == 0);
  const std::string link = folder.file("link.levelrun.json");
  fs::create_symlink(path, link);
  CHECK(save_text(link, "new").empty());
  CHECK(fs::is_symlink(link));
  CHECK(text_of(path) == "new");
  CHECK(mode_of(path) == 0604);
}

TEST_CASE("a save that cannot be made leaves the old file and nothing else") {
  const TemporaryFolder folder;
  const std::string path = folder.file("job.levelrun.json");
  REQUIRE(save_text(path, "old").empty());

  SUBCASE("every temporary name is taken") {
    for (int i = 0; i < 100; ++i) {
      std::ofstream(
          folder.file(".levelrun-" + std::to_string(getpid()) + "-" + std::to_string(i) + ".tmp"));
    }
    const auto problems = save_text(path, "new");
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].at == "");
    CHECK(problems[0].found == "File exists");
    CHECK(folder.entries() == 101);
  }
  SUBCASE("the disk takes only a part of it") {
    struct rlimit before {};
    REQUIRE(getrlimit(RLIMIT_FSIZE, &before) == 0);
    struct rlimit small = before;
    small.rlim_cur = 1000;
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
    const auto problems = save_text(path, std::string(5000, 'x'));
    REQUIRE(setrlimit(RLIMIT_FSIZE, &before) == 0);
    std::signal(SIGXFSZ, handler);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].found == "File too large");
    CHECK(folder.entries() == 1);
  }
  CHECK(text_of(path) == "old");
}

TEST_CASE("a path that no file can have is refused with the system's word") {
  const TemporaryFolder folder;
  const std::string file = folder.file("file");
  REQUIRE(save_text(file, "old").empty());
  const struct {
    std::string path, found;
  } cases[] = {{file + "/job.levelrun.json", "Not a directory"},
               {folder.file("none/job.levelrun.json"), "No such file or directory"},
               {folder.file(std::string(300, 'n')), "File name too long"},
               {folder.path.string(), "something that is not a file"},
               {"/dev/null", "something that is not a file"}};
  for (const auto& c : cases) {
    CAPTURE(c.path);
    const auto problems = save_text(c.path, "new");
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].found == c.found);
  }
  CHECK(text_of(file) == "old");
  CHECK(folder.entries() == 1);
}

TEST_CASE("what cannot be loaded is refused: no file, a folder, a giant, a pipe without end") {
  const TemporaryFolder folder;
  check_refused(load_survey(folder.file("none.levelrun.json")), "nothing: there is no such file");
  check_refused(load_survey(folder.path.string()), "a folder");
  check_refused(load_survey("/dev/null"), "an empty file");
  check_refused(load_survey("/dev/zero"), "more than 16777216 bytes");

  // Sparse, so it takes no disk; were it read, the words would be those for a longer text.
  const std::string giant = folder.file("giant.levelrun.json");
  std::ofstream(giant).put('{');
  REQUIRE(truncate(giant.c_str(), 200L << 20) == 0);
  check_refused(load_survey(giant), "209715200 bytes");
}
