// The file layer on a POSIX system.
//
// A file is opened by its name for each operation: some 10 us beside the milliseconds of a sync,
// and nothing is left open when a tablet is put to sleep. fsync speaks of the file, not of the
// handle, and Linux reports a write-back error that nobody has seen yet to a handle opened later.
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <utility>

#include "survey/file_layer.h"

namespace levelrun {
namespace {

constexpr mode_t new_file_mode = 0666;  // less the umask, as any program's new file
constexpr int most_lock_tries = 100;    // a lock file may go while we wait for it

std::error_code error_of(int number) { return {number, std::system_category()}; }
std::error_code last_error() { return error_of(errno); }

// A file handle that closes itself.
class Handle {
 public:
  Handle(const std::string& path, int flags, mode_t mode = 0)
      : number_(::open(path.c_str(), flags | O_CLOEXEC, mode)) {}
  Handle(Handle&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  Handle& operator=(Handle&&) = delete;
  ~Handle() {
    if (open()) ::close(number_);
  }
  bool open() const { return number_ >= 0; }
  int number() const { return number_; }
  // A network's file system may keep its bad news for the close.
  std::error_code close() {
    return ::close(std::exchange(number_, -1)) == 0 ? error_of(0) : last_error();
  }

 private:
  int number_;
};

std::error_code write_all(const Handle& file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t put = ::write(file.number(), text.data(), text.size());
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return last_error();
    text.remove_prefix(static_cast<std::size_t>(put));
  }
  return {};
}

std::error_code sync_handle(const Handle& file) {
  return ::fsync(file.number()) == 0 ? error_of(0) : last_error();
}

class DiskLock : public FileLock {
 public:
  DiskLock(Handle file, std::string path) : file_(std::move(file)), path_(std::move(path)) {}
  ~DiskLock() override { ::unlink(path_.c_str()); }  // while it is still held

 private:
  Handle file_;
  std::string path_;
};

}  // namespace

std::error_code DiskFiles::read(const std::string& path, std::size_t most, std::string& text) {
  text.clear();
  const Handle file(path, O_RDONLY);
  if (!file.open()) return last_error();
  struct stat about {};
  if (::fstat(file.number(), &about) != 0) return last_error();
  if (S_ISDIR(about.st_mode)) return error_of(EISDIR);
  const bool sized = S_ISREG(about.st_mode) && about.st_size > 0;
  const auto stated = sized ? static_cast<std::size_t>(about.st_size) : std::size_t{0};
  if (stated > most) return error_of(EFBIG);

  constexpr std::size_t chunk = 64U << 10;
  std::size_t length = 0;
  while (length <= most) {
    // The stated size and one byte, to see the end at once; a file may also grow meanwhile.
    if (length == text.size()) {
      text.resize(std::min(std::max({stated + 1, 2 * length, chunk}), most + 1));
    }
    const ssize_t got = ::read(file.number(), text.data() + length, text.size() - length);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) {
      const std::error_code error = last_error();
      text.clear();
      return error;
    }
    if (got == 0) {
      text.resize(length);
      return {};
    }
    length += static_cast<std::size_t>(got);
  }
  text.clear();
  return error_of(EFBIG);
}

std::error_code DiskFiles::size(const std::string& path, std::size_t& bytes) {
  struct stat about {};
  if (::stat(path.c_str(), &about) != 0) return last_error();
  bytes = static_cast<std::size_t>(about.st_size);
  return {};
}

std::error_code DiskFiles::create(const std::string& path, std::string_view text,
                                  const std::string& like) {
  Handle file(path, O_WRONLY | O_CREAT | O_EXCL, new_file_mode);
  if (!file.open()) return last_error();
  if (!like.empty()) {
    struct stat about {};
    if (::stat(like.c_str(), &about) != 0) return last_error();
    if (::fchmod(file.number(), about.st_mode & 07777) != 0) return last_error();
  }
  if (const auto error = write_all(file, text)) return error;
  return file.close();
}

std::error_code DiskFiles::append(const std::string& path, std::string_view text) {
  Handle file(path, O_WRONLY | O_APPEND);
  if (!file.open()) return last_error();
  if (const auto error = write_all(file, text)) return error;
  return file.close();
}

std::error_code DiskFiles::cut(const std::string& path, std::size_t bytes) {
  return ::truncate(path.c_str(), static_cast<off_t>(bytes)) == 0 ? error_of(0) : last_error();
}

std::error_code DiskFiles::sync(const std::string& path) {
  const Handle file(path, O_RDONLY);
  return file.open() ? sync_handle(file) : last_error();
}

std::error_code DiskFiles::sync_folder(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  const Handle folder(slash == path.npos ? "." : path.substr(0, slash + 1), O_RDONLY | O_DIRECTORY);
  if (!folder.open()) return errno == EACCES ? error_of(0) : last_error();  // may not be listed
  const auto error = sync_handle(folder);
  // Some file systems have no such thing.
  return error.value() == EINVAL || error.value() == ENOTSUP ? error_of(0) : error;
}

std::error_code DiskFiles::rename(const std::string& from, const std::string& to) {
  return ::rename(from.c_str(), to.c_str()) == 0 ? error_of(0) : last_error();
}

std::error_code DiskFiles::remove(const std::string& path) {
  return ::unlink(path.c_str()) == 0 ? error_of(0) : last_error();
}

std::error_code DiskFiles::list(const std::string& folder, std::vector<std::string>& names) {
  names.clear();
  std::error_code error;
  std::filesystem::directory_iterator entry(folder, error);
  for (; !error && entry != std::filesystem::directory_iterator(); entry.increment(error)) {
    names.push_back(entry->path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return error;
}

std::error_code DiskFiles::lock(const std::string& path, std::unique_ptr<FileLock>& held) {
  for (int i = 0; i < most_lock_tries; ++i) {
    Handle file(path, O_RDWR | O_CREAT, new_file_mode);
    if (!file.open()) return last_error();
    if (::flock(file.number(), LOCK_EX | LOCK_NB) != 0) {
      const bool has_locks = errno != ENOLCK && errno != ENOTSUP && errno != EINVAL;
      if (has_locks) return errno == EINTR ? error_of(EAGAIN) : last_error();
    }
    // Whoever held it before may have removed the file between our two calls.
    struct stat ours {
    }, named{};
    if (::fstat(file.number(), &ours) == 0 && ::stat(path.c_str(), &named) == 0 &&
        ours.st_dev == named.st_dev && ours.st_ino == named.st_ino) {
      held = std::make_unique<DiskLock>(std::move(file), path);
      return {};
    }
  }
  return error_of(EAGAIN);
}

std::string DiskFiles::resolved(const std::string& path) {
  std::error_code error;
  const auto target = std::filesystem::canonical(path, error);
  return error ? path : target.string();
}

}  // namespace levelrun
