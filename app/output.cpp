#include "app/output.h"

#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "app/display_text.h"
#include "app/terminal.h"

namespace levelrun {

// 0, or the errno of the write that failed.
static int write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(file, text.data(), text.size());
    if (written >= 0)
      text.remove_prefix(static_cast<size_t>(written));
    else if (errno != EINTR)
      return errno;
  }
  return 0;
}

void Output::print(std::string_view text) {
  if (closed_) return;
  const int error = write_all(STDOUT_FILENO, text);
  if (error == 0) return;
  closed_ = true;
  if (error == EPIPE) return;
  failed_ = true;
  print_error(std::string("standard output: ") + std::strerror(error));
}

static std::string problem_line(const std::string& file, const Problem& p) {
  return printable(file + ": " + p.at + ": found " + p.found + ", expected " + p.expected);
}

// The same for somebody who reads it on the spot: of the whole file no empty pointer, and what
// says all by itself ("nothing: there is no such file") stands alone.
static std::string problem_lines(const std::string& file, const Problem& p) {
  constexpr std::string_view says_all = "nothing: ";
  constexpr int indent = 4;
  const std::string text =
      !p.at.empty() ? problem_line(file, p)
      : p.found.starts_with(says_all)
          ? printable(file + ": " + p.found.substr(says_all.size()))
          : printable(file + ": found " + p.found + ", expected " + p.expected);
  std::string out;
  for (const std::string& line : wrap(text, page_columns - indent))
    out += (out.empty() ? "" : "\n" + std::string(indent, ' ')) + line;
  return out;
}

void Output::complain(std::string_view file, const std::vector<Problem>& problems) {
  const bool read_at_once = errors_go_to_a_terminal();
  for (const Problem& p : problems)
    print_error(read_at_once ? problem_lines(std::string(file), p)
                             : problem_line(std::string(file), p));
}

void print_error(std::string_view line) { write_all(STDERR_FILENO, std::string(line) + "\n"); }

void print_progress(std::string_view part) { write_all(STDERR_FILENO, part); }

}  // namespace levelrun
