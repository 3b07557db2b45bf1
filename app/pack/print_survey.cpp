#include "app/pack/print_survey.h"

#include "app/pack/as_built.h"
#include "app/pack/compare_pages.h"
#include "checks/solve.h"

namespace levelrun {

std::string print_survey(FileLayer& files, Sheets sheets, std::string_view text,
                         const std::string& survey_path, std::string& why) {
  const auto read = read_survey(text);
  if (!read.ok()) {
    why = read.problems().front().found;
    return {};
  }
  PackOptions options;
  options.survey_name = survey_path.substr(survey_path.rfind('/') + 1);
  options.photos = print_photos(files, survey_path, read.value().survey);
  const auto print = sheets == Sheets::job_pack ? job_pack : as_built;
  return print(text, read.value(), solve(read.value().survey), options, why);
}

std::string print_comparison(std::string_view old_text, std::string_view new_text,
                             const std::string& survey_name, std::string& why) {
  const auto was = read_survey(old_text), is = read_survey(new_text);
  for (const auto* read : {&was, &is})
    if (!read->ok()) {
      why = read->problems().front().found;
      return {};
    }
  PackOptions options;
  options.survey_name = survey_name;
  const Results old_results = solve(was.value().survey), results = solve(is.value().survey);
  return comparison_sheets(new_text, {was.value(), old_results}, {is.value(), results}, options,
                           why);
}

}  // namespace levelrun
