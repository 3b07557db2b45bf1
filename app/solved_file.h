// A survey file and what follows from it: what every command starts with.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/output.h"
#include "checks/results.h"
#include "survey/survey_file.h"

namespace levelrun {

struct SolvedFile {
  SurveyFile file;
  Results results;
};

// Empty when the file could not be used; every problem has then been told on standard error,
// and put into `problems` if that is wanted.
std::optional<SolvedFile> load_and_solve(const std::string& path, Output&,
                                         std::vector<Problem>* problems = nullptr);

// "KS-1043, revision 2"; made printable.
std::string reference_line(const Results&);

// What stands before any number that is cut or set: "" or a line that says how many holds bar it,
// and which units are left out of the list because their kind is not known.
std::string hold_warning(const Results&, bool styled);

// Holds that no answer has released.
int open_holds(const Results&);

// The survey's reference and, of each room, its id and the named members, as the results file
// has them.
Json results_part(std::string_view format, const Results&,
                  std::initializer_list<const char*> members);

// As it is printed: two-space indent, final line feed.
std::string json_text(const Json&);

}  // namespace levelrun
