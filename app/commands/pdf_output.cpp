#include "app/commands/pdf_output.h"

#include "app/display_text.h"
#include "survey/survey_file.h"

namespace levelrun {

std::string survey_name_inside(const std::string& path) {
  std::string name = path == "-" ? "survey" : path.substr(path.rfind('/') + 1);
  for (const char* ending : {".pdf", ".levelrun.json", ".json"})
    if (name.ends_with(ending)) {
      name.resize(name.size() - std::string_view(ending).size());
      break;
    }
  return (name.empty() ? "survey" : name) + ".levelrun.json";
}

int put_pdf(const std::string& pdf, const std::string& to, const std::string& error, Output& out) {
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

}  // namespace levelrun
