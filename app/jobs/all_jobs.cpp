#include "app/jobs/all_jobs.h"

#include <algorithm>
#include <filesystem>
#include <set>
#include <vector>

#include "app/jobs/photo_picture.h"
#include "app/jobs/photos.h"
#include "app/jobs/zip_file.h"
#include "survey/open_job.h"
#include "survey/parse_json.h"
#include "survey/survey_file.h"

namespace levelrun {
namespace {

constexpr std::string_view ending = ".levelrun.json";
constexpr std::size_t most_taken_in = std::size_t(512) << 20;  // bytes: a tablet has a few GB

constexpr int most_tried = 10'000;  // names for a photo

std::string counted(int n, const std::string& thing) {
  return std::to_string(n) + " " + thing + (n == 1 ? "" : "s");
}

// A job as it stands, its journal played.
std::string job_text(FileLayer& files, const std::string& path, const std::string& raw) {
  const auto job = open_job(path, journal_path_beside(path), files);
  if (!job.ok() || job.value().unsaved() == 0) return raw;
  return write_survey(job.value().document());
}

bool may_be_ours(std::string_view name) {
  return name.ends_with(ending) || name.find(".photos/") != name.npos;
}

// Where a photo's bytes may be put without writing over others; empty: they are there already.
struct FreePlace {
  std::string file;  // as the survey calls it
  bool there = false;
};
FreePlace place_for(FileLayer& files, const std::string& path, const std::string& file,
                    std::string_view bytes) {
  const std::string plain = file.substr(file.rfind('/') + 1);
  for (int n = 1;; ++n) {
    const std::string name =
        n == 1 ? file : photo_folder_name(path) + "/" + std::to_string(n) + "-" + plain;
    std::string before;
    const auto error = files.read(photo_path(path, name), most_photo, before);
    if (error == std::errc::no_such_file_or_directory || n == most_tried) return {name, false};
    if (!error && before == bytes) return {name, true};
  }
}

class TakingIn {
 public:
  TakingIn(FileLayer& files, Platform& platform, const std::string& folder,
           std::vector<ZipEntry> entries)
      : files_(files), platform_(platform), folder_(folder), entries_(std::move(entries)) {
    std::vector<std::string> names;
    files_.list(folder_, names);
    names_.insert(names.begin(), names.end());
  }

  std::string said() {
    for (const ZipEntry& entry : entries_)
      if (entry.name.ends_with(ending) && !stopped_) take(entry);
    std::string out = jobs_ == 0 && photos_ == 0
                          ? "Nothing was taken in."
                          : std::string(taken_in) + counted_jobs(jobs_, photos_) + ".";
    if (here_ > 0)
      out += " " + counted(here_, "job") + (here_ == 1 ? " was" : " were") + " here already.";
    return out + refused_;
  }

 private:
  void take(const ZipEntry& entry) {
    const std::size_t slash = entry.name.rfind('/');
    const std::string in_zip = slash == entry.name.npos ? "" : entry.name.substr(0, slash + 1);
    const std::string plain = slash == entry.name.npos ? entry.name : entry.name.substr(slash + 1);
    const auto read = read_survey(entry.bytes);
    if (!read.ok()) {
      refused_ += " " + plain + " is no survey: " + read.problems().front().found + ".";
      return;
    }
    const std::string known = here_as(entry.bytes);
    const bool here = !known.empty();
    const std::string name = here ? known : free_name(plain);
    const std::string path = folder_ + "/" + name;
    Json document = read.value().document;
    bool renamed = false;
    const std::vector<Room>& rooms = read.value().survey.rooms;
    for (std::size_t room = 0; room < rooms.size(); ++room)
      for (std::size_t i = 0; i < rooms[room].photos.size() && !stopped_; ++i) {
        const std::string& file = rooms[room].photos[i].file;
        const std::string kept = take_photo(path, file, in_zip);
        if (kept.empty() || kept == file || here) continue;
        document["rooms"][room]["photos"][i]["file"] = kept;
        renamed = true;
      }
    if (here) {
      ++here_;
    } else if (!stopped_) {
      if (platform_.put_job(name, renamed ? write_survey(document) : entry.bytes).empty())
        return stop(name);
      names_.insert(name);
      ++jobs_;
    }
  }

  // Under which name the very text is here already; empty: it is not.
  std::string here_as(const std::string& text) {
    for (const std::string& name : names_) {
      std::size_t bytes = 0;
      std::string before;
      const std::string path = folder_ + "/" + name;
      if (name.ends_with(ending) && !files_.size(path, bytes) && bytes == text.size() &&
          !files_.read(path, most_text, before) && before == text)
        return name;
    }
    return {};
  }

  std::string free_name(const std::string& name) const {
    const std::string stem = name.substr(0, name.size() - ending.size());
    std::string free = name;
    for (int n = 2; names_.contains(free); ++n)
      free = stem + "-" + std::to_string(n) + std::string(ending);
    return free;
  }

  // What the survey is to call it; empty: it is not in the archive, or no picture.
  std::string take_photo(const std::string& path, const std::string& file,
                         const std::string& in_zip) {
    if (photo_path(path, file).empty()) return {};
    const auto found = std::find_if(entries_.begin(), entries_.end(),
                                    [&](const ZipEntry& e) { return e.name == in_zip + file; });
    if (found == entries_.end() || found->bytes.size() > most_photo ||
        !looks_like_photo(found->bytes))
      return {};
    const FreePlace place = place_for(files_, path, file, found->bytes);
    if (place.there) return place.file;
    const std::string to = photo_path(path, place.file);
    std::error_code ignored;
    std::filesystem::create_directories(to.substr(0, to.rfind('/')), ignored);
    auto error = files_.create(to, found->bytes, "");
    if (!error) error = files_.sync(to);
    if (!error) error = files_.sync_folder(to);
    if (error) {
      stop(place.file);
      return {};
    }
    ++photos_;
    return place.file;
  }

  void stop(const std::string& name) {
    stopped_ = true;
    const std::string trouble = platform_.write_trouble();
    refused_ += " " + name + " could not be kept" + (trouble.empty() ? "" : ": " + trouble) +
                "; what follows it was not taken in.";
  }

  FileLayer& files_;
  Platform& platform_;
  const std::string folder_;
  const std::vector<ZipEntry> entries_;
  std::set<std::string> names_;
  std::string refused_;
  int jobs_ = 0, photos_ = 0, here_ = 0;
  bool stopped_ = false;
};

}  // namespace

std::string counted_jobs(int jobs, int photos) {
  return counted(jobs, "job") + (photos == 0 ? "" : ", " + counted(photos, "photo"));
}

AllJobs all_jobs(FileLayer& files, const std::string& folder) {
  AllJobs out;
  std::vector<std::string> names;
  files.list(folder, names);
  std::sort(names.begin(), names.end());
  std::vector<ZipEntry> entries;
  for (const std::string& name : names) {
    const std::string path = folder + "/" + name;
    std::string text;
    if (!name.ends_with(ending) || files.read(path, most_text, text)) continue;
    entries.push_back({name, job_text(files, path, text)});
    ++out.jobs;
    const std::string below = photo_folder_name(path);
    std::vector<std::string> photos;
    files.list(folder + "/" + below, photos);
    std::sort(photos.begin(), photos.end());
    for (const std::string& photo : photos) {
      ZipEntry entry{below + "/" + photo, {}};
      if (files.read(folder + "/" + entry.name, most_photo, entry.bytes)) continue;
      entries.push_back(std::move(entry));
      ++out.photos;
    }
  }
  out.zip = zipped(entries);
  return out;
}

std::string take_in_jobs(FileLayer& files, Platform& platform, const std::string& folder,
                         const std::string& name, std::string_view zip) {
  std::string why;
  auto entries = unzipped(zip, most_taken_in, may_be_ours, why);
  if (!entries) return name + " " + why + " Nothing was taken in.";
  return TakingIn(files, platform, folder, std::move(*entries)).said();
}

}  // namespace levelrun
