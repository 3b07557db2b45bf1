// Saving: the document as text, and text put on disk so that no crash can leave half of it.
//
// rename() within a folder is atomic (POSIX), and only after fsync is what it names on the
// disk; the folder's own fsync makes the new name last. The temporary file never has the name
// of a survey, so nothing left behind by a crash is taken for one.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <string>
#include <system_error>

#include "survey/survey_file.h"

namespace levelrun {
namespace {

constexpr int most_tries = 100;         // names left behind by earlier crashes
constexpr mode_t new_file_mode = 0666;  // less the umask, as any program's new file

std::vector<Problem> cannot_save(std::string found) {
  return {{"", std::move(found), "a file that can be saved"}};
}

std::vector<Problem> system_says(int error) {
  return cannot_save(std::system_category().message(error));
}

// 0, or errno.
int write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t put = write(file, text.data(), text.size());
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return errno;
    text.remove_prefix(static_cast<std::size_t>(put));
  }
  return 0;
}

int write_whole_file(int file, std::string_view text, const struct stat* old) {
  if (old && fchmod(file, old->st_mode & 07777) != 0) return errno;
  if (const int error = write_all(file, text)) return error;
  return fsync(file) == 0 ? 0 : errno;
}

int sync_folder(const std::string& folder) {
  const int handle = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (handle < 0) return errno == EACCES ? 0 : errno;  // may write in it, may not list it
  const int error = fsync(handle) == 0 ? 0 : errno;
  close(handle);
  return error == EINVAL || error == ENOTSUP ? 0 : error;  // this file system has no such thing
}

// The file itself where path is a link to it, so that the link stays.
std::string resolved(const std::string& path) {
  std::error_code error;
  const auto target = std::filesystem::canonical(path, error);
  return error ? path : target.string();
}

}  // namespace

std::string write_survey(const Json& document) {
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::vector<Problem> save_text(const std::string& path, std::string_view text) {
  const std::string target = resolved(path);
  const std::size_t slash = target.rfind('/');
  const std::string folder = slash == target.npos ? "." : target.substr(0, slash + 1);

  struct stat about {};
  const bool exists = stat(target.c_str(), &about) == 0;
  if (!exists && errno != ENOENT) return system_says(errno);
  if (exists && !S_ISREG(about.st_mode)) return cannot_save("something that is not a file");

  std::string temporary;
  int file = -1;
  for (int i = 0; i < most_tries && file < 0; ++i) {
    temporary = folder + (folder == "." ? "/" : "") + ".levelrun-" + std::to_string(getpid()) +
                "-" + std::to_string(i) + ".tmp";
    file = open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, new_file_mode);
    if (file < 0 && errno != EEXIST) return system_says(errno);
  }
  if (file < 0) return system_says(EEXIST);

  int error = write_whole_file(file, text, exists ? &about : nullptr);
  if (close(file) != 0 && error == 0) error = errno;
  if (error == 0 && rename(temporary.c_str(), target.c_str()) != 0) error = errno;
  if (error != 0) {
    unlink(temporary.c_str());
    return system_says(error);
  }
  if ((error = sync_folder(folder)) != 0) return system_says(error);
  return {};
}

}  // namespace levelrun
