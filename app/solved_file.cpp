#include "app/solved_file.h"

#include <algorithm>

#include "app/display_text.h"
#include "app/terminal.h"
#include "checks/results_json.h"
#include "checks/solve.h"
#include "checks/unknown_words.h"

namespace levelrun {

std::optional<SolvedFile> load_and_solve(const std::string& path, Output& out,
                                         std::vector<Problem>* problems) {
  Result<SurveyFile> read = load_survey(path);
  if (!read.ok()) {
    out.complain(path, read.problems());
    if (problems) *problems = read.problems();
    return std::nullopt;
  }
  SolvedFile solved{std::move(read.value()), {}};
  solved.results = solve(solved.file.survey);
  return solved;
}

std::string reference_line(const Results& results) {
  return printable(results.reference + ", revision " + std::to_string(results.revision));
}

int open_holds(const Results& results) {
  return static_cast<int>(
      std::count_if(results.findings.begin(), results.findings.end(),
                    [](const Finding& f) { return f.severity == Severity::hold && !f.answered; }));
}

std::string hold_warning(const Results& results, bool styled) {
  std::string out;
  if (const int holds = open_holds(results); holds > 0) {
    const std::string line = "HOLD: " + std::to_string(holds) +
                             (holds == 1 ? " hold bars" : " holds bar") +
                             " cutting and fitting: see levelrun check.";
    out = (styled ? reverse(line) : line) + "\n";
  }
  // An answer may let that hold pass; the unit is missing from the list all the same.
  for (const Finding& f : results.findings)
    if (f.code == unit_left_out) out += paragraph("", printable(f.says));
  return out;
}

Json results_part(std::string_view format, const Results& results,
                  std::initializer_list<const char*> members) {
  const Json all = Json::parse(results_json(results), nullptr, false);
  Json part;
  part["format"] = format;
  part["version"] = 1;
  part["survey"] = all.value("survey", Json::object());
  part["rooms"] = Json::array();
  for (const Json& room : all.value("rooms", Json::array())) {
    Json kept;
    kept["id"] = room.value("id", Json());
    for (const char* member : members) kept[member] = room.value(member, Json::array());
    part["rooms"].push_back(std::move(kept));
  }
  return part;
}

std::string json_text(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace levelrun
