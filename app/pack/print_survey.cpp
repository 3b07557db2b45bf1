#include "app/pack/print_survey.h"

#include "app/pack/as_built.h"
#include "checks/solve.h"

namespace levelrun {

std::string print_survey(Sheets sheets, std::string_view text, const std::string& survey_name,
                         std::string& why) {
  const auto read = read_survey(text);
  if (!read.ok()) {
    why = read.problems().front().found;
    return {};
  }
  PackOptions options;
  options.survey_name = survey_name;
  const auto print = sheets == Sheets::job_pack ? job_pack : as_built;
  return print(text, read.value(), solve(read.value().survey), options, why);
}

}  // namespace levelrun
