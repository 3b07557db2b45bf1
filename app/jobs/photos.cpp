#include "app/jobs/photos.h"

#include <algorithm>
#include <filesystem>

#include "app/entry/set_patch.h"

namespace levelrun {
namespace {

constexpr std::string_view ending = ".levelrun.json";

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == path.npos ? "." : path.substr(0, slash);
}

std::string name_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == path.npos ? path : path.substr(slash + 1);
}

// "jpg", "png", or empty.
std::string kind_of(const std::string& bytes) {
  if (bytes.starts_with("\xFF\xD8\xFF")) return "jpg";
  if (bytes.starts_with("\x89PNG\r\n\x1A\n")) return "png";
  return {};
}

}  // namespace

std::string photo_folder_name(const std::string& survey_path) {
  std::string name = name_of(survey_path);
  if (name.ends_with(ending)) name.resize(name.size() - ending.size());
  return name + ".photos";
}

bool is_photo_path(const std::string& survey_path, const std::string& file) {
  const std::string start = photo_folder_name(survey_path) + "/";
  if (!file.starts_with(start)) return false;
  const std::string name = file.substr(start.size());
  return !name.empty() && name != "." && name != ".." && name.find('/') == name.npos &&
         name.find('\\') == name.npos && name.find('\0') == name.npos;
}

std::string keep_photo(FileLayer& files, const std::string& survey_path, const std::string& from,
                       std::string& why) {
  std::string bytes;
  if (const auto error = files.read(from, most_photo, bytes)) {
    why = name_of(from) + ": " + error.message();
    return {};
  }
  const std::string kind = kind_of(bytes);
  if (kind.empty()) {
    why = name_of(from) + " is no JPEG or PNG picture.";
    return {};
  }
  const std::string below = photo_folder_name(survey_path);
  const std::string folder = folder_of(survey_path) + "/" + below;
  std::error_code ignored;
  std::filesystem::create_directories(folder, ignored);
  for (int n = 1; n < 10000; ++n) {
    const std::string name = "photo-" + std::to_string(n) + "." + kind;
    const auto error = files.create(folder + "/" + name, bytes, "");
    if (error == std::errc::file_exists) continue;
    if (error) {
      why = "not kept: " + error.message();
      return {};
    }
    files.sync(folder + "/" + name);
    files.sync_folder(folder + "/" + name);
    return below + "/" + name;
  }
  why = "the folder of photos is full";
  return {};
}

Json photo_patch(const Json& document, Index room, const std::string& file, const std::string& at,
                 const std::string& note) {
  const std::string list = "/rooms/" + std::to_string(room) + "/photos";
  Json photo = {{"file", file}};
  if (!at.empty()) photo["at"] = at;
  photo["note"] = note;  // the format wants one, if empty
  Json patch = Json::array();
  if (!value_at(document, list))
    patch.push_back({{"op", "add"}, {"path", list}, {"value", Json::array()}});
  patch.push_back({{"op", "add"}, {"path", list + "/-"}, {"value", std::move(photo)}});
  return patch;
}

}  // namespace levelrun
