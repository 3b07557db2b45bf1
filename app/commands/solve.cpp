#include "app/commands/solve.h"

#include "app/solved_file.h"
#include "checks/results_json.h"

namespace levelrun {

int solve_command(const std::string& file, Output& out) {
  const auto solved = load_and_solve(file, out);
  if (!solved) return exit_unusable;
  std::string text = results_json(solved->results);
  if (!text.ends_with('\n')) text += '\n';
  out.print(text);
  return exit_ok;
}

}  // namespace levelrun
