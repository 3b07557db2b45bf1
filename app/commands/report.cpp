#include "app/commands/report.h"

#include "app/commands/pdf_output.h"
#include "app/pack/as_built.h"
#include "checks/solve.h"

namespace levelrun {

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
  options.survey_name = survey_name_inside(file);
  DiskFiles disk;
  options.photos = print_photos(disk, file, read.value().survey);
  std::string error;
  const std::string pdf =
      print(text.value(), read.value(), solve(read.value().survey), options, error);
  return put_pdf(pdf, to, error, out);
}

int report_command(const std::string& file, const std::string& to, PaperSize paper, Output& out) {
  return printed(job_pack, file, to, paper, out);
}

int as_built_command(const std::string& file, const std::string& to, PaperSize paper, Output& out) {
  return printed(as_built, file, to, paper, out);
}

}  // namespace levelrun
