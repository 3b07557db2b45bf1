#include "app/web/web_files.h"

#include <emscripten.h>

#include <algorithm>
#include <cstdlib>

namespace levelrun {

// clang-format off
EM_JS(void, levelrun_store, (const char* kind, const char* path, const char* data, int length), {
  Module.store(UTF8ToString(kind), UTF8ToString(path), HEAPU8.slice(data, data + length));
});
// clang-format on

namespace {

std::error_code error(std::errc code) { return std::make_error_code(code); }

class NoLock final : public FileLock {};

}  // namespace

std::error_code WebFiles::may_write() const {
  if (locked_) return error(std::errc::read_only_file_system);
  return refuses ? error(std::errc::no_space_on_device) : std::error_code();
}

void WebFiles::send(const char* kind, const std::string& path, std::string_view data) {
  ++sent;
  levelrun_store(kind, path.c_str(), data.data(), int(data.size()));
}

std::error_code WebFiles::read(const std::string& path, std::size_t most, std::string& text) {
  const auto file = files_.find(path);
  if (file == files_.end()) return error(std::errc::no_such_file_or_directory);
  if (file->second.size() > most) return error(std::errc::file_too_large);
  text = file->second;
  return {};
}

std::error_code WebFiles::size(const std::string& path, std::size_t& bytes) {
  const auto file = files_.find(path);
  if (file == files_.end()) return error(std::errc::no_such_file_or_directory);
  bytes = file->second.size();
  return {};
}

std::error_code WebFiles::create(const std::string& path, std::string_view text,
                                 const std::string&) {
  if (const auto no = may_write()) return no;
  if (files_.contains(path)) return error(std::errc::file_exists);
  files_[path] = text;
  send("put", path, text);
  return {};
}

std::error_code WebFiles::append(const std::string& path, std::string_view text) {
  if (const auto no = may_write()) return no;
  const auto file = files_.find(path);
  if (file == files_.end()) return error(std::errc::no_such_file_or_directory);
  file->second += text;
  send("append", path, text);
  return {};
}

std::error_code WebFiles::cut(const std::string& path, std::size_t bytes) {
  if (locked_) return error(std::errc::read_only_file_system);
  const auto file = files_.find(path);
  if (file == files_.end()) return error(std::errc::no_such_file_or_directory);
  if (bytes < file->second.size()) file->second.resize(bytes);
  send("cut", path, std::to_string(bytes));
  return {};
}

std::error_code WebFiles::rename(const std::string& from, const std::string& to) {
  if (locked_) return error(std::errc::read_only_file_system);
  const auto file = files_.find(from);
  if (file == files_.end()) return error(std::errc::no_such_file_or_directory);
  std::string text = std::move(file->second);
  files_.erase(file);
  files_[to] = std::move(text);
  send("rename", from, to);
  return {};
}

std::error_code WebFiles::remove(const std::string& path) {
  if (locked_) return error(std::errc::read_only_file_system);
  if (files_.erase(path) == 0) return error(std::errc::no_such_file_or_directory);
  send("remove", path, "");
  return {};
}

std::error_code WebFiles::list(const std::string& folder, std::vector<std::string>& names) {
  const std::string start = folder.ends_with('/') ? folder : folder + "/";
  for (const auto& [path, text] : files_)
    if (path.starts_with(start) && path.find('/', start.size()) == path.npos)
      names.push_back(path.substr(start.size()));
  return {};
}

std::error_code WebFiles::lock(const std::string&, std::unique_ptr<FileLock>& held) {
  if (locked_) return error(std::errc::resource_unavailable_try_again);
  held = std::make_unique<NoLock>();
  return {};
}

void WebFiles::recall(const std::string& kind, const std::string& path, std::string data) {
  if (kind == "put")
    files_[path] = std::move(data);
  else if (kind == "append")
    files_[path] += data;
  else if (kind == "cut")
    files_[path].resize(std::min(files_[path].size(), std::size_t(std::atol(data.c_str()))));
  else if (kind == "remove")
    files_.erase(path);
  else if (kind == "rename") {
    std::string text = std::move(files_[path]);
    files_.erase(path);
    files_[data] = std::move(text);
  }
}

std::error_code WebFiles::put(const std::string& path, std::string_view text) {
  if (const auto no = may_write()) return no;
  files_[path] = text;
  send("put", path, text);
  return {};
}

}  // namespace levelrun
