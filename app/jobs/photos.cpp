#include "app/jobs/photos.h"

#include <algorithm>
#include <filesystem>

#include "app/entry/set_patch.h"
#include "app/jobs/photo_picture.h"

namespace levelrun {
namespace {

constexpr std::string_view ending = ".levelrun.json";
constexpr int most_photos = 9999;  // in one job's folder

std::string name_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == path.npos ? path : path.substr(slash + 1);
}

}  // namespace

std::string photo_folder_name(const std::string& survey_path) {
  std::string name = name_of(survey_path);
  if (name.ends_with(ending)) name.resize(name.size() - ending.size());
  return name + ".photos";
}

std::string keep_photo_bytes(FileLayer& files, const std::string& survey_path,
                             const std::string& name, std::string_view bytes, std::string& why) {
  const std::string picture = plain_photo(bytes, why);
  if (picture.empty()) {
    why = name + " " + why;
    return {};
  }
  const std::string below = photo_folder_name(survey_path);
  const std::string folder = folder_of(survey_path) + "/" + below;
  std::error_code ignored;
  std::filesystem::create_directories(folder, ignored);
  for (int n = 1; n <= most_photos; ++n) {
    const std::string file = below + "/photo-" + std::to_string(n) + ".jpg";
    const std::string path = folder_of(survey_path) + "/" + file;
    auto error = files.create(path, picture, "");
    if (error == std::errc::file_exists) continue;
    if (!error) error = files.sync(path);
    if (!error) error = files.sync_folder(path);
    if (!error) return file;
    files.remove(path);
    why = name + " was not kept: " + error.message() + ".";
    return {};
  }
  why = "The folder of photos is full.";
  return {};
}

std::string keep_photo(FileLayer& files, const std::string& survey_path, const std::string& from,
                       std::string& why) {
  std::string bytes;
  const auto error = files.read(from, most_photo, bytes);
  if (!error) return keep_photo_bytes(files, survey_path, name_of(from), bytes, why);
  why = name_of(from) + (error == std::errc::file_too_large
                             ? " is larger than " + std::to_string(most_photo >> 20) + " MB."
                             : ": " + error.message() + ".");
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
