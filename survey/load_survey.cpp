// Reading a file, never more of it than the limit and one byte: whatever the path names, a
// sparse giant or an endless pipe, is refused in bounded time and memory.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <string>
#include <system_error>

#include "survey/attached_survey.h"
#include "survey/parse_json.h"
#include "survey/survey_file.h"

namespace levelrun {
namespace {

std::vector<Problem> unusable(std::string found) {
  return {{"", std::move(found), "a survey file that can be read"}};
}

std::vector<Problem> system_says(int error) {
  if (error == ENOENT) return unusable("nothing: there is no such file");
  return unusable(std::system_category().message(error));
}

std::vector<Problem> too_long(const std::string& bytes) {
  return {{"", bytes + " bytes", "a survey file of up to " + std::to_string(most_text) + " bytes"}};
}

Result<std::string> text_of(int file) {
  struct stat about {};
  if (fstat(file, &about) != 0) return system_says(errno);
  if (S_ISDIR(about.st_mode)) return unusable("a folder");
  const bool sized = S_ISREG(about.st_mode) && about.st_size > 0;
  const auto size = sized ? static_cast<std::size_t>(about.st_size) : std::size_t{0};
  if (size > most_text) return too_long(std::to_string(size));

  constexpr std::size_t chunk = 64U << 10;
  std::string text;
  std::size_t length = 0;
  while (length <= most_text) {
    // The stated size and one byte, to see the end at once; a file may also grow meanwhile.
    if (length == text.size()) {
      text.resize(std::min(std::max({size + 1, 2 * length, chunk}), most_text + 1));
    }
    const ssize_t got = read(file, text.data() + length, text.size() - length);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return system_says(errno);
    if (got == 0) {
      text.resize(length);
      return text;
    }
    length += static_cast<std::size_t>(got);
  }
  return too_long("more than " + std::to_string(most_text));
}

}  // namespace

Result<std::string> load_survey_text(const std::string& path) {
  const bool standard_input = path == "-";
  const int file = standard_input ? STDIN_FILENO : open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return system_says(errno);
  Result<std::string> text = text_of(file);
  if (!standard_input) close(file);
  if (!text.ok() || !is_pdf(text.value())) return text;
  if (auto inside = attached_survey(text.value(), most_text)) return std::move(*inside);
  return unusable("a PDF without a survey inside");
}

Result<SurveyFile> load_survey(const std::string& path) {
  const Result<std::string> text = load_survey_text(path);
  if (!text.ok()) return text.problems();
  return read_survey(text.value());
}

}  // namespace levelrun
