#include "app/survey_files.h"

#include <algorithm>
#include <filesystem>
#include <string_view>
#include <system_error>

namespace levelrun {

namespace fs = std::filesystem;

static constexpr std::string_view ending = ".levelrun.json";
static constexpr int deepest_folder = 64;  // our choice: a stop, not a limit anybody meets

static Problem unreadable(const std::error_code& error) {
  return {"", error.message(), "a folder that can be read"};
}

static void add_folder(const fs::path& folder, int depth, std::vector<NamedFile>& files) {
  std::error_code error;
  if (depth > deepest_folder) {
    files.push_back({folder.string(), {{"", "folders nested deeper than 64", "fewer"}}});
    return;
  }
  fs::directory_iterator entry(folder, error);
  for (; !error && entry != fs::directory_iterator(); entry.increment(error)) {
    std::error_code ignored;  // an entry that vanishes meanwhile is no entry
    if (entry->is_directory(ignored)) {
      if (!entry->is_symlink(ignored)) add_folder(entry->path(), depth + 1, files);
    } else if (entry->is_regular_file(ignored) && entry->path().native().ends_with(ending)) {
      files.push_back({entry->path().string(), {}});
    }
  }
  if (error) files.push_back({folder.string(), {unreadable(error)}});
}

std::vector<NamedFile> survey_files(const std::vector<std::string>& paths) {
  std::vector<NamedFile> all;
  for (const std::string& path : paths) {
    std::error_code ignored;
    if (path == "-" || !fs::is_directory(path, ignored)) {
      all.push_back({path, {}});
      continue;
    }
    std::vector<NamedFile> below;
    add_folder(path, 0, below);
    if (below.empty())
      below.push_back({path, {{"", "no *.levelrun.json", "a folder with survey files"}}});
    std::sort(below.begin(), below.end(),
              [](const NamedFile& a, const NamedFile& b) { return a.path < b.path; });
    all.insert(all.end(), below.begin(), below.end());
  }
  return all;
}

}  // namespace levelrun
