#include "app/commands/report.h"

#include <filesystem>

#include "app/display_text.h"
#include "app/pack/as_built.h"
#include "checks/solve.h"

namespace levelrun {

// The plain name of the survey inside: no folder, and always a survey's ending.
static std::string survey_name(const std::string& path) {
  std::string name = path == "-" ? "survey" : path.substr(path.rfind('/') + 1);
  for (const char* ending : {".pdf", ".levelrun.json", ".json"})
    if (name.ends_with(ending)) {
      name.resize(name.size() - std::string_view(ending).size());
      break;
    }
  return (name.empty() ? "survey" : name) + ".levelrun.json";
}

using Print = std::string (*)(std::string_view, const SurveyFile&, const Results&,
                              const PackOptions&, std::string&);

static int printed(Print print, const std::string& file, const std::string& to, PaperSize paper,
                   Output& out) {
  const Result<std::string> text = load_survey_text(file);
  if (!text.ok()) {
    out.complain(file, text.problems());
    return exit_unusable;
  }
  const Result<SurveyFile> read = read_survey(text.value());
  if (!read.ok()) {
    out.complain(file, read.problems());
    return exit_unusable;
  }
  PackOptions options;
  options.paper = paper;
  options.survey_name = survey_name(file);
  const std::string folder = file == "-" ? "" : file.substr(0, file.find_last_of('/') + 1);
  for (const Room& room : read.value().survey.rooms)
    for (const Photo& photo : room.photos) {
      std::error_code ignored;
      if (!std::filesystem::is_regular_file(folder + photo.file, ignored))
        options.missing.push_back(photo.file);
    }
  std::string error;
  const std::string pdf =
      print(text.value(), read.value(), solve(read.value().survey), options, error);
  if (pdf.empty()) {
    print_error(printable(to + ": " + error + "."));
    return exit_unusable;
  }
  if (to == "-") {
    out.print(pdf);
    return out.exit_code(exit_ok);
  }
  const std::vector<Problem> problems = save_text(to, pdf);
  for (const Problem& p : problems) print_error(printable(to + ": " + p.found));
  return problems.empty() ? exit_ok : exit_unusable;
}

int report_command(const std::string& file, const std::string& to, PaperSize paper, Output& out) {
  return printed(job_pack, file, to, paper, out);
}

int as_built_command(const std::string& file, const std::string& to, PaperSize paper, Output& out) {
  return printed(as_built, file, to, paper, out);
}

}  // namespace levelrun
