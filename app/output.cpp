#include "app/output.h"

#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "app/display_text.h"

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

void Output::complain(std::string_view file, const std::vector<Problem>& problems) {
  for (const Problem& p : problems)
    print_error(printable(std::string(file) + ": " + p.at + ": found " + p.found + ", expected " +
                          p.expected));
}

void print_error(std::string_view line) { write_all(STDERR_FILENO, std::string(line) + "\n"); }

void print_progress(std::string_view part) { write_all(STDERR_FILENO, part); }

}  // namespace levelrun
