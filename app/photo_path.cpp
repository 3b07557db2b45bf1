#include "app/photo_path.h"

#include <algorithm>
#include <string_view>

namespace levelrun {

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == path.npos ? "." : path.substr(0, slash);
}

std::string photo_path(const std::string& survey_path, const std::string& file) {
  // A colon starts a drive or a stream on some systems, and a backslash a folder.
  constexpr std::string_view never("\\:\0", 3);
  if (file.empty() || file.find_first_of(never) != file.npos) return {};
  for (std::size_t at = 0; at <= file.size();) {
    const std::size_t end = std::min(file.find('/', at), file.size());
    const std::string part = file.substr(at, end - at);
    if (part.empty() || part == "." || part == "..") return {};
    at = end + 1;
  }
  return folder_of(survey_path) + "/" + file;
}

}  // namespace levelrun
