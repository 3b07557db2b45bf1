// A disk in memory that fails or stops at the n-th operation that changes it, and that shows
// after a crash what a real one might: the least, the most, or a torn half of what was not synced.
#pragma once

#include <algorithm>
#include <limits>
#include <map>
#include <set>

#include "survey/file_layer.h"

namespace levelrun {

class CrashDisk : public FileLayer {
 public:
  enum class After { least, most, torn };
  static constexpr std::size_t never = std::numeric_limits<std::size_t>::max();

  // Operations first … last fail, counted from 1; a failing write does half of its work.
  void fail(std::size_t first, std::size_t last) { first_ = first, last_ = last; }
  std::size_t operations() const { return done_; }

  // The power goes: what was not synced is lost, kept, or kept by half. All locks are free.
  void crash(After after) {
    if (after != After::most) names_ = safe_names_;
    for (auto& [path, file] : names_) {
      const std::size_t half = (file->safe.size() + file->now.size()) / 2;
      if (after == After::least) file->now = file->safe;
      if (after == After::torn && file->now.starts_with(file->safe)) file->now.resize(half);
      file->safe = file->now;
    }
    safe_names_ = names_;
    locks_.clear();
    fail(never, never);
  }

  // What stands on the disk, as another program would see and write it.
  bool exists(const std::string& path) const { return names_.contains(path); }
  std::string text(const std::string& path) const { return names_.at(path)->now; }
  void put(const std::string& path, const std::string& text) {
    names_[path] = std::make_shared<File>(File{text, text});
    safe_names_[path] = names_[path];
  }
  void drop(const std::string& path) { names_.erase(path), safe_names_.erase(path); }
  std::vector<std::string> names() const {
    std::vector<std::string> all;
    for (const auto& [path, file] : names_) all.push_back(path);
    return all;
  }
  bool read_only = false;

  std::error_code read(const std::string& path, std::size_t most, std::string& text) override {
    text.clear();
    if (!exists(path)) return missing();
    if (names_.at(path)->now.size() > most) return std::make_error_code(std::errc::file_too_large);
    text = names_.at(path)->now;
    return {};
  }
  std::error_code size(const std::string& path, std::size_t& bytes) override {
    if (!exists(path)) return missing();
    bytes = names_.at(path)->now.size();
    return {};
  }
  std::error_code create(const std::string& path, std::string_view text,
                         const std::string&) override {
    if (exists(path)) return std::make_error_code(std::errc::file_exists);
    const auto error = next();
    if (read_only) return error;
    names_[path] = std::make_shared<File>(File{half_if(error, text), ""});
    return error;
  }
  std::error_code append(const std::string& path, std::string_view text) override {
    if (!exists(path)) return missing();
    const auto error = next();
    names_.at(path)->now += half_if(error, text);
    return error;
  }
  std::error_code cut(const std::string& path, std::size_t bytes) override {
    if (!exists(path)) return missing();
    const auto error = next();
    if (!error) names_.at(path)->now.resize(bytes);
    return error;
  }
  std::error_code sync(const std::string& path) override {
    if (!exists(path)) return missing();
    const auto error = next();
    if (!error) names_.at(path)->safe = names_.at(path)->now;
    return error;
  }
  std::error_code sync_folder(const std::string&) override {
    const auto error = next();
    if (!error) safe_names_ = names_;
    return error;
  }
  std::error_code rename(const std::string& from, const std::string& to) override {
    if (!exists(from)) return missing();
    const auto error = next();
    if (!error) {
      names_[to] = names_.at(from);
      names_.erase(from);
    }
    return error;
  }
  std::error_code remove(const std::string& path) override {
    if (!exists(path)) return missing();
    const auto error = next();
    if (!error) names_.erase(path);
    return error;
  }
  std::error_code list(const std::string&, std::vector<std::string>& all) override {
    all = names();
    return {};
  }
  std::error_code lock(const std::string& path, std::unique_ptr<FileLock>& held) override {
    if (read_only) return std::make_error_code(std::errc::read_only_file_system);
    if (!locks_.insert(path).second) {
      return std::make_error_code(std::errc::resource_unavailable_try_again);
    }
    held = std::make_unique<Lock>(locks_, path);
    return {};
  }

 private:
  struct File {
    std::string now, safe;
  };
  struct Lock : FileLock {
    Lock(std::set<std::string>& all, std::string name) : locks(all), path(std::move(name)) {}
    ~Lock() override { locks.erase(path); }
    std::set<std::string>& locks;
    std::string path;
  };

  static std::error_code missing() {
    return std::make_error_code(std::errc::no_such_file_or_directory);
  }
  std::error_code next() {
    if (read_only) return std::make_error_code(std::errc::read_only_file_system);
    ++done_;
    const bool fails = done_ >= first_ && done_ <= last_;
    return fails ? std::make_error_code(std::errc::no_space_on_device) : std::error_code();
  }
  static std::string half_if(std::error_code error, std::string_view text) {
    return std::string(error ? text.substr(0, text.size() / 2) : text);
  }

  std::map<std::string, std::shared_ptr<File>> names_, safe_names_;
  std::set<std::string> locks_;
  std::size_t done_ = 0, first_ = never, last_ = never;
};

}  // namespace levelrun
