// The few operations that safe writing needs, and nothing else, so that a test can fail or stop
// at any one of them and a browser's storage can stand in for the disk.
//
// Every operation returns an error that is false when it was done; message() has the system's
// words. Nothing throws. What is written is on the disk only after sync of the file, and a name
// (of a new or renamed file) only after sync_folder: until then a crash may lose or keep it.
// A failed append may have written a part.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

namespace levelrun {

// Held as long as it lives; the system lets go of it when the program dies.
class FileLock {
 public:
  virtual ~FileLock() = default;
};

class FileLayer {
 public:
  virtual ~FileLayer() = default;

  // The whole file; errc::file_too_large, and no text, if it has more than `most` bytes.
  virtual std::error_code read(const std::string& path, std::size_t most, std::string& text) = 0;
  virtual std::error_code size(const std::string& path, std::size_t& bytes) = 0;
  // A new file, errc::file_exists if there is one; with the permissions of `like` unless empty.
  virtual std::error_code create(const std::string& path, std::string_view text,
                                 const std::string& like) = 0;
  virtual std::error_code append(const std::string& path, std::string_view text) = 0;  // existing
  virtual std::error_code cut(const std::string& path, std::size_t bytes) = 0;  // leaves the first
  virtual std::error_code sync(const std::string& path) = 0;
  virtual std::error_code sync_folder(const std::string& path) = 0;  // the folder that path is in
  virtual std::error_code rename(const std::string& from, const std::string& to) = 0;  // replaces
  virtual std::error_code remove(const std::string& path) = 0;
  virtual std::error_code list(const std::string& folder, std::vector<std::string>& names) = 0;
  // Makes the lock file `path` and holds it; errc::resource_unavailable_try_again if another
  // window or program does. The file goes when the lock does.
  virtual std::error_code lock(const std::string& path, std::unique_ptr<FileLock>& held) = 0;
  // The file itself where path is a link to it.
  virtual std::string resolved(const std::string& path) { return path; }
};

// The disk (POSIX). Where a file system knows no locks, lock succeeds.
class DiskFiles : public FileLayer {
 public:
  std::error_code read(const std::string&, std::size_t, std::string&) override;
  std::error_code size(const std::string&, std::size_t&) override;
  std::error_code create(const std::string&, std::string_view, const std::string&) override;
  std::error_code append(const std::string&, std::string_view) override;
  std::error_code cut(const std::string&, std::size_t) override;
  std::error_code sync(const std::string&) override;
  std::error_code sync_folder(const std::string&) override;
  std::error_code rename(const std::string&, const std::string&) override;
  std::error_code remove(const std::string&) override;
  std::error_code list(const std::string&, std::vector<std::string>&) override;
  std::error_code lock(const std::string&, std::unique_ptr<FileLock>&) override;
  std::string resolved(const std::string&) override;
};

// Puts text at path so that a crash at any instant leaves the old file or the new one whole: a
// temporary file beside it, sync, rename, sync of the folder. A link stays, and so do the old
// file's permissions. After an error path holds the old file, or the new one if only the last
// step failed, and no temporary file stays that could be removed.
std::error_code replace_file(FileLayer& files, const std::string& path, std::string_view text);

}  // namespace levelrun
