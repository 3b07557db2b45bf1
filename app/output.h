// Standard output and standard error of one command.
//
// A reader that has seen enough (`| head`) ends the printing, quietly and without changing the
// exit code. Any other failure to write (a full disk) is told and makes the exit code 2.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "survey/problem.h"

namespace levelrun {

// Exit codes of every command.
inline constexpr int exit_ok = 0, exit_hold = 1, exit_unusable = 2;

class Output {
 public:
  // What the command found; nothing is buffered.
  void print(std::string_view text);

  // `FILE: /json/pointer: found ..., expected ...` on standard error: a line each, for programs;
  // on a terminal wrapped to the page.
  void complain(std::string_view file, const std::vector<Problem>& problems);

  // The code to exit with when the command itself would exit with `wanted`.
  int exit_code(int wanted) const { return failed_ ? exit_unusable : wanted; }

 private:
  bool closed_ = false, failed_ = false;
};

// Writes a line on standard error; nothing can be done if that fails.
void print_error(std::string_view line);

// The same without ending the line, for a progress bar.
void print_progress(std::string_view part);

}  // namespace levelrun
