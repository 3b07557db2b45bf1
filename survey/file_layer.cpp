// A file replaced whole. rename() within a folder is atomic (POSIX), and only after a sync is
// what it names on the disk; the folder's own sync makes the new name last. The temporary file
// never has the name of a survey, so nothing left behind by a crash is taken for one.
#include "survey/file_layer.h"

#include <unistd.h>

namespace levelrun {
namespace {

constexpr int most_tries = 100;  // names left behind by earlier crashes

std::string beside(const std::string& path, const std::string& name) {
  const std::size_t slash = path.rfind('/');
  return (slash == path.npos ? "./" : path.substr(0, slash + 1)) + name;
}

}  // namespace

std::error_code replace_file(FileLayer& files, const std::string& path, std::string_view text) {
  const std::string target = files.resolved(path);
  std::size_t old_size = 0;
  std::error_code error = files.size(target, old_size);
  const bool exists = !error;
  if (!exists && error != std::errc::no_such_file_or_directory) return error;

  std::string temporary;
  error = std::make_error_code(std::errc::file_exists);
  for (int i = 0; i < most_tries && error == std::errc::file_exists; ++i) {
    temporary =
        beside(target, ".levelrun-" + std::to_string(getpid()) + "-" + std::to_string(i) + ".tmp");
    error = files.create(temporary, text, exists ? target : "");
  }
  if (error == std::errc::file_exists) return error;  // none of these files is ours

  if (!error) error = files.sync(temporary);
  if (!error) error = files.rename(temporary, target);
  if (error) {
    files.remove(temporary);
    return error;
  }
  return files.sync_folder(target);
}

}  // namespace levelrun
