// Saving: the document as text, and text put on disk so that no crash can leave half of it.
#include <filesystem>
#include <string>
#include <system_error>
#include <utility>

#include "survey/file_layer.h"
#include "survey/survey_file.h"

namespace levelrun {
namespace {

std::vector<Problem> cannot_save(std::string found) {
  return {{"", std::move(found), "a file that can be saved"}};
}

}  // namespace

std::string write_survey(const Json& document) {
  return document.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::vector<Problem> save_text(const std::string& path, std::string_view text) {
  std::error_code error;
  const auto kind = std::filesystem::status(path, error).type();
  if (!error && kind != std::filesystem::file_type::regular) {
    return cannot_save("something that is not a file");
  }
  DiskFiles disk;
  error = replace_file(disk, path, text);
  if (error) return cannot_save(error.message());
  return {};
}

}  // namespace levelrun
