// What this person set on this machine: no facts of a job. Kept as JSON at
// $XDG_CONFIG_HOME/levelrun/settings.json; what cannot be read falls back to the defaults.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/touch/sheet.h"

namespace levelrun {

struct Settings {
  Look look;
  std::string author;               // name or initials put to edits
  std::vector<std::string> recent;  // paths of surveys opened here, the latest first
  std::string jobs_folder;          // where new jobs are put
};

Settings settings_from(std::string_view text);
std::string settings_text(const Settings&);

struct UserFolders {
  std::string config, state, jobs;  // by the XDG base directory rules; jobs under $HOME
};
UserFolders user_folders();

}  // namespace levelrun
